"""Whom an item waits for, in the maker's own words."""

import pytest

from tests.sheet.drafts import drafted, problems, stored, waits
from tracker.planfile.faults import BadValue
from tracker.sheet.items import Item, Items

NAMES = (
    "Boxes, leaflets",
    "Boxes",
    "Bezel + carrier",
    "Fit check and burn-in",
    "Gasket set",
    "Glass/sea",
    "M3 screws",
    "Magnets (ring)",
)
KNOWN = Items(
    [Item(name=name, code=f"j{at}", row=at + 4) for at, name in enumerate(NAMES)]
    + [Item(name="Old pack", code="pack-1")]
)


@pytest.mark.parametrize(
    ("words", "codes"),
    [
        ("Boxes", ["j1"]),
        ("  boxes ", ["j1"]),
        ("GASKET  SET", ["j4"]),
        ("Gasket set, Boxes", ["j4", "j1"]),
        ("Gasket set; boxes", ["j4", "j1"]),
        ("Gasket set / Boxes", ["j4", "j1"]),
        ("Gasket set + Boxes & M3 screws", ["j4", "j1", "j6"]),
        ("Gasket set and Boxes", ["j4", "j1"]),
        ("Gasket set\nBoxes", ["j4", "j1"]),
        ("Boxes, leaflets", ["j0"]),
        ("Boxes, leaflets, Boxes", ["j0", "j1"]),
        ("Boxes, Gasket set", ["j1", "j4"]),
        ("Bezel + carrier; Glass/sea", ["j2", "j5"]),
        ("M3 screws, Fit check and burn-in", ["j6", "j3"]),
        ("gask", ["j4"]),
        ("magn; fit", ["j7", "j3"]),
        ("j4, pack-1", ["j4", "pack-1"]),
        ("old pack", ["pack-1"]),
        ("row 8", ["j4"]),
        ("Row #8, row 5", ["j4", "j1"]),
        ("Boxes; boxes;", ["j1"]),
        ("Boxes, -", ["j1"]),
        ("-", []),
        ("none", []),
        ("N/A", []),
    ],
)
def test_items_are_found_by_name_code_row_or_clear_beginning_and_a_whole_name_wins(words, codes):
    assert list(KNOWN.codes_in(words)) == codes


@pytest.mark.parametrize(
    ("words", "says", "remedy"),
    [
        ("Box", "begins several jobs: j0, j1", "more of the one meant"),
        ("gaskte set", "there is no item 'gaskte set'", "did you mean 'Gasket set'?"),
        ("row 99", "row 99 holds no job", "as the sheet numbers it"),
        ("7", "7 is a number, but no column numbers the items", "row 7"),
        ("Boxes + 4 days", "'4 days' is a length of time", "travel column"),
        ("x", "there is no item 'x'", "row 7"),
    ],
)
def test_what_names_no_item_or_several_is_refused(words, says, remedy):
    with pytest.raises(BadValue) as refused:
        KNOWN.codes_in(words)
    (fault,) = refused.value.faults
    assert says in fault.found
    assert remedy in fault.remedy


def test_every_piece_that_names_nothing_is_reported():
    with pytest.raises(BadValue) as refused:
        KNOWN.codes_in("foo, Boxes, bar")
    assert [fault.found for fault in refused.value.faults] == [
        "there is no item 'foo'",
        "there is no item 'bar'",
    ]


def test_numbers_mean_what_the_code_column_holds():
    numbered = Items(
        [
            Item(name="Boxes", code="boxes", ident="10", row=4),
            Item(name="Pack", code="pack", ident="20", row=5),
        ]
    )
    assert numbered.codes_in("10") == ("boxes",)
    with pytest.raises(BadValue, match="no item has the number 4"):
        numbered.codes_in("4")


def test_an_item_in_a_row_left_out_is_named_with_that_row():
    made = drafted(("Wave one", None, None, "Pack"), ("Pack", "us", "2wd", "wave one"))
    assert problems(made) == [
        (
            "jobs.xlsx, sheet Jobs, row 5, column D (Needs): 'wave one' is row 4, which has neither supplier nor lead and is no job; "
            "fill these in there, or name the job that was meant"
        )
    ]


def test_a_row_can_wait_for_one_further_down():
    made = drafted(("Pack", "us", "2wd", "Boxes"), ("Boxes", "Moinho", "20wd", None))
    assert waits(made, "pack") == ["boxes"]


def test_a_date_in_the_column_of_needs_is_no_item():
    from datetime import date

    assert (
        "there is no item 'Fri 4 Dec 2026'" in problems(drafted(("Pack", "us", "2wd", date(2026, 12, 4))))[0]
    )


def test_of_several_names_that_fit_the_longest_wins():
    items = Items(
        Item(name=name, code=name.replace(", ", "-"), row=at)
        for at, name in enumerate(("a", "a, b", "a, b, c", "c"), start=1)
    )
    assert items.codes_in("a, b, c") == ("a-b-c",)
    assert items.codes_in("c, a, b") == ("c", "a-b")


def test_a_row_can_wait_for_a_stored_job_that_the_sheet_does_not_mention():
    plan = stored(drafted(("Boxes", "Moinho", "20wd", None)))
    assert waits(drafted(("Pack", "us", "2wd", "boxes"), plan=plan), "pack") == ["boxes"]

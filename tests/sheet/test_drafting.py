"""From rows to jobs and suppliers: what is made, what is kept, what is left out."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sheet.drafts import EMPTY, drafted, job, problems, stored, table, waits
from tracker.plan.model import Job, Link, Supplier
from tracker.plan.span import DayRate, Span, parse_lead
from tracker.planfile.merging import merge
from tracker.sheet.answers import Answers
from tracker.sheet.drafting import draft
from tracker.sheet.model import SheetRow

FOUR = (
    ("Drawings frozen", "us", "3wd", "-"),
    ("Housing milled", "Tolmark Precision", "12wd", "Drawings frozen"),
    ("Boxes, leaflets", "Moinho Alto", "20wd", "drawings frozen"),
    ("Pack", "us", "2wd", "Housing milled, Boxes, leaflets"),
)


def test_rows_become_jobs_with_codes_made_of_their_names():
    made = drafted(*FOUR)
    assert [one.code for one in made.plan.jobs] == [
        "drawings-frozen",
        "housing-milled",
        "boxes-leaflets",
        "pack",
    ]
    assert [one.name for one in made.plan.jobs] == [row[0] for row in FOUR]
    assert [str(one.lead) for one in made.plan.jobs] == ["3wd", "12wd", "20wd", "2wd"]
    assert waits(made, "pack") == ["housing-milled", "boxes-leaflets"]
    assert made.rows["pack"] == 7


def test_suppliers_are_made_once_and_our_own_bench_is_in_house():
    made = drafted(*FOUR)
    assert [(one.code, one.name, one.inhouse) for one in made.plan.suppliers] == [
        ("bench", "Our own bench", True),
        ("tolmark", "Tolmark Precision", False),
        ("moinho", "Moinho Alto", False),
    ]


@pytest.mark.parametrize(
    "word", ["us", "We", "me", "self", "own", "In-house", "inhouse", "own bench", "our bench", "DIY"]
)
def test_words_for_ourselves_mean_the_stored_bench_where_there_is_one(word):
    bench = replace(EMPTY, suppliers=(Supplier(code="lark", name="Own bench, Sheffield", inhouse=True),))
    assert job(drafted(("Pack", word, "2wd", "")), "pack").supplier == "bench"
    assert job(drafted(("Pack", word, "2wd", ""), plan=bench), "pack").supplier == "lark"


def test_which_of_two_own_benches_is_meant_is_not_guessed():
    two = replace(
        EMPTY, suppliers=(Supplier(code="lark", inhouse=True), Supplier(code="attic", inhouse=True))
    )
    assert problems(drafted(("Pack", "us", "2wd", ""), plan=two)) == [
        "jobs.xlsx, sheet Jobs, row 4, column B (Vendor): can be any of our own: lark, attic; write the code of the one meant"
    ]


@pytest.mark.parametrize("word", ["varne", "VARNE", "Varne Surface Works, Telford", "varne surface works"])
def test_a_stored_supplier_is_found_by_code_or_name_in_any_case(word):
    plan = replace(EMPTY, suppliers=(Supplier(code="varne", name="Varne Surface Works, Telford"),))
    made = drafted(("Anodize", word, "8wd", ""), plan=plan)
    assert [one.code for one in made.plan.suppliers] == ["varne"]


def test_a_supplier_found_by_part_of_its_name_is_told():
    plan = replace(EMPTY, suppliers=(Supplier(code="varne", name="Varne Surface Works, Telford"),))
    made = drafted(("Anodize", "Varne Surface Works", "8wd", ""), plan=plan)
    assert made.remarks == ("supplier 'Varne Surface Works' taken as varne (Varne Surface Works, Telford)",)


def test_new_suppliers_that_look_alike_are_kept_apart_and_told():
    made = drafted(("Mill", "Tolmark", "8wd", ""), ("Turn", "Tolmark Precision", "8wd", ""))
    assert [one.code for one in made.plan.suppliers] == ["tolmark", "tolmark-precision"]
    assert "look alike" in made.remarks[0]


def test_ditto_marks_repeat_the_supplier_above():
    made = drafted(("Mill", "Tolmark", "8wd", ""), ("Turn", '"', "8wd", ""), ("Drill", "ditto", "8wd", ""))
    assert {one.supplier for one in made.plan.jobs} == {"tolmark"}


def test_a_job_never_takes_the_code_of_a_supplier_or_the_reverse():
    made = drafted(("Varne", "Varne", "8wd", ""), ("Lamp-1", "Varne", "8wd", ""))
    codes = [one.code for one in (*made.plan.jobs, *made.plan.suppliers)]
    assert len(set(codes)) == 3
    assert "lamp-1" not in codes


def test_a_code_column_wins_over_codes_made_of_names():
    made = drafted(
        ("Boxes", "J01", "Moinho", "8wd", ""),
        ("Pack", "J02", "us", "2wd", "J01"),
        roles=("item", "code", "supplier", "lead", "after"),
    )
    assert [one.code for one in made.plan.jobs] == ["J01", "J02"]
    assert waits(made, "J02") == ["J01"]


def test_a_code_that_cannot_be_one_is_tidied_and_told():
    made = drafted(("Boxes", "Box 01", "Moinho", "8wd"), roles=("item", "code", "supplier", "lead"))
    assert [one.code for one in made.plan.jobs] == ["box-01"]
    assert [(one.row, one.said, one.read_as) for one in made.chosen] == [(4, "Box 01", "box-01")]


def test_numbers_in_a_code_column_only_number_the_rows():
    made = drafted(
        ("Boxes", 1, "Moinho", "8wd", ""), ("Lids", 2.0, "Moinho", "8wd", "1"), ("Pack", "3", "us", "2wd", "1; 2"),
        roles=("item", "code", "supplier", "lead", "after"),
    )  # fmt: skip
    assert [one.code for one in made.plan.jobs] == ["boxes", "lids", "pack"]
    assert waits(made, "pack") == ["boxes", "lids"]


def test_two_rows_with_one_name_or_one_code_are_refused_by_row():
    made = drafted(("Boxes", "Moinho", "8wd", ""), ("boxes", "Varne", "8wd", ""))
    assert problems(made) == [
        "jobs.xlsx, sheet Jobs, row 5, column A (Item): 'boxes' stands in row 4 as well; give the two different names"
    ]
    made = drafted(
        ("Boxes", "B1", "Moinho", "8wd"),
        ("Lids", "b1", "Moinho", "8wd"),
        roles=("item", "code", "supplier", "lead"),
    )
    assert "row 5, column B (No): 'b1' stands in row 4 as well" in problems(made)[0]


def test_rows_of_totals_notes_and_blanks_are_left_out_and_listed():
    made = drafted(
        *FOUR,
        ("Total", None, 37, None),
        ("prices without tax", None, None, None),
        (None, None, None, "x"),
        ("Sum of days", "-", 12, None),
    )
    assert [(one.row, one.words, one.why) for one in made.skipped] == [
        (8, "Total", "a total"),
        (9, "prices without tax", "neither supplier nor lead"),
        (10, "x", "no item"),
        (11, "Sum of days", "a total"),
    ]
    assert len(made.plan.jobs) == 4


def test_lines_taken_for_notes_when_the_table_was_found_are_listed_too():
    noted = replace(table(*FOUR), left_out=(SheetRow(number=2, cells=("spring batch", None)),))
    made = draft(
        noted,
        {0: "item", 1: "supplier", 2: "lead"},
        plan=EMPTY,
        answers=Answers(),
        source="jobs.xlsx",
        today=date(2026, 6, 20),
    )
    assert [(one.row, one.words) for one in made.skipped] == [(2, "spring batch")]


def test_a_row_with_a_supplier_but_no_item_or_the_reverse_is_a_problem_not_left_out():
    made = drafted((None, "Moinho", "8wd", ""), ("Boxes", None, "8wd", ""))
    assert problems(made) == [
        "jobs.xlsx, sheet Jobs, row 4, column A (Item): has no item, but a supplier or a lead; name the item",
        "jobs.xlsx, sheet Jobs, row 5, column B (Vendor): has no supplier; write one ('screw maker' will do until you have one), or 'us' for work of your own",
    ]


@pytest.mark.parametrize(
    ("roles", "what"),
    [
        (("item", "lead"), "names the suppliers"),
        (("item", "supplier"), "holds the leads"),
        (("supplier", "lead"), "names the items"),
    ],
)
def test_a_missing_column_is_one_problem_not_one_a_row(roles, what):
    made = drafted(("Boxes", "8wd"), ("Lids", "8wd"), roles=roles)
    told = [one for one in problems(made) if "has no item" not in one]
    assert len(told) == 1
    assert told[0].startswith(
        f"jobs.xlsx, sheet Jobs, row 3: no column {what}; say which one does: columns HEADING="
    )
    assert made.questions == ()


def test_quantities_travel_dates_and_words_fill_their_keys():
    roles = (
        "item",
        "supplier",
        "lead",
        "quantity",
        "travel",
        "not-before",
        "process",
        "said",
        "contact",
        "country",
    )
    made = drafted(
        (
            "Glass",
            "Yunlan",
            "25wd",
            "1,600",
            "45cd",
            date(2026, 8, 17),
            "printing",
            "FOB",
            "Lan, 0-555-0105",
            "China",
        ),
        roles=roles,
    )
    glass = job(made, "glass")
    assert (glass.quantity, glass.travel, glass.not_before) == (1600, Span(45, "cd"), date(2026, 8, 17))
    assert (glass.process, glass.said) == ("printing", "FOB")
    yunlan = made.plan.suppliers[0]
    assert (yunlan.contact, yunlan.country) == ("Lan, 0-555-0105", "CN")


def test_words_of_a_lead_are_kept_as_heard_before_what_was_quoted():
    made = drafted(
        ("Glass", "Yunlan", "10-15 working days ARO", "FOB Shenzhen"),
        roles=("item", "supplier", "lead", "said"),
    )
    assert job(made, "glass").said == "10-15 working days ARO; FOB Shenzhen"


def test_several_contacts_of_a_supplier_are_all_kept_and_countries_must_agree():
    roles = ("item", "supplier", "lead", "contact", "country")
    rows = (
        ("Mill", "Tolmark", "8wd", "Gwen", "UK"),
        ("Turn", "Tolmark", "8wd", "Ali", "England"),
        ("Bore", "Tolmark", "8wd", "Gwen", "FR"),
    )
    made = drafted(*rows, roles=roles)
    assert made.plan.suppliers[0].contact == "Gwen; Ali"
    assert problems(made) == [
        (
            "jobs.xlsx, sheet Jobs, row 6, column E (Where): 'FR' is FR, but another row has GB for tolmark; "
            "write one country for tolmark, or give the two places different supplier names"
        )
    ]


def test_suppliers_without_a_country_are_listed_and_one_typed_is_set():
    assert drafted(*FOUR).without_country == ("bench", "tolmark", "moinho")
    made = drafted(*FOUR, words="countries tolmark=UK Moinho=pt")
    assert {one.code: one.country for one in made.plan.suppliers} == {
        "bench": "",
        "tolmark": "GB",
        "moinho": "PT",
    }
    assert made.without_country == ("bench",)


def test_a_country_typed_for_nobody_is_refused():
    assert problems(drafted(*FOUR, words="countries nobody=GB"))[0].startswith(
        "countries nobody=GB: there is no supplier 'nobody'"
    )


OLD = replace(
    EMPTY,
    suppliers=(Supplier(code="varne", name="Varne", country="GB", closures=()), Supplier(code="lark", inhouse=True)),
    jobs=(
        Job(code="mill", name="Milling", supplier="varne", lead=parse_lead("5wd"), quantity=10, travel=Span(2), gate=True),
        Job(code="box", name="Boxes", supplier="varne", lead=parse_lead("9wd"), after=(Link(job="mill", lag=Span(3)),)),
    ),
)  # fmt: skip


@pytest.mark.parametrize("name", ["Boxes", "boxes", "BOX"])
def test_a_stored_job_is_found_by_name_or_code_and_keeps_what_the_sheet_does_not_say(name):
    made = drafted((name, "Varne", "12wd", None), plan=OLD)
    assert made.plan.jobs == (replace(OLD.jobs[1], lead=parse_lead("12wd"), name=made.plan.jobs[0].name),)
    assert made.plan.jobs[0].name in ("Boxes", "boxes")


def test_a_link_named_again_keeps_its_lag_and_nothing_takes_links_away():
    assert job(drafted(("Boxes", "Varne", "9wd", "Milling"), plan=OLD), "box").after == OLD.jobs[1].after
    assert job(drafted(("Boxes", "Varne", "9wd", "none"), plan=OLD), "box").after == ()


def test_an_empty_supplier_or_lead_of_a_stored_job_stays_as_stored():
    made = drafted(("Boxes", None, None, None), plan=OLD)
    assert made.plan.jobs == (OLD.jobs[1],)
    assert (made.questions, made.problems) == ((), ())


def test_a_rate_stays_until_the_sheet_gives_a_lead():
    rated = replace(OLD, jobs=(replace(OLD.jobs[0], lead=DayRate(per_day=12)),))
    assert job(drafted(("Milling", "Varne", None, None), plan=rated), "mill").lead == DayRate(per_day=12)
    assert job(drafted(("Milling", "Varne", "4wd", None), plan=rated), "mill").lead == parse_lead("4wd")


def test_words_of_an_older_lead_go_when_the_sheet_gives_an_exact_one():
    said = replace(OLD, jobs=(replace(OLD.jobs[0], said="20 days"),))
    assert job(drafted(("Milling", "Varne", "4wd", None), plan=said), "mill").said == ""
    assert job(drafted(("Milling", "Varne", "5wd", None), plan=said), "mill").said == "20 days"


NAMES = st.lists(
    st.text(st.characters(categories=("L", "Nd")), min_size=1, max_size=12).map(lambda text: f"Q{text}"),
    min_size=1, max_size=8, unique_by=lambda text: text.casefold(),
)  # fmt: skip


@given(NAMES, st.data())
def test_a_drafted_plan_in_a_sheets_words_reads_back_unchanged(names, data):
    """The draft of the words that a drafted plan is written as, read into that plan, is that plan."""
    leads = st.sampled_from(["12wd", "45cd", "8..12wd", "8/10/15wd", "10 working days", "2-3 calendar weeks"])
    rows = []
    for at, name in enumerate(names):
        after = data.draw(st.lists(st.sampled_from(names[:at]), unique=True)) if at else []
        supplier = data.draw(st.sampled_from(["Tolmark Precision", "us", "Varne"]))
        rows.append((name, supplier, data.draw(leads), "; ".join(after), data.draw(st.integers(1, 2000))))
    roles = ("item", "supplier", "lead", "after", "quantity")
    plan = stored(drafted(*rows, roles=roles))
    assert [one.name for one in plan.jobs] == names
    words = [
        (
            one.name,
            plan.supplier_by_code[one.supplier].name,
            one.said or str(one.lead),
            ", ".join(plan.job_by_code[link.job].name for link in one.after) or "-",
            f"{one.quantity} pcs",
        )
        for one in plan.jobs
    ]
    again = drafted(*words, roles=roles, plan=plan)
    assert problems(again) == []
    assert merge(plan, again.plan) == plan

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given

from tests.planfile import wild
from tracker.planfile.faults import BadValue
from tracker.planfile.lot_forms import LOTS, TOLERANCE, YIELD
from tracker.planfile.reading import parse_plan


def job_with(text):
    """The job of a plan file with one more line."""
    parsed = parse_plan(
        f'[[job]]\ncode = "a"\nsupplier = "mill"\nlead = "3wd"\n{text}\n',
        source="p",
        today=date(2026, 11, 24),
    )
    return parsed.plan.jobs[0], [str(problem) for problem in parsed.problems[1:]]


@pytest.mark.parametrize(
    ("text", "lots"),
    [
        ("4", 4),
        ("shipments", "shipments"),
        ("Shipments", "shipments"),
        ("100,100,75", (100, 100, 75)),
        ("100, 75", (100, 75)),
        ("[100, 75]", (100, 75)),
        ("[100]", (100,)),
    ],
)
def test_lots_are_typed_as_a_number_as_shipments_or_as_sizes(text, lots):
    assert LOTS.typed(text) == lots


@pytest.mark.parametrize(
    ("text", "lots"),
    [("4", 4), ('"shipments"', "shipments"), ("[100, 100, 75]", (100, 100, 75)), ("[9]", (9,))],
)
def test_lots_of_a_file_are_a_number_shipments_or_a_list_of_sizes(text, lots):
    job, problems = job_with(f"lots = {text}")
    assert (job.lots, problems) == (lots, [])


@given(wild.lots.filter(lambda lots: lots is not None))
def test_lots_shown_can_be_typed_again(lots):
    assert LOTS.typed(LOTS.show(lots)) == lots


@given(wild.shares)
def test_shares_shown_can_be_typed_again(share):
    for form in (YIELD, TOLERANCE):
        assert form.typed(form.show(share)) == share


@pytest.mark.parametrize("text", ["0.95", "95%", "95 %", "19/20"])
def test_a_share_is_exact_however_it_is_typed(text):
    assert YIELD.typed(text) == Fraction(19, 20)


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("0.95", Fraction(19, 20)),
        ('"95%"', Fraction(19, 20)),
        ('"12.5%"', Fraction(1, 8)),
        ("1", Fraction(1)),
    ],
)
def test_a_share_of_a_file_is_a_number_or_a_percentage(text, share):
    job, problems = job_with(f"yield = {text}\novers = {text}")
    assert (job.yields, job.overs, problems) == (share, share, [])


def test_a_yield_is_written_as_a_number_and_a_tolerance_as_a_percentage():
    assert (YIELD.write(Fraction(19, 20)), TOLERANCE.write(Fraction(1, 10))) == ("0.95", '"10%"')
    assert (YIELD.write(Fraction(2, 3)), TOLERANCE.write(Fraction(1, 3))) == ('"2/3"', '"100/3%"')


@pytest.mark.parametrize(
    ("form", "text", "expected"),
    [
        (LOTS, "four", "'four' is no number of lots; write 4, shipments, or sizes such as 100,100,75"),
        (LOTS, "shipment", "'shipment' says nothing of lots; did you mean shipments?"),
        (LOTS, "2.5", "'2.5' is no number of lots; write 4, shipments, or sizes such as 100,100,75"),
        (LOTS, "[]", "'[]' is no number of lots; write 4, shipments, or sizes such as 100,100,75"),
        (LOTS, "100,many", "'many' is not a whole number; write digits only, such as 240"),
        (YIELD, "most", "'most' is not a share; write it such as 0.95 or 95%"),
        (YIELD, "%", "'%' is not a share; write it such as 0.95 or 95%"),
        (YIELD, "95% good", "'95% good' is not a share; write it such as 0.95 or 95%"),
        (TOLERANCE, "10 percent", "'10 percent' is not a share; write it such as 0.95 or 95%"),
    ],
)
def test_each_fault_of_typed_lots_and_shares_has_a_remedy(form, text, expected):
    with pytest.raises(BadValue) as error:
        form.typed(text)
    (fault,) = error.value.faults
    assert f"{fault.found}; {fault.remedy}" == expected


NO_LOTS = 'expected a number of lots, their sizes or shipments; write 4, [100, 75] or "shipments"'


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('lots = "4"', f"lots: '4' is text; {NO_LOTS}"),
        ('lots = "shipment"', "lots: 'shipment' says nothing of lots; did you mean \"shipments\"?"),
        ("lots = true", f"lots: true is a yes-or-no value; {NO_LOTS}"),
        ("lots = 1.5", f"lots: 1.5 is a number; {NO_LOTS}"),
        (
            'lots = [100, "75"]',
            ("lots, item 2: '75' is text; expected a whole number;"
            " write it without quotes and without a point, such as 240"),
        ),
        ('yield = "most"', "yield: 'most' is not a share; write it such as 0.95 or 95%"),
        ("unders = true", "unders: true is a yes-or-no value; expected a number; write it such as 12 or 7.5"),
        ("one_by_one = 1", "one_by_one: 1 is a number; expected true or false; write true or false without quotes"),
        ('serves = "wave-1"', "serves: 'wave-1' is text; expected a list; put it in square brackets"),
    ],
)  # fmt: skip
def test_each_fault_of_lots_and_shares_in_a_file_names_place_and_remedy(text, expected):
    assert job_with(text)[1] == [f"p, job a, {expected}"]

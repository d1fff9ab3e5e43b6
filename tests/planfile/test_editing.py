from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.planfile import wild
from tracker.errors import PlanProblems, Refused, UsageError
from tracker.plan.model import Closure, Job, Link, Plan, Run, Shipment, Supplier, Told
from tracker.plan.span import DayRate, HourRate, Span, parse_lead
from tracker.planfile.editing import edit_item
from tracker.planfile.fields import JOB
from tracker.planfile.tables import Table

RUN = Run(code="dial-1", quantity=240, start=date(2026, 6, 15))
MILL = Supplier(code="mill", contact="Gwen")
BOXES = Job(
    code="boxes",
    supplier="mill",
    lead=parse_lead("20wd"),
    name="Boxes",
    after=(Link(job="art"),),
    clock=("order",),
)
PACK = Job(code="pack", supplier="mill", lead=DayRate(setup=1, per_day=Fraction(12)))
WAVE = Shipment(code="wave-1", quantity=80, after=("pack",))
PLAN = Plan(run=RUN, suppliers=(MILL,), jobs=(BOXES, PACK), shipments=(WAVE,))
LEAD_FORMS = (
    "job boxes, lead: 'soon' is not a number of days;"
    " write 12wd, 45cd, 8..12wd or 8/10/15wd (wd = their working days, cd = calendar days)"
)


def set_(kind, code, line):
    return edit_item(PLAN, kind, code, line.split(), create=False)


def boxes(line):
    return set_("job", "boxes", line).job_by_code["boxes"]


def problems(kind, code, line, *, create=False):
    with pytest.raises(PlanProblems) as error:
        edit_item(PLAN, kind, code, line.split(), create=create)
    return [str(problem) for problem in error.value.problems]


@pytest.mark.parametrize(
    ("line", "changes"),
    [
        pytest.param("lead=12wd", {"lead": parse_lead("12wd")}, id="a lead"),
        pytest.param("lead=8 .. 12 wd", {"lead": parse_lead("8..12wd")}, id="a lead with spaces"),
        pytest.param(
            "name=Boxes and leaflets quantity=250",
            {"name": "Boxes and leaflets", "quantity": 250},
            id="words",
        ),
        pytest.param(
            "after=art,fit lag 2cd,gate on fail,other on fail lag 3wd",
            {
                "after": (
                    Link(job="art"),
                    Link(job="fit", lag=Span(2, "cd")),
                    Link(job="gate", on="fail"),
                    Link(job="other", on="fail", lag=Span(3, "wd")),
                )
            },
            id="links",
        ),
        pytest.param(
            "after=art, fit", {"after": (Link(job="art"), Link(job="fit"))}, id="a space after the comma"
        ),
        pytest.param(
            "after+=fit-c lag 2cd",
            {"after": (Link(job="art"), Link(job="fit-c", lag=Span(2, "cd")))},
            id="one more",
        ),
        pytest.param("clock+=payment,proof", {"clock": ("order", "payment", "proof")}, id="more conditions"),
        pytest.param("leave_when+=balance", {"leave_when": ("balance",)}, id="a first condition"),
        pytest.param(
            "clock= name= after=", {"clock": None, "name": "", "after": ()}, id="back to the defaults"
        ),
        pytest.param(
            "gate=yes not_before=2026-12-01",
            {"gate": True, "not_before": date(2026, 12, 1)},
            id="yes and a day",
        ),
    ],
)
def test_words_change_their_keys_and_keep_all_others(line, changes):
    assert boxes(line) == replace(BOXES, **changes)


def test_a_whole_word_may_hold_an_equals_sign():
    found = edit_item(PLAN, "job", "boxes", ["said=20 days = 4 weeks"], create=False)
    assert found.job_by_code["boxes"].said == "20 days = 4 weeks"


def test_a_rate_replaces_a_lead_and_a_lead_a_rate():
    assert boxes("per_day=12 setup=1wd").lead == DayRate(setup=1, per_day=Fraction(12))
    assert boxes("minutes_each=35 setup_h=6 hours_per_day=14 machines=2").lead == HourRate(
        setup_h=Fraction(6), minutes_each=Fraction(35), hours_per_day=Fraction(14), machines=2
    )
    assert set_("job", "pack", "lead=4wd").job_by_code["pack"].lead == parse_lead("4wd")


def test_one_part_of_a_rate_changes_alone():
    assert set_("job", "pack", "per_day=25/3").job_by_code["pack"].lead == DayRate(
        setup=1, per_day=Fraction(25, 3)
    )
    assert set_("job", "pack", "setup=").job_by_code["pack"].lead == DayRate(per_day=Fraction(12))


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        pytest.param(
            "lead=4wd per_day=12", ["job boxes: has both a lead and a rate; keep one of the two"], id="both"
        ),
        pytest.param(
            "per_day=12 machines=2",
            [
                "job boxes, per_day: does not go with machines; write one kind of rate",
                "job boxes: a rate needs minutes_each as well; write minutes_each=...",
                "job boxes: a rate needs hours_per_day as well; write hours_per_day=...",
            ],
            id="two kinds of rate",
        ),
        pytest.param(
            "setup=1wd", ["job boxes: a rate needs per_day as well; write per_day=..."], id="half a rate"
        ),
        pytest.param(
            "per_day=",
            ["job boxes, per_day: cannot be empty; write per_day=... with a number"],
            id="an empty rate",
        ),
        pytest.param(
            "rate=12/day",
            [
                "job boxes, rate: is typed by its parts; write per_day=12 setup=1wd, or minutes_each=35 hours_per_day=14"
            ],
            id="a rate by its name",
        ),
        pytest.param(
            "lead=soon quantity=some travl=2cd after=,x supplier= code=b name+=x",
            [
                LEAD_FORMS,
                "job boxes, quantity: 'some' is not a whole number; write digits only, such as 240",
                "job boxes, travl: there is no key 'travl'; did you mean travel?",
                "job boxes, after, item 1: '' is not a link; write CODE, CODE lag 2cd or CODE on fail",
                "job boxes, supplier: cannot be empty; write supplier=... with a value, or leave it out",
                "job boxes, code: a code cannot be changed; add a new entry and remove the old one",
                "job boxes, name: is not a list, so nothing can be added to it; write name=... to replace it",
            ],
            id="all at once",
        ),
        pytest.param(
            "name=a name=b", ["job boxes, name: stands here twice; keep one of the two"], id="a key twice"
        ),
        pytest.param(
            "not_before=2026-02-30",
            ["job boxes, not_before: '2026-02-30' is no day of the calendar; correct the month or the day"],
            id="no day of the calendar",
        ),
        pytest.param(
            "not_before=20260230",
            ["job boxes, not_before: '20260230' is not a date; write year-month-day, such as 2026-06-15"],
            id="a date without dashes",
        ),
        pytest.param(
            "gate=maybe", ["job boxes, gate: 'maybe' is neither yes nor no; write yes or no"], id="maybe"
        ),
        pytest.param(
            "per_day=0/0",
            ["job boxes, per_day: '0/0' is not a number; write it such as 12, 7.5 or 25/3"],
            id="over zero",
        ),
        pytest.param(
            "name=\udcff",
            ["job boxes, name: '\\udcff' holds bytes that are no text; type it again"],
            id="no text",
        ),
    ],
)
def test_all_bad_values_are_listed_with_a_remedy(line, expected):
    assert problems("job", "boxes", line) == expected


@pytest.mark.parametrize("words", [["12wd"], ["=12wd"], ["+=x"], ["name=Box", "lead", "12wd"]])
def test_words_that_are_not_key_value_are_a_usage_error(words):
    with pytest.raises(UsageError, match="is not key=value") as error:
        edit_item(PLAN, "job", "boxes", words, create=False)
    assert error.value.exit_code == 2


def test_a_new_job_stands_at_the_end():
    found = edit_item(PLAN, "job", "art", ["supplier=mill", "lead=3wd"], create=True)
    assert found.jobs == (BOXES, PACK, Job(code="art", supplier="mill", lead=parse_lead("3wd")))


def test_a_new_job_needs_a_supplier_and_a_lead():
    assert problems("job", "art", "name=Artwork", create=True) == [
        "job art: has no supplier; write supplier=...",
        "job art: has no lead; write lead=...",
    ]


def test_a_new_run_makes_a_plan():
    found = edit_item(None, "run", "dial-1", ["quantity=240", "start=2026-06-15"], create=True)
    assert found == Plan(run=RUN)


def test_the_run_is_changed_by_its_code():
    assert set_("run", "dial-1", "quantity=250 dates=day first").run == replace(
        RUN, quantity=250, dates="day first"
    )


def test_closures_are_typed_with_their_reason():
    found = set_("supplier", "mill", "closures+=2026-12-21..2027-01-04 works shutdown,2026-11-11 bank=2wd")
    assert found.suppliers[0] == replace(
        MILL,
        bank=Span(2, "wd"),
        closures=(
            Closure(first=date(2026, 12, 21), last=date(2027, 1, 4), why="works shutdown"),
            Closure(first=date(2026, 11, 11), last=date(2026, 11, 11)),
        ),
    )


def test_told_dates_are_typed_with_the_day_they_were_told():
    found = set_(
        "shipment", "wave-1", "told=2026-06-30:2026-12-18,2026-10-16:2027-01-10..2027-01-20 mid-January"
    )
    assert found.shipments[0].told == (
        Told(on=date(2026, 6, 30), last=date(2026, 12, 18)),
        Told(on=date(2026, 10, 16), first=date(2027, 1, 10), last=date(2027, 1, 20), words="mid-January"),
    )


@pytest.mark.parametrize(
    ("kind", "code", "create", "message", "hint"),
    [
        (
            "job",
            "boxes",
            True,
            "there is a job boxes already",
            "change it with 'tracker set boxes key=value'",
        ),
        ("job", "boxs", False, "there is no job 'boxs'", "did you mean boxes?"),
        (
            "supplier",
            "zz",
            False,
            "there is no supplier 'zz'",
            "add it with 'tracker add supplier zz key=value'",
        ),
        (
            "run",
            "dial-2",
            True,
            "there is a run dial-1 already",
            "change it with 'tracker set dial-1 key=value'",
        ),
    ],
)
def test_an_entry_must_be_there_to_change_and_not_there_to_add(kind, code, create, message, hint):
    with pytest.raises(Refused) as error:
        edit_item(PLAN, kind, code, ["name=x"], create=create)
    assert (error.value.message, error.value.hint) == (message, hint)


def shown(table: Table, item):
    return {key.name: key.form.show(value) for key, value in table.parts(item)}


@given(
    wild.leads(), st.lists(wild.links.filter(lambda link: link.kind == "finish-start"), max_size=3).map(tuple)
)
def test_what_is_shown_can_be_typed_again(lead, after):
    job = replace(BOXES, lead=lead, after=after, name="")
    texts = shown(JOB, job)
    words = texts.pop("rate", "").split()
    words += [f"{key}={text}" for key, text in texts.items() if key not in ("code", "name")]
    empty = Plan(run=RUN)
    assert edit_item(empty, "job", "boxes", words, create=True).jobs == (job,)

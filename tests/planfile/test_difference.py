from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings

from tests.part_plans import part_plans
from tests.plans import plans
from tracker.plan.model import (
    Closure,
    Fact,
    FirstPlan,
    Job,
    Link,
    Plan,
    PlannedJob,
    PublicHolidays,
    Run,
    Shipment,
    Supplier,
    Told,
)
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import DayRate, Span, parse_lead
from tracker.planfile.difference import difference

FEW = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
DAY = date(2026, 11, 10)
RUN = Run(code="dial-1", quantity=240, start=date(2026, 6, 15))
MILL = Supplier(code="mill")
BOXES = Job(code="boxes", supplier="mill", lead=parse_lead("20wd"), after=(Link(job="art"),))
PLAN = Plan(run=RUN, suppliers=(MILL,), jobs=(BOXES,))
BEZEL = Part(code="bezel")
PACKED = Shipment(code="w", quantity=80, contents=(Content(part="packed", quantity=80),))
ROW = PlannedJob(job="boxes", start=DAY, finish=DAY, arrives=DAY)


def lines(before, after):
    return [str(change) for change in difference(before, after)]


def boxes(**changes):
    return replace(PLAN, jobs=(replace(BOXES, **changes),))


@pytest.mark.parametrize(
    ("after", "line"),
    [
        pytest.param(boxes(lead=parse_lead("12wd")), "changed job boxes: lead 20wd -> 12wd", id="a lead"),
        pytest.param(
            boxes(lead=DayRate(setup=1, per_day=Fraction(12))),
            "changed job boxes: lead 20wd -> rate setup=1wd per_day=12",
            id="a rate for a lead",
        ),
        pytest.param(
            boxes(after=(Link(job="art"), Link(job="fit", on="fail", lag=Span(2, "cd")))),
            "changed job boxes: after adds fit on fail lag 2cd",
            id="one more link",
        ),
        pytest.param(boxes(after=()), "changed job boxes: after art -> none", id="no link left"),
        pytest.param(boxes(clock=()), "changed job boxes: clock not set -> none", id="an empty clock"),
        pytest.param(boxes(gate=True), "changed job boxes: gate no -> yes", id="a gate"),
        pytest.param(
            boxes(name="Boxes, printed"), 'changed job boxes: name "" -> "Boxes, printed"', id="a name"
        ),
        pytest.param(
            boxes(not_before=DAY), "changed job boxes: not_before not set -> 2026-11-10", id="a day"
        ),
        pytest.param(
            replace(PLAN, jobs=()), "removed job boxes: supplier mill, lead 20wd, after art", id="a job gone"
        ),
        pytest.param(
            replace(PLAN, suppliers=(replace(MILL, closures=(Closure(first=DAY, last=DAY, why="fair"),)),)),
            "changed supplier mill: closures none -> 2026-11-10 fair",
            id="a closure",
        ),
        pytest.param(
            replace(
                PLAN,
                shipments=(Shipment(code="w", quantity=9, after=("boxes",), told=(Told(on=DAY, last=DAY),)),),
            ),
            "added shipment w: quantity 9, after boxes, told 2026-11-10:2026-11-10",
            id="a shipment",
        ),
        pytest.param(
            replace(
                PLAN,
                facts=(
                    Fact(on=DAY, logged=DAY, kind="in", job="boxes", good=91, rework=3, scrap=2, closes=True),
                ),
            ),
            "added fact in boxes 2026-11-10: good 91 rework 3 scrap 2 last",
            id="a delivery",
        ),
        pytest.param(
            replace(PLAN, first_plan=FirstPlan(jobs=(ROW,))),
            "added first plan: 1 jobs, 0 shipments",
            id="a first plan",
        ),
        pytest.param(
            replace(
                PLAN,
                holidays=(PublicHolidays(country="GB", subdivision="ENG", first_year=2026, last_year=2026),),
            ),
            "added public holidays GB ENG: first_year 2026, last_year 2026",
            id="holidays",
        ),
        pytest.param(
            replace(PLAN, parts=(replace(BEZEL, spares=8, here=Fraction(25, 2), unit="m"),)),
            "added part bezel: unit m, here 12.5, spares 8",
            id="a part",
        ),
        pytest.param(
            boxes(takes=(Take(part="board"), Take(part="screw", per=Fraction(6)))),
            "changed job boxes: takes none -> board, screw 6",
            id="parts taken",
        ),
        pytest.param(
            boxes(makes=(Make(part="graphite", quantity=74), Make(part="natural", quantity=86))),
            "changed job boxes: makes none -> graphite 74, natural 86",
            id="parts made",
        ),
        pytest.param(boxes(yields=Fraction(19, 20)), "changed job boxes: yield 100% -> 95%", id="a yield"),
        pytest.param(boxes(lots=(100, 75)), "changed job boxes: lots not set -> 100, 75", id="lots"),
        pytest.param(
            replace(PLAN, run=replace(RUN, currency="GBP")),
            "changed run dial-1: currency none -> GBP",
            id="the run",
        ),
    ],
)
def test_each_change_is_one_line_that_says_before_and_after(after, line):
    assert lines(PLAN, after) == [line]


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        pytest.param(
            {"quantity": 90, "contents": (Content(part="packed", quantity=90),)},
            ["changed shipment w: quantity 80 -> 90"],
            id="more of the same part",
        ),
        pytest.param(
            {"contents": (Content(part="spare-set", quantity=80),)},
            ["changed shipment w: part packed -> spare-set"],
            id="another part",
        ),
        pytest.param(
            {"contents": (Content(part="packed", quantity=66), Content(part="natural", quantity=14))},
            ["changed shipment w: part packed -> contents packed 66, natural 14"],
            id="several parts",
        ),
        pytest.param(
            {"contents": (), "after": ("pack",)},
            ["changed shipment w: part packed -> contents none", "changed shipment w: after none -> pack"],
            id="no part any more",
        ),
    ],
)
def test_what_is_in_a_shipment_changes_by_the_key_that_says_it(changes, line):
    before, after = (replace(PLAN, shipments=(one,)) for one in (PACKED, replace(PACKED, **changes)))
    assert lines(before, after) == line


def test_one_more_part_of_several_is_told_alone_and_another_number_with_the_old_one():
    board, screw = Take(part="board"), Take(part="screw", per=Fraction(6))
    before, after = boxes(takes=(board,)), boxes(takes=(board, screw))
    fewer = boxes(takes=(board, replace(screw, per=Fraction(4))))
    assert lines(before, after) == ["changed job boxes: takes adds screw 6"]
    assert lines(after, fewer) == ["changed job boxes: takes board, screw 6 -> board, screw 4"]


def test_a_first_plan_changes_row_by_row():
    before = replace(PLAN, first_plan=FirstPlan(jobs=(ROW,)))
    later = replace(ROW, arrives=date(2026, 11, 12))
    after = replace(PLAN, first_plan=FirstPlan(jobs=(later,)))
    assert lines(before, after) == ["changed first plan of job boxes: arrives 2026-11-10 -> 2026-11-12"]


def test_a_first_read_adds_everything():
    assert [(change.kind, change.what) for change in difference(None, PLAN)] == [
        ("added", "run dial-1"),
        ("added", "supplier mill"),
        ("added", "job boxes"),
    ]


def test_another_order_is_told():
    art = replace(BOXES, code="art", after=())
    found = lines(replace(PLAN, jobs=(BOXES, art)), replace(PLAN, jobs=(art, BOXES)))
    assert found == ["changed order of jobs: boxes, art -> art, boxes"]


def test_a_list_in_another_order_is_told_whole():
    before = boxes(after=(Link(job="art"), Link(job="fit")))
    after = boxes(after=(Link(job="fit"), Link(job="art"), Link(job="film")))
    assert lines(before, after) == ["changed job boxes: after art, fit -> fit, art, film"]


def test_text_of_any_kind_stays_on_one_line():
    (line,) = lines(PLAN, boxes(name="two\nlines\x1b[31m"))
    assert line.endswith('name "" -> "two\\nlines\\u001B[31m"')


@FEW
@given(plans() | part_plans(), part_plans())
def test_two_plans_differ_exactly_when_a_change_is_told(before, after):
    assert (difference(before, after) == ()) == (before == after)
    assert difference(before, before) == ()


@FEW
@given(plans() | part_plans())
def test_every_entry_of_a_plan_is_told_once_when_it_is_new(plan):
    changes = difference(None, plan)
    entries = (
        1
        + len(plan.suppliers)
        + len(plan.parts)
        + len(plan.jobs)
        + len(plan.shipments)
        + len(plan.options)
        + len(plan.facts)
    )
    rest = (plan.first_plan is not None) + len(plan.holidays)
    assert [change.kind for change in changes] == ["added"] * (entries + rest)

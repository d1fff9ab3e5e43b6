from dataclasses import replace
from datetime import date

import pytest

from tracker.errors import Refused
from tracker.plan.model import Fact, FirstPlan, Job, Plan, PlannedJob, Run, Shipment, Supplier
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import parse_lead
from tracker.planfile.removing import without

DAY = date(2026, 11, 10)


def job(code, **more):
    return Job(code=code, supplier="bench", lead=parse_lead("3wd"), **more)


PLAN = Plan(
    run=Run(code="dial-1", quantity=240, start=date(2026, 6, 15), unit="unit, unit-2"),
    suppliers=(Supplier(code="bench", inhouse=True),),
    parts=tuple(Part(code=code) for code in ("bezel", "board", "unit", "unit-2", "packed", "lid", "gasket", "foam")),
    jobs=(
        job("finish", makes=(Make(part="bezel"),), serves=("wave-1",)),
        job(
            "build",
            takes=(Take(part="bezel"), Take(part="board", into="unit")),
            makes=(Make(part="unit", quantity=70), Make(part="unit-2", quantity=10)),
        ),
        job("mend", rework_of="finish", quantity=3),
        job("spare-job"),
    ),
    shipments=(
        Shipment(code="wave-1", quantity=80, contents=(Content(part="packed", quantity=80),)),
        Shipment(
            code="wave-2",
            quantity=12,
            contents=(Content(part="packed", quantity=8), Content(part="lid", quantity=4)),
        ),
    ),
    facts=(
        Fact(on=DAY, logged=DAY, kind="scrapped", part="gasket", scrap=2),
        Fact(on=DAY, logged=DAY, kind="in", job="finish", part="gasket", good=2),
    ),
)  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "code", "message", "hint"),
    [
        (
            "part", "bezel", "bezel is needed by finish (makes), build (takes)",
            "change these first, for example: tracker set finish makes=OTHER",
        ),
        (
            "part", "board", "board is needed by build (takes)",
            "change these first, for example: tracker set build takes=OTHER",
        ),
        (
            "part", "unit", "unit is needed by run (unit), build (takes), build (makes)",
            "change these first, for example: tracker set run unit=OTHER",
        ),
        (
            "part", "unit-2", "unit-2 is needed by run (unit), build (makes)",
            "change these first, for example: tracker set run unit=OTHER",
        ),
        (
            "part", "packed", "packed is needed by wave-1 (part), wave-2 (contents)",
            "change these first, for example: tracker set wave-1 part=OTHER",
        ),
        (
            "part", "lid", "lid is needed by wave-2 (contents)",
            "change these first, for example: tracker set wave-2 contents=OTHER",
        ),
        (
            "part", "gasket",
            "gasket is counted by facts, so it cannot be removed: scrapped gasket 2026-11-10, in finish 2026-11-10",
            "undo what logged them first: 'tracker diary gasket' names the entries",
        ),
        (
            "shipment", "wave-1", "wave-1 is needed by finish",
            "take it out of their 'serves' first, for example: tracker set JOB serves=OTHER",
        ),
        ("job", "finish", "finish has facts logged about it, so it cannot be removed", "'tracker called-off finish' keeps the trail"),
    ],
)  # fmt: skip
def test_what_something_refers_to_is_not_removed_and_all_that_does_is_named(kind, code, message, hint):
    with pytest.raises(Refused) as error:
        without(PLAN, kind, code)
    assert (error.value.message, error.value.hint) == (message, hint)


def test_a_job_whose_pieces_are_mended_is_not_removed():
    with pytest.raises(Refused, match="finish is needed by mend") as error:
        without(replace(PLAN, facts=()), "job", "finish")
    assert error.value.hint == "its pieces are mended there: tracker remove mend"


def test_many_facts_are_named_shortly():
    facts = tuple(
        Fact(on=date(2026, 11, day), logged=DAY, kind="scrapped", part="foam", scrap=1) for day in range(1, 8)
    )
    with pytest.raises(Refused, match=r"foam 2026-11-04, \.\.\.$"):
        without(replace(PLAN, facts=facts), "part", "foam")


def test_what_nothing_refers_to_goes_and_all_else_stays():
    assert without(PLAN, "part", "foam") == replace(
        PLAN, parts=tuple(one for one in PLAN.parts if one.code != "foam")
    )
    row = PlannedJob(job="spare-job", start=DAY, finish=DAY, arrives=DAY)
    planned = replace(PLAN, first_plan=FirstPlan(jobs=(row,)))
    assert without(planned, "job", "spare-job") == replace(PLAN, jobs=PLAN.jobs[:-1], first_plan=FirstPlan())
    assert without(PLAN, "shipment", "wave-2") == replace(PLAN, shipments=PLAN.shipments[:1])

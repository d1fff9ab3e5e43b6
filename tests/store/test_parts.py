"""Parts and what hangs on them: kept exactly, watched by the diary, undone and corrected like the rest."""

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.store.conftest import MONDAY, NOON
from tracker.errors import Refused
from tracker.plan.model import Fact
from tracker.plan.parts import Content, Make, Part, Take
from tracker.store.corrections import corrections
from tracker.store.database import reading, writing

BEZEL = Part(code="bezel", spares=8, moq=100, multiple=25)
TAPE = Part(code="tape", unit="m", here=Fraction(1, 3))
PACKED = Part(code="packed", name="Packed")


@pytest.fixture
def counted(plan):
    """The plan with a made part, a measured one and what is shipped."""
    housing, pack = plan.jobs
    makes = (Make(part="bezel", quantity=60), Make(part="packed", quantity=40))
    takes = (Take(part="bezel"), Take(part="tape", per=Fraction("0.35"), into="packed"))
    jobs = (
        replace(housing, makes=makes, yields=Fraction("0.95"), lots=(60, 40), unders=Fraction(1, 10)),
        replace(
            pack, takes=takes, makes=(Make(part="packed", quantity=74),), lots="shipments", serves=("wave-1",)
        ),
        replace(
            housing, code="strip", rework_of="housing", makes=makes[:1], lots=3, one_by_one=True, rerun=True
        ),
    )
    wave = replace(plan.shipments[0], contents=(Content(part="packed", quantity=100),), after=())
    return replace(
        plan, run=replace(plan.run, unit="bezel"), parts=(BEZEL, TAPE, PACKED), jobs=jobs, shipments=(wave,)
    )


def scrapped(**more):
    return Fact(on=MONDAY, logged=MONDAY, kind="scrapped", **{"part": "bezel", "scrap": 2, **more})


def with_pack(plan, **changes):
    return replace(plan, jobs=tuple(replace(j, **changes) if j.code == "pack" else j for j in plan.jobs))


def test_shares_and_measures_are_kept_exactly(keep, stored, counted):
    keep(counted)
    assert stored() == counted
    assert stored().jobs[0].yields == Fraction(19, 20)
    assert stored().parts[1].here * 3 == 1


def test_the_order_of_parts_takes_and_contents_is_kept(keep, stored, counted):
    keep(counted)
    turned = with_pack(counted, takes=counted.jobs[1].takes[::-1])
    turned = replace(turned, parts=counted.parts[::-1])
    keep(turned)
    assert stored() == turned


def test_the_diary_names_what_changes_when_a_job_takes_another_part(keep, diary, counted):
    keep(counted)
    keep(with_pack(counted, takes=(Take(part="tape", per=Fraction(2)),)), "set pack takes=tape 2")
    changes = {(c.table, c.key): (c.before, c.after) for c in diary(with_changes=True)[1].changes}
    assert changes.keys() == {("take", "pack 0"), ("take", "pack 1")}
    assert changes["take", "pack 0"][0]["per"] == "1"
    assert changes["take", "pack 0"][1] == {
        "job": "pack",
        "place": 0,
        "part": "tape",
        "per": "2",
        "into": None,
    }
    assert changes["take", "pack 1"][1] is None


def test_a_plan_stored_again_changes_no_row(keep, diary, counted):
    keep(counted)
    keep(counted)
    assert diary(with_changes=True)[1].changes == ()


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda plan: replace(plan, parts=(*plan.parts, Part(code="screw"))), id="add part screw"),
        pytest.param(lambda plan: replace(plan, parts=(replace(BEZEL, spares=0), TAPE, PACKED)), id="set bezel spares=0"),
        pytest.param(lambda plan: replace(plan, run=replace(plan.run, unit="")), id="set run unit="),
        pytest.param(lambda plan: with_pack(plan, takes=(Take(part="tape"),)), id="set pack takes=tape"),
        pytest.param(lambda plan: with_pack(plan, takes=()), id="set pack takes="),
        pytest.param(lambda plan: with_pack(plan, makes=()), id="set pack makes="),
        pytest.param(lambda plan: with_pack(plan, yields=Fraction(1, 2), lots=None, overs=Fraction(1, 4)), id="set pack yield=50%"),
        pytest.param(lambda plan: with_pack(plan, serves=()), id="set pack serves="),
        pytest.param(lambda plan: replace(plan, jobs=plan.jobs[:2]), id="remove strip"),
        pytest.param(lambda plan: replace(plan, shipments=(replace(plan.shipments[0], contents=(Content(part="bezel", quantity=100),)),)), id="set wave-1 part=bezel"),
        pytest.param(lambda plan: replace(plan, facts=(scrapped(),)), id="scrap bezel 2"),
    ],
)  # fmt: skip
def test_every_change_of_parts_is_undone_and_done_again(keep, stored, undo, counted, change):
    keep(counted)
    changed = change(counted)
    keep(changed)
    assert stored() == changed != counted
    undo()
    assert stored() == counted
    undo(3)
    assert stored() == changed


def test_a_part_that_is_taken_since_is_not_undone(keep, stored, undo, plan):
    keep(plan)
    keep(replace(plan, parts=(BEZEL,)), "add part bezel")
    taking = with_pack(replace(plan, parts=(BEZEL,)), takes=(Take(part="bezel"),))
    keep(taking, "set pack takes=bezel")
    with pytest.raises(Refused, match=r"entry 3 \(set pack takes=bezel\) rests on it"):
        undo(2)
    undo(3)
    undo(2)
    assert stored() == plan


@pytest.mark.parametrize(
    "resting",
    [
        pytest.param(lambda plan: replace(plan, run=replace(plan.run, unit="bezel")), id="run"),
        pytest.param(lambda plan: with_pack(plan, makes=(Make(part="bezel"),)), id="makes"),
        pytest.param(lambda plan: replace(plan, facts=(scrapped(),)), id="scrap"),
        pytest.param(lambda plan: replace(plan, shipments=(replace(plan.shipments[0], contents=(Content(part="bezel", quantity=100),)),)), id="contents"),
    ],
)  # fmt: skip
def test_a_part_that_something_speaks_of_since_is_not_undone(keep, undo, plan, resting):
    keep(plan)
    keep(replace(plan, parts=(BEZEL,)), "add part bezel")
    keep(resting(replace(plan, parts=(BEZEL,))), "later")
    with pytest.raises(Refused, match=r"entry 3 \(later\) rests on it"):
        undo(2)


def test_a_part_taken_away_comes_back_only_with_its_job(keep, undo, counted):
    keep(counted)
    bare = replace(counted, jobs=counted.jobs[:1], shipments=())
    keep(bare, "remove pack")
    without = replace(bare, parts=(BEZEL, PACKED))
    keep(without, "remove tape")
    with pytest.raises(Refused, match=r"entry 2 \(remove pack\) .* entry 3 \(remove tape\) rests on it"):
        undo(2)


def test_a_corrected_scrap_keeps_what_it_said_before(store, keep, stored, counted):
    keep(replace(counted, facts=(scrapped(job="pack"),)))
    with writing(store) as transaction:
        number = transaction.begin_entry("fix 1", MONDAY, NOON)
        transaction.correct(0, scrapped(scrap=3, part="packed"))
    assert stored().facts == (scrapped(scrap=3, part="packed"),)
    with reading(store) as connection:
        ((correction,),) = corrections(connection).values()
    assert (correction.entry, correction.was) == (number, scrapped(job="pack"))


def test_a_corrected_fact_without_a_part_had_none_before(store, keep, counted, fact):
    keep(replace(counted, facts=(fact(good=3),)))
    with writing(store) as transaction:
        transaction.begin_entry("fix 1", MONDAY, NOON)
        transaction.correct(0, fact(good=4, part="bezel"))
    with reading(store) as connection:
        ((correction,),) = corrections(connection).values()
    assert correction.was == fact(good=3)

from collections import Counter
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings

from tests.part_plans import part_plans
from tests.plans import plans
from tracker.errors import Refused
from tracker.plan.model import Fact, FirstPlan, Job, Plan, PublicHolidays, Run, Shipment, Supplier, Told
from tracker.plan.parts import Part
from tracker.plan.span import parse_lead
from tracker.planfile.difference import not_in_file
from tracker.planfile.merging import merge
from tracker.planfile.reading import parse_plan
from tracker.planfile.writing import write_plan

FEW = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
DAY = date(2026, 11, 10)
RUN = Run(code="dial-1", quantity=240, start=date(2026, 6, 15))
MILL = Supplier(code="mill", contact="Gwen")
BOXES = Job(code="boxes", supplier="mill", lead=parse_lead("20wd"), said="four weeks")
PACK = Job(code="pack", supplier="mill", lead=parse_lead("2wd"))
STORED = Plan(run=RUN, suppliers=(MILL,), jobs=(BOXES, PACK))


def came(good=5, logged=DAY, note=""):
    return Fact(on=DAY, kind="in", logged=logged, job="boxes", good=good, note=note)


def test_the_first_file_is_the_plan():
    assert merge(None, STORED) is STORED


def test_an_entry_of_the_file_replaces_the_stored_one_whole_and_in_its_place():
    shorter = Job(code="boxes", supplier="mill", lead=parse_lead("12wd"))
    found = merge(STORED, Plan(run=RUN, jobs=(shorter,)))
    assert found.jobs == (shorter, PACK)


def test_new_entries_stand_at_the_end_and_unmentioned_ones_stay():
    art = Job(code="art", supplier="mill", lead=parse_lead("3wd"))
    read = Plan(run=replace(RUN, quantity=250), jobs=(art, PACK))
    found = merge(STORED, read)
    assert [job.code for job in found.jobs] == ["boxes", "pack", "art"]
    assert found.suppliers == (MILL,)
    assert found.run.quantity == 250
    assert not_in_file(STORED, read) == ("supplier mill", "job boxes")


def test_two_equal_deliveries_are_two_and_stay_two():
    stored = replace(STORED, facts=(came(),))
    read = replace(STORED, facts=(came(), came()))
    twice = merge(stored, read)
    assert twice.facts == (came(), came())
    assert merge(twice, read) == twice


def test_a_fact_logged_later_is_still_the_same_fact():
    stored = replace(STORED, facts=(came(logged=date(2026, 11, 12)),))
    assert merge(stored, replace(STORED, facts=(came(),))).facts == stored.facts


def test_a_fact_that_says_anything_else_is_another_fact():
    found = merge(replace(STORED, facts=(came(),)), replace(STORED, facts=(came(good=6), came(note="wet"))))
    assert found.facts == (came(), came(good=6), came(note="wet"))


def test_parts_of_the_file_replace_stored_ones_in_their_place_and_new_ones_follow():
    stored = replace(STORED, parts=(Part(code="bezel", spares=8), Part(code="screw")))
    found = merge(stored, Plan(run=RUN, parts=(Part(code="board"), Part(code="bezel", moq=100))))
    assert found.parts == (Part(code="bezel", moq=100), Part(code="screw"), Part(code="board"))


def test_told_dates_come_with_their_shipment():
    wave = Shipment(code="wave-1", quantity=80, after=("pack",), told=(Told(on=DAY, last=DAY),))
    stored = replace(STORED, shipments=(replace(wave, told=()),))
    assert merge(stored, Plan(run=RUN, shipments=(wave,))).shipments == (wave,)


def test_the_files_first_plan_wins_where_it_has_one():
    kept, fresh = FirstPlan(), FirstPlan(jobs=())
    stored = replace(STORED, first_plan=kept)
    assert merge(stored, STORED).first_plan is kept
    assert merge(stored, replace(STORED, first_plan=fresh)).first_plan is fresh


def test_stored_public_holidays_win():
    kept = PublicHolidays(country="GB", first_year=2026, last_year=2027, days=(DAY,))
    other = PublicHolidays(country="GB", subdivision="ENG", first_year=2026, last_year=2027)
    found = merge(
        replace(STORED, holidays=(kept,)), replace(STORED, holidays=(replace(kept, days=()), other))
    )
    assert found.holidays == (kept, other)


def test_a_status_date_and_an_order_of_dates_that_the_file_does_not_name_stay():
    stored = replace(STORED, run=replace(RUN, today=DAY, dates="day first"))
    assert merge(stored, STORED).run == stored.run
    other = replace(RUN, today=date(2026, 11, 12), dates="month first")
    assert merge(stored, replace(STORED, run=other)).run == other


def test_what_else_the_file_does_not_say_of_the_run_is_taken_back():
    stored = replace(STORED, run=replace(RUN, product="Dial", currency="GBP"))
    assert merge(stored, STORED).run == RUN


def test_another_run_is_refused():
    with pytest.raises(
        Refused, match="the database holds run dial-1, but the file is about run dial-2"
    ) as error:
        merge(STORED, Plan(run=replace(RUN, code="dial-2")))
    assert "--db" in error.value.hint


def test_a_run_that_could_not_be_read_changes_no_stored_run():
    unread = parse_plan("[run]\nquantity = 1\n", source="plan.toml", today=DAY)
    assert merge(STORED, unread.plan) == STORED


@FEW
@given(plans() | part_plans(), part_plans())
def test_a_second_read_adds_nothing(stored, read):
    once = merge(stored, read)
    assert merge(once, read) == once


@FEW
@given(plans() | part_plans())
def test_reading_back_what_was_written_changes_nothing(plan):
    assert merge(plan, parse_plan(write_plan(plan), source="plan.toml", today=DAY).plan) == plan


@FEW
@given(plans(), plans())
def test_no_fact_is_lost_and_none_is_made_up(stored, read):
    facts = Counter(merge(stored, read).facts)
    assert Counter(stored.facts) <= facts
    assert facts <= Counter(stored.facts) + Counter(read.facts)

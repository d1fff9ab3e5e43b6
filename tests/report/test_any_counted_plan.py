"""Every view of random plans that count pieces: nothing crashes, no job is named twice, answers keep to six lines."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from tests.part_plans import part_plans
from tests.plans import START
from tests.report.asking import printed
from tests.report.counting import picture
from tests.schedule.random_material import random_material
from tracker.errors import Refused
from tracker.render.answer_text import MOST_LINES, write_answer
from tracker.render.board_text import write_board
from tracker.render.calls_text import write_calls
from tracker.render.forecast_text import write_forecast
from tracker.render.json_text import forecast_json, json_text
from tracker.render.near_text import write_near
from tracker.render.owing_text import write_owing
from tracker.render.pages_text import write_job, write_shipment
from tracker.report.answer import answer
from tracker.report.board import board
from tracker.report.calls import calls
from tracker.report.coverage import coverage_of
from tracker.report.forecast import forecast_view
from tracker.report.jobs import job_rows
from tracker.report.near import near
from tracker.report.owing import owing
from tracker.report.pages import job_page, shipment_page
from tracker.report.pieces import part_row

VIEWS = (
    (lambda seen: board(seen, fixed_today=False), write_board),
    (calls, write_calls),
    (near, write_near),
    (owing, write_owing),
)


def look_everywhere(seen):
    for view, write in VIEWS:
        found = view(seen)
        assert printed(write, found, width=80)
        assert json_text(found)
    whole = forecast_view(seen, detail=True)
    assert forecast_json(whole)
    for width in (80, 120):
        assert printed(write_forecast, whole.shipments, whole.jobs, seen.today, width=width, fixed=False)
    for one in seen.plan.jobs:
        assert printed(write_job, job_page(seen, one.code))
    for one in seen.plan.shipments:
        assert printed(write_shipment, shipment_page(seen, one.code))


def names_once(seen):
    for one in job_rows(seen, detail=True):
        for names in (one.waits_for, one.driven_by, one.at_best, one.flags, one.holds):
            assert len(set(names)) == len(names), one
        assert one.code not in one.driven_by
        assert one.is_open or not (one.flags or one.owes)
        orders = [owed for owed in one.owes if "order" in owed.what]
        assert len(orders) <= 2
        assert sum(owed.again is not None for owed in orders) <= 1
    listed = board(seen, fixed_today=False)
    for names in (listed.at_best, [one.code for one in listed.attention]):
        assert len(set(names)) == len(names)


def answers_are_short(plan, today):
    for place, logged in enumerate(plan.facts):
        before, after = (
            picture(replace(plan, facts=plan.facts[:upto]), today) for upto in (place, place + 1)
        )
        view = answer(before, after, (logged,), entry=9)
        for width in (80, 120):
            assert len(printed(write_answer, view, width=width).splitlines()) <= MOST_LINES
        assert printed(write_answer, view, verbose=True)


@given(plan=part_plans(), ahead=st.integers(0, 200))
@settings(max_examples=25)
def test_any_sound_plan_can_be_looked_at_from_everywhere(plan, ahead):
    try:
        seen = picture(plan, START + timedelta(days=ahead))
        look_everywhere(seen)
        answers_are_short(plan, seen.today)
    except Refused:  # jobs that take each other's parts in a ring, or dates beyond the years counted with
        reject()
    names_once(seen)


@pytest.mark.parametrize("seed", range(60))
def test_a_plan_whose_facts_fit_together_can_be_looked_at_from_everywhere(seed):
    plan, today = random_material(seed)
    seen = picture(plan, today)
    look_everywhere(seen)
    names_once(seen)
    answers_are_short(plan, today)


@pytest.mark.parametrize("seed", range(300))
def test_the_verdict_on_a_part_agrees_with_its_balance(seed):
    """What is to spare or short follows from needed, come and to come, added up by part."""
    plan, today = random_material(seed)
    seen = picture(plan, today)
    for part in plan.parts:
        found, balance = coverage_of(seen, part.code), part_row(seen, part.code)
        if found is None:
            assert balance.needed + balance.for_spares == 0
            continue
        assert found.needed == balance.needed + balance.for_spares
        if found.verdict == "covered":
            assert balance.lacking == 0
            assert found.to_spare + balance.unaccounted >= 0
        if found.verdict == "again":
            assert found.short == balance.lacking > 0
            assert found.order is not None
            assert found.order.part == part.code
        if found.verdict == "spares short":
            assert 0 < found.short <= balance.for_spares
            assert balance.lacking == 0
        if found.verdict in ("after rework", "spares after rework"):
            assert found.jobs
            assert found.day >= today


@pytest.mark.parametrize("seed", range(150))
def test_what_is_to_come_and_to_spare_is_what_the_lots_bring_beyond_all_draws(seed):
    plan, today = random_material(seed)
    seen = picture(plan, today)
    network = seen.forecast.network
    for part in plan.parts:
        stock, balance = network.stocks[part.code], part_row(seen, part.code)
        coming = (
            one for one in stock.entries if one.lot is not None and network.lots[one.lot].kind != "received"
        )
        assert balance.to_come * stock.scale == sum(one.amount for one in coming)
        drawn = (draw for draw in stock.draws if draw.priority <= network.demand.spare)
        spare = sum(one.amount for one in stock.entries) - sum(draw.amount for draw in drawn)
        assert (balance.to_spare + balance.unaccounted) * stock.scale == spare

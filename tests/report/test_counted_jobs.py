"""Jobs with several lots as rows, on the board, on their page, in the table and as JSON.

Invented run of ``counting``, dates counted by hand: today is Tue 24 Nov 2026; natural housings are promised for
Wed 25 Nov and needed with the magnets on Tue 22 Dec.
"""

import json
from dataclasses import replace
from datetime import date

import pytest

from tests.report.asking import board_of, board_text, calls_text, forecast_text, page_text, printed, row
from tests.report.counting import (
    PLAN,
    TODAY,
    fact,
    job,
    picture,
    takes,
    with_facts,
    with_job,
    with_jobs,
)
from tracker.plan.model import Link, Shipment, Told
from tracker.plan.parts import Content, Part
from tracker.plan.span import parse_span
from tracker.render.json_text import forecast_json
from tracker.render.owing_text import write_owing
from tracker.render.pages_text import write_shipment
from tracker.report.accepting import latest_to_accept
from tracker.report.board import overdue_codes
from tracker.report.drawing import drawn_parts
from tracker.report.forecast import forecast_view
from tracker.report.jobs import at_tightest
from tracker.report.near import near
from tracker.report.owing import owing
from tracker.report.pages import shipment_page

NATURAL = "finish-natural"
EARLIER, THU = date(2026, 11, 19), date(2026, 11, 26)
MORE_BASES = with_facts(
    with_job(PLAN, "bases", quantity=400), fact("in", "bases", date(2026, 10, 3), good=125)
)


def counted(*facts, plan=PLAN, today=TODAY):
    return picture(with_facts(plan, *facts), today)


def came(good, rework=None, scrap=None, code=NATURAL, on=TODAY):
    return fact("in", code, on, good=good, rework=rework, scrap=scrap)


def waves_built(**more):
    """Both waves of graphite built in one job, a lot for each, from housings that are here."""
    return with_jobs(
        PLAN,
        job(
            "build-graphite", "bench", "6wd", "unit-graphite", takes(housing__graphite=1, screw=6),
            quantity=154, lots="shipments", one_by_one=True, **more,
        ),
    )  # fmt: skip


def json_of(seen, code):
    document = json.loads(forecast_json(forecast_view(seen, detail=True)))
    return next(one for one in document["jobs"] if one["code"] == code)


def test_days_are_of_the_last_needed_lot_and_floats_of_the_one_with_least():
    """Six working days each, one after the other: Tue 24 Nov to Tue 1 Dec, then to Wed 9 Dec."""
    seen = picture(waves_built())
    found, lots = row(seen, "build-graphite"), seen.forecast.lots_of("build-graphite")
    assert (found.start, found.finish, found.arrives) == (TODAY, date(2026, 12, 9), date(2026, 12, 9))
    tightest = seen.forecast.slack(seen.forecast.tightest_lot("build-graphite"))
    assert found.spare_days == tightest.spare_days == min(seen.forecast.slack(lot).spare_days for lot in lots)
    assert found.late_finish == date.fromordinal(tightest.late_finish)
    assert (found.total_float, found.harmless_until.toordinal()) == (
        tightest.total_float,
        tightest.harmless_until,
    )


def test_of_lots_with_unlike_floats_the_row_has_the_least_and_says_of_which():
    """The box for wave 2 is late: its lot can wait, while the first lot for wave 1 cannot."""
    late = job("boxes-2", "moinho", "40wd", "box", quantity=148, serves=("wave-2",))
    plan = with_job(with_jobs(waves_built(), late), "boxes", quantity=80, serves=("wave-1",))
    plan = with_job(plan, "pack-graphite", lots="shipments")
    seen = picture(plan)
    first, second = seen.forecast.lots_of("build-graphite")
    assert seen.forecast.slack(first).spare_days < seen.forecast.slack(second).spare_days
    found = row(seen, "build-graphite")
    assert found.arrives == date.fromordinal(seen.forecast.times.arrive[second])
    assert found.spare_days == seen.forecast.slack(first).spare_days
    assert (found.tightest.lot, found.tightest.ready) == (1, date(2026, 12, 1))
    shown = at_tightest(found)
    assert (shown.ready, shown.arrives) == (date(2026, 12, 1), date(2026, 12, 1))


def test_the_room_of_a_job_is_the_least_of_its_lots():
    seen = picture(waves_built())
    rooms = [seen.forecast.room(lot) for lot in seen.forecast.lots_of("build-graphite")]
    assert row(seen, "build-graphite").room == min(rooms)


def test_each_shipment_has_the_float_of_the_lot_that_has_least_against_it():
    seen = picture(waves_built())
    first, second = seen.forecast.lots_of("build-graphite")
    found = row(seen, "build-graphite").by_shipment
    assert found["wave-1"].spare_days == seen.forecast.slack(first, "wave-1").spare_days
    against = [
        slack.spare_days
        for lot in (first, second)
        if (slack := seen.forecast.slack(lot, "wave-2")) is not None
    ]
    assert found["wave-2"].spare_days == min(against)


def test_lots_are_told_with_kind_pieces_days_and_what_they_are_for():
    seen = counted(came(52, 5, 3), fact("promised", NATURAL, TODAY, good=36, day=THU))
    lots = json_of(seen, NATURAL)["lots"]
    assert [(one["lot"], one["kind"], one["quantity"], one["good"], one["expected"]) for one in lots] == [
        (1, "received", 60, 52, 52),
        (2, "rework", 5, 0, 4),
        (3, "promised", 36, 0, 33),
    ]
    promised = lots[2]
    assert (promised["finish"], promised["arrives"]) == ("2026-11-26", "2026-11-26")
    assert (promised["harmless_until"], promised["spare_days"]) == ("2026-12-22", 26)
    assert promised["for_shipments"] == ["wave-2"]
    assert {"start", "finish", "arrives"} <= promised.keys()


def test_a_job_that_counts_no_pieces_has_its_one_lot_as_before():
    plan = replace(PLAN, jobs=(*PLAN.jobs, job("plain", "varne", "8wd", quantity=10)))
    (lot,) = json_of(picture(plan), "plain")["lots"]
    assert set(lot) == {"lot", "quantity", "good", "start", "finish", "arrives"}


def test_json_names_the_jobs_whose_pieces_are_drawn_after_those_linked():
    plan = with_job(PLAN, "build-natural", after=(Link(job="bases"),))
    found = json_of(picture(plan), "build-natural")["waits_for"]
    assert found == ["bases", "boards", "boards-2", "magnets", "finish-natural"]
    assert json_of(picture(PLAN), "bases")["waits_for"] == []


def test_a_maker_that_nothing_is_drawn_from_is_not_waited_for():
    """154 graphite are wanted in all: 149 are here and 13 come from rework."""
    more = with_jobs(PLAN, job("finish-more", "varne", "20wd", "housing-graphite", quantity=50))
    assert row(picture(more), "build-graphite").waits_for[-2:] == ("finish-graphite", "rework-graphite")


def test_parts_never_to_come_are_drawn_short():
    seen = counted(fact("called_off", "magnets", TODAY))
    drawn = {one.part: one for one in drawn_parts(seen, seen.plan.job_by_code["build-graphite"])}
    assert (drawn["magnet"].day, drawn["magnet"].jobs, drawn["magnet"].done) == (None, (), False)
    assert drawn["magnet"].short == 308
    assert (drawn["screw"].from_stock, drawn["screw"].done) == (True, True)


def test_the_page_of_a_job_shows_what_it_takes_makes_draws_and_its_lots():
    text = page_text(counted(came(52, 5, 3), fact("promised", NATURAL, TODAY, good=36, day=THU)), NATURAL)
    for line in (
        "  takes            base-milled 1",
        "  makes            housing-natural 96",
        "  pieces           60 of 96 in (52 good, 5 rework, 3 scrap), 36 to come Thu 26 Nov",
        "  covers           need 86: orders covered, 1 spare short until the redo is back Fri 4 Dec",
        "    60  received, 52 good  Tue 24 Nov",
        "    5   in rework          Fri 4 Dec",
        "    36  promised           Thu 26 Nov  Tue 22 Dec   wave-2",
        "    base-milled  here Fri 2 Oct  from bases",
        "  needed by build-natural",
    ):
        assert line in text.splitlines(), text
    build = page_text(picture(PLAN), "build-natural")
    assert "    board            arrives Fri 4 Dec   from boards and boards-2" in build.splitlines()
    assert "    screw            here Sun 14 Jun     from stock" in build.splitlines()


def test_the_page_of_a_rework_job_says_whose_pieces_it_mends():
    text = page_text(picture(PLAN), "rework-graphite").splitlines()
    assert "  mends            finish-graphite" in text
    assert "  makes            housing-graphite 15" in text


def test_the_page_of_a_job_with_one_lot_has_no_table_of_lots():
    assert "lots" not in page_text(picture(PLAN), NATURAL).split()


def test_the_page_of_a_shipment_says_what_it_holds_of_each_part():
    text = printed(write_shipment, shipment_page(picture(PLAN), "wave-2"))
    parts = "66 packed-graphite (from pack-graphite), 82 packed-natural (from pack-natural)"
    assert f"  waits for {parts}" in text.splitlines()


def test_the_table_gives_each_lot_to_come_a_line_of_its_own():
    lines = forecast_text(picture(waves_built()), width=80).splitlines()
    place = next(n for n, line in enumerate(lines) if line.startswith("build-graphite"))
    assert lines[place].split() == ["build-graphite", "CAN", "START"] or "TIGHT" in lines[place]
    assert [" ".join(line.split()[:6]) for line in lines[place + 1 : place + 3]] == [
        "80 to come Tue 1 Dec",
        "74 to come Wed 9 Dec",
    ]
    wide = forecast_text(picture(waves_built()), width=140)
    assert "80 to come" in wide


def test_an_order_for_a_re_run_is_owed_with_its_pieces():
    seen = counted(came(78, scrap=18), plan=MORE_BASES)
    (owed,) = row(seen, NATURAL).owes
    assert (owed.what, owed.again, owed.frees, owed.presses) == (("order",), 5, "wave-2", True)
    (found,) = (one for one in owing(seen).rows if one.job == NATURAL)
    assert (found.what, found.again, found.since) == ("order", 5, TODAY)
    text = printed(write_owing, owing(seen))
    assert "finish-natural (varne): order 5 more" in text
    assert "tracker ordered finish-natural" not in text
    assert "a re-run is a job of its own: tracker need has the words that add it" in text
    assert "waits for order for 5 more from us" in calls_text(seen)


def rings(**more):
    """One job makes 100 rings in lots of 40 and 60; the 60 go with cases that take 40 working days."""
    cases = job("cases", "moinho", "40wd", "case", quantity=60, clock=("order",))
    made = job("rings", "qingsha", "5wd", "ring", quantity=100, lots=(40, 60), **more)
    told = (Told(on=date(2026, 10, 16), last=date(2026, 12, 4)),)
    waves = (
        Shipment(code="wave-1", quantity=40, contents=(Content(part="ring", quantity=40),), told=told),
        Shipment(
            code="wave-2",
            quantity=120,
            contents=(Content(part="ring", quantity=60), Content(part="case", quantity=60)),
            told=(Told(on=date(2026, 10, 16), last=date(2027, 3, 1)),),
        ),
    )
    parts = (Part(code="ring"), Part(code="case"))
    return replace(
        PLAN, parts=parts, jobs=(made, cases), shipments=waves, facts=(fact("ordered", "cases", TODAY),)
    )


def test_lots_of_one_order_are_owed_one_order_by_the_soonest_last_day():
    """The first lot goes with wave 1 at once, so its order is due today; the second could wait."""
    seen = picture(rings())
    first, second = (
        date.fromordinal(seen.forecast.latest_day1(lot) - 1) for lot in seen.forecast.lots_of("rings")
    )
    assert first == TODAY < second
    (owed,) = row(seen, "rings").owes
    assert (owed.what, owed.again, owed.by, owed.frees) == (("order",), None, first, "wave-1")
    assert [(one.job, one.by) for one in owing(seen).rows] == [("rings", first)]


def test_room_and_float_are_those_of_the_lot_with_least():
    """Ready Tue 1 Dec; told Fri 4 Dec for wave 1: 3 own days, while wave 2 leaves many."""
    found = row(picture(rings()), "rings")
    assert (found.spare_days, found.room, found.room_of) == (0, 3, "wave-1")
    assert found.by_shipment["wave-2"].spare_days > 30
    assert (found.tightest.lot, found.tightest.quantity) == (1, 40)


def test_the_board_counts_each_job_once_and_names_each_lot_that_is_due():
    facts = (came(40), fact("promised", NATURAL, TODAY, good=20, day=THU))
    two = (*facts, fact("promised", NATURAL, TODAY, good=36, day=date(2026, 11, 30)))
    seen = board_of(counted(*two))
    due = [(one.day, one.what) for one in seen.due if one.job == NATURAL]
    assert due == [(THU, "20 promised"), (date(2026, 11, 30), "36 promised")]
    assert seen.all_jobs == len(PLAN.jobs)
    late = counted(*two, today=date(2026, 12, 2))
    assert overdue_codes(late).count(NATURAL) == 1
    assert list(board_of(late).at_best).count(NATURAL) == 1
    assert list(row(late, "build-natural").at_best).count(NATURAL) == 1


def test_pieces_back_from_rework_and_a_re_run_are_due_by_name():
    rework = board_of(counted(came(60, 30, 6), fact("made", "boards-2", TODAY, good=20)))
    assert [one.what for one in rework.due if one.job == "boards-2"] == ["20 arrive", "60 promised"]
    seen = board_of(counted(came(70, 8, 18), plan=MORE_BASES))
    assert [one.what for one in seen.due if one.job == NATURAL] == [
        "8 back from rework",
        "6 run again arrive",
    ]


def test_what_does_not_add_up_has_a_line_on_the_board_and_is_silent_otherwise():
    assert "does not add up" not in board_text(picture(PLAN))
    text = board_text(counted(fact("called_off", "magnets", TODAY)))
    lines = text.splitlines()
    place = lines.index("does not add up (what to do: tracker need)")
    assert lines[place + 1] == "  456 of magnet short, magnets called off; wave-1 goes short first"
    spares = counted(came(84, scrap=12))
    assert board_of(spares).problems == ()


def test_the_board_speaks_of_the_lot_with_least_to_spare():
    late = (
        fact("promised", NATURAL, EARLIER, good=40, day=date(2026, 11, 23)),
        fact("promised", NATURAL, EARLIER, good=56, day=date(2026, 12, 4)),
    )
    text = " ".join(board_text(counted(*late)).split())
    assert (
        "promised Mon 23 Nov, passed 1 day ago, no news, 56 promised: harmless until Tue 22 Dec" in text
        or ("56 promised: ready Fri 4 Dec, harmless until Tue 22 Dec" in text)
    )


def test_near_ranks_a_job_by_its_tightest_lot_and_costs_of_that():
    seen = picture(waves_built(travel=parse_span("2cd")))
    (found,) = (one for one in near(seen).rows if one.job == "build-graphite")
    lot = seen.forecast.tightest_lot("build-graphite")
    assert found.ready == date.fromordinal(seen.forecast.times.finish[lot])
    assert (found.harmless_until - found.ready).days <= found.spare_days
    assert found.costs
    assert found.costs[0].day > found.harmless_until


def test_the_latest_day_to_accept_is_that_of_the_tightest_lot():
    two = (
        fact("promised", NATURAL, TODAY, good=40, day=THU),
        fact("promised", NATURAL, TODAY, good=56, day=date(2026, 12, 4)),
    )
    seen = counted(*two)
    supplier = seen.plan.supplier_by_code["varne"]
    latest = latest_to_accept(seen, supplier, row(seen, NATURAL))
    assert (latest.day, latest.means) == (date(2026, 12, 22), "in hand")


def test_a_shipment_with_contents_only_needs_no_links():
    plan = replace(PLAN, shipments=(*PLAN.shipments, Shipment(code="later", quantity=10, after=("boxes",))))
    text = printed(write_shipment, shipment_page(picture(plan), "later"))
    assert "  waits for boxes" in text.splitlines()


@pytest.mark.parametrize("part", ["housing-natural", "screw"])
def test_pieces_found_bad_crash_no_page(part):
    seen = counted(came(86, scrap=10), fact("scrapped", part, TODAY, scrap=2))
    assert page_text(seen, NATURAL)
    assert board_text(seen)
    assert forecast_text(seen)

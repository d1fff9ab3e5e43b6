"""What is needed: orders with their last day, counts that may differ, what does not add up, the balance of each part.

The run is invented (see ``counting``); its dates and numbers are counted by hand beside each check.
"""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.part_plans import part_plans
from tests.plans import days
from tests.report.asking import printed
from tests.report.counting import (
    PLAN,
    TODAY,
    fact,
    job,
    judged,
    picture,
    takes,
    told,
    with_facts,
    with_job,
    with_part,
)
from tracker.errors import Refused
from tracker.plan.checks import check_plan
from tracker.plan.parts import Part
from tracker.render.need_text import write_need
from tracker.report.need import need_view
from tracker.report.ordering import order_rows
from tracker.report.picture import Picture
from tracker.report.print_counts import count_ranges
from tracker.report.shortages import shortages
from tracker.schedule.forecast import Forecast

ALL_DAYS = replace(
    PLAN, suppliers=tuple(replace(one, workdays="all") if one.inhouse else one for one in PLAN.suppliers)
)


def orders(plan, today=TODAY):
    return {row.job: row for row in order_rows(picture(plan, today))}


def part(plan, code):
    return next(one for one in need_view(picture(plan)).parts if one.part == code)


def job_of(plan, code):
    return next(one for one in need_view(picture(plan)).jobs if one.job == code)


def kinds(plan):
    return [(one.kind, one.part, one.pieces) for one in shortages(picture(plan))]


def only(plan, kind):
    (found,) = [one for one in shortages(picture(plan)) if one.kind == kind]
    return found


def text(plan, width=200):
    return printed(write_need, need_view(picture(plan)), width=width)


def decided(code="boxes", **part_changes):
    """The plan with a box order whose quantity the need sets, and no spare boxes wanted."""
    plan = with_job(PLAN, code, quantity=None, unders=Fraction(0), overs=Fraction(0))
    return with_part(plan, "box", **{"spares": 0, "multiple": None, **part_changes})


def test_only_jobs_not_ordered_are_to_order_the_first_last_day_first():
    assert list(orders(PLAN)) == ["magnets", "boxes"]
    assert list(orders(with_facts(PLAN, fact("ordered", "magnets", TODAY)))) == ["boxes"]
    assert all(row.is_order for row in orders(PLAN).values())


def test_an_order_that_waits_for_our_money_is_to_pay_and_no_longer_to_order():
    plan = with_facts(PLAN, *(fact("ordered", code, date(2026, 11, 20)) for code in ("boxes", "magnets")))
    # magnets begin two working days sooner, Mon 23 Nov, and so boxes must
    row = orders(plan)["boxes"]
    assert (row.what, row.is_order, row.by) == (("payment",), False, date(2026, 11, 26))
    assert (part(plan, "box").to_order, part(plan, "box").in_process, part(plan, "box").order_by) == (
        0,
        250,
        None,
    )
    assert (job_of(plan, "boxes").to_order, job_of(plan, "boxes").in_process) == (0, 250)
    said = text(plan).splitlines()
    assert said[1:3] == [
        "to pay",
        "  boxes (moinho): pay for 250 (228 needed, 12 for spares, 10 over) by Thu 26 Nov, frees wave-1",
    ]
    assert "once done, log it: tracker paid boxes" in text(plan)
    late = told(plan, date(2026, 12, 18))
    assert "had to be paid by Thu 12 Nov" in text(late)
    proof = with_job(plan, "boxes", clock=("order", "proof"))
    assert "boxes (moinho): give proof for 250" in text(proof)
    assert "tracker approved boxes proof" in text(proof)


def test_an_order_due_today_says_so_and_a_later_one_its_weekday():
    assert "magnets (qingsha): order 520 (456 needed, 24 for spares, 40 over) today, frees wave-1" in text(
        PLAN
    )
    assert "10 over) by Mon 30 Nov, frees wave-1" in text(PLAN)


def test_an_order_tells_orders_spares_and_what_is_over_apart():
    # 228 to backers and 8 + 4 spare units take 2 magnets each
    row = orders(PLAN)["magnets"]
    assert (row.pieces, row.needed, row.spares, row.over) == (520, 456, 24, 40)
    assert (row.yields, row.moq, row.multiple, row.planned) == (None, None, None, None)


@pytest.mark.parametrize(
    ("changes", "pieces", "named"),
    [
        ({}, 228, (None, None)),
        ({"multiple": 100}, 300, (None, 100)),
        ({"multiple": 12}, 228, (None, None)),  # 19 dozen are 228
        ({"moq": 500}, 500, (500, None)),
        ({"moq": 228}, 228, (None, None)),
        ({"moq": 250, "multiple": 100}, 300, (250, 100)),
        ({"moq": 300, "multiple": 100}, 300, (300, None)),
    ],
)
def test_moq_and_multiple_are_named_where_they_add_pieces(changes, pieces, named):
    row = orders(decided(**changes))["boxes"]
    assert (row.pieces, row.needed, row.spares, row.over) == (pieces, 228, 0, 0)
    assert (row.moq, row.multiple) == named


def test_a_yield_raises_the_order_and_is_named():
    # 228 good of 95%: 240
    row = orders(with_job(decided(), "boxes", yields=Fraction(95, 100)))["boxes"]
    assert (row.pieces, row.needed, row.yields) == (240, 228, Fraction(95, 100))
    line = text(with_job(decided(multiple=100), "boxes", yields=Fraction(95, 100)))
    assert "boxes (moinho): order and pay 300 (228 needed, yield 95%, in hundreds) by" in line


def test_the_reason_for_a_number_is_said_in_the_words_of_the_trade():
    assert "order and pay 300 (228 needed, in hundreds) by" in text(decided(multiple=100))
    assert "order and pay 250 (228 needed, MOQ 250) by" in text(decided(moq=250))
    assert "order and pay 250 (228 needed, in 25s) by" in text(decided(multiple=25))
    assert "order and pay 228 by" in text(decided())


def test_too_small_a_quantity_not_ordered_yet_is_raised_spares_included():
    plan = with_job(PLAN, "boxes", quantity=200)
    row = orders(plan)["boxes"]
    assert (row.pieces, row.needed, row.spares, row.planned, row.again) == (240, 228, 12, 200, None)
    assert "the plan says 200: tracker set boxes quantity=240" in text(plan)
    assert "tracker ordered boxes" not in text(plan)


def test_a_payment_is_due_its_bank_days_before_the_order_must_count():
    # harmless until Wed 30 Dec: 20 working days begin Thu 3 Dec; credited Wed 2, sent 2 working days before
    assert orders(PLAN)["boxes"].by == date(2026, 11, 30)
    paid_later = with_job(PLAN, "boxes", clock=("order",))
    assert orders(paid_later)["boxes"].by == date(2026, 12, 2)
    already_paid = with_facts(PLAN, fact("given", "boxes", date(2026, 11, 20), what="payment"))
    assert orders(already_paid)["boxes"].by == date(2026, 12, 2)


@pytest.mark.parametrize("code", ["magnets", "boxes"])
def test_work_begun_the_day_after_the_last_day_to_order_moves_nothing_and_a_day_later_the_shipment_named(
    code,
):
    plan = with_job(ALL_DAYS, "boxes", clock=("order",))
    row, now = orders(plan)[code], picture(plan).forecast.shipment_dates

    def dates(day1):
        return picture(with_job(plan, code, not_before=day1)).forecast.shipment_dates

    assert dates(row.by + timedelta(days=1)) == now
    assert dates(row.by + timedelta(days=2))[row.frees] > now[row.frees]


def test_an_order_that_misses_a_date_told_says_since_when_and_by_how_much():
    # told Fri 18 Dec: pack natural Tue 15, build from Thu 3 Dec, so 20 working days end Wed 2 Dec: begun Thu 5 Nov
    late = orders(told(PLAN, date(2026, 12, 18)))["magnets"].too_late
    assert (late.shipment, late.told, late.by, late.days) == (
        "wave-2",
        date(2026, 12, 18),
        date(2026, 11, 4),
        20,
    )
    assert "20 days too late for wave-2 (told Fri 18 Dec): had to be ordered by Wed 4 Nov" in text(
        told(PLAN, date(2026, 12, 18))
    )


def test_an_order_that_just_keeps_the_date_told_is_not_too_late():
    keeps = picture(PLAN).forecast.shipment_dates["wave-2"]
    assert orders(told(PLAN, date.fromordinal(keeps)))["magnets"].too_late is None
    late = orders(told(PLAN, date.fromordinal(keeps - 1)))["magnets"].too_late
    assert (late.shipment, late.days >= 1) == ("wave-2", True)


def test_a_shortage_is_ordered_again_with_a_job_of_its_own_and_says_what_it_costs():
    # 60 of 96 good, 82 needed: 22 lacking, 24 put in at 92%; that takes 24 more bases, 25 at 97%
    plan = judged(PLAN, "finish-natural", good=60, scrap=36)
    rows = orders(plan)
    natural, bases = rows["finish-natural"], rows["bases"]
    assert (natural.pieces, natural.needed, natural.spares, natural.yields) == (24, 22, 0, Fraction(92, 100))
    assert (bases.pieces, bases.needed) == (25, 24)
    assert (natural.again.code, dict(natural.again.takes)) == ("finish-natural-again", {"base-milled": 1})
    before = picture(judged(PLAN, "finish-natural", good=91, scrap=5)).forecast.shipment_dates
    after = picture(plan).forecast.shipment_dates
    assert bases.costs == natural.costs == {"wave-2": after["wave-2"] - before["wave-2"]}
    assert bases.by == TODAY
    assert job_of(plan, "finish-natural").again == 24


def test_what_our_own_bench_makes_again_is_begun_not_ordered():
    plan = judged(with_job(PLAN, "build-natural", quantity=86), "build-natural", good=80, scrap=6)
    row = orders(plan)["build-natural"]
    assert (row.at_home, row.pieces, row.needed, row.what) == (True, 2, 2, ())
    assert row.by == date.fromordinal(
        picture(plan).forecast.latest_day1(max(picture(plan).forecast.lots_of("build-natural")))
    )
    assert "build-natural (bench): make 2 again begin by" in text(plan)
    assert job_of(plan, "build-natural").to_order == 0
    assert part(plan, "unit-natural").to_order == 0


def test_pieces_nobody_needs_are_said_so_and_frees_no_shipment():
    plan = with_job(PLAN, "boards-2", quantity=80)
    more = replace(plan, jobs=(*plan.jobs, job("boards-3", "orlice", "8wd", "board", quantity=14)))
    row = orders(more)["boards-3"]
    assert (row.needed, row.spares, row.over, row.by, row.frees) == (0, 0, 14, None, "")
    assert "boards-3 (orlice): 14 not ordered, and nothing needs them" in text(more)
    assert "tracker ordered boards-3" not in text(more)


def test_lots_of_one_order_have_their_own_last_days():
    # packing 80 for wave 1 needs only the first lot; the other waits for packing the rest of wave 2
    plan = with_job(PLAN, "boxes", lots="shipments", clock=("order",))
    plan = with_job(with_job(plan, "pack-graphite", lots="shipments"), "build-graphite", lots="shipments")
    row = orders(plan)["boxes"]
    first, second = row.lots
    assert (first.pieces, first.frees, second.pieces, second.frees) == (80, "wave-1", 170, "wave-2")
    assert row.by == first.by < second.by
    assert f"in lots: 80 by {first.by:%a} {first.by.day}" in text(plan)


def test_a_print_run_whose_least_count_is_too_few_says_what_to_order_instead():
    # invented scenario, computed by plain day counting: 225 is below 228 orders; 270 brings 243 at worst
    (row,) = count_ranges(picture(PLAN))
    assert (row.least, row.most, row.quantity) == (225, 275, 250)
    assert (row.needed, row.short, row.order, row.order_least) == (228, 3, 270, 243)
    assert (
        "boxes (moinho): count may be 225 to 275 of 250; 225 is 3 below the 228 orders need: "
        "ask for no unders, or order 270 (at worst 243)"
    ) in text(PLAN)


def test_without_spares_the_advice_covers_the_orders_alone():
    # 228 at 90% are 254, in tens 260; 234 come at worst
    (row,) = count_ranges(picture(with_part(PLAN, "box", spares=0)))
    assert (row.order, row.order_least) == (260, 234)


@pytest.mark.parametrize(
    ("quantity", "short", "spares_short", "order"),
    [(253, 1, 12, 270), (254, 0, 12, None), (266, 0, 1, None), (267, 0, 0, None)],
)
def test_the_advice_begins_where_the_least_count_covers_the_orders(quantity, short, spares_short, order):
    # 254 bring 228 at worst, 267 bring 240
    (row,) = count_ranges(picture(with_job(PLAN, "boxes", quantity=quantity)))
    assert (row.short, row.spares_short, row.order) == (short, spares_short, order)


def test_no_count_is_said_to_differ_once_all_of_it_has_come():
    came = judged(PLAN, "boxes", good=250)
    assert count_ranges(picture(came)) == ()


def test_spares_hold_nothing_and_wait_for_the_redo():
    # invented scenario: 82 good of 86 wanted; orders are covered, 4 spares wait for the 9 that go back
    before = picture(PLAN).forecast.shipment_dates
    plan = judged(PLAN, "finish-natural", good=82, rework=9, scrap=5)
    found = [one for one in shortages(picture(plan)) if one.part == "housing-natural"]
    assert [(one.kind, one.pieces) for one in found] == [("rework waits", 9), ("spares wait", 4)]
    assert picture(plan).forecast.shipment_dates == before
    assert "4 spares of housing-natural short until the redo is back" in text(plan)
    assert "finish-natural" not in orders(plan)


@pytest.mark.parametrize(
    ("good", "rework", "waiting", "lacking"),
    [(84, 9, [2], []), (86, 9, [], []), (80, 5, [2], [2]), (82, 3, [2], [2])],
)
def test_orders_take_the_rework_first_and_spares_what_is_left_of_it(good, rework, waiting, lacking):
    # 82 for orders and 4 spares; of 9, 5 and 3 that go back 8, 4 and 2 are expected good at 92%
    plan = judged(PLAN, "finish-natural", good=good, rework=rework, scrap=96 - good - rework)
    found = [one for one in shortages(picture(plan)) if one.part == "housing-natural"]
    assert [one.pieces for one in found if one.kind == "spares wait"] == waiting
    assert [one.pieces for one in found if one.kind == "spares short"] == lacking


def test_spares_that_nothing_brings_are_told_and_not_ordered_again():
    plan = judged(PLAN, "finish-natural", good=82, scrap=14)
    assert ("spares short", "housing-natural", 4) in kinds(plan)
    assert part(plan, "housing-natural").left == -4
    assert "finish-natural" not in orders(plan)


def test_a_part_nobody_makes_names_the_shipment_that_goes_short_first():
    # 240 units take 6 each; wave 1 takes 480, wave 2 888
    plan = with_part(PLAN, "screw", here=Fraction(1300))
    found = only(plan, "nobody makes")
    assert (found.part, found.pieces, found.shipment, found.came) == ("screw", 68, "wave-2", 1300)
    assert "68 of screw short, nobody makes it; wave-2 goes short first" in text(plan)
    assert "tracker set screw here=1368" in text(plan)
    assert only(with_part(PLAN, "screw", here=Fraction(479)), "nobody makes").shipment == "wave-1"
    assert "nobody makes" not in [kind for kind, _, _ in kinds(with_part(PLAN, "screw", here=Fraction(1368)))]


def test_a_part_whose_only_maker_was_called_off_names_it():
    plan = with_facts(PLAN, fact("called_off", "magnets", TODAY))
    found = only(plan, "nobody makes")
    assert (found.part, found.pieces, found.jobs) == ("magnet", 456, ("magnets",))
    assert "456 of magnet short, magnets called off" in text(plan)


def test_pieces_used_beyond_all_that_came_are_a_problem_by_name():
    # 170 and then 100 of 266 machined sets went to be finished
    plan = judged(with_job(PLAN, "finish-natural", quantity=100), "finish-natural", good=96, scrap=4)
    found = only(plan, "used beyond")
    assert (found.part, found.pieces, found.used, found.came) == ("base-milled", 4, 270, 266)
    assert found.jobs == ("finish-graphite", "finish-natural")
    assert "finish-graphite and finish-natural used 270 of base-milled, only 266 came" in text(plan)
    assert (part(plan, "base-milled").left, part(plan, "base-milled").used) == (0, 270)


def test_rework_with_a_job_of_its_own_is_not_waiting():
    assert [one.jobs for one in shortages(picture(PLAN)) if one.kind == "rework waits"] == [("boards",)]
    mended = job("mend-boards", "orlice", "2wd", rework_of="boards", quantity=6)
    plan = replace(PLAN, jobs=(*PLAN.jobs, mended))
    assert "rework waits" not in [kind for kind, _, _ in kinds(plan)]


def test_a_balance_counts_what_is_at_work_further_on_as_used():
    # 266 machined; 170 came back finished, 96 are at the finisher
    bases = part(PLAN, "base-milled")
    assert (bases.needed, bases.used, bases.here, bases.left) == (266, 266, 0, 0)
    # 191 good and 5 expected of 6 to be mended, 76 of 80: 32 beyond 228 orders and 12 spares
    boards = part(PLAN, "board")
    assert (boards.needed, boards.spares, boards.here, boards.in_process, boards.left) == (
        228,
        12,
        191,
        81,
        32,
    )
    assert (boards.next_in, boards.to_order) == (TODAY, 0)


def test_what_is_not_ordered_stands_apart_from_what_is_in_process():
    magnets = part(PLAN, "magnet")
    assert (magnets.in_process, magnets.to_order, magnets.order_by, magnets.frees) == (
        0,
        520,
        TODAY,
        "wave-1",
    )
    row = job_of(PLAN, "magnets")
    assert (row.in_process, row.to_order) == (0, 520)


def test_amounts_of_measured_parts_may_be_fractions():
    tape = Part(code="tape", unit="m", here=Fraction(50), spares=0)
    plan = with_job(PLAN, "pack-natural", takes=takes(unit__natural=1, box=1, tape="0.35"))
    plan = replace(plan, parts=(*plan.parts, tape))
    row = part(plan, "tape")
    assert (row.needed, row.left) == (Fraction("28.7"), Fraction("21.3"))
    assert "tape, m" in text(plan)
    assert "21.3 to spare" in text(plan)


def test_a_plan_without_parts_says_how_to_add_some():
    view = need_view(picture(replace(PLAN, parts=(), jobs=(), shipments=(), facts=())))
    assert (view.parts, view.jobs, view.orders, view.shortages, view.printed) == ((), (), (), (), ())
    assert "tracker add part housing" in printed(write_need, view)


@pytest.mark.parametrize("width", [80, 120])
def test_no_line_of_the_page_is_wider_than_the_terminal(width):
    plan = told(judged(PLAN, "finish-natural", good=60, scrap=36), date(2026, 12, 18))
    lines = printed(write_need, need_view(picture(plan)), width=width).splitlines()
    assert max(map(len, lines)) <= width
    assert lines[1] == "to order or to pay"


@settings(max_examples=100, deadline=None)
@given(part_plans(), days, st.sampled_from((80, 120)))
def test_every_balance_adds_up_whatever_was_planned_and_logged(plan, today, width):
    if check_plan(plan, today):
        return
    try:
        view = need_view(Picture(Forecast(plan, today)))
    except Refused:  # a rate so slow that a date leaves the calendar
        return
    for one in view.parts:
        assert one.used + one.here + one.in_process + one.to_order - one.needed - one.spares == one.left
        assert min(one.here, one.used, one.in_process, one.to_order) >= 0
    printed(write_need, view, width=width)

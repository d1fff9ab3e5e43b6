"""Full sets: what is here shared out by hand, and a count of one set after another over random plans.

The quantities of the run in ``counting`` and its glass follow an invented scenario, counted by hand: 149 graphite
housings, 191 boards, neither magnets nor glass.
"""

import random
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from tests.build import BENCH, SHOP
from tests.part_plans import part_plans
from tests.plans import START
from tests.report.asking import printed
from tests.report.counting import (
    KIT,
    TODAY,
    fact,
    job,
    picture,
    takes,
    with_facts,
    with_job,
    with_jobs,
    with_part,
)
from tests.report.counting import PLAN as MADE
from tracker.errors import Refused
from tracker.plan.model import Plan, Run, Shipment
from tracker.plan.parts import Content, Part
from tracker.render.sets_text import write_sets
from tracker.report.full_sets import full_sets
from tracker.report.pieces import lot_rows
from tracker.report.set_supply import product_of, share_out, supply_of

PLAN = replace(MADE, run=replace(MADE.run, unit="unit-graphite, unit-natural"))


def with_glass():
    """The run with its glass: none here, 270 on their way by sea."""
    glazed = (*KIT, *takes(glass=1))
    plan = replace(PLAN, parts=(*PLAN.parts, Part(code="glass")))
    return with_jobs(
        plan,
        job("glass-sea", "qingsha", "45cd", "glass", quantity=270),
        job("build-graphite", "bench", "6wd", "unit-graphite", (*glazed, *takes(housing__graphite=1))),
        job("build-natural", "bench", "8wd", "unit-natural", (*glazed, *takes(housing__natural=1))),
    )


def sets_of(plan, *units, on=None, today=TODAY):
    return full_sets(picture(plan, today), units, on)


def product(view, unit):
    return next(one for one in view.products if one.unit == unit)


def text_of(plan, *units, on=None, width=80):
    return printed(write_sets, sets_of(plan, *units, on=on), width=width)


# What is here


def test_no_set_is_full_without_magnets_and_glass_and_149_graphite_ones_with_them():
    view = sets_of(with_glass())
    assert (view.together.sets, set(view.together.short)) == (0, {"magnet", "glass"})
    assert (view.together.without, view.together.without_by) == (
        149,
        {"unit-graphite": 149, "unit-natural": 0},
    )
    rows = {row.part: (row.here, row.sets) for row in product(view, "unit-graphite").parts}
    assert rows["housing-graphite"] == (149, 149)
    assert rows["board"] == (191, 191)
    assert rows["screw"] == (1600, 266)


def test_the_parts_stand_by_the_sets_they_allow_and_tell_what_the_next_set_lacks():
    graphite = product(sets_of(with_glass()), "unit-graphite")
    assert [row.sets for row in graphite.parts] == sorted(row.sets for row in graphite.parts)
    assert {row.part: row.missing for row in graphite.parts if row.missing} == {"magnet": 2, "glass": 1}
    assert (graphite.without, graphite.then_short) == (149, ("housing-graphite",))


def test_units_built_take_their_parts_along_and_count_as_built():
    plan = with_facts(
        with_part(PLAN, "magnet", here=Fraction(61)), fact("made", "build-graphite", TODAY, good=10)
    )
    graphite = product(sets_of(plan), "unit-graphite")
    assert (graphite.built, graphite.sets, graphite.total) == (10, 20, 30)
    assert {row.part: row.here for row in graphite.parts}["magnet"] == 41
    assert {row.part: row.left for row in graphite.parts}["magnet"] == 1


def test_what_started_work_holds_is_not_counted_twice():
    plan = with_facts(with_part(PLAN, "magnet", here=Fraction(200)), fact("started", "build-graphite", TODAY))
    plan = with_job(plan, "build-graphite", quantity=70)
    graphite = product(sets_of(plan), "unit-graphite")
    assert (graphite.in_work, graphite.sets, graphite.total) == (70, 30, 100)


def test_work_started_with_too_few_parts_leaves_none_for_others():
    plan = with_facts(with_part(PLAN, "magnet", here=Fraction(41)), fact("started", "build-graphite", TODAY))
    view = sets_of(with_job(plan, "build-graphite", quantity=70))
    graphite = product(view, "unit-graphite")
    assert (graphite.in_work, graphite.sets, graphite.total) == (70, 0, 20)
    magnet = next(row for row in graphite.parts if row.part == "magnet")
    assert (magnet.here, magnet.sets, magnet.missing, magnet.left) == (-99, 0, 101, 0)
    assert product(view, "unit-natural").total == 0
    assert (view.together.sets, view.together.total) == (0, 20)


def test_units_built_without_parts_that_came_owe_none_of_those_to_come():
    built = with_facts(PLAN, fact("made", "build-graphite", TODAY, good=10))
    magnet = next(row for row in product(sets_of(built), "unit-graphite").parts if row.part == "magnet")
    assert (magnet.here, magnet.missing) == (0, 2)


def test_pieces_scrapped_later_are_neither_here_nor_built():
    plan = with_facts(
        with_part(PLAN, "magnet", here=Fraction(100)), fact("made", "build-graphite", TODAY, good=10)
    )
    lost = with_facts(
        plan, fact("scrapped", "unit-graphite", TODAY, scrap=3), fact("scrapped", "magnet", TODAY, scrap=4)
    )
    before, after = (product(sets_of(one), "unit-graphite") for one in (plan, lost))
    assert (before.built, before.sets) == (10, 40)
    assert (after.built, after.sets) == (7, 38)


def test_a_part_measured_in_a_unit_allows_sets_by_its_decimals():
    plan = replace(PLAN, parts=(*PLAN.parts, Part(code="tape", unit="m", here=Fraction(25, 2))))
    plan = with_job(plan, "build-graphite", takes=takes(tape="0.35"))
    (graphite,) = sets_of(plan, "unit-graphite").products
    (tape,) = graphite.parts
    assert (tape.sets, tape.left, tape.missing) == (35, Fraction(1, 4), Fraction(1, 10))
    assert "12.5 m  0.35 m   35" in text_of(plan, "unit-graphite")


def test_pieces_nobody_has_looked_at_count_and_are_said():
    plan = with_facts(with_part(PLAN, "board"), fact("in", "boards-2", TODAY, count=20))
    board = next(row for row in product(sets_of(plan), "unit-graphite").parts if row.part == "board")
    assert (board.unjudged, board.here) == (20, 191 + 19)
    assert "counted but not looked at yet, taken as good: 20 board" in text_of(plan)


def test_of_several_makers_a_set_takes_what_any_of_them_takes():
    trial = job("trial", "bench", "2wd", "unit-graphite", takes(board=1, magnet=4), quantity=10)
    (graphite,) = sets_of(with_jobs(PLAN, trial), "unit-graphite").products
    per = {row.part: row.per for row in graphite.parts}
    assert per == {"board": 1, "magnet": 4, "screw": 6, "housing-graphite": 1}


def test_pieces_sent_to_rework_are_in_work_and_hold_their_parts():
    plan = with_facts(
        with_part(PLAN, "magnet", here=Fraction(100)), fact("made", "build-graphite", TODAY, good=10)
    )
    sent = with_facts(
        with_part(PLAN, "magnet", here=Fraction(100)),
        fact("in", "build-graphite", TODAY, good=7, rework=3),
    )
    whole, partly = (product(sets_of(one), "unit-graphite") for one in (plan, sent))
    assert (partly.built, partly.in_work, partly.sets) == (7, 3, 40)
    assert partly.total == whole.total
    assert [one.total for one in sets_of(sent).curve] == [one.total for one in sets_of(plan).curve]


def test_pieces_in_rework_are_not_asked_for_again():
    built = with_facts(
        with_part(PLAN, "magnet", here=Fraction(160)), fact("in", "build-graphite", TODAY, good=70, rework=10)
    )
    assert sets_of(built).shipments[0].possible_on == TODAY


def test_of_several_makers_the_one_that_loses_most_tells_how_many_sets_a_shipment_asks_for():
    plan = with_part(PLAN, "magnet", here=Fraction(160))
    wasteful = replace(plan.job_by_code["build-graphite"], code="trial", quantity=10, yields=Fraction(1, 2))
    assert sets_of(plan).shipments[0].possible_on == TODAY
    assert sets_of(with_jobs(plan, wasteful)).shipments[0].possible_on > TODAY


# Several products


def magnets(number, plan=PLAN):
    """Housings of both colours here, and so many magnets."""
    return with_part(with_part(plan, "housing-natural", here=Fraction(90)), "magnet", here=Fraction(number))


def test_each_product_counts_alone_and_all_share_in_the_order_of_shipments():
    view = sets_of(magnets(200))
    assert [one.sets for one in view.products] == [100, 90]
    assert view.together.sets == 100
    assert view.curve[0].by_unit == {"unit-graphite": 100, "unit-natural": 0}
    assert set(view.together.shared) == {"board", "magnet", "screw"}
    wanted = Content(part="unit-natural", quantity=82)
    first = replace(PLAN.shipments[0], code="wave-0", quantity=82, contents=(wanted,))
    natural_first = sets_of(replace(magnets(200), shipments=(first,)))
    assert natural_first.curve[0].by_unit == {"unit-graphite": 18, "unit-natural": 82}


def test_parts_go_to_each_shipment_in_turn_then_to_the_products_in_turn():
    # 80 graphite; then 66 graphite and 82 natural, of which 24 find magnets
    assert sets_of(magnets(340)).curve[0].by_unit == {"unit-graphite": 146, "unit-natural": 24}


def test_a_shipment_is_possible_from_the_day_on_which_all_before_it_are_too():
    plan = with_job(PLAN, "magnets", quantity=520, lots=(170, 350))
    plan = with_facts(
        plan,
        fact("ordered", "magnets", date(2026, 11, 2)),
        fact("promised", "magnets", TODAY, day=date(2026, 12, 3), good=170),
        fact("promised", "magnets", TODAY, day=date(2026, 12, 10), good=350),
    )
    view = sets_of(plan)
    assert [(one.shipment, one.quantity, one.upto, one.possible_on) for one in view.shipments] == [
        ("wave-1", 80, 80, date(2026, 12, 3)),
        ("wave-2", 148, 228, date(2026, 12, 10)),
    ]
    assert [(one.day, one.total) for one in view.curve] == [
        (TODAY, 0),
        (date(2026, 12, 3), 85),
        (date(2026, 12, 10), 250),
    ]
    assert view.curve[1].came == ("magnet",)


def test_a_shipment_nothing_forecast_can_fill_has_no_day():
    plan = with_job(PLAN, "magnets", quantity=300)
    plan = replace(plan, jobs=tuple(one for one in plan.jobs if one.code != "magnets"))
    view = sets_of(with_part(plan, "magnet", here=Fraction(300)))
    assert [one.possible_on for one in view.shipments] == [TODAY, None]
    assert "not with what is planned" in printed(write_sets, view, width=80)


def test_a_yield_of_the_assembly_asks_for_more_sets_than_units():
    plan = with_part(PLAN, "magnet", here=Fraction(160))
    assert sets_of(plan).shipments[0].possible_on == TODAY
    losing = with_job(plan, "build-graphite", yields=Fraction(79, 80))
    assert sets_of(losing).shipments[0].possible_on > TODAY
    assert sets_of(with_part(losing, "magnet", here=Fraction(164))).shipments[0].possible_on == TODAY


def test_a_shipment_that_has_all_its_units_is_left_out():
    plan = with_facts(magnets(520), fact("made", "build-graphite", TODAY, good=80))
    gone = with_facts(
        plan, fact("in", "pack-graphite", TODAY, good=80), fact("posted", "wave-1", TODAY, good=80)
    )
    assert [one.shipment for one in sets_of(gone).shipments] == ["wave-2"]


# Days ahead


def test_on_a_day_ahead_what_has_arrived_by_its_evening_counts():
    eve, arrives = date(2026, 12, 21), date(2026, 12, 22)
    assert sets_of(PLAN, on=eve).together.sets == 0
    assert sets_of(PLAN, on=arrives).together.sets == 250
    assert sets_of(PLAN, on=date(2027, 6, 1)).together.sets == 250


def test_a_date_without_news_makes_the_days_ahead_at_best():
    view = sets_of(PLAN)
    assert view.curve[-1].at_best == ("boards",)
    assert "days ahead are AT BEST: no news from 1 job (boards)" in printed(write_sets, view, width=80)


# Other questions


def test_a_run_without_a_unit_counts_what_its_shipments_hold():
    view = sets_of(replace(PLAN, run=replace(PLAN.run, unit="")))
    assert [one.unit for one in view.products] == ["packed-graphite", "packed-natural"]


def test_any_part_built_from_others_can_be_asked_for():
    (bases,) = sets_of(PLAN, "housing-natural").products
    assert [row.part for row in bases.parts] == ["base-milled"]


@pytest.mark.parametrize(
    ("plan", "says"),
    [
        (replace(PLAN, parts=(), jobs=(), shipments=(), facts=()), "counts no parts yet"),
        (replace(PLAN, run=replace(PLAN.run, unit="box")), "no job builds box from parts"),
        (
            replace(PLAN, run=replace(PLAN.run, unit=""), shipments=()),
            "nothing says what one complete unit is",
        ),
    ],
    ids=["no parts", "a unit nobody builds", "no unit"],
)
def test_where_no_sets_can_be_counted_one_sentence_says_why_and_what_to_do(plan, says):
    assert sets_of(plan).together is None
    text = text_of(plan)
    assert says in text
    assert "tracker set" in text or "tracker add" in text


def test_a_variant_nobody_builds_is_left_out_and_said():
    plan = replace(PLAN, run=replace(PLAN.run, unit="unit-graphite, box"))
    assert (len(sets_of(plan).products), sets_of(plan).unknown) == (1, ("box",))
    assert "left out: no job builds box from parts" in text_of(plan, width=200)


@pytest.mark.parametrize("width", [80, 120])
def test_the_text_keeps_within_its_width(width):
    for text in (text_of(with_glass(), width=width), text_of(magnets(200), "unit-natural", width=width)):
        assert max(len(line) for line in text.splitlines()) <= width


# One set after another


def random_material(seed):
    """Up to three products that share parts, in stock and in lots to come; some built, begun or scrapped.

    What was built or scrapped had come before.
    """
    rng = random.Random(seed)
    box = {f"p{n}": rng.choice((0, rng.randint(0, 60))) for n in range(rng.randint(2, 5))}
    parts = [Part(code=code, here=Fraction(here)) for code, here in box.items()]
    jobs, facts = [], []
    for code, here in box.items():
        made, logged = bought(rng, code)
        jobs.append(made)
        facts += logged
        came = here + sum(one.good for one in logged)
        lost = rng.randint(1, 3) if came > 5 and rng.random() < 0.3 else 0
        facts += [fact("scrapped", code, TODAY, scrap=lost)] if lost else []
        box[code] = came - lost
    units = [f"unit-{n}" for n in range(rng.randint(1, 3))]
    for unit in units:
        made, logged = assembled(rng, unit, box)
        jobs.append(made)
        facts += logged
    return Plan(
        run=Run(code="r", quantity=100, start=date(2026, 9, 1), unit=", ".join(units)),
        suppliers=(BENCH, SHOP),
        parts=(*parts, *(Part(code=unit) for unit in units)),
        jobs=tuple(jobs),
        shipments=tuple(wave(rng, n, units) for n in range(rng.randint(1, 3))),
        facts=tuple(facts),
    )


def bought(rng, code):
    """A job that brings a part in up to three lots, one perhaps here."""
    quantity, facts = rng.randint(1, 80), []
    if rng.random() < 0.5:
        came = rng.randint(0, quantity)
        facts = [fact("in", f"make-{code}", TODAY - timedelta(days=3), good=came, scrap=quantity // 20)]
    lead = f"{rng.randint(1, 12)}wd"
    lots, yields = rng.randint(1, 3), Fraction(rng.randint(80, 100), 100)
    return job(
        f"make-{code}", "shop", lead, code, quantity=quantity, lots=lots, one_by_one=True, yields=yields
    ), facts


def assembled(rng, unit, box):
    """A job that builds a product; as many as there were parts for may have been built, and more begun."""
    used = {code: rng.randint(1, 4) for code in rng.sample(sorted(box), rng.randint(1, len(box)))}
    facts = []
    number = min((3, *(box[code] // per for code, per in used.items())))
    if number and rng.random() < 0.6:
        facts.append(fact("made", f"build-{unit}", TODAY - timedelta(days=2), good=number))
        box.update({code: box[code] - number * per for code, per in used.items()})
    if rng.random() < 0.3:
        facts.append(fact("started", f"build-{unit}", TODAY - timedelta(days=2)))
    return job(f"build-{unit}", "bench", "3wd", unit, takes(**used), quantity=rng.randint(5, 60)), facts


def wave(rng, number, units):
    held = [
        Content(part=unit, quantity=rng.randint(1, 25))
        for unit in rng.sample(units, rng.randint(1, len(units)))
    ]
    return Shipment(code=f"wave-{number}", quantity=sum(one.quantity for one in held), contents=tuple(held))


class Bench:
    """Takes parts out of a box for one set at a time, with the parts that are here by the evening of a day."""

    def __init__(self, seen, day):
        plan = self.plan = seen.plan
        self.uses = {one.makes[0].part: one.takes for one in plan.jobs if one.takes}
        self.box = {part.code: part.here for part in plan.parts}
        for one in plan.jobs:
            for lot in lot_rows(seen, one.code):
                if not one.takes and (lot.kind == "received" or lot.arrives <= day):
                    self.box[one.makes[0].part] += lot.good
        for one in plan.facts:
            if one.kind == "scrapped":
                self.box[one.part] -= one.scrap
        self.made = dict.fromkeys(self.uses, 0)
        for one in plan.facts:
            if one.kind == "made":
                for _ in range(one.good):
                    self.build_one(one.job.removeprefix("build-"))

    def build_one(self, unit):
        for take in self.uses[unit]:
            self.box[take.part] -= take.per
        self.made[unit] += 1

    def build(self, unit, upto):
        """Build until there are so many, or a part is short; whether there are."""
        while self.made[unit] < upto and all(self.box[take.part] >= take.per for take in self.uses[unit]):
            self.build_one(unit)
        return self.made[unit] >= upto

    def work(self):
        """Finish what has begun, then fill the shipments in turn, then build as many as the parts allow."""
        for one in self.plan.facts:
            if one.kind == "started":
                self.build(one.job.removeprefix("build-"), self.plan.job_by_code[one.job].quantity)
        filled, upto = set(), dict.fromkeys(self.uses, 0)
        for shipment in self.plan.shipments:
            wanted = {held.part for held in shipment.contents}
            for held in shipment.contents:
                upto[held.part] += held.quantity
            complete = [self.build(unit, upto[unit]) for unit in self.uses if unit in wanted]
            filled |= {shipment.code} if all(complete) else set()
        for unit in self.uses:
            self.build(unit, 10**6)
        return self.made, filled


@pytest.mark.parametrize("seed", range(150))
def test_the_curve_is_what_taking_one_set_after_another_gives_on_every_day(seed):
    seen = picture(random_material(seed))
    view = full_sets(seen)
    days = [TODAY + timedelta(days=n) for n in range(100)]
    by_day = {day: Bench(seen, day).work() for day in days}
    for day in days:
        last = [one for one in view.curve if one.day <= day][-1]
        assert last.by_unit == by_day[day][0], day
    for one in view.shipments:
        lacks = [day for day in days if one.shipment not in by_day[day][1]]
        first = max(lacks) + timedelta(days=1) if lacks else TODAY
        assert one.possible_on == (first if first in by_day else None)


@pytest.mark.parametrize("seed", range(150))
def test_no_more_sets_than_any_part_allows_and_one_more_lacks_exactly_what_is_said(seed):
    view = full_sets(picture(random_material(seed)))
    for one in view.products:
        for row in one.parts:
            assert one.sets * row.per <= max(0, row.here)
            assert row.left == max(0, row.here - one.sets * row.per)
        lacking = {row.part: row.missing for row in one.parts if row.missing}
        assert set(lacking) == set(one.short)
        assert all((one.sets + 1) * row.per == row.here + row.missing for row in one.parts if row.missing)
        assert one.without is None or one.without > one.sets


@pytest.mark.parametrize("seed", range(150))
def test_products_together_take_no_more_of_a_part_than_there_is(seed):
    seen = picture(random_material(seed))
    products = [product_of(seen, unit) for unit in seen.plan.run.units]
    supply = supply_of(seen, products)
    for day in (None, seen.forecast.today, seen.forecast.today + 60):
        stock = supply.by(day)
        share = share_out(products, stock)
        for part, free in stock.items():
            held = sum(one.held.get(part, 0) for one in products)
            assert sum(one.per.get(part, 0) * share.put_in[one.unit] for one in products) <= max(
                0, free + held
            )
        for one in products:
            alone = share_out([one], stock).put_in[one.unit]
            begun_elsewhere = any(other.in_work for other in products if other is not one)
            assert share.put_in[one.unit] <= alone or begun_elsewhere


@settings(max_examples=150, deadline=None)
@given(plan=part_plans(), ahead=st.integers(0, 200))
def test_any_sound_plan_has_its_sets_counted(plan, ahead):
    try:
        seen = picture(plan, START + timedelta(days=ahead))
    except Refused:  # jobs that take each other's parts in a ring
        reject()
    for units in ((), *((part.code,) for part in plan.parts)):
        view = full_sets(seen, units)
        days = [one.day for one in view.curve]
        assert days == sorted(set(days))
        assert all(0 <= one.total == sum(one.by_unit.values()) for one in view.curve)
        assert printed(write_sets, view, width=80)

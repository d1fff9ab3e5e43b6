"""What an option gains and until when; days by plain counting, day 0 is Monday 1 June 2026."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.build import day, fact, plan
from tests.report.asking import printed
from tests.schedule.random_material import random_material
from tests.schedule.random_plans import random_plan
from tracker.cli.options_kept import tries
from tracker.plan.model import Fact, Shipment
from tracker.plan.options import Option
from tracker.plan.parts import Content, Make, Part
from tracker.plan.span import Lead
from tracker.render.deciding_text import option_texts, write_deciding
from tracker.report.deciding import FURTHEST, deciding, last_helping, option_row
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast

TEN_DAYS = plan("a:10wd@shop b:5 | a>b")
"""Ordered on Monday at the earliest, a takes Tue 2 to Mon 15 June, b Tue 16 to Sat 20."""


def option(words, code="quick", cost="", on=0):
    return Option(code=code, words=words, on=day(on), cost=cost)


def row_of(known, words, today=0):
    kept = option(words)
    seen = Picture(Forecast(replace(known, options=(kept,)), day(today)))
    return option_row(seen, kept, tries(kept, day(today)))


def gains(rows):
    return {one.shipment: one.days for one in rows}


def texts(row, today=0):
    return option_texts(row, day(today))[1:]


def test_three_working_days_in_place_of_ten_help_until_the_tuesday_before_the_last_friday():
    """Decided today: Tue 2 to Thu 4, b to Tue 9. Decided on Tue 9: Wed 10 to Fri 12, b Sat 13 to Wed 17, three days
    earlier. Decided on Wed 10: Thu 11, Fri 12 and Mon 15, as without it."""
    row = row_of(TEN_DAYS, "set a lead=3wd")
    assert (gains(row.now), row.last_day, gains(row.then)) == ({"wave-1": 11}, day(8), {"wave-1": 3})
    assert texts(row) == [
        "decided today: wave-1 Tue 9 Jun instead of Sat 20 Jun (11 days earlier)",
        "last day it helps: Tue 9 Jun (then wave-1 3 days earlier)",
    ]


def test_what_helps_only_today_says_so():
    """Nine days end on Fri 12 June if they begin tomorrow; begun on Wed 3 they end on Mon 15, as the ten do."""
    row = row_of(TEN_DAYS, "set a lead=9wd")
    assert (gains(row.now), row.last_day, row.then) == ({"wave-1": 3}, day(0), row.now)
    assert texts(row)[1] == "today, Mon 1 Jun, is the last day it helps"


def test_an_option_that_moves_nothing_has_no_last_day():
    row = row_of(plan("a:10wd@shop b:5 c:1 | a>b"), "set c lead=0cd")
    assert (row.helps, row.last_day, row.then, row.throughout) == (False, None, (), False)
    assert texts(row) == ["gains nothing as things stand"]


def test_an_option_that_only_costs_days_tells_how_many():
    row = row_of(TEN_DAYS, "set a lead=12wd")
    assert gains(row.now) == {"wave-1": -2}
    assert texts(row) == [
        "gains nothing as things stand; wave-1 Mon 22 Jun instead of Sat 20 Jun (2 days later)"
    ]


def test_an_option_that_helps_on_every_day_looked_at_has_no_last_day():
    row = row_of(plan("a:10 b:2 c:2 | a>c b>c"), "called-off a")
    assert (gains(row.now), row.last_day, row.throughout) == ({"wave-1": 8}, None, True)
    assert texts(row)[1] == "no decide-by day is known for it"


def test_what_touches_neither_a_job_nor_a_calendar_has_no_day_by_which_to_decide():
    """Without c, wave 1 goes with a on day 4 instead of day 8: no day of work says until when that can be changed."""
    sent = Shipment(code="wave-1", quantity=1, after=("a", "c"))
    row = row_of(plan("a:5 c:9", shipments=(sent,)), "set wave-1 after=a")
    assert (gains(row.now), row.last_day) == ({"wave-1": 4}, None)
    assert texts(row)[1] == "no decide-by day is known for it"


def test_a_supplier_opened_on_a_day_off_helps_until_the_day_before_it():
    """Ten working days from Tue 2 end on Mon 15 June, with Sat 13 on that day; decided on Sat 13 that is over."""
    row = row_of(TEN_DAYS, "set shop opens=2026-06-13")
    assert (gains(row.now), row.last_day) == ({"wave-1": 2}, day(11))


@given(
    first=st.integers(1, 40),
    later=st.lists(st.integers(2, 7), max_size=3),
    beyond=st.integers(1, 200),
)
def test_days_that_help_again_within_a_week_of_the_last_one_are_found(first, later, beyond):
    """Deciding helps on the ``first`` days from day 0, then on single days, each within seven of the one before."""
    helping = set(range(first))
    for gap in later:
        helping.add(max(helping) + gap)
    seen = {n for n in helping if n < beyond}
    asked = []

    def helps(one):
        asked.append(one)
        return (one - day(0)).days in seen

    found = (last_helping(helps, day(0), day(beyond)) - day(0)).days
    assert found == max(seen)
    assert len(asked) <= 9 + 7 + sum(later)
    assert all(day(0) < one < day(beyond) for one in asked)


def test_a_promise_helps_only_while_its_day_is_still_to_come():
    """Ordered today, promised for Mon 8 June in hand: b to Sat 13, seven days earlier, until the day before."""
    known = plan("a:10wd@shop b:5 | a>b", facts=[fact("ordered", "a", 0)])
    row = row_of(known, "promised a 2026-06-08")
    assert (gains(row.now), row.last_day, gains(row.then)) == ({"wave-1": 7}, day(6), {"wave-1": 7})


def test_a_shipment_short_already_still_gains_days():
    """The lids are called off, now and then; with boxes in three days, not ten, it goes on Thu 4, not Mon 15 June."""
    sent = Shipment(
        code="wave-1", quantity=9, contents=(Content(part="box", quantity=6), Content(part="lid", quantity=3))
    )
    jobs = {
        "a": {"makes": (Make(part="box"),), "quantity": 6},
        "c": {"makes": (Make(part="lid"),), "quantity": 3},
    }
    known = plan("a:10wd@shop c:2@shop", jobs=jobs, shipments=(sent,), facts=[fact("called_off", "c", 0)])
    known = replace(known, parts=(Part(code="box"), Part(code="lid")))
    row = row_of(known, "set a lead=3wd")
    assert (gains(row.now), row.shortages, row.last_day) == ({"wave-1": 11}, (), day(8))
    gone = row_of(known, "called-off a")
    assert [(one.kind, one.part, one.pieces) for one in gone.shortages] == [("nobody makes", "box", 6)]


def test_words_that_can_no_longer_be_tried_are_told_in_a_line():
    known = plan("a:10wd@shop b:5 | a>b", facts=[fact("finished", "b", 0)])
    row = row_of(known, "started b")
    assert (row.now, row.last_day, row.ship_date) == ((), None, None)
    assert texts(row) == ["cannot be tried as things stand: b has been done since Mon 1 Jun 2026"]
    gone = row_of(TEN_DAYS, "remove d")
    assert texts(gone) == ["cannot be tried as things stand: there is no job, supplier, part or shipment 'd'"]


def test_where_a_later_day_cannot_be_tried_the_last_day_is_not_guessed():
    known = plan("a:10wd@shop b:5 | a>b", jobs={"a": {"quantity": 10}})
    row = row_of(known, "in a good 9 scrap 1")
    assert row.helps
    assert (row.last_day, row.throughout) == (None, False)
    assert texts(row)[1].startswith("until when it helps cannot be told: a: ")


def test_the_ship_date_is_told_apart_from_other_shipments():
    """Both go on day 19; with a in five days wave 1 on day 4 and wave 2 with d on day 11, the last parcel."""
    waves = [
        Shipment(code="wave-1", quantity=1, after=("a",)),
        Shipment(code="wave-2", quantity=1, after=("a", "d")),
    ]
    known = plan("a:20 d:12", shipments=waves)
    row = row_of(known, "set a lead=5cd")
    assert gains(row.now) == {"wave-1": 15, "wave-2": 8}
    assert (row.ship_date.shipment, row.ship_date.days) == ("wave-2", 8)
    assert (row.last_day, gains(row.then), row.ship_date_then.days) == (
        day(13), {"wave-1": 1, "wave-2": 1}, 1,
    )  # fmt: skip


def test_the_last_parcel_can_gain_no_more_while_another_shipment_does():
    """Without c, d begins 14 days earlier, but on day 14 as before if decided on day 13; a then ends on day 18, not 19."""
    waves = [
        Shipment(code="wave-1", quantity=1, after=("a",)),
        Shipment(code="wave-2", quantity=1, after=("d",)),
    ]
    known = plan("a:20 c:14 d:20 | c>d", shipments=waves)
    row = row_of(known, "set a lead=5cd and set d after=")
    assert (row.ship_date.shipment, row.ship_date.days, row.ship_date_then.days) == ("wave-2", 14, 0)
    assert (
        texts(row)[1] == "last day it helps: Sun 14 Jun (then wave-1 1 day earlier, the last parcel no more)"
    )


def test_it_is_measured_against_the_forecast_of_today_not_of_the_day_it_is_decided():
    """Seen on Thu 4 June a takes Fri 5 to Thu 18, so Mon 15 to Wed 17 still helps, decided on Sun 14."""
    assert row_of(TEN_DAYS, "set a lead=3wd", today=3).last_day == day(13)


def test_as_an_insurance_it_is_also_measured_with_promises_at_their_worst():
    """Promised for Mon 8, at worst Fri 19 June: b to Sat 13 or Wed 24. The other source: Tue 2 to Tue 9, b to Sun 14."""
    facts = [fact("ordered", "a", 0), fact("promised", "a", 0, day=7, worst=day(18))]
    row = row_of(plan("a:10wd@shop b:5 | a>b", facts=facts), "instead a by shop lead 6wd")
    assert gains(row.now) == {"wave-1": -1}
    assert (row.at_worst.jobs, gains(row.at_worst.gains)) == ((("a", day(18)),), {"wave-1": 10})
    assert texts(row) == [
        "gains nothing as things stand; wave-1 Sun 14 Jun instead of Sat 13 Jun (1 day later)",
        "at the worst day named, a only on Fri 19 Jun: wave-1 Sun 14 Jun instead of Wed 24 Jun (10 days earlier)",
    ]


def test_a_worst_day_of_a_promise_that_was_replaced_does_not_count():
    told = fact("promised", "a", 0, day=7, worst=day(18))
    again = replace(fact("promised", "a", 0, day=8), on=day(1), logged=day(1))
    known = plan("a:10wd@shop b:5 | a>b", facts=[fact("ordered", "a", 0), told, again])
    row = row_of(known, "instead a by shop lead 6wd", today=1)
    assert (gains(row.now), row.at_worst) == ({"wave-1": -1}, None)


def test_only_jobs_still_open_are_named_with_their_worst_days():
    facts = [
        fact("ordered", "a", 0),
        fact("ordered", "c", 0),
        fact("promised", "a", 0, day=7, worst=day(18)),
        fact("promised", "c", 0, day=7, worst=day(11)),
        replace(fact("in", "a", 0), closes=True),
    ]
    row = row_of(plan("a:10wd@shop c:8wd@shop b:5 | a>b c>b", facts=facts), "instead c by shop lead 6wd")
    assert row.at_worst.jobs == (("c", day(11)),)


def test_open_options_come_first_then_those_decided_with_what_was_decided():
    decided = Fact(on=day(2), logged=day(2), kind="decided", option="dear", note="too dear")
    kept = (
        option("set a lead=2wd", "dear", "GBP 900"),
        option("set a lead=3wd", "quick", "GBP 240"),
        option("remove b", "later", on=3),
    )
    seen = Picture(Forecast(replace(TEN_DAYS, options=kept, facts=(decided,)), day(2)))
    view = deciding(seen, lambda one: tries(one, day(2)))
    assert [row.option for row in view.options] == ["quick"]
    assert [(row.option, row.decided, row.decision) for row in view.decided] == [("dear", day(2), "too dear")]
    assert printed(write_deciding, view).splitlines() == [
        "options on Wed 3 Jun 2026",
        "",
        "quick: set a lead=3wd; cost GBP 240",
        "  decided today: wave-1 Sat 13 Jun instead of Mon 22 Jun (9 days earlier)",
        "  last day it helps: Thu 11 Jun (then wave-1 1 day earlier)",
        "",
        "decided",
        '  dear Wed 3 Jun: "too dear" (tried: set a lead=2wd; cost GBP 900)',
    ]


def open_jobs(known, today):
    forecast = Forecast(known, today)
    return [
        job.code
        for job in known.jobs
        if (lot := forecast.lot_of(job.code)) is not None and forecast.is_open(lot)
    ]


def scanned(known, kept, today):
    """Whether deciding it helps, day by day from today on."""
    base = Forecast(known, today)
    last = max((base.shipment_dates[code] for code in base.open_shipments), default=base.today)
    found = []
    for ahead in range(min(max(last - base.today, 0), FURTHEST) + 1):
        tried = tries(kept, today)(known, today + timedelta(days=ahead))
        then = Forecast(tried, today).shipment_dates
        found.append(
            any((then.get(code) or last) < base.shipment_dates[code] for code in base.open_shipments)
        )
    return found


@pytest.mark.parametrize("make", [random_plan, random_material])
@pytest.mark.parametrize("seed", range(25))
def test_the_last_day_is_the_one_a_scan_of_every_day_finds(seed, make):
    known, today = make(seed)
    for code in open_jobs(known, today)[:3]:
        for words in (f"set {code} lead=1cd", f"instead {code} by {known.jobs[0].supplier} lead 2cd"):
            kept = Option(code="quick", words=words, on=today)
            if isinstance(tries(kept, today)(known, today), str):
                continue
            row = option_row(Picture(Forecast(known, today)), kept, tries(kept, today))
            helps = scanned(known, kept, today)
            assert helps == sorted(helps, reverse=True), "deciding later helps no more than deciding earlier"
            assert row.helps == helps[0]
            if row.helps:
                last = today + timedelta(days=sum(helps) - 1)
                assert row.last_day == (None if row.throughout else last)
                assert row.throughout == (all(helps) and len(helps) > 1)


def test_a_day_on_which_one_shipment_would_pay_for_another_helps_no_more():
    """Until Tue 9 June both go earlier; from Wed 10 on the second still would, but the first goes later than ever."""
    known = plan("a:10 b:20")
    waves = tuple(Shipment(code=f"wave-{job}", quantity=1, after=(job,)) for job in "ab")
    known = replace(known, shipments=waves)
    kept = option("set a lead=3cd")

    def tried(_, on):
        leads = {"a": 8, "b": 15} if on <= day(8) else {"a": 12, "b": 15}
        jobs = tuple(replace(one, lead=Lead(*(3 * [leads[one.code]]), "cd")) for one in known.jobs)
        return replace(known, jobs=jobs)

    row = option_row(Picture(Forecast(known, day(0))), kept, tried)
    assert gains(row.now) == {"wave-a": 2, "wave-b": 5}
    assert row.last_day == day(8)

"""Which date to accept on the telephone, and what later ones cost. Day 0 is Monday 1 June 2026."""

from dataclasses import replace
from datetime import date

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import calls_text, picture
from tracker.plan.model import Closure, Fact, Shipment
from tracker.plan.span import Span
from tracker.report.calls import calls

STARTED = fact("started", "housing", 0)


def promised(on, to, job="housing"):
    return fact("promised", job, on, day=to)


SHUT = Closure(first=day(12), last=day(25))
OURS = replace(BENCH, workdays="mon-fri")


@pytest.mark.parametrize("means", ["in hand", "leaves"])
@pytest.mark.parametrize("travel", [Span(0), Span(3), Span(2, "wd")])
@pytest.mark.parametrize("closures", [(), (SHUT,)])
@pytest.mark.parametrize("bench", [BENCH, OURS, replace(OURS, closures=(SHUT,))])
def test_dates_later_than_the_latest_we_can_accept_cost_what_is_said(means, travel, closures, bench):
    shop = replace(SHOP, dates_mean=means, closures=closures)
    text = "housing:5wd@shop long:11 pack:1 foil:9 | housing>pack long>pack"
    waves = [Shipment(code=code, quantity=1, after=(code,)) for code in ("pack", "foil")]
    facts = (STARTED, promised(0, 4), fact("started", "long", 0), fact("started", "foil", 0))
    more = {"suppliers": (bench, shop), "jobs": {"housing": {"travel": travel}}, "shipments": waves}
    seen = picture(text, *facts, **more)
    (job,) = calls(seen).rows[0].jobs
    before = seen.forecast.shipment_dates

    def moved(to):
        news = Fact(on=day(0), logged=day(0), kind="promised", job="housing", day=to)
        after = picture(text, *facts, news, **more).forecast.shipment_dates
        return {code: after[code] - before[code] for code in after if after[code] != before[code]}

    assert moved(job.accept_by) == {}
    assert [one.own_days for one in job.later] == [1, 5]
    for one in job.later:
        assert moved(one.day) == one.costs
        assert set(one.costs) == {"pack"}


@pytest.mark.parametrize(
    ("bench", "latest", "later", "said"),
    [
        (  # open all week: the 30th is the harmless evening
            BENCH, 29, [(1, True, day(30), {"wave-1": 1}), (5, True, day(34), {"wave-1": 5})],
            "one working day later (Wed 1 Jul) costs wave-1 1 day; five (Sun 5 Jul) cost wave-1 5 days",
        ),
        (  # shut on the 30th, when it could come, and the day after; open from the 2nd to the 8th without the weekend
            replace(OURS, closures=(Closure(first=day(29), last=day(30)),)), 28,
            [(1, True, day(31), {"wave-1": 2}), (5, True, day(37), {"wave-1": 8})],
            "one working day later (Thu 2 Jul) costs wave-1 2 days; five (Wed 8 Jul) cost wave-1 8 days",
        ),
        (
            None, 29, [(1, False, day(30), {"wave-1": 1}), (5, False, day(34), {"wave-1": 5})],
            "one day later (Wed 1 Jul) costs wave-1 1 day; five (Sun 5 Jul) cost wave-1 5 days",
        ),
    ],
)  # fmt: skip
def test_what_is_on_its_way_is_spoken_of_by_the_days_we_can_take_it_in(bench, latest, later, said):
    shop, mill = replace(SHOP, dates_mean="leaves"), replace(SHOP, code="mill", workdays="all")
    text = "sea:5@shop long:30@mill pack:1@mill | sea>pack long>pack"
    facts = (fact("left", "sea", 4), fact("started", "long", 0), promised(0, 29, "long"))
    more = {"suppliers": (*((bench,) if bench else ()), shop, mill), "jobs": {"sea": {"travel": Span(6)}}}
    seen = picture(text, *facts, today=5, **more)
    (job,) = calls(seen, "shop").rows[0].jobs
    assert (job.accept_by, job.accept_means) == (day(latest), "in hand")
    assert [(one.own_days, one.working, one.day, one.costs) for one in job.later] == later
    assert said in calls_text(seen)


def test_where_our_bench_is_shut_the_latest_date_is_the_last_day_it_is_open():
    """The housing must be here by Sunday the 14th; we are shut from Thursday the 11th to Sunday the 28th."""
    ours = replace(OURS, closures=(Closure(first=day(10), last=day(27)),))
    mill = replace(SHOP, code="mill", workdays="all")
    text = "housing:5wd@shop long:14@mill pack:1@mill | housing>pack long>pack"
    facts = (STARTED, promised(0, 4), fact("started", "long", 0))
    seen = picture(text, *facts, suppliers=(ours, SHOP, mill))
    (job,) = calls(seen, "shop").rows[0].jobs
    assert job.accept_by == day(9)
    assert "our next working day is Mon 29 Jun, 19 days on, and costs wave-1 15 days" in calls_text(seen)


def test_the_latest_date_is_never_before_today():
    """Harmless until Sunday, spoken of on that Sunday: the last day we were open has gone."""
    mill = replace(SHOP, code="mill", workdays="all")
    seen = picture("housing:14@mill pack:1 | housing>pack", STARTED, today=13, suppliers=(OURS, mill))
    (job,) = calls(seen).rows[0].jobs
    assert (job.accept_by, [one.day for one in job.later]) == (day(13), [day(14), day(18)])


def test_travel_in_their_working_days_does_not_hide_a_day_we_are_open_on():
    """Here by Sunday the 14th is in time; what leaves on Wednesday is here on Friday, and we are open on Saturday."""
    ours, mill = replace(BENCH, workdays="mon-sat"), replace(SHOP, code="mill", workdays="all")
    text = "housing:5wd@shop long:14@mill pack:1@mill | housing>pack long>pack"
    facts = (STARTED, promised(0, 4), fact("started", "long", 0))
    more = {"suppliers": (ours, SHOP, mill), "jobs": {"housing": {"travel": Span(2, "wd")}}}
    (job,) = calls(picture(text, *facts, **more), "shop").rows[0].jobs
    assert job.accept_by == day(12)
    assert [(one.day, one.costs) for one in job.later] == [
        (day(14), {"wave-1": 1}),
        (day(18), {"wave-1": 5}),
    ]


def test_where_their_closure_follows_the_next_date_is_shown_with_all_its_days():
    shop = replace(SHOP, dates_mean="leaves", closures=(Closure(first=day(11), last=day(25)),))
    text = "housing:5wd@shop long:11 pack:1 | housing>pack long>pack"
    seen = picture(text, STARTED, promised(0, 4), fact("started", "long", 0), suppliers=(BENCH, shop))
    # harmless until Thursday the 11th, the day before they shut; they open on Monday the 29th
    said = "their next working day is Mon 29 Jun, 18 days on, and costs wave-1 18 days"
    assert said in calls_text(seen)


def test_each_working_day_past_the_latest_date_costs_what_the_calls_of_the_demo_say(program):
    """Invented scenario, computed by plain day counting: the licence on 11 December moves both shipments."""
    rows = {job["row"]["code"]: job for one in program.json("calls")["rows"] for job in one["jobs"]}
    licence = rows["licence"]
    assert licence["accept_by"] == "2026-12-04"
    assert [(one["day"], one["costs"]) for one in licence["later"]][1] == (
        "2026-12-11",
        {"wave-1": 6, "wave-2": 7},
    )
    before = program.dates()
    for code, job in rows.items():
        for to, costs in [(job["accept_by"], {}), *((one["day"], one["costs"]) for one in job["later"])]:
            program("promised", code, to)
            after = program.dates()
            moved = {
                wave: (date.fromisoformat(after[wave]) - date.fromisoformat(before[wave])).days
                for wave in after
            }
            assert {wave: days for wave, days in moved.items() if days} == costs, (code, to)
            program("undo")

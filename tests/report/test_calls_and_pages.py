"""What calls, the board and pages say of pieces, promises and facts to come. Day 0 is Monday 1 June 2026."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import board_of, board_text, calls_text, page_text, picture, printed, row
from tracker.plan.model import Closure, Fact, Shipment
from tracker.plan.span import DayRate, Span, parse_lead
from tracker.render.weeks_text import write_weeks
from tracker.report.calls import calls
from tracker.report.pages import job_page, supplier_page
from tracker.report.weeks import weeks

CHAIN = "housing:5wd@shop pack:2 | housing>pack"
STARTED = fact("started", "housing", 0)
PIECES = {"housing": {"quantity": 63}}


def promised(on, to, **fields):
    return fact("promised", "housing", on, day=to, **fields)


def test_a_rest_that_came_without_a_date_is_not_called_silence():
    facts = (STARTED, promised(0, 4), fact("in", "housing", 4, good=52))
    seen = picture(CHAIN, *facts, today=7, jobs=PIECES)
    found = row(seen, "housing")
    assert (found.state, found.flags, found.undated) == ("PART IN", ("LATE",), 11)
    for text in (board_text(seen), calls_text(seen), page_text(seen, "housing")):
        assert "11 to come, no date given" in text
        assert "ago, no news" not in text


def test_a_date_given_for_the_rest_that_passed_is_silence_again():
    facts = (STARTED, promised(0, 4), fact("in", "housing", 4, good=52), promised(4, 6))
    found = row(picture(CHAIN, *facts, today=8, jobs=PIECES), "housing")
    assert (found.flags, found.undated) == (("LATE", "NO NEWS"), None)


def test_calls_name_silence_before_lateness():
    seen = picture(CHAIN, STARTED, promised(0, 4), today=7)
    assert "housing IN WORK NO NEWS LATE" in calls_text(seen)


def test_a_promise_that_cannot_hold_names_the_input_it_waits_for():
    text = "bases:5wd@shop bezels:5wd@shop pack:1 | bases>bezels bezels>pack"
    facts = [fact("ordered", "bases", 0), fact("ordered", "bezels", 0), fact("promised", "bezels", 0, day=3)]
    said = "cannot hold Thu 4 Jun: waits for bases, here Mon 15 Jun at the earliest"
    assert said in page_text(picture(text, *facts), "bezels")


def test_facts_of_tomorrow_are_on_no_page():
    later = Fact(on=day(3), logged=day(3), kind="called", supplier="shop", day=day(5))
    facts = (STARTED, promised(0, 4), promised(3, 9), fact("in", "housing", 3, good=5))
    seen = picture(CHAIN, *facts, later, today=1, jobs=PIECES)
    page = job_page(seen, "housing")
    assert [one.row.fact.on for one in page.facts] == [day(0), day(0)]
    assert ([one.day for one in page.promises], page.counts) == ([day(4)], None)
    supplier = supplier_page(seen, "shop")
    assert ([one.day for _, one in supplier.promises], supplier.facts) == ([day(4)], ())
    assert [one.call_again for one in calls(seen).rows] == [None]


def again(on, to=None):
    return Fact(on=day(on), logged=day(9), kind="called", supplier="shop", day=day(to) if to else None)


@pytest.mark.parametrize(("today", "listed"), [(2, False), (3, True), (10, True), (12, True)])
def test_a_call_promised_is_listed_from_a_week_before(today, listed):
    text = "housing:5wd@shop long:90 pack:1 | housing>pack long>pack"
    seen = picture(text, STARTED, promised(0, 60), again(0, 10), today=today)
    assert [one.call_again for one in calls(seen).rows] == ([day(10)] if listed else [])
    due = [(one.day, one.job, one.supplier) for one in board_of(seen).due if one.what == "call again"]
    assert due == ([(day(10), "", "shop")] if listed else [])


def test_the_latest_call_counts_however_late_it_was_logged():
    seen = picture(CHAIN, STARTED, again(4, 8), again(2, 5), today=9)
    assert [one.call_again for one in calls(seen).rows] == [day(8)]
    assert "was to be called on Tue 9 Jun; last called Fri 5 Jun" in calls_text(seen)


def test_a_call_promised_for_today_comes_first_with_what_was_said_then():
    mill = replace(SHOP, code="mill")
    text = "housing:5wd@shop plate:5wd@mill pack:2 | housing>pack plate>pack"
    said = replace(again(1, 7), supplier="mill", note="asks for the drawing")
    facts = (STARTED, promised(0, 4), fact("started", "plate", 0), promised_of("plate", 0, 40), said)
    seen = picture(text, *facts, today=7, suppliers=(BENCH, SHOP, mill))
    assert [(one.supplier, one.again_due, one.last_note) for one in calls(seen).rows] == [
        ("mill", True, "asks for the drawing"),
        ("shop", False, ""),
    ]
    lines = calls_text(seen).splitlines()
    today, rest = lines.index("call again today"), lines.index("also to call")
    assert lines[today + 2].startswith("mill")
    assert (
        lines[today + 3].strip() == 'to be called again today; last called Tue 2 Jun: "asks for the drawing"'
    )
    assert lines[rest + 2].startswith("shop")


def test_calls_overdue_come_before_those_of_today_and_those_ahead_last():
    shops = [replace(SHOP, code=code) for code in ("early", "late", "due", "ahead")]
    made = [
        replace(again(0, to), supplier=code)
        for code, to in (("ahead", 12), ("due", 9), ("late", 8), ("early", 2))
    ]
    seen = picture("pack:20", *made, today=9, suppliers=(BENCH, *shops))
    assert [one.supplier for one in calls(seen).rows] == ["early", "late", "due", "ahead"]
    assert [one.again_due for one in calls(seen).rows] == [True, True, True, False]


def promised_of(job, on, to, **fields):
    return fact("promised", job, on, day=to, **fields)


SHUT = Closure(first=day(12), last=day(25))


@pytest.mark.parametrize("means", ["in hand", "leaves"])
@pytest.mark.parametrize("travel", [Span(0), Span(3), Span(2, "wd")])
@pytest.mark.parametrize("closures", [(), (SHUT,)])
def test_dates_later_than_the_latest_we_can_accept_cost_what_is_said(means, travel, closures):
    shop = replace(SHOP, dates_mean=means, closures=closures)
    text = "housing:5wd@shop long:11 pack:1 foil:9 | housing>pack long>pack"
    waves = [Shipment(code=code, quantity=1, after=(code,)) for code in ("pack", "foil")]
    facts = (STARTED, promised(0, 4), fact("started", "long", 0), fact("started", "foil", 0))
    more = {"suppliers": (BENCH, shop), "jobs": {"housing": {"travel": travel}}, "shipments": waves}
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


def test_what_is_on_its_way_is_spoken_of_by_the_day_it_is_here_and_by_calendar_days():
    shop = replace(SHOP, dates_mean="leaves")
    text = "sea:5@shop long:30 pack:1 | sea>pack long>pack"
    facts = (fact("left", "sea", 4), fact("started", "long", 0))
    seen = picture(text, *facts, today=5, suppliers=(BENCH, shop), jobs={"sea": {"travel": Span(6)}})
    (job,) = calls(seen).rows[0].jobs
    assert (job.accept_by, job.accept_means) == (day(29), "in hand")
    assert [(one.own_days, one.working, one.day, one.costs) for one in job.later] == [
        (1, False, day(30), {"wave-1": 1}),
        (5, False, day(34), {"wave-1": 5}),
    ]
    assert "one day later (Wed 1 Jul) costs wave-1 1 day; five (Sun 5 Jul) cost wave-1 5 days" in calls_text(
        seen
    )


def test_where_a_closure_follows_the_next_date_is_shown_with_all_its_days():
    shop = replace(SHOP, closures=(Closure(first=day(11), last=day(25)),))
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


def test_the_promised_call_of_the_demo_is_listed_first_on_its_day(program):
    program("called", "marlgate", "again", "thu", "customs asks for the invoice")
    listed = program.out("calls", "--today", "2026-11-26").splitlines()
    assert listed[2:5] == [
        "call again today",
        "",
        "marlgate  Marlgate Forwarding, Felixstowe  Tess, 0-555-0110",
    ]
    assert listed[5] == '  to be called again today; last called Tue 24 Nov: "customs asks for the'


def test_a_name_left_empty_leaves_no_gap():
    seen = picture(CHAIN, STARTED)
    first, second = page_text(seen, "housing").splitlines()[:2]
    assert first.startswith("housing  IN WORK")
    assert second == "  shop, contact not noted"
    assert "shop  no contact noted" in calls_text(seen)


def test_pieces_not_judged_yet_are_said():
    seen = picture(CHAIN, fact("in", "housing", 4, count=63), today=5, jobs=PIECES)
    assert "63 of 63 in, done: 0 good, 0 rework, 0 scrap, 63 not judged yet" in page_text(seen, "housing")


@pytest.mark.parametrize(
    ("lead", "said"),
    [
        (DayRate(setup=1, per_day=Fraction(15)), "1wd set-up, then 15 a day: 10wd for 125"),
        (parse_lead("8..15wd"), "8..15wd, plans with 15wd"),
        (parse_lead("8/10/15wd"), "8/10/15wd, plans with 10wd"),
        (parse_lead("10wd"), "10wd\n"),
    ],
)
def test_a_lead_says_the_days_it_comes_to(lead, said):
    jobs = {"housing": {"lead": lead, "quantity": 125}}
    assert f"lead             {said}" in page_text(picture(CHAIN, STARTED, jobs=jobs), "housing")


@pytest.mark.parametrize("start", range(0, 60, 7))
@pytest.mark.parametrize("width", [40, 47, 60, 80, 120])
def test_no_two_month_names_run_together_at_any_width(width, start):
    seen = picture("a:150 pack:1 | a>pack", today=start)
    heading = printed(write_weeks, weeks(seen, back=2), width=width).splitlines()[0]
    assert heading.split()
    assert all(len(word) == 3 for word in heading.split())


def test_one_earlier_week_is_one():
    seen = picture("a:100 pack:1 | a>pack", today=30)
    texts = [printed(write_weeks, weeks(seen, whole=True), width=width) for width in range(40, 70)]
    assert any("1 earlier week does not fit this width" in text for text in texts)
    assert not any("1 earlier weeks" in text for text in texts)


def test_a_made_lot_waiting_on_us_shows_w_until_it_leaves():
    jobs = {"housing": {"leave_when": ("balance",), "travel": Span(10)}}
    seen = picture(CHAIN, STARTED, fact("made", "housing", 4, good=1), today=15, jobs=jobs)
    bars = {one.code: one.marks for one in weeks(seen, whole=True).rows}
    # made 5 June, leaves the 16th at the earliest; in today's week, the third, what waits on us is shown
    assert bars["housing"] == ("m", "w", "w", "t")

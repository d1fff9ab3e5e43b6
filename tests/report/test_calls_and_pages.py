"""What calls, the board and pages say of pieces, promises and facts to come. Day 0 is Monday 1 June 2026."""

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import board_of, board_text, calls_text, page_text, picture, printed, row
from tracker.plan.model import Fact, Shipment, Told
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


def told_for(last):
    return Shipment(code="wave-1", quantity=100, after=("pack",), told=(Told(on=day(0), last=day(last)),))


@pytest.mark.parametrize(("lead", "why"), [("9wd", True), ("8wd", False)])
def test_a_job_late_for_a_date_told_says_so(lead, why):
    """Two days' packing must end on Friday the 12th, so the housing is in time on Wednesday, their 8th day."""
    text = f"housing:{lead}@shop pack:2 | housing>pack"
    seen = picture(text, STARTED, shipments=(told_for(11),), today=3)
    assert ("LATE" in row(seen, "housing").flags) is why
    assert ("1 own day too late for the date told for wave-1" in calls_text(seen)) is why


def test_a_job_late_for_another_reason_does_not_blame_the_date_told():
    text = "bases:5wd@shop bezels:5wd@shop pack:1 | bases>bezels bezels>pack"
    facts = [fact("ordered", "bases", 0), fact("ordered", "bezels", 0), fact("promised", "bezels", 0, day=3)]
    seen = picture(text, *facts, shipments=(told_for(9),))
    assert row(seen, "bezels").room < 0
    lines = calls_text(seen).split("\n  bezels ")[1].splitlines()
    assert "cannot hold Thu 4 Jun" in lines[1]
    assert not any("too late for the date told" in line for line in lines)


def test_one_supplier_asked_for_is_shown_with_all_open_jobs_pressing_ones_first():
    text = "a:60@shop b:60@shop c:5@shop done:1@shop pack:1 | a>b b>pack c>pack done>pack"
    facts = (fact("started", "a", 0), fact("started", "c", 0), fact("in", "done", 0, good=1), again(0, 40))
    seen = picture(text, *facts, today=3)
    (shop,) = calls(seen).rows
    assert [(one.row.code, one.why) for one in shop.jobs] == [("c", ("due soon",))]
    assert (shop.open_jobs, shop.call_again) == (3, None)
    (asked,) = calls(seen, "shop").rows
    assert [(one.row.code, one.why) for one in asked.jobs] == [("c", ("due soon",)), ("a", ()), ("b", ())]
    assert asked.call_again == day(40)
    assert all(one.later for one in asked.jobs)


def test_a_supplier_asked_for_without_open_jobs_says_so_in_one_line(program):
    assert program.out("calls", "tolmark").splitlines() == [
        "calls on Tue 24 Nov 2026",
        "",
        "tolmark  Tolmark Precision, Rotherham  Gwen, 0-555-0101",
        "  no open job of theirs to speak about",
    ]
    (row,) = program.json("calls", "tolmark")["rows"]
    assert (row["supplier"], row["jobs"], row["open_jobs"]) == ("tolmark", [], 0)


def test_calls_to_one_supplier_of_the_demo_show_what_presses_nobody(program):
    """Invented scenario, computed by plain day counting: smt-last has 29 spare days, up to Sun 3 Jan."""
    assert "orlice" not in program.out("calls")
    (row,) = program.json("calls", "orl")["rows"]
    (job,) = row["jobs"]
    assert (job["row"]["code"], job["why"], job["accept_by"]) == ("smt-last", [], "2026-12-18")


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("lark", "lark is our own bench: there is nobody to call"),
        ("licence", "licence is a job of qingsha, not a supplier"),
        ("nobody", "there is no supplier 'nobody'"),
    ],
)
def test_who_cannot_be_called_is_refused_in_words(program, word, said):
    assert said in program.refuses("calls", word, exit_code=2)


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

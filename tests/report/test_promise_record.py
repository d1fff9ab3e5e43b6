"""What became of every promise. Day 0 is Monday 1 June 2026; the shop's dates are in hand unless it says leaves."""

from dataclasses import replace

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import picture, printed
from tracker.plan.span import Span
from tracker.render.promises_text import write_promise_record
from tracker.report.promise_record import promise_record

CHAIN = "housing:5wd@shop pack:2 | housing>pack"
STARTED = fact("started", "housing", 0)


def promised(on, to, **fields):
    return fact("promised", "housing", on, day=to, **fields)


def record(*facts, supplier="", **more):
    return promise_record(picture(CHAIN, *facts, **more), supplier)


def fates(*facts, **more):
    (found,) = record(*facts, **more).suppliers
    return [(row.fate.became, row.fate.days) for row in found.jobs[0].promises]


@pytest.mark.parametrize(
    ("came", "fate"), [(3, ("kept", -1)), (4, ("kept", 0)), (5, ("came late", 1)), (14, ("came late", 10))]
)
def test_a_promise_is_kept_by_what_is_here_on_its_day_or_before(came, fate):
    assert fates(STARTED, promised(0, 4), fact("in", "housing", came, good=1), today=20) == [fate]


@pytest.mark.parametrize(("today", "fate"), [(2, ("open", 2)), (4, ("open", 0)), (5, ("no news", 1))])
def test_a_promise_of_which_nothing_came_is_open_until_its_day_has_passed(today, fate):
    assert fates(STARTED, promised(0, 4), today=today) == [fate]


@pytest.mark.parametrize(
    ("given", "to", "said"),
    [
        (2, 9, "moved by 5 days, said 2 days before it was due"),
        (4, 9, "moved by 5 days, said on the day it was due"),
        (7, 9, "moved by 5 days, said 3 days after it was due"),
        (2, 3, "brought forward by 1 day, said 2 days before it was due"),
        (2, 4, "said again Wed 3 Jun"),
    ],
)
def test_a_date_replaced_says_by_how_much_and_when_we_heard(given, to, said):
    seen = picture(CHAIN, STARTED, promised(0, 4), promised(given, to), today=8)
    assert said in printed(write_promise_record, promise_record(seen, ""))


@pytest.mark.parametrize(("came", "days"), [(3, (-1, -6)), (4, (0, -5))])
def test_goods_that_came_by_the_first_date_keep_it_whatever_was_said_later(came, days):
    facts = (STARTED, promised(0, 4), promised(2, 9), fact("in", "housing", came, good=1))
    assert fates(*facts, today=10) == [("kept", days[0]), ("kept", days[1])]


def test_a_date_brought_forward_and_missed_came_late_while_the_first_was_kept():
    facts = (STARTED, promised(0, 9), promised(1, 3), fact("in", "housing", 5, good=1))
    assert fates(*facts, today=10) == [("kept", -4), ("came late", 2)]


def test_slips_add_up_in_calendar_days_and_steps_back_do_not_make_up_for_them():
    facts = (STARTED, promised(0, 4), promised(1, 9), promised(2, 7), promised(3, 10), promised(3, 10))
    (found,) = record(*facts, today=3).suppliers
    assert (found.promises, found.kept, found.still_open, found.slips, found.slip_days) == (5, 0, 1, 2, 8)


PIECES = {"housing": {"quantity": 63}}


def test_a_part_that_came_is_told_from_the_rest_still_to_come():
    facts = (STARTED, promised(0, 4), fact("in", "housing", 4, good=52), promised(4, 9))
    assert fates(*facts, today=5, jobs=PIECES) == [("part came", 0), ("open", 4)]
    assert fates(*facts, today=12, jobs=PIECES) == [("part came", 0), ("no news", 3)]
    whole = (*facts, fact("in", "housing", 11, good=11))
    assert fates(*whole, today=12, jobs=PIECES) == [("part came", 0), ("came late", 2)]


@pytest.mark.parametrize(("on", "fate"), [(4, ("kept", 0)), (6, ("came late", 2))])
def test_a_promise_for_some_pieces_is_met_when_so_many_came(on, fate):
    parts = (fact("in", "housing", 3, good=20), fact("in", "housing", on, good=30))
    assert fates(STARTED, promised(0, 4, good=50), *parts, today=10, jobs=PIECES) == [fate]
    fewer = (fact("in", "housing", 3, good=20), fact("in", "housing", on, good=29))
    assert fates(STARTED, promised(0, 4, good=50), *fewer, today=10, jobs=PIECES)[0][0] == "part came"


LEAVES = (BENCH, replace(SHOP, dates_mean="leaves"))


@pytest.mark.parametrize(
    ("facts", "fate"),
    [
        ((fact("left", "housing", 4),), ("kept", 0)),
        ((fact("left", "housing", 6),), ("came late", 2)),
        ((fact("made", "housing", 3, good=1), fact("left", "housing", 6)), ("came late", 2)),
        ((fact("in", "housing", 8, good=1),), ("came late", 1)),  # three days on the road
        ((fact("in", "housing", 7, good=1),), ("kept", 0)),
    ],
)
def test_a_promise_to_leave_is_held_to_the_day_it_left_their_door(facts, fate):
    jobs = {"housing": {"travel": Span(3)}}
    assert fates(STARTED, promised(0, 4), *facts, today=10, jobs=jobs, suppliers=LEAVES) == [fate]


TRAVELS = {"jobs": {"housing": {"travel": Span(3)}}, "suppliers": LEAVES}


@pytest.mark.parametrize(
    ("travel", "came", "said"),
    [  # to leave on Friday the 5th
        (Span(3), 5, "kept: here Sat 6 Jun, 2 days before it was due here"),
        (Span(3), 7, "kept: here Mon 8 Jun, on the day it was due here"),
        (Span(3), 9, "here Wed 10 Jun, 2 days after it was due here"),
        (Span(2, "wd"), 8, "kept: here Tue 9 Jun, on the day it was due here"),
        (Span(2, "wd"), 9, "here Wed 10 Jun, 1 day after it was due here"),
    ],
)
def test_where_nobody_logged_the_leaving_the_day_it_came_is_judged(travel, came, said):
    jobs = {"housing": {"travel": travel}}
    facts = (STARTED, promised(0, 4), fact("in", "housing", came, good=1))
    seen = picture(CHAIN, *facts, today=12, jobs=jobs, suppliers=LEAVES)
    text = printed(write_promise_record, promise_record(seen, ""))
    assert text.splitlines()[-1].strip() == said
    assert "left" not in text
    assert record(*facts, today=12, jobs=jobs, suppliers=LEAVES).suppliers[0].jobs[0].came == day(came)


def test_a_part_of_what_was_to_leave_is_said_to_be_due_here():
    jobs = {"housing": {"travel": Span(3), "quantity": 63}}
    facts = (STARTED, promised(0, 4), fact("in", "housing", 6, good=40))
    seen = picture(CHAIN, *facts, today=8, jobs=jobs, suppliers=LEAVES)
    said = "a part came Sun 7 Jun, 1 day before it was due here"
    assert said in printed(write_promise_record, promise_record(seen, ""))


@pytest.mark.parametrize(
    ("given", "fate"), [(4, ("kept", 0)), (5, ("not judged", 0)), (8, ("not judged", 0))]
)
def test_a_promise_given_on_the_day_it_came_or_later_is_not_judged(given, fate):
    facts = (STARTED, fact("in", "housing", 5, good=1), promised(given, 5))
    facts = facts if given > 5 else (STARTED, promised(given, 5), fact("in", "housing", 5, good=1))
    assert fates(*facts, today=10, jobs={"housing": {"quantity": 1}}) == [fate]


def test_a_date_given_once_it_was_here_does_not_hide_that_the_one_before_came_late():
    facts = (STARTED, promised(0, 4), fact("in", "housing", 6, good=1), promised(6, 6))
    more = {"today": 10, "jobs": {"housing": {"quantity": 1}}}
    assert fates(*facts, **more) == [("came late", 2), ("not judged", 0)]
    (found,) = record(*facts, **more).suppliers
    assert (found.kept, found.came_late, found.slips, found.slip_days) == (0, 1, 0, 0)
    text = printed(write_promise_record, record(*facts, **more))
    assert "not judged: came Sun 7 Jun already" in text


def test_a_date_given_on_the_day_it_left_is_not_judged():
    assert fates(STARTED, promised(4, 4), fact("left", "housing", 4), today=10, **TRAVELS) == [
        ("not judged", 0)
    ]


def test_pieces_a_batch_was_closed_short_of_are_said():
    jobs = {"housing": {"quantity": 80}}
    facts = (STARTED, promised(0, 4), fact("in", "housing", 4, good=66, scrap=4, closes=True))
    text = printed(write_promise_record, record(*facts, today=5, jobs=jobs))
    assert text.splitlines()[-1].strip() == "kept: came Fri 5 Jun, on the day it was due, 10 short"
    whole = (STARTED, promised(0, 4), fact("in", "housing", 4, good=80, closes=True))
    assert "short" not in printed(write_promise_record, record(*whole, today=5, jobs=jobs))


def test_the_last_boards_of_the_demo_that_came_in_early_are_not_said_to_have_left(program):
    """Promised to leave on Fri 4 Dec, three days on the road: due here on Mon 7 Dec."""
    program("in", "smt-last", "70", "last", "on", "2026-12-01", "--today", "2026-12-01")
    out = program.out("promises", "orlice", "--today", "2026-12-01")
    assert "kept: here Tue 1 Dec, 6 days before it was due here, 10 short" in out
    assert "left" not in out


def test_a_lot_ready_in_time_that_waited_for_our_balance_was_in_time():
    jobs = {"housing": {"leave_when": ("balance",)}}
    facts = (STARTED, promised(0, 4), fact("made", "housing", 4, good=1), fact("left", "housing", 9))
    assert fates(*facts, today=10, jobs=jobs, suppliers=LEAVES) == [("kept", 0)]


def test_a_lot_still_on_the_road_has_not_kept_a_date_in_hand():
    jobs = {"housing": {"travel": Span(6)}}
    assert fates(STARTED, promised(0, 9), fact("finished", "housing", 4), today=9, jobs=jobs) == [("open", 0)]
    assert fates(STARTED, promised(0, 9), fact("finished", "housing", 4), today=10, jobs=jobs) == [
        ("came late", 1)
    ]


def test_what_is_not_wanted_any_more_breaks_no_promise():
    facts = (STARTED, promised(0, 4), fact("called_off", "housing", 3))
    seen = picture(CHAIN, *facts, today=20)
    assert "ended: not wanted any more" in printed(write_promise_record, promise_record(seen, ""))


def test_a_failed_gate_ends_the_date_given_for_it():
    text = "test:5wd@shop pack:2 | test>pack"
    facts = (
        fact("promised", "test", 0, day=9),
        fact("failed", "test", 4),
        fact("promised", "test", 4, day=15),
    )
    seen = picture(text, *facts, today=5, jobs={"test": {"gate": True}})
    (found,) = promise_record(seen, "").suppliers
    assert [row.fate.became for row in found.jobs[0].promises] == ["ended", "open"]


def test_promises_of_tomorrow_are_not_in_the_record():
    assert fates(STARTED, promised(0, 4), promised(3, 9), today=2) == [("open", 2)]


def test_one_supplier_or_all_and_nobody_else():
    mill = replace(SHOP, code="mill", name="The mill")
    text = "housing:5wd@shop plate:5wd@mill pack:2 | housing>pack plate>pack"
    facts = (promised(0, 4), fact("promised", "plate", 0, day=5, words="next Saturday"))
    seen = picture(text, *facts, suppliers=(BENCH, SHOP, mill))
    assert [one.supplier for one in promise_record(seen, "").suppliers] == ["shop", "mill"]
    assert [one.supplier for one in promise_record(seen, "mill").suppliers] == ["mill"]
    assert '"next Saturday"' in printed(write_promise_record, promise_record(seen, "mill"))
    assert "bench has not promised anything yet" in printed(
        write_promise_record, promise_record(seen, "bench")
    )
    assert "nobody has promised anything yet" in printed(
        write_promise_record, promise_record(picture(CHAIN), "")
    )


def test_the_worst_day_and_the_pieces_named_are_told():
    seen = picture(CHAIN, STARTED, promised(0, 4, worst=day(8), good=50), jobs=PIECES)
    text = printed(write_promise_record, promise_record(seen, ""))
    assert "promised Fri 5 Jun in hand, worst Tue 9 Jun, 50 pieces, given Mon 1 Jun" in text


def test_the_licence_of_the_demo_slipped_three_times(program):
    """Invented scenario: given 8 September for 16 October, then 6 and 20 November, now 4 December."""
    (found,) = program.json("promises", "qingsha")["suppliers"]
    rows = found["jobs"][0]["promises"]
    assert [row["promise"]["slip"] for row in rows] == [None, 21, 14, 14]
    assert [row["fate"]["became"] for row in rows] == ["moved", "moved", "moved", "open"]
    assert (found["promises"], found["kept"], found["slips"], found["slip_days"]) == (4, 0, 3, 49)


def test_the_glass_that_came_early_kept_its_second_date(program):
    program("in", "glass-sea", "268", "scrap", "2")
    out = program.out("promises", "marlgate")
    assert "2 promises, 1 kept; moved later once, 20 days in all" in out
    assert "moved by 20 days, said 13 days after it was due" in out
    assert "kept: came Tue 24 Nov, 2 days before it was due" in out


def test_a_supplier_nobody_knows_is_refused(program):
    assert "there is no supplier 'quingsha'" in program.refuses("promises", "quingsha", exit_code=2)


def test_what_left_before_a_date_was_given_cannot_have_kept_it():
    """A part came, and the rest was promised after the lot had been logged as left."""
    facts = (
        STARTED,
        fact("left", "housing", 4),
        fact("in", "housing", 7, good=40),
        promised(7, 11),
    )
    more = {"jobs": {"housing": {"travel": Span(3), "quantity": 63}}, "suppliers": LEAVES}
    assert fates(*facts, today=10, **more) == [("open", 1)]
    assert fates(*facts, today=13, **more) == [("no news", 2)]
    whole = (*facts, fact("in", "housing", 14, good=23))
    assert fates(*whole, today=15, **more) == [("kept", 0)]


def test_a_part_of_what_was_to_leave_is_held_to_the_day_it_must_have_left():
    jobs = {"housing": {"travel": Span(3), "quantity": 63}}
    facts = (STARTED, promised(0, 4), fact("in", "housing", 7, good=40))
    assert fates(*facts, today=8, jobs=jobs, suppliers=LEAVES) == [("part came", 0)]
    facts = (STARTED, promised(0, 4, good=40), fact("in", "housing", 8, good=40))
    assert fates(*facts, today=8, jobs=jobs, suppliers=LEAVES) == [("came late", 1)]


def test_a_lot_that_waited_for_us_is_said_to_be_made_not_to_have_left():
    facts = (STARTED, promised(0, 4), fact("made", "housing", 4, good=1), fact("left", "housing", 9))
    seen = picture(CHAIN, *facts, today=10, jobs={"housing": {"leave_when": ("balance",)}}, suppliers=LEAVES)
    assert "kept: made Fri 5 Jun, on the day it was due" in printed(
        write_promise_record, promise_record(seen, "")
    )

"""Each logging verb: its echo with weekday and full date, what it stores, what it moves."""

import shlex

import pytest

from tracker.plan.model import Fact
from tracker.store.database import open_store, reading
from tracker.store.load import load_plan
from tracker.words.verbs import VERBS

ON = "Tue 24 Nov 2026"


def facts(program, count=1):
    """The newest stored facts."""
    with reading(open_store(str(program.database))) as connection:
        return load_plan(connection).facts[-count:]


def kept(fact):
    """A fact without its day of logging and what it does not speak of."""
    names = [name for name in Fact.__slots__ if name not in ("on", "logged")]
    defaults = Fact(on=fact.on, kind="", logged=fact.logged)
    return {name: getattr(fact, name) for name in names if getattr(fact, name) != getattr(defaults, name)}


GOOD = [
    ("ordered wave-1-build 70 on mon", "wave-1-build ordered Mon 23 Nov 2026: 70 pieces",
     {"kind": "ordered", "job": "wave-1-build", "quantity": 70}),
    ("paid boxes", f"boxes payment sent {ON}", {"kind": "given", "job": "boxes", "what": "payment"}),
    ("approved boxes drawing", f"boxes drawing given {ON}", {"kind": "given", "job": "boxes", "what": "drawing"}),
    ("gave boxes day1 26nov", f"boxes day 1 in their own words Thu 26 Nov 2026 (given {ON})",
     {"kind": "given", "job": "boxes", "what": "day1"}),
    ("started look-over", f"look-over started {ON}", {"kind": "started", "job": "look-over"}),
    ('promised boxes 12jan said "after the break"',
     f'boxes promised for Tue 12 Jan 2027, in hand (given {ON}); said "after the break"',
     {"kind": "promised", "job": "boxes", "words": "after the break"}),
    ("promised licence fri", f"licence promised for Fri 27 Nov 2026, leaves (given {ON})",
     {"kind": "promised", "job": "licence"}),
    ("promised licence 11dec in hand", f"licence promised for Fri 11 Dec 2026, in hand (given {ON})",
     {"kind": "promised", "job": "licence", "means": "in hand"}),
    ("made finish-natural 96", f"finish-natural made {ON}: 96 good; 96 of 96 made", {"kind": "made", "job": "finish-natural", "good": 96}),
    ("left finish-natural", f"finish-natural left {ON}", {"kind": "left", "job": "finish-natural"}),
    ("in glass-sea 268 scrap 2 ref MF-1", f"glass-sea in {ON}: 268 good, 2 scrap; ref MF-1; 270 of 270 in, done",
     {"kind": "in", "job": "glass-sea", "good": 268, "scrap": 2, "ref": "MF-1"}),
    ("in glass-sea count 100", f"glass-sea in {ON}: 100 counted, not judged; 100 of 270 in, 170 to come, due here Thu 26 Nov",
     {"kind": "in", "job": "glass-sea", "count": 100}),
    ("in glass-sea 100", f"glass-sea in {ON}: 100 counted, not judged; 100 of 270 in, 170 to come, due here Thu 26 Nov",
     {"kind": "in", "job": "glass-sea", "count": 100}),
    ("in glass-sea good 250 last", f"glass-sea in {ON}: 250 good, the last of it; 250 of 270 in, done",
     {"kind": "in", "job": "glass-sea", "good": 250, "closes": True}),
    ("made wave-1-build 24", f"wave-1-build made {ON}: 24 good; 24 of 70 made, 46 to go",
     {"kind": "made", "job": "wave-1-build", "good": 24}),
    ('told wave-1 "early in the new year"', f'wave-1 told in words, no date (on {ON}); said "early in the new year"',
     {"kind": "told", "shipment": "wave-1", "words": "early in the new year"}),
    ("mailed varne", f"varne mailed {ON}", {"kind": "mailed", "supplier": "varne"}),
    ("finished look-over", f"look-over finished {ON}", {"kind": "finished", "job": "look-over"}),
    ("passed fit-check-c", f"fit-check-c passed {ON}", {"kind": "passed", "job": "fit-check-c"}),
    ('failed fit-check-d "bore tight"', f'fit-check-d FAILED {ON}; note "bore tight"',
     {"kind": "failed", "job": "fit-check-d", "note": "bore tight"}),
    ("paused licence until 7dec", f"licence paused {ON}, until Mon 7 Dec 2026 (the first day it may go on)",
     {"kind": "paused", "job": "licence"}),
    ("called-off rework-graphite", f"rework-graphite called off {ON}", {"kind": "called_off", "job": "rework-graphite"}),
    ("posted wave-1 24", f"wave-1 posted {ON}: 24 units", {"kind": "posted", "shipment": "wave-1", "good": 24}),
    ("told wave-1 10feb..20feb said mid-February",
     f'wave-1 told Wed 10 Feb 2027 to Sat 20 Feb 2027 (on {ON}); said "mid-February"',
     {"kind": "told", "shipment": "wave-1", "words": "mid-February"}),
    ('decided boxes "pay today"', f'boxes decided {ON}; note "pay today"',
     {"kind": "decided", "job": "boxes", "note": "pay today"}),
    ("decided second source it is", f'run decided {ON}; note "second source it is"',
     {"kind": "decided", "note": "second source it is"}),
    ("called marlgate again thu", f"marlgate called {ON}, again on Thu 26 Nov 2026",
     {"kind": "called", "supplier": "marlgate"}),
    ('note wave-2 "ask for swaps"', f'wave-2 note {ON}; note "ask for swaps"',
     {"kind": "note", "shipment": "wave-2", "note": "ask for swaps"}),
]  # fmt: skip


@pytest.mark.parametrize(("words", "echo", "stored"), GOOD, ids=[case[0] for case in GOOD])
def test_a_fact_is_read_back_with_weekday_and_full_date_and_stored(program, words, echo, stored):
    out = program.out(*shlex.split(words), width=200)
    first, _, marks = out.splitlines()[0].partition(" [entry 53")
    assert (first, marks) in ((echo, "]"), (echo, "; today is Tue 24 Nov 2026, kept with this run]"))
    found = kept(facts(program)[0])
    assert {name: value for name, value in found.items() if name not in ("day", "first")} == stored


def test_sorted_judges_what_was_counted_before(program):
    program("in", "glass-sea", "count", "100")
    out = program.out("sorted", "glass-sea", "97", "scrap", "3", width=200)
    assert out.startswith(f"glass-sea sorted {ON}: 97 good, 3 scrap; 100 of 270 in, 170 to come")
    counts = program.json("in", "glass-sea", "good", "1", "ref", "x")["counts"][0]
    assert (counts["good"], counts["scrap"], counts["unjudged"]) == (98, 3, 0)


def test_every_logging_verb_is_tried_here():
    tried = {case[0].split()[0] for case in GOOD} | {"sorted", "scrap"}  # scrap: test_scrap.py
    assert tried | {"resumed"} == set(VERBS)  # resumed needs a pause before it: see the next test


def test_on_and_note_may_be_given_as_options(program):
    program("started", "look-over", "--on", "mon", "--note", "first on the bench")
    (fact,) = facts(program)
    assert (fact.on.isoformat(), fact.note) == ("2026-11-23", "first on the bench")
    program("undo")
    program("started", "look-over", "on", "mon", "note", "first on the bench")
    assert facts(program) == (fact,)


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize(
    "words",
    [
        "promised licence 11dec", "promised licence 28jan", "promised licence 28jan said the office is shut then",
        "promised natural rework-graphite wed said Wednesday for sure", "paid boxes", "undo", "set licence name=Papers",
        "failed fit-check-d note bore", "note boxes " + "word " * 90, "called-off licence",
    ],
)  # fmt: skip
def test_an_answer_never_takes_more_than_six_lines_of_the_terminal(program, words, width):
    lines = program.out(*words.split(), width=width).splitlines()
    assert len(lines) <= 6
    assert max(map(len, lines)) <= width


def test_verbose_shows_what_a_short_answer_left_off(program):
    words = ("promised", "licence", "finish-natural", "rework-graphite", "smt-last", "28jan")
    short = program.out(*words).splitlines()
    program("undo")
    whole = program.out(*words, "-v")
    assert short[-1].endswith("more lines with -v)")
    assert "licence > air-freight > trial" in whole
    assert "harmless until" in whole
    assert "more line" not in whole


def test_a_short_answer_still_shows_every_shipment_that_moves(program):
    out = program.out("promised", "licence", "28jan")
    assert "wave-1 moves Thu 14 Jan -> Tue 23 Mar (+68 days)" in out
    assert "wave-2 moves Fri 5 Feb -> Mon 19 Apr (+73 days)" in out


def test_news_that_moves_nothing_is_answered_in_one_line(program):
    out = program.out("promised", "finish-natural", "4dec", width=120)
    assert (
        out.splitlines()[1]
        == "no shipment moves; finish-natural ready Fri 4 Dec, harmless until Tue 5 Jan (32 spare days)"
    )


def test_an_edit_that_moves_nothing_says_so_too(program):
    assert "no shipment moves" in program.out("set", "boxes", "name=Boxes")
    assert "no shipment moves" in program.out("undo")


def test_all_promises_are_kept(program):
    for word in ("27nov", "1dec", "2dec"):
        program("promised", "licence", word)
    promised = [row["day"] for row in program.json("licence")["promises"]]
    assert promised == [
        "2026-10-16", "2026-11-06", "2026-11-20", "2026-12-04", "2026-11-27", "2026-12-01", "2026-12-02",
    ]  # fmt: skip
    assert program.job("licence")["promise"] == "2026-12-02"


def test_a_promise_given_earlier_than_the_live_one_is_kept_and_changes_nothing(program):
    before = program.dates()
    out = program.out("promised", "licence", "18dec", "on", "18nov", width=160)
    assert "an older promise: the live one, given Thu 19 Nov 2026, is unchanged" in out
    assert program.dates() == before


def test_a_promise_its_inputs_cannot_meet_is_answered_with_the_earliest_day_and_why(program):
    out = program.out("promised", "air-freight", "30nov", width=120)
    assert "CANNOT HOLD: earliest is Wed 16 Dec 2026, because it waits for licence" in out
    assert program.job("air-freight")["flags"] == ["LATE", "CANNOT HOLD"]


def test_a_promise_that_lies_in_their_closure_is_remarked_on(program):
    out = program.out("promised", "licence", "28jan", width=120)
    assert "qingsha is shut to Sun 21 Feb 2027: counts from Mon 22 Feb 2027" in out


def test_a_day_they_leave_on_moves_to_their_next_working_day_unless_exactly(program):
    out = program.out("promised", "licence", "5dec", width=120)
    assert "licence counts from their next working day, Mon 7 Dec 2026 ('exactly' keeps the day)" in out
    assert program.job("licence")["finish"] == "2026-12-07"
    out = program.out("promised", "licence", "5dec", "exactly", width=120)
    assert "moved to" not in out
    assert program.job("licence")["finish"] == "2026-12-05"


def test_calling_a_job_off_names_the_links_it_drops(program):
    out = program.out("called-off", "rework-graphite")
    assert "links dropped: look-over no longer waits for rework-graphite" in out
    assert program.job("rework-graphite")["state"] == "CALLED OFF"
    assert program.job("look-over")["driven_by"] == ["finish-natural"]
    program("resumed", "rework-graphite")
    assert program.job("rework-graphite")["state"] == "IN WORK"


def test_a_failed_gate_with_no_second_attempt_says_so(program):
    assert "no second attempt is planned: emc is forecast as tried again" in program.out(
        "failed", "emc", width=120
    )
    assert program.job("emc")["state"] == "FAILED"


def test_something_given_that_the_job_does_not_wait_for_is_remarked_on(program):
    out = program.out("gave", "boxes", "material", width=200)
    assert (
        "boxes does not wait for material, so no date rests on this (tracker set boxes clock+=material)"
        in out
    )


def test_a_delivery_with_a_rest_makes_a_promise_for_it(program):
    out = program.out(
        "in", "finish-natural", "52", "rework", "5", "scrap", "3", "rest", "thu", "ref", "4471", width=200
    )
    delivery, promise = facts(program, 2)
    assert (delivery.kind, delivery.good, delivery.rework, delivery.scrap, delivery.ref) == (
        "in",
        52,
        5,
        3,
        "4471",
    )
    assert (promise.kind, promise.day.isoformat(), promise.job) == (
        "promised",
        "2026-11-26",
        "finish-natural",
    )
    assert "60 of 96 in, 36 to come" in out
    assert program.job("finish-natural")["state"] == "PART IN"


def test_several_jobs_take_one_promise(program):
    program("promised", "natural", "rework-graphite", "1dec")
    assert [fact.job for fact in facts(program, 2)] == ["finish-natural", "rework-graphite"]


def test_undo_and_the_same_again_leaves_the_forecast_as_it_was_and_both_in_the_diary(program):
    start = program.json("forecast")
    program("promised", "licence", "11dec")
    moved = program.json("forecast")
    assert moved != start
    program("undo")
    assert program.json("forecast") == start
    program("promised", "licence", "11dec")
    assert program.json("forecast") == moved
    diary = program.json("diary")[:3]
    assert [entry["command"] for entry in diary] == [
        "promised licence 11dec",
        "undo",
        "promised licence 11dec",
    ]
    assert (diary[1]["undoes"], diary[2]["undone_by"]) == (53, 54)


def test_undoing_an_undo_does_it_again(program):
    program("promised", "licence", "11dec")
    program("undo")
    program("undo", "54")
    assert program.dates()["wave-2"] == "2027-02-12"


def test_an_entry_keeps_the_shipment_dates_it_printed(program):
    program("promised", "licence", "11dec")
    assert program.json("diary")[0]["shipments"] == [["wave-1", "2027-01-20"], ["wave-2", "2027-02-12"]]


def test_the_same_promise_typed_twice_is_stored_once(program):
    program("promised", "licence", "11dec")
    before = program.rows()
    assert "already logged as entry 53; nothing was stored again" in program.out(
        "promised", "licence", "11dec"
    )
    assert program.rows() == before


def test_a_delivery_typed_twice_is_refused_and_stored_only_with_again_or_its_own_note(program):
    program("in", "finish-natural", "10")
    message = program.refuses("in", "finish-natural", "10", exit_code=1)
    assert "is in the diary already, as entry 53" in message
    assert "again" in message
    program("in", "finish-natural", "10", "again")
    program("in", "finish-natural", "10", "ref", "V-2")
    counts = program.json("in", "finish-natural", "1")["counts"][0]
    assert counts["unjudged"] == 31


def test_the_order_of_day_and_month_is_said_once(program):
    program("set", "run", "dates=")
    message = program.refuses("promised", "licence", "4/12", exit_code=2)
    assert "4dec or 12apr" in message
    program("set", "run", "dates=day first")
    assert "Fri 4 Dec 2026" in program.out("promised", "licence", "4/12", "said", "again")


def test_the_answer_says_that_the_status_date_is_kept_with_the_run_only_when_it_is(program):
    assert "kept with this run" in program.out("note", "boxes", "x")
    assert "status date Mon 23 Nov 2026, as typed" in program.out(
        "note", "boxes", "y", "--today", "2026-11-23"
    )


def test_a_run_that_keeps_its_own_today_moves_with_what_is_logged_later(program):
    out = program.out("note", "boxes", "x", "--today", "1dec")
    assert "this run's own today moves on to Tue 1 Dec 2026" in out
    assert program.json("forecast", "--json")["today"] == "2026-12-01"


@pytest.mark.parametrize(
    "words",
    [
        "promised licence 11dec", "in glass-sea 268", "undo", "set boxes lead=12wd", "called marlgate", "posted wave-1 3",
        "add supplier newshop", "remove licence-x",
    ],
)  # fmt: skip
def test_every_write_answers_as_one_json_document(program, words):
    if words.startswith("remove"):
        program("add", "job", "licence-x", "supplier=lark", "lead=1wd")
    document = program.json(*words.split())
    assert {"today", "entry", "facts", "moves", "remarks", "harmless"} <= set(document)


def test_a_caution_about_sequence_is_never_the_line_left_off(program):
    out = program.out(
        "started", "wave-1-build", "note", "a long note that takes room on the narrow screen, on and on"
    )
    assert "out of sequence: trial, " in out
    assert "not done yet" in out


def test_undo_is_not_refused_for_what_was_wrong_before_it(program):
    """Facts logged for a later day than the clock's stay later whatever is undone."""
    program("set", "run", "today=")
    program("note", "boxes", "x", "--today", "2026-12-05")
    program("note", "boxes", "y", "--today", "2026-12-05")
    assert "taken back: note boxes x" in program.out("undo", "54", "--today", "2026-11-25")


def test_a_shipments_code_is_never_taken_for_a_job_that_begins_with_it(program):
    said = program.refuses("called-off", "wave-2", exit_code=2)
    assert "wave-2 is a shipment, and a job is meant here" in said
    assert "wave-2-build" in said

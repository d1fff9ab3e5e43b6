"""What an answer adds of its own: how a fact was read, what it closes, what it runs against."""

import shlex

import pytest

from tests.cli.small import SMALL


@pytest.mark.parametrize(
    ("words", "remark"),
    [
        ("in licence 5", "5 counted, not judged; no quantity is set, so this counts as all of it"),
        ("made finish-natural 60", "60 good; 60 of 96 made, 36 to go"),
        ("in finish-natural", "finish-natural in Tue 24 Nov 2026; not counted, done"),
        ("called-off licence", "links dropped: air-freight no longer waits for licence"),
        (
            "called-off licence",
            "air-freight now waits for no job but for parts: tracker set air-freight after=JOB",
        ),
        ("posted wave-1 81", "81 of 80 units of wave-1 are posted now, more than it holds"),
        ("posted wave-1 24", "out of sequence: pack-1 not done yet; what was logged counts all the same"),
        ("note hello there", "'hello' is no code here, so this is kept on the run as a whole"),
        ("decided second source", "'second' is no code here, so this is kept on the run as a whole"),
        ("promised licence 5dec exactly", "promised for Sat 5 Dec 2026, leaves, exactly that day"),
        ("promised licence 20nov 2026", "Fri 20 Nov 2026 has passed already: counted as today at best"),
        ("gave licence papers", "licence does not wait for papers, so no date rests on this"),
        ("posted wave-1 1", "wave-1 posted Tue 24 Nov 2026: 1 unit ["),
        ("ordered wave-1-build 1", "wave-1-build ordered Tue 24 Nov 2026: 1 piece ["),
        ("promised boxes 1 for 12jan", "in hand, 1 piece (given"),
        ("promised natural 97 fri", "97 is more than the 96 of finish-natural still to come"),
        ("posted wave-2 10", "taken as packed-graphite first, then packed-natural: say 'of PART' where not"),
        ("made wave-2-build 24", "taken as unit-graphite first, then unit-natural: say 'of PART' where not"),
    ],
)
def test_a_fact_is_remarked_on_where_its_reading_could_surprise(program, words, remark):
    assert remark in program.out(*words.split(), "-v", width=200)


@pytest.mark.parametrize(
    ("words", "remark"),
    [
        ("in finish-natural 60", "no quantity"),
        ("promised natural 96 fri", "more than"),
        ("posted wave-2 148", "taken as"),
        ("posted wave-1 10", "taken as"),
        ("made wave-2-build 24 of unit-natural", "taken as"),
        ("made finish-natural 96", "to go"),
        ("made finish-natural", "of 96"),
        ("called-off finish-natural", "waits for nothing"),  # look-over still waits for the other finish
        ("posted wave-1 80", "more than"),
        ("note run hello", "no code"),
        ("note boxes hello", "no code"),
        ("promised licence 4dec", "exactly"),
        ("started air-freight", "licence, "),
    ],
)
def test_a_fact_that_reads_plainly_is_not_remarked_on(program, words, remark):
    assert remark not in program.out(*words.split(), "-v", width=200)


def test_a_note_on_the_run_is_kept_without_the_word_run(program):
    assert program.out("note", "run", "hello").startswith('run note Tue 24 Nov 2026; note "hello" [entry 53]')
    assert program.out("note", "hello", "there").startswith('run note Tue 24 Nov 2026; note "hello there"')


def test_closing_a_job_part_of_which_came_says_what_was_never_counted(program):
    program("in", "finish-natural", "20")
    out = program.out("in", "finish-natural", width=200)
    assert "20 of 96 in, done" in out
    assert "closed without a count: 76 of 96 pieces were never counted in" in out


def test_a_payment_says_when_it_is_credited_where_the_bank_takes_days(program):
    """Sent on Tuesday 24 November, two of their working days later is Thursday."""
    assert "credited" not in program.out("paid", "boxes")
    program("undo")
    program("set", "moinho", "bank=2wd")
    assert "credited Thu 26 Nov 2026, after 2wd at the bank" in program.out("paid", "boxes", width=200)
    assert program.job("boxes")["start"] == "2026-11-27"


def test_a_payment_credited_over_their_closure_counts_their_own_days(program):
    """Sent on Friday 20 November with 7 working days: Tuesday 1 December is closed there, so Wednesday."""
    program("set", "moinho", "bank=7wd")
    assert "credited Wed 2 Dec 2026" in program.out("paid", "boxes", "on", "20nov", width=200)


@pytest.mark.parametrize(("kind", "remarked"), [("start-start", False), ("finish-start", True)])
def test_only_a_link_from_the_end_of_a_job_is_out_of_sequence_before_it_is_done(
    empty, tmp_path, kind, remarked
):
    """Work that may begin beside another job does not wait for its end."""
    (tmp_path / "plan.toml").write_text(
        SMALL.replace('["housing"]', f'[{{ job = "housing", kind = "{kind}" }}]')
    )
    empty("new")
    empty("read", "plan.toml")
    assert ("out of sequence: housing not done yet" in empty.out("started", "pack")) is remarked


@pytest.mark.parametrize("words", ["approved boxes", "gave trial"])
def test_a_condition_without_a_word_is_asked_for_where_nothing_of_it_is_missing(program, words):
    verb, job = words.split()
    message = program.refuses(verb, job, exit_code=2)
    assert f"{verb} {job} what? it waits for nothing of that kind" in message
    assert "say one of: " in message


def test_a_condition_without_a_word_is_asked_for_where_two_are_missing_and_read_where_one_is(program):
    program("set", "trial", "clock=proof,drawing")
    message = program.refuses("approved", "trial", exit_code=2)
    assert "approved trial what? it waits for proof and drawing" in message
    program("approved", "trial", "proof")
    assert program.out("approved", "trial").startswith("trial drawing given Tue 24 Nov 2026")


def test_what_is_added_says_added_and_what_is_removed_says_removed(program):
    added = program.out("add", "job", "foam", "supplier=brenta", "lead=3wd", width=200)
    assert added.startswith("job foam added: supplier brenta, lead 3wd [entry 53]")
    removed = program.out("remove", "foam", width=200)
    assert removed.startswith("job foam removed: supplier brenta, lead 3wd [entry 54]")
    assert program.out("set", "boxes", "lead=12wd").startswith("job boxes: lead 20wd -> 12wd")


@pytest.mark.parametrize(
    ("words", "change"),
    [
        ("set boxes not_before=4dec", "not_before not set -> Fri 4 Dec 2026"),
        ("set boxes not_before=fri", "not_before not set -> Fri 27 Nov 2026"),
        ("set boxes not_before=4/12", "not_before not set -> Fri 4 Dec 2026"),
        ("set boxes not_before=2026-12-04", "not_before not set -> Fri 4 Dec 2026"),
        ("set tolmark 'closures=21dec..4jan shutdown'", "-> Mon 21 Dec 2026 to Mon 4 Jan 2027 shutdown"),
        ("set tolmark closures=21dec", "-> Mon 21 Dec 2026"),
        ("set tolmark 'closures=24dec..4jan works holiday,8dec fair'", "-> Thu 24 Dec 2026 to Mon 4 Jan 2027 works holiday, Tue 8 Dec 2026 fair"),
        ("set tolmark opens=sat", "-> Sat 28 Nov 2026"),
        ("set run today=+1", "-> Wed 25 Nov 2026"),
    ],
)  # fmt: skip
def test_dates_of_an_edit_are_typed_like_any_other(program, words, change):
    assert change in program.out(*shlex.split(words), width=300)


def test_an_edit_with_a_date_that_does_not_exist_is_refused(program):
    assert "no day 30" in program.refuses("set", "boxes", "not_before=30feb", exit_code=2)
    assert "'soon' is not a date" in program.refuses("set", "boxes", "not_before=soon", exit_code=1)


def test_keeping_the_plan_answers_as_one_json_document(program):
    document = program.json("keep-plan", "--yes")
    assert document["entry"] == 53
    assert document["moves"] == []
    assert document["remarks"] == [
        "first plan replaced: last parcel Fri 5 Feb 2027; 'tracker undo 53' takes it back"
    ]


def test_undo_of_what_much_rests_on_names_three_entries_and_the_one_to_begin_with(program):
    message = program.refuses("undo", "1", exit_code=1)
    assert message.startswith("error: entry 1 (read ")
    assert " cannot be undone: 42 entries, and last of all entry 50 (" in message
    assert " rest on it\nhint: undo them, the last one first: 'tracker undo 52'" in message
    assert message.count("entry ") == 4


@pytest.mark.parametrize("number", ["abc", "1.5", "5x", "\u00b2", "\u0665"])
def test_undo_of_no_number_is_refused_in_a_sentence(program, number):
    message = program.refuses("undo", number, exit_code=2)
    assert message.startswith(f"error: undo takes the number of an entry, found '{number}'\nhint: ")


def test_a_held_back_promise_is_named_by_the_day_given_not_by_its_arrival(empty):
    """What a chain begins with is the day they said, also where travel follows."""
    run_abroad(empty)
    empty("promised", "rings", "8jan", "--today", "2026-11-02")
    held = empty.json("forecast", "--json", "--today", "2026-11-02")["shipments"][0]["held_by"]
    assert (held["job"], held["reason"]) == ("rings", "promise")
    assert "promised Fri 8 Jan" in empty.out("--today", "2026-11-02")
    assert "17 Jan" not in empty.out("rings", "--today", "2026-11-02").partition("because")[2].splitlines()[0]


def test_a_promise_that_cannot_hold_is_answered_in_their_own_way_of_counting(empty):
    run_abroad(empty)
    out = empty.out("promised", "rings", "3nov", "--today", "2026-11-02", width=200)
    assert "CANNOT HOLD: earliest is leaving Fri 13 Nov 2026, here Sun 22 Nov 2026" in out
    assert "payment is not given" in out


def test_a_lot_made_in_time_is_not_called_silent_while_it_waits_for_our_money(empty):
    run_abroad(empty)
    empty("ordered", "rings", "--today", "2026-11-02")
    empty("paid", "rings", "--today", "2026-11-02")
    empty("promised", "rings", "30nov", "--today", "2026-11-10")
    empty("made", "rings", "on", "2026-11-27", "--today", "2026-11-30")
    row = next(
        one
        for one in empty.json("forecast", "--json", "--today", "2026-12-04")["jobs"]
        if one["code"] == "rings"
    )
    assert "NO NEWS" not in row["flags"]


def test_moves_of_days_passed_are_told_when_a_kept_today_moves_on(program):
    out = program.out("paid", "boxes", "--today", "1dec", width=120)
    assert "wave-1 moves Thu 14 Jan -> Tue 19 Jan (+5 days)" in out


def test_a_failed_gate_says_so_on_the_board_whatever_its_flags(program):
    program("set", "look-over", "gate=true")
    program("failed", "look-over", "scratched")
    line = next(line for line in program.out(width=160).splitlines() if line.strip().startswith("look-over"))
    assert "FAILED" in line


def run_abroad(empty):
    """A run whose magnets travel nine days and whose dates mean leaving, unpaid and unordered."""
    empty("new", "lamp", "quantity=40", "start=2026-11-02", "--today", "2026-11-02")
    empty("add", "supplier", "ring-maker", "dates_mean=leaves", "--today", "2026-11-02")
    empty("add", "supplier", "bench", "inhouse=true", "--today", "2026-11-02")
    empty(
        "add", "job", "rings", "supplier=ring-maker", "lead=9wd", "travel=9cd", "clock=order,payment",
        "leave_when=balance", "--today", "2026-11-02",
    )  # fmt: skip
    empty("add", "job", "build", "supplier=bench", "lead=3wd", "after=rings", "--today", "2026-11-02")
    empty("add", "shipment", "first", "quantity=40", "after=build", "--today", "2026-11-02")


def test_a_failure_older_than_a_pass_is_told_to_change_nothing(program):
    out = program.out("failed", "fit-check-d", "on", "1aug", "-v", width=200)
    assert "an older result: fit-check-d has passed since, and that stands" in out
    assert "second attempt" not in out


def test_a_second_pass_is_refused_as_it_would_move_dates_unasked(program):
    message = program.refuses("passed", "fit-check-d", exit_code=1)
    assert "fit-check-d: passed is logged already, for Fri 7 Aug 2026" in message


def test_a_day_to_leave_given_after_it_left_is_told_to_move_nothing(program):
    program("left", "licence", "on", "mon")
    out = program.out("promised", "licence", "11dec", "-v", width=200)
    assert "it left on Mon 23 Nov 2026, so a day to leave moves nothing: say 'hand'" in out


def test_an_older_promise_is_not_said_to_count_today(program):
    out = program.out("promised", "licence", "20nov", "2026", "on", "5nov", "-v", width=200)
    assert "an older promise: the live one, given Thu 19 Nov 2026, is unchanged" in out
    assert "counted as today" not in out

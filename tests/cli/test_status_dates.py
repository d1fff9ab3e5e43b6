"""The day a run is seen from: kept with the run, typed for one command, moved on by what is logged."""

import pytest

from tests.cli.small import SMALL

AHEAD = SMALL.replace("start = 2026-06-01", "start = 2027-02-01").replace("2026-06-10", "2026-11-24")


@pytest.fixture
def ahead(empty, tmp_path):
    """A run that begins in ten weeks."""
    (tmp_path / "plan.toml").write_text(AHEAD, encoding="utf-8")
    empty("new")
    empty("read", "plan.toml")
    return empty


def test_a_day_set_for_the_run_is_answered_on_that_day_and_the_moves_are_shown(program):
    out = program.out("set", "run", "today=2026-12-01", width=200)
    assert "run ebb-1: today Tue 24 Nov 2026 -> Tue 1 Dec 2026" in out
    assert "wave-1 moves Thu 14 Jan -> Tue 19 Jan (+5 days)" in out
    assert "today is Tue 1 Dec 2026, kept with this run" in out
    assert program.json("forecast")["today"] == "2026-12-01"


def test_the_move_an_edit_of_today_shows_is_the_one_the_boards_before_and_after_show(program):
    before, after = program.dates(), program.dates("--today", "2026-12-08")
    moves = {move["shipment"]: move for move in program.json("set", "run", "today=2026-12-08")["moves"]}
    assert {code: (move["before"], move["after"]) for code, move in moves.items()} == {
        code: (before[code], after[code]) for code in before if before[code] != after[code]
    }
    assert program.dates() == after


def test_many_facts_after_a_day_set_for_the_run_are_one_problem(program):
    message = program.refuses("set", "run", "today=2026-11-01", exit_code=1)
    assert "has 1 problem" in message
    assert "25 facts lie after today (2026-11-01), the latest on 2026-11-20" in message


def test_a_fact_or_two_after_the_day_set_are_named(program):
    program("note", "boxes", "x")
    message = program.refuses("set", "run", "today=2026-11-23", exit_code=1)
    assert "fact note boxes 2026-11-24: on is 2026-11-24, which comes after today (2026-11-23)" in message


def test_what_is_logged_past_a_kept_today_moves_it_by_an_entry_of_its_own(program):
    out = program.out("note", "boxes", "x", "--today", "1dec")
    assert "this run's own today moves on to Tue 1 Dec 2026" in out
    newest, moved = program.json("diary")[:2]
    assert (newest["command"], moved["command"]) == ("note boxes x", "set run today=2026-12-01")


def test_undoing_what_was_logged_leaves_the_day_moved_and_undoing_once_more_takes_it_back(program):
    program("note", "boxes", "x", "--today", "1dec")
    program("undo")
    assert program.json("forecast")["today"] == "2026-12-01"
    program("undo")
    assert program.json("forecast")["today"] == "2026-11-24"


def test_what_is_logged_for_an_earlier_day_moves_nothing_kept(program):
    program("note", "boxes", "x", "--today", "2026-11-23")
    assert program.json("forecast")["today"] == "2026-11-24"
    assert len(program.json("diary")) == 53


def test_a_run_without_a_day_of_its_own_gets_none_by_logging(program):
    program("set", "run", "today=")
    program("note", "boxes", "x", "--today", "2026-12-01")
    assert [entry["command"] for entry in program.json("diary")[:2]] == ["note boxes x", "set run today="]


def test_a_status_date_reads_forward_from_the_runs_own_day(program):
    """The 24th is a Tuesday: the Friday after it, the third day after it, the first of December after it."""
    days = {word: program.json("forecast", "--today", word)["today"] for word in ("fri", "+3", "1dec", "tue")}
    assert days == {"fri": "2026-11-27", "+3": "2026-11-27", "1dec": "2026-12-01", "tue": "2026-12-01"}


def test_a_status_date_just_past_is_not_taken_for_next_year(program):
    message = program.refuses("note", "boxes", "x", "--today", "20nov", exit_code=2)
    assert "'20nov' looks forward to Sat 20 Nov 2027" in message


def test_a_typed_status_date_is_read_back(program):
    program("set", "run", "today=")
    out = program.out("note", "boxes", "x", "--today", "2026-12-01")
    assert "status date Tue 1 Dec 2026, as typed" in out
    assert "as typed" in program.out("--today", "2026-12-01", "set", "boxes", "name=Boxes")
    assert program.json("note", "boxes", "y", "--today", "2026-12-02")["typed_today"] is True


@pytest.mark.parametrize("day", ["1989-12-31", "2101-01-01"])
def test_a_status_date_out_of_all_years_is_refused(program, day):
    assert "is out of the years 1990 to 2100" in program.refuses(
        "note", "boxes", "x", "--today", day, exit_code=2
    )


def test_the_demo_is_built_on_its_own_day_whatever_status_date_is_typed(empty, tmp_path):
    out = empty.out("--today", "2026-12-08", "demo", "--in", ".")
    assert "glass-sea in Tue 24 Nov 2026" in out
    empty.database = tmp_path / "demo_db" / "demo.sqlite"
    assert empty.json("forecast")["today"] == "2026-11-24"


def test_a_file_that_names_no_day_and_no_order_of_dates_leaves_the_stored_ones(ahead, tmp_path):
    ahead("set", "run", "dates=day first")
    file = AHEAD.replace("today = 2026-11-24\n", "").replace('"10wd"', '"12wd"')
    (tmp_path / "plan.toml").write_text(file, encoding="utf-8")
    result = ahead("read", "plan.toml", "--yes")
    assert "~ job housing: lead 10wd -> 12wd" in result.stderr
    assert "~ run" not in result.stderr
    assert ahead.json("forecast")["today"] == "2026-11-24"
    assert "Fri 4 Dec 2026" in ahead.out("promised", "housing", "4/12")


def test_promises_for_days_before_a_run_begins_are_read(ahead):
    out = ahead.out("promised", "housing", "4dec", width=200)
    assert out.startswith("housing promised for Fri 4 Dec 2026, in hand (given Tue 24 Nov 2026)")
    assert "housing ordered Mon 23 Nov 2026" in ahead.out("ordered", "housing", "on", "2026-11-23")


def test_days_that_passed_with_a_command_are_told_apart_from_what_it_did(program):
    """Six working days of an unpaid deposit cost wave 1 as many; a note moves nothing by itself."""
    answer = program.json("note", "boxes", "nothing new", "--today", "2026-12-02")
    moved = {one["shipment"]: one["days"] for one in answer["moves"]}
    assert moved["wave-1"] > 0
    told = ", ".join(f"{code} {days:+d} days" for code, days in moved.items())
    assert f"of this the 8 days since Tue 24 Nov 2026 alone make: {told}" in answer["remarks"]

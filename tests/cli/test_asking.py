import json
import subprocess
import sys

import pytest

ASK = ["", "forecast", "late", "calls", "weeks", "weeks --whole", "diary", "diary read", "licence", "boxes", "moinho",
       "wave-1", "fit-check-c", "lark"]  # fmt: skip


@pytest.mark.parametrize("words", ASK)
def test_every_question_answers_as_one_json_document(program, words):
    result = program(*words.split(), "--json")
    assert json.loads(result.stdout)
    assert result.stderr == ""


@pytest.mark.parametrize("words", ASK)
def test_asking_changes_nothing_and_answers_the_same_twice(program, words):
    before = program.rows()
    first = program.out(*words.split())
    assert program.out(*words.split()) == first
    assert program.rows() == before


@pytest.mark.parametrize("words", ["", "forecast", "late", "calls", "weeks", "licence", "wave-1"])
def test_every_forecast_can_be_asked_for_another_day(program, words):
    out = program.out(*words.split(), "--today", "2026-12-08", "--json")
    assert json.loads(out)["today"] == "2026-12-08"
    if words:
        assert program.out("--today", "2026-12-08", *words.split(), "--json") == out


def test_a_day_without_news_makes_the_dates_at_best(program):
    document = program.json("forecast", "--today", "2026-12-08")
    assert set(document["at_best"]) == {
        "finish-natural",
        "glass-sea",
        "licence",
        "rework-graphite",
        "smt-last",
    }
    assert "AT BEST: no news from" in program.out("--today", "2026-12-08", width=120)


@pytest.mark.parametrize(
    ("typed", "whole"),
    [("fore", "forecast"), ("dia", "diary"), ("lic", "licence"), ("LICENCE", "licence"), ("wee", "weeks"),
     ("show licence", "licence"), ("air", "air-freight"), ("moi", "moinho"), ("wave-2", "show wave-2")],
)  # fmt: skip
def test_beginnings_of_verbs_and_codes_will_do(program, typed, whole):
    assert program.out(*typed.split()) == program.out(*whole.split())


def test_a_whole_code_wins_over_a_verb_it_begins(program):
    program("add", "job", "made-up", "supplier=lark", "lead=1wd")
    program("add", "job", "fore", "supplier=lark", "lead=1wd")
    assert program.out("fore").startswith("fore ")
    assert "begins several verbs or codes" in program("mad", exit_code=2).stderr


def test_a_logging_verb_may_be_shortened_and_names_the_whole_code(program):
    assert program.out("prom", "lic", "11dec").startswith("licence promised for Fri 11 Dec 2026")


@pytest.mark.parametrize(
    "words", ["", "forecast", "late", "calls", "weeks", "licence", "moinho", "diary", "in glass-sea 5"]
)
def test_piped_output_carries_no_escape_codes(program, words):
    result = subprocess.run(
        [sys.executable, "-m", "tracker", "--db", str(program.database), *words.split()],
        capture_output=True, text=True, check=False, env={"PATH": "", "TERM": "xterm-256color"},
    )  # fmt: skip
    assert result.returncode == 0
    assert "\x1b" not in result.stdout + result.stderr


@pytest.mark.parametrize(
    ("variables", "coloured"), [({}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)]
)
def test_colour_is_for_terminals_that_want_it(monkeypatch, variables, coloured):
    from tracker.cli import session

    class Terminal:
        def isatty(self):
            return True

    monkeypatch.setattr(session.sys, "stdout", Terminal())
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    assert session.paper().colour is coloured


def test_the_diary_shows_the_newest_twenty_unless_asked_for_all(program):
    short = program.out("diary").splitlines()
    assert short[-1] == "32 older entries: tracker diary --all"
    assert "older entries" not in program.out("diary", "--all")


def test_the_version_and_the_help_need_no_database(empty):
    assert empty.out("--version").startswith("tracker ")
    for command in ("--help", "in --help", "forecast -h"):
        assert "Example: tracker" in empty.out(*command.split())
    assert not empty.database.exists()


def test_a_code_is_sought_in_the_database_named_before_it(program):
    """A fresh process, where no earlier command has named the database."""
    program("add", "job", "nearby", "supplier=lark", "lead=1wd")
    command = [sys.executable, "-m", "tracker", "--db", str(program.database), "nea"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, "'nea' begins several verbs or codes: near, nearby" in done.stderr) == (2, True)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("prom licence 11dec", "licence promised for Fri 11 Dec 2026"),
        ("call marlgate again thu", "marlgate called Tue 24 Nov 2026, again on Thu 26 Nov 2026"),
        ("call", "calls on Tue 24 Nov 2026"),
        ("prom", "promises up to Tue 24 Nov 2026"),
        ("mai varne", "Subject: "),
    ],
)
def test_a_beginning_shared_by_verbs_is_settled_by_the_words_after_it(program, words, said):
    assert program.out(*words.split()).startswith(said)

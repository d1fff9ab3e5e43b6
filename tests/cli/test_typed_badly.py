"""Words no one should type: each gets one sentence, and nothing is stored."""

import sys

import pytest
from typer.testing import CliRunner

from tracker.cli import logging_facts
from tracker.cli.app import app


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("promised licence 4dec worst 1dec", "the worst day, 2026-12-01, comes before the day promised"),
        ("promised licence 2126-12-04", "names the year 2126, far from this run of 2026"),
        ("started look-over on 2000-11-20", "names the year 2000, far from this run of 2026"),
        ("in boxes on 20nov 2000", "a number of pieces comes before the date"),
        ("told wave-1 2046-01-10..2046-01-20", "names the year 2046"),
        ("in finish-natural rest thu", "no pieces came: how many are in?"),
        ("in finish-natural 0", "in of no pieces says nothing"),
        ("in finish-natural 5 on mon on tue", "on comes a second time"),
        ("in glass-sea 5 --foo", "there is no option '--foo'"),
        ("started --foo trial", "there is no option '--foo'"),
        ("in glass-sea 9999999999", "whole numbers of at most nine digits"),
        ("in finish-natural 52 note the last crate", "put the whole note in quotes, or 'last' before it"),
    ],
)
def test_a_command_that_contradicts_itself_is_refused_before_it_is_stored(program, words, says):
    assert says in program.refuses(*words.split(), exit_code=2)


def test_a_fact_no_plan_may_hold_is_refused_at_the_verb_as_in_a_file(program):
    message = program.refuses("promised", "licence", "+9999", "--today", "2090-01-01", exit_code=1)
    assert "2117-05-19 is not within the years 1990 to 2100" in message


@pytest.mark.parametrize("words", [["note", "boxes", ""], ["note", "boxes", "  "], ["note", "boxes"]])
def test_an_empty_note_is_refused(program, words):
    assert "note what of boxes?" in program.refuses(*words, exit_code=2)


@pytest.mark.parametrize("words", [["decided", ""], ["note", " "], ["decided"]])
def test_an_empty_decision_is_refused(program, words):
    assert f"{words[0]} needs a text" in program.refuses(*words, exit_code=2)


@pytest.mark.parametrize(
    "words",
    [
        ["note", "boxes", "bad \udcff"],
        ["note", "\udcff", "x"],
        ["in", "glass-sea", "5", "ref", "\udcff"],
        ["\udcff"],
        ["set", "boxes", "name=\udcff"],
        ["read", "\udcff.toml"],
        ["diary", "\udcff"],
    ],
)
def test_bytes_that_are_no_text_are_refused_in_every_word(program, words):
    assert "holds bytes that are no text" in program.refuses(*words, exit_code=2)


@pytest.mark.parametrize("odd", ["a\tb", "a\nb", "a\x00b", "a\x1b[31mb"])
def test_control_characters_are_refused_in_every_text(program, odd):
    for words in (
        ["note", "boxes", odd],
        ["promised", "licence", "4dec", "said", odd],
        ["failed", "emc", odd],
    ):
        assert "characters that cannot be printed" in program.refuses(*words, exit_code=2)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("set boxes lead=99999999wd", "longer than ten years"),
        ("set boxes lead=" + "9" * 5000 + "wd", "is not a number of days"),
        ("set boxes lead=" + "9" * 5000, "is not a number of days"),
        ("set boxes lead=\u00b2wd", "is not a number of days"),
        ("set boxes travel=99999cd", "longer than ten years"),
        ("set boxes quantity=99999999999999999999", "is not a whole number"),
        ("set moinho closures=1990-01-01..2100-12-31", "a date runs out of the years 1990 to 2100"),
        ("undo 99999999999999999999", "there is no entry 99999999999999999999"),
    ],
    ids=lambda text: text[:24],
)
def test_absurd_numbers_are_refused_in_a_sentence(program, words, says):
    message = program.refuses(*words.split(), exit_code=1)
    assert says in message
    assert "the tracker itself failed" not in message


@pytest.mark.parametrize(
    ("words", "verb"),
    [
        ("tol wave-1 25jan", "told"),  # a supplier begins with it, too
        ("fin look-over", "finished"),  # two jobs begin with it, too
        ("pro lic 11dec", "promised"),
        ("PROM lic 11dec", "promised"),
    ],
)
def test_the_beginning_of_a_verb_wins_over_codes_where_more_words_follow(program, words, verb):
    program(*words.split())
    assert program.json("diary")[0]["command"].split()[0] == verb


@pytest.mark.parametrize("words", ["tol", "tol --json", "tol --today 25nov"])
def test_the_beginning_of_a_verb_and_of_a_code_is_asked_about_where_it_stands_alone(program, words):
    message = program.refuses(*words.split(), exit_code=2)
    assert "'tol' begins several verbs or codes: told, tolmark" in message


@pytest.mark.parametrize(
    ("words", "meant"), [("prommised lic 11dec", "promised"), ("startd trial", "started"), ("udno 5", "undo")]
)
def test_a_misspelt_verb_is_named(program, words, meant):
    message = program.refuses(*words.split(), exit_code=2)
    assert f"there is no verb '{words.split()[0]}'" in message
    assert f"did you mean {meant}?" in message


def test_a_code_with_words_after_it_is_no_command(program):
    assert "there is no verb 'boxes'" in program.refuses("boxes", "5", exit_code=2)
    assert "boxes" in program.out("boxes", "--today", "25nov")


def test_an_answer_that_cannot_be_printed_says_which_entry_is_stored(program, monkeypatch):
    """The commit is done by then: the next board shows what was logged."""

    def broken(*_, **__):
        raise ValueError("no ink")

    monkeypatch.setattr(logging_facts, "put_view", broken)
    for words in (["note", "boxes", "x"], ["set", "boxes", "name=Boxes"], ["undo"]):
        typed = ["--db", str(program.database), *words]
        monkeypatch.setattr(sys, "argv", ["tracker", *typed])
        result = CliRunner().invoke(app, typed)
        entry = program.json("diary")[0]["number"]
        assert (result.exit_code, result.stdout) == (1, "")
        assert f"the tracker itself failed (ValueError: no ink); entry {entry} is stored" in result.stderr


def test_a_failure_before_the_commit_says_that_nothing_was_stored(program, monkeypatch):
    def broken(*_):
        raise ValueError("no ink")

    program("note", "boxes", "an entry stored by another command")
    monkeypatch.setattr(logging_facts, "Forecast", broken)
    message = program.refuses("note", "boxes", "x", exit_code=1)
    assert "the tracker itself failed (ValueError: no ink); nothing was stored" in message


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("told wave-1 15jan 20jan", "write a span as one word: 10jan..20jan"),
        ("told wave-1 20jna", "'20jna' is not a date"),
        ("promised licence 4dec 5dec", "'5dec' is a second date"),
        ("closures x", "closures takes a number of days from 1 to 730, found 'x'"),
        ("closures 731", "closures takes a number of days from 1 to 730, found '731'"),
        ("promises licence", "licence is a job of qingsha, not a supplier"),
    ],
)
def test_a_slip_on_the_telephone_is_refused_in_words_of_the_trade(program, words, said):
    assert said in program.refuses(*words.split(), exit_code=2)

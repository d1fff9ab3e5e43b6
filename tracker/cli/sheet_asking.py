"""Asking on a terminal, one by one, how the leads of a sheet are meant."""

import sys
from collections.abc import Callable
from dataclasses import replace

from tracker.cli.session import say
from tracker.cli.sheet_draft import question_text
from tracker.errors import UsageError
from tracker.plan.span import Lead
from tracker.sheet.answers import Answers, read_answers, read_word
from tracker.sheet.model import Draft, Question

_STOP = ("stop", "q", "quit", "no")


def ask_all(draft: Draft, answers: Answers, again: Callable[[Answers], Draft]) -> Draft | None:
    """Ask until no lead needs a word; None when the person stops, by a word or the end of the input.

    ``again`` drafts the sheet with one answer more.
    """
    if draft.questions:
        say(
            "answer wd, cd or a lead such as 20wd for this one, all wd for every one, or days=wd weeks=cd varne=cd as on"
            " the command line; stop ends without storing anything"
        )
    while draft.questions:
        question = draft.questions[0]
        say(question_text(question))
        typed = sys.stdin.readline()
        if not typed or typed.strip().lower() in _STOP:
            return None
        try:
            said = _answered(answers, question, typed.strip().lower())
        except UsageError as error:
            say(f"{error.message}; {error.hint}")
            continue
        asked = again(said)
        wrong = [problem for problem in asked.problems if problem not in draft.problems]
        if wrong:
            say("\n".join(map(str, wrong)))
            continue
        draft, answers = asked, said
    return draft


def _answered(answers: Answers, question: Question, typed: str) -> Answers:
    """The answers with one more: a unit for this length or for all, what bare numbers count, or a lead."""
    everyone, _, rest = typed.partition(" ")
    if question.heard.kind == "numbers" and typed in ("days", "weeks"):
        return replace(answers, numbers_are=typed)
    if "=" in typed:
        return answers.also(read_answers(("leads", *typed.split())))
    word = read_word(rest if everyone == "all" else typed)
    if isinstance(word, Lead):
        if everyone == "all":
            raise UsageError(
                "one lead cannot stand for all", hint="say all wd, all cd, or a lead for this one"
            )
        return answers.with_word(question.job, word, travel=question.is_travel)
    if question.heard.kind is None:
        raise UsageError(f"'{typed}' names no number of days", hint="say a lead such as 20wd or 20cd")
    if everyone == "all":
        return answers.with_group("all", word)
    return answers.with_word(question.job, word, travel=question.is_travel)

"""Carrying out ``read`` of a maker's own spreadsheet: a guess, a few questions, one yes, all or nothing."""

import re
import shlex
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.cli.logging_steps import FIRST_PLAN_KEPT
from tracker.cli.plan_files import Intake, answer_nothing_new, keep, opened, take_in
from tracker.cli.session import confirmed, say, session, status_date
from tracker.cli.sheet_asking import ask_all
from tracker.cli.sheet_choice import Choice, choose
from tracker.cli.sheet_draft import tell_chosen, tell_draft
from tracker.cli.sheet_talk import (
    loose_lines,
    no_shipment_lines,
    tell_changes,
    tell_forecast,
    tell_guess,
)
from tracker.errors import PlanProblems, Problem, Refused, UsageError
from tracker.plan.model import Plan
from tracker.planfile.book_places import placed
from tracker.planfile.grid import Grid
from tracker.planfile.reading import Parsed
from tracker.render.words import plural
from tracker.report.answer import fact_rows
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.sheet.answers import Answers, read_answers
from tracker.sheet.drafting import draft
from tracker.sheet.finding import find_tables
from tracker.sheet.model import OUTRIGHT, Draft
from tracker.store.database import reading
from tracker.store.sheet_readings import remember

if TYPE_CHECKING:
    from tracker.store.database import Store
    from tracker.store.edit import Transaction


_ROW = re.compile(r", row (\d+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Read:
    """One read of one sheet: the file's name, the run as stored, the table chosen, and the status date as typed."""

    source: str
    plan: Plan
    choice: Choice
    today: str

    def draft(self, answers: Answers) -> Draft:
        """What the sheet gives with these answers."""
        day = status_date(self.plan, self.today)
        choice = self.choice
        return draft(
            choice.table, choice.guess.roles, plan=self.plan, answers=answers, source=self.source, today=day
        )

    def tell(self, made: Draft) -> None:
        """Show the guess and the draft made by it."""
        tell_guess(self.choice.table, self.choice.guess, self.source)
        tell_draft(made, frozenset((*self.plan.job_by_code, *self.plan.supplier_by_code)))

    def intake(self, made: Draft) -> Intake:
        """The draft against what is stored; every problem is named by sheet, row and column."""
        parsed = Parsed(plan=made.plan, problems=made.problems, unreadable=made.unreadable)
        try:
            return take_in(self.plan, parsed, self.source, self.today)
        except PlanProblems as error:
            unheard = (one.problem for one in made.questions if one.heard.kind is None)
            told = placed((*error.problems, *unheard), made.entries, self.source)
            raise _problems(told, made, self.source) from error


def read_sheet(
    path: Path, grids: Sequence[Grid], words: Sequence[str], today: str, *, yes: bool, as_json: bool
) -> None:
    """Read a maker's own sheet: show the guess, ask what needs a word, show the forecast, store on a yes.

    Without a terminal ``columns`` or ``yes`` stand for the yes, and what needs a word is refused with the words
    to add.
    """
    answers = read_answers(words)
    if not session.exists():
        raise _no_run()
    store, plan = opened()
    if plan is None:
        raise _no_run()
    tables = find_tables(grids)
    with reading(store) as connection:
        choice = choose(tables, answers, plan, connection, path.name)
    read = _Read(source=path.name, plan=plan, choice=choice, today=today)
    made = read.draft(answers)
    intake = _told(read, made)
    if sys.stdin.isatty() and not yes:
        asked = ask_all(made, answers, read.draft)
        if asked is None:
            say("nothing was stored")
            return
        tell_chosen(one for one in asked.chosen if one not in made.chosen)
        made, intake = asked, read.intake(asked)
    else:
        _refuse_unclear(made, choice, answers)
    _store(store, read, intake, yes=yes or _said_columns(answers), as_json=as_json)


def _told(read: _Read, made: Draft) -> Intake:
    """The intake of a draft, both told of unless they hold nothing new."""
    try:
        intake = read.intake(made)
    except PlanProblems:
        read.tell(made)
        raise
    if intake.changes or made.questions:
        read.tell(made)
    return intake


def _alike_once(problems: Iterable[Problem]) -> Iterator[Problem]:
    """Problems of one column with one remedy as one, that names the other rows."""
    alike: dict[tuple[str, str], list[Problem]] = {}
    for problem in problems:
        column = _ROW.sub("", problem.place)
        remedy = problem.remedy.partition(OUTRIGHT)[0]
        alike.setdefault((column if column != problem.place else problem.found, remedy), []).append(problem)
    for first, *others in alike.values():
        rows = ", ".join(str(_row_of(one)) for one in others)
        found = (
            f"{first.found} (and so {'row' if len(others) == 1 else 'rows'} {rows})"
            if others
            else first.found
        )
        yield replace(first, found=found)


def _row_of(problem: Problem) -> int:
    """The row of the sheet a problem is in; 0 for one of the whole sheet or of the words typed."""
    found = _ROW.search(problem.place)
    return int(found[1]) if found else 0


def _problems(told: Iterable[Problem], made: Draft, source: str) -> PlanProblems:
    """All problems by row, those of one column with one remedy told once; then the words lengths need besides."""
    problems = PlanProblems(tuple(_alike_once(sorted(told, key=_row_of))), what=source)
    if any(one.heard.kind for one in made.questions):
        problems.hint = f"then say of the lengths above: leads {_words_for(made)}"
    return problems


def _no_run() -> Refused:
    """A sheet says nothing of the run's quantity and start, so there must be one."""
    return Refused(
        f"there is no run in {session.where} to read a sheet into",
        hint="start one first: tracker new CODE quantity=240 start=2026-06-15",
    )


def _said_columns(answers: Answers) -> bool:
    """Whether the columns were named where nobody can be asked."""
    return bool(answers.columns) and not sys.stdin.isatty()


def _refuse_unclear(made: Draft, choice: Choice, answers: Answers) -> None:
    """Refuse, where nobody can be asked, leads that need a word and columns that are only guessed."""
    command = f"tracker {session.command}"
    if made.questions:
        what = plural(len(made.questions), "length of days needs a word", "lengths of days need a word")
        raise UsageError(
            f"{what}, wd or cd as they meant it; nothing was written",
            hint=f"for example: {command} leads {_words_for(made)}, or job by job: leads {made.questions[0].job}=20wd",
        )
    if not choice.guess.sure and not answers.columns:
        headings = choice.table.headings
        pairs = [f"{headings[at]}={role}" for at, role in choice.guess.roles.items() if headings[at]]
        raise UsageError(
            "what the columns hold is not sure; nothing was written",
            hint=f"say it: {command} columns {shlex.join(pairs)}",
        )


def _words_for(made: Draft) -> str:
    """Words that would answer all questions: a unit for each kind, a lead for those without any reading."""
    words: dict[str, str] = {}
    for one in made.questions:
        if one.heard.kind == "numbers":
            words["numbers"] = "days"
        kind = "travel" if one.is_travel else "days" if one.heard.kind == "numbers" else one.heard.kind
        words[kind or one.job] = "cd" if kind in ("weeks", "travel") else "wd" if kind else "20wd"
    return " ".join(f"{key}={value}" for key, value in words.items())


def _store(store: "Store", read: _Read, intake: Intake, *, yes: bool, as_json: bool) -> None:
    choice = read.choice

    def remember_columns(transaction: "Transaction") -> None:
        remember(transaction, choice.key, choice.roles)

    if not intake.changes:
        answer_nothing_new(intake, read.source, read.today, as_json=as_json)
        return
    facts = intake.merged.facts[len(read.plan.facts) :]
    tell_changes(intake.changes, fact_rows(intake.merged, facts), intake.remarks, intake.unmentioned)
    before = Picture(Forecast(read.plan, status_date(read.plan, read.today)))
    after = Picture(Forecast(intake.merged, intake.today))
    tell_forecast(before, after)
    what = _summary(read.plan, intake)
    if not confirmed(f"store {what}?", yes=yes):
        say("nothing was stored")
        return
    remarks = (
        f"{what} stored from {read.source}",
        *no_shipment_lines(after),
        *loose_lines(read.plan, intake.merged),
    )
    if intake.merged.first_plan != read.plan.first_plan:
        remarks = (*remarks, FIRST_PLAN_KEPT)
    keep(store, intake, read.today, remarks, as_json=as_json, also=remember_columns, verbose=True)


def _summary(plan: Plan, intake: Intake) -> str:
    """What is new and what changes, counted."""
    merged = intake.merged
    counts = (
        (len(merged.suppliers) - len(plan.suppliers), "new supplier"),
        (len(merged.jobs) - len(plan.jobs), "new job"),
        (len(merged.facts) - len(plan.facts), "new fact"),
        (sum(change.kind == "changed" for change in intake.changes), "change"),
    )
    return ", ".join(plural(count, what) for count, what in counts if count) or plural(
        len(intake.changes), "change"
    )

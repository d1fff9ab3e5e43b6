"""Carrying out ``log``: all lines of a text or none, answered once."""

import shlex
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from tracker.cli.logging_facts import answer_to, entry_number, put_answer
from tracker.cli.logging_steps import Step, fix_step, log_step, rework_step, undo_step
from tracker.cli.options_kept import option_step
from tracker.cli.session import loaded_plan, session, status_date
from tracker.cli.texts import text_of
from tracker.errors import PlanProblems, Refused, TrackerError
from tracker.plan.model import Plan
from tracker.report.answer import Answer, fact_rows
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.words.dates import reader_for
from tracker.words.lines import Line, LineProblem, line_problem, read_lines
from tracker.words.verbs import VERBS

if TYPE_CHECKING:
    from tracker.store.edit import Transaction

OTHER_LINES = ("undo", "fix", "rework", "option")


def log_lines(file: str, today: str, *, as_json: bool, verbose: bool) -> None:
    """Log every line of a text, or, where one cannot be, none of them."""
    text, source = text_of(file)
    with session.writing() as transaction:
        plan = loaded_plan(transaction.load())
        day = status_date(plan, today)
        verbs = (*VERBS, *OTHER_LINES)
        lines, problems = read_lines(text, source=source, verbs=verbs, reader=reader_for(plan, day))
        if not lines and not problems:
            raise Refused(
                f"{source} holds no line to log", hint="write one command a line, such as: paid boxes"
            )
        steps, refused = _steps(transaction, plan, lines, source, day)
        if problems or refused:
            found = sorted((*problems, *refused), key=lambda one: one[0])
            raise PlanProblems(tuple(problem for _, problem in found), what=source)
        before = Picture(Forecast(plan, min(day, plan.run.today or day)))
        view = _answer(transaction, before, steps, day)
    put_answer(view, today, as_json=as_json, verbose=verbose)


def _steps(
    transaction: "Transaction", plan: Plan, lines: tuple[Line, ...], source: str, today: date
) -> tuple[list[Step], list[LineProblem]]:
    """Take line after line, each on the plan the lines before it left; a refused one changes nothing."""
    steps: list[Step] = []
    problems: list[LineProblem] = []
    for line in lines:
        try:
            with transaction.step():
                step = _step(transaction, plan, line, today)
        except PlanProblems as error:
            problems += [
                line_problem(source, line.number, line.text, Refused(one.found, hint=one.remedy))
                for one in error.problems
            ]
        except TrackerError as error:
            problems.append(line_problem(source, line.number, line.text, error))
        else:
            steps.append(step)
            plan = step.plan
    return steps, problems


def _step(transaction: "Transaction", plan: Plan, line: Line, today: date) -> Step:
    command = shlex.join([line.verb, *line.words])
    if line.verb == "rework":
        return rework_step(transaction, plan, line.words, today, command)
    if line.verb == "option":
        return option_step(transaction, plan, line.words, today, command)
    if line.verb == "undo":
        number = entry_number(line.words[0], "undo") if line.words else None
        return undo_step(transaction, plan, number, today, command)
    if line.verb == "fix":
        number = entry_number(line.words[0] if line.words else "", "fix")
        return fix_step(transaction, plan, number, line.words[1:], today, command)
    return log_step(transaction, plan, VERBS[line.verb], line.words, today, command, said_on=line.on)


def _answer(transaction: "Transaction", before: Picture, steps: list[Step], today: date) -> Answer:
    """One answer for all steps, each fact with the number of its own entry."""
    entries = [step.entry for step in steps if step.entry is not None]
    whole = Step(
        plan=steps[-1].plan,
        entry=entries[-1] if entries else None,
        facts=tuple(fact for step in steps for fact in step.facts),
        was=tuple(fact for step in steps for fact in step.was),
        remarks=tuple(remark for step in steps for remark in step.remarks),
        edited=tuple(code for step in steps for code in step.edited),
        moves_nothing=all(step.moves_nothing for step in steps),
    )
    view = answer_to(transaction, before, whole, today)
    numbers = [step.entry for step in steps for _ in step.facts]
    rows = zip(fact_rows(whole.plan, whole.facts), numbers, strict=True)
    return replace(view, facts=tuple(replace(row, entry=number) for row, number in rows))

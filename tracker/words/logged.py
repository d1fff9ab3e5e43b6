"""One logging command read whole: the facts its words stand for, and whether they can be as the plan stands."""

from collections.abc import Sequence
from datetime import date

from tracker.errors import PlanProblems
from tracker.plan.check_facts import fact_problems
from tracker.plan.known import Known
from tracker.plan.model import Fact, Plan
from tracker.words.dates import reader_for
from tracker.words.facts import Reading, read_facts
from tracker.words.misfits import refuse_misfits
from tracker.words.statement import Statement, read_statement
from tracker.words.verbs import Verb


def read_logged(
    verb: Verb,
    words: Sequence[str],
    plan: Plan,
    today: date,
    *,
    said_on: date | None = None,
    ahead: bool = False,
) -> tuple[Statement, Reading]:
    """Read the words after a logging verb; nothing is checked against what was logged before.

    ``said_on`` is the day of what names no day of its own, today by default; dates are read from it. With ``ahead``
    days may lie after today, and dates are read from today.

    Raises
    ------
    UsageError
        If the words cannot be read, or a code is unknown or means several things.
    """
    read_from = today if ahead else said_on or today
    reader = reader_for(plan, read_from, facts_look="near" if ahead else "back")
    statement = read_statement(verb, words, reader)
    return statement, read_facts(statement, plan, today, today, said_on=said_on, ahead=ahead)


def refuse_unfit(statement: Statement, plan: Plan, facts: tuple[Fact, ...], today: date) -> None:
    """Refuse facts that cannot be as the plan stands, or whose fields do not fit their kind.

    Raises
    ------
    Refused
        As ``refuse_misfits`` does.
    PlanProblems
        For fields that are missing, out of place or after ``today``; all of them are listed.
    """
    refuse_misfits(statement, plan, facts, today)
    refuse_problems(plan, facts, today)


def refuse_problems(plan: Plan, facts: tuple[Fact, ...], today: date) -> None:
    """Refuse facts whose fields do not fit their kind or lie after ``today``; all problems are listed."""
    known = Known(plan=plan, today=today)
    problems = tuple(problem for fact in facts for problem in fact_problems(fact, known))
    if problems:
        raise PlanProblems(problems, what="that command")

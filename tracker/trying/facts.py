"""Facts tried: read in the log's own grammar, checked as when they are logged, and allowed to lie ahead."""

from dataclasses import replace
from datetime import date

from tracker.errors import Refused
from tracker.plan.day_text import full_day
from tracker.plan.model import Fact, Plan
from tracker.trying.steps import Step
from tracker.words.facts import Reading
from tracker.words.fixing import subject_of
from tracker.words.logged import read_logged, refuse_unfit
from tracker.words.repeats import repeat_of
from tracker.words.verbs import VERBS

_AHEAD = ("ordered", "given", "started", "made", "left", "in", "sorted", "finished", "passed")


def tried_facts(step: Step, plan: Plan, today: date, begins: date) -> tuple[Plan, Reading]:
    """The plan with the facts of one step, and how they were read.

    What names no day of its own happens on ``begins``, and nothing of it before. Words that would be refused in the
    log are refused here, but for a thing told twice.

    Raises
    ------
    UsageError
        If the words cannot be read.
    Refused
        If the facts cannot be as the plan stands, or lie ahead and only the day itself can tell what follows.
    """
    verb = VERBS[step.verb]
    decided = begins if verb.kind in _AHEAD else today
    statement, reading = read_logged(verb, step.words, plan, today, said_on=decided, ahead=True)
    if begins > today and verb.kind in _AHEAD:
        reading = replace(reading, facts=tuple(_not_before(fact, begins) for fact in reading.facts))
    _refuse_ahead(reading.facts, today)
    reading = _news(reading, plan)
    until = max((fact.on for fact in reading.facts), default=today)
    until = max(until, plan.known_by(today))
    refuse_unfit(statement, plan, reading.facts, until)
    return with_facts(plan, reading.facts, today), reading


def with_facts(plan: Plan, facts: tuple[Fact, ...], today: date) -> Plan:
    """The plan with facts more; those after ``today`` count as foreseen."""
    last = max((fact.on for fact in facts), default=today)
    until = max(plan.known_by(today), last)
    return replace(plan, facts=(*plan.facts, *facts), foreseen=until if until > today else None)


def known_facts_only(plan: Plan, today: date) -> Plan:
    """The plan without facts after ``today``, which nothing looks at: they are not foreseen; nor options kept later."""
    known = tuple(fact for fact in plan.facts if fact.on <= today)
    options = tuple(option for option in plan.options if option.on <= today)
    if (len(known), len(options)) == (len(plan.facts), len(plan.options)):
        return plan
    return replace(plan, facts=known, options=options)


def _news(reading: Reading, plan: Plan) -> Reading:
    """The reading without facts that are known already; what may well happen twice is news."""
    known = [
        fact
        for fact in reading.facts
        if fact.kind not in ("in", "posted", "scrapped") and repeat_of(fact, plan) is not None
    ]
    said = (
        f"{subject_of(fact) or 'the run'}: that is known already, so it changes nothing" for fact in known
    )
    new = tuple(fact for fact in reading.facts if fact not in known)
    return Reading(facts=new, remarks=(*reading.remarks, *said))


def _not_before(fact: Fact, begins: date) -> Fact:
    return replace(fact, on=max(fact.on, begins), logged=max(fact.logged, begins))


def _refuse_ahead(facts: tuple[Fact, ...], today: date) -> None:
    """Refuse facts ahead after which things would be worked out from today instead of from their own day."""
    brought = {fact.job for fact in facts if fact.kind == "in"}
    for fact in facts:
        trouble = "" if fact.on <= today else _trouble_ahead(fact, rest=fact.job in brought)
        if trouble:
            raise Refused(
                f"{subject_of(fact) or 'the run'}: {full_day(fact.on)} lies ahead, and {trouble}",
                hint="leave 'on' and its day out: it is then tried as of today",
            )


def _trouble_ahead(fact: Fact, *, rest: bool) -> str:
    """Why a fact ahead cannot be followed exactly; nothing where it can. ``rest`` promises what a delivery leaves."""
    if fact.kind == "promised":
        return "" if rest else "of a promise only the day promised tells anything"
    if fact.kind not in _AHEAD:
        return f"a try cannot tell what follows from '{fact.kind.replace('_', ' ')}' on that day"
    if fact.scrap or (fact.closes and fact.pieces):
        return "pieces missing from then on could be ordered again only then"
    return ""

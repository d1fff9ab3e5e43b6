"""From a statement to facts about the plan's own jobs, suppliers and shipments."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from functools import cache

from tracker.errors import UsageError
from tracker.plan.day_text import full_day
from tracker.plan.model import LEAVE_CONDITIONS, Fact, Job, Plan
from tracker.plan.options import decision_on, open_options
from tracker.plan.progress import Progress, progress_of
from tracker.words.codes import find_code, find_job, find_supplier
from tracker.words.misfits import pieces_to_come
from tracker.words.parts import part_counted, part_found_bad
from tracker.words.repeats import repeat_of
from tracker.words.statement import Statement


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """The facts a command stands for, and remarks on how it was read."""

    facts: tuple[Fact, ...]
    remarks: tuple[str, ...] = ()


def read_facts(
    statement: Statement,
    plan: Plan,
    today: date,
    logged: date,
    *,
    said_on: date | None = None,
    ahead: bool = False,
) -> Reading:
    """Look up what a statement speaks of and turn it into facts, one for each subject.

    ``today`` is the status date, ``logged`` the day the entry is made, ``said_on`` the day of what names no day of
    its own, today by default. With ``ahead`` a fact may lie after today and counts as logged on its own day.

    Raises
    ------
    UsageError
        If a code is unknown or means several things, or the fact lies after today.
    """
    on = statement.on or said_on or today
    logged = max(on, logged) if ahead else logged
    if on > today and not ahead:
        raise UsageError(
            f"{full_day(on)} is after today, {full_day(today)}: facts lie at or before today",
            hint=f"leave 'on' out for today; where that day has come, say so: --today {on}",
        )
    verb = statement.verb
    if verb.kind == "told":
        statement = _told_in_words(statement, plan)
    if verb.about == "job":
        return _about_jobs(statement, plan, today, on, logged)
    subjects = statement.subjects
    if verb.about == "part":
        parts = _once([part_found_bad(word, statement.of, plan) for word in subjects or [""]])
        job = job_found_at(statement.found_at, plan, today)
        facts = tuple(_fact(statement, on, logged, part=part, job=job) for part in parts)
    elif verb.about == "shipment":
        codes = _once([find_code(word, plan.shipment_by_code, "shipment") for word in subjects])
        facts = tuple(
            _counted(statement, _fact(statement, on, logged, shipment=code), plan) for code in codes
        )
    elif verb.about == "supplier":
        codes = _once([find_supplier(word, plan) for word in subjects])
        facts = tuple(_fact(statement, on, logged, supplier=code) for code in codes)
    else:
        return _anything(statement, plan, on, logged)
    return Reading(facts=facts)


def _told_in_words(statement: Statement, plan: Plan) -> Statement:
    """Words told without a date may follow the shipment bare; a second shipment without a date is refused."""
    first, *rest = statement.subjects
    if statement.day is not None or statement.said or not rest:
        return statement
    if any(code.lower().startswith(rest[0].lower()) for code in plan.shipment_by_code):
        raise UsageError(
            f"told needs a date, a span of dates, or words after {first} {rest[0]}",
            hint='for example: tracker told wave-1 10jan..20jan said "mid-January"',
        )
    if len(rest) == 1 and any(character.isdigit() for character in rest[0]):
        raise UsageError(
            f"'{rest[0]}' is not a date",
            hint=f"write 4dec or 10jan..20jan; as words: told {first} said {rest[0]}",
        )
    return replace(statement, subjects=[first], said=" ".join(rest))


def _about_jobs(statement: Statement, plan: Plan, today: date, on: date, logged: date) -> Reading:
    facts: list[Fact] = []
    remarks: list[str] = []

    @cache
    def known(code: str) -> Progress:
        return progress_of(plan, plan.job_by_code[code], today)

    for word in statement.subjects:
        job = _job(statement, word, plan, known)
        _once([*(fact.job for fact in facts if fact.kind == statement.verb.kind), job.code])
        fact = _counted(statement, _fact(statement, on, logged, job=job.code), plan)
        if fact.kind == "given":
            fact, remark = _what_given(statement, fact, plan, job, known(job.code))
            remarks += [remark] if remark else []
        facts.append(fact)
        if statement.rest is not None:
            rest = Fact(on=on, kind="promised", logged=logged, job=job.code, day=statement.rest)
            if job.counts_pieces:
                rest = replace(rest, good=pieces_to_come(plan, job, fact, known(job.code)))
            facts.append(rest)
    return Reading(facts=tuple(facts), remarks=tuple(remarks))


def _counted(statement: Statement, fact: Fact, plan: Plan) -> Fact:
    """The fact with the part that ``of`` names."""
    if not statement.of:
        return fact
    return replace(fact, part=part_counted(statement.of, plan, job=fact.job, shipment=fact.shipment))


def job_found_at(word: str, plan: Plan, today: date) -> str:
    """The job at which pieces were found bad; ``""`` where no word names one."""
    if not word:
        return ""
    return find_job(
        word,
        plan,
        is_open=lambda one: progress_of(plan, one, today).done is None,
        fits=lambda one: bool(one.takes),
    ).code


def _once(codes: list[str]) -> list[str]:
    """The codes, each of which may be named only once in a command."""
    twice = next((code for code in codes if codes.count(code) > 1), None)
    if twice is not None:
        raise UsageError(f"{twice} is named twice", hint="name each one once")
    return codes


def _job(statement: Statement, word: str, plan: Plan, known: Callable[[str], Progress]) -> Job:
    try:
        return find_job(
            word,
            plan,
            is_open=lambda one: known(one.code).done is None and not known(one.code).called_off,
            fits=lambda one: _fits(statement, plan, one, known(one.code)),
        )
    except UsageError as error:
        if statement.verb.what and word != statement.subjects[0]:
            whats = ", ".join(statement.verb.what)
            raise UsageError(error.message, hint=f"{statement.verb.name} knows: {whats}") from None
        raise


def _fact(statement: Statement, on: date, logged: date, **about: object) -> Fact:
    verb, numbers, flags = statement.verb, statement.numbers, statement.flags
    nothing_counted = verb.kind == "in" and not numbers
    return Fact(
        on=on,
        kind=verb.kind,
        logged=logged,
        day=statement.day,
        first=statement.first,
        worst=statement.worst,
        means="leaves" if "leaves" in flags else "in hand" if "hand" in flags else None,
        exactly="exactly" in flags,
        words=statement.said,
        ref=statement.ref,
        closes="last" in flags or nothing_counted,
        note=statement.note,
        what=statement.what,
        **numbers,  # type: ignore[arg-type]
        **about,  # type: ignore[arg-type]
    )


def _anything(statement: Statement, plan: Plan, on: date, logged: date) -> Reading:
    """A fact about a job, a supplier or a shipment, a decision about an option, too; else about the run."""
    word = statement.subjects[0] if statement.subjects else ""
    found = _thing(statement, word, plan, on)
    if found is not None:
        kind, code = found
        if not statement.note:
            raise UsageError(f"{statement.verb.name} what of {code}?", hint=f"add a few words after {code}")
        decided = _fact(statement, on, logged, **{kind: code})
        is_news = kind == "option" and repeat_of(decided, plan) is None
        return Reading(facts=(decided,), remarks=(_off_the_list(code, plan, on),) if is_news else ())
    fact = _fact(statement, on, logged)
    if not word or word.lower() == "run":
        return Reading(facts=(fact,))
    whole = replace(fact, note=f"{word} {fact.note}".strip())
    return Reading(
        facts=(whole,), remarks=(f"'{word}' is no code here, so this is kept on the run as a whole",)
    )


def _thing(statement: Statement, word: str, plan: Plan, on: date) -> tuple[str, str] | None:
    """What a word stands for, and its code: a whole code, else the only one it begins, open options before all else."""
    if not word:
        return None
    kinds = {"job": plan.job_by_code, "supplier": plan.supplier_by_code, "shipment": plan.shipment_by_code}
    things = [(kind, code) for kind, codes in kinds.items() for code in codes]
    options, still_open = [], []
    if statement.verb.kind == "decided":
        options = [("option", code) for code in plan.option_by_code]
        still_open = [("option", one.code) for one in open_options(plan, on)]
    typed = word.lower()
    for found in (
        [one for one in (*options, *things) if one[1].lower() == typed],
        [one for one in still_open if one[1].lower().startswith(typed)],
        [one for one in things if one[1].lower().startswith(typed)],
    ):
        if len(found) == 1:
            return found[0]
    return None


def _off_the_list(code: str, plan: Plan, on: date) -> str:
    """What becomes of the option decided on."""
    before = decision_on(plan, code, on)
    if before is not None:
        return f"option {code} was decided on {full_day(before.on)} already; this stands beside it"
    return f"option {code} is off the list of what could be decided"


def _fits(statement: Statement, plan: Plan, job: Job, progress: Progress) -> bool:
    kind = statement.verb.kind
    if kind in ("passed", "failed"):
        return job.gate and progress.outcome != "pass"
    if kind == "given":
        wanted = {*plan.clock_of(job), *job.leave_when} - set(progress.given)
        return (statement.what or statement.verb.what[0]) in wanted or bool(wanted & set(statement.verb.what))
    if kind == "ordered":
        return progress.ordered is None
    if kind == "resumed":
        return progress.paused or progress.called_off
    return progress.done is None


def _what_given(
    statement: Statement, fact: Fact, plan: Plan, job: Job, progress: Progress
) -> tuple[Fact, str]:
    """Fill in what was given from what is missing, and remark where the job waits for no such thing."""
    verb = statement.verb
    waits = (*plan.clock_of(job), *job.leave_when)
    missing = [one for one in waits if one in verb.what and one not in progress.given]
    if not fact.what and len(missing) != 1 and verb.name != "paid":
        choice = f"it waits for {' and '.join(missing)}" if missing else "it waits for nothing of that kind"
        raise UsageError(f"{verb.name} {job.code} what? {choice}", hint=f"say one of: {', '.join(verb.what)}")
    what = fact.what or (missing or verb.what)[0]
    if (what == "day1") != (fact.day is not None):
        raise UsageError(
            f"{statement.verb.name} {what}: a date goes with day1 only",
            hint=f"write: tracker gave {job.code} day1 4dec, or when it was given: on 4dec",
        )
    remark = ""
    if what != "day1" and what not in waits:
        key = "leave_when" if what in LEAVE_CONDITIONS else "clock"
        remark = f"{job.code} does not wait for {what}, so no date rests on this (tracker set {job.code} {key}+={what})"
    return replace(fact, what=what), remark

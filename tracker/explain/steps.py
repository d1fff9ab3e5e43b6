"""What a diary entry did, in the steps it is told in, and whose doing each of them is."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Literal

from tracker.plan.diary import Entry
from tracker.plan.model import Fact, Job, Plan

Cause = Literal[
    "supplier late", "supplier earlier", "rejects", "our own delay", "plan edited", "time passing"
]
_WITHOUT_DATES = ("told", "decided", "called", "note", "mailed")
US = "us"
"""Stands for a supplier where it is our own doing."""
_OURS = ("given", "ordered", "posted", *_WITHOUT_DATES)


@dataclass(frozen=True, slots=True)
class Changed:
    """A diary entry with the plan before and after it."""

    entry: Entry
    before: Plan | None
    after: Plan | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One diary entry, or the part of one that concerns one job: the plan before and after, and what it changed.

    ``facts`` were logged, ``removed`` taken back, ``corrected`` changed (before, after). ``edited`` tells that
    the plan itself changed, ``added`` and ``dropped`` name jobs that came and went.
    """

    entry: Entry
    before: Plan | None
    plan: Plan | None
    facts: tuple[Fact, ...] = ()
    removed: tuple[Fact, ...] = ()
    corrected: tuple[tuple[Fact, Fact], ...] = ()
    edited: bool = False
    added: tuple[Job, ...] = ()
    dropped: tuple[Job, ...] = ()

    @property
    def spoken_of(self) -> tuple[Fact, ...]:
        """All facts it concerns: logged, corrected as they are now, taken back."""
        return (*self.facts, *(after for _, after in self.corrected), *self.removed)

    @property
    def moves_dates(self) -> bool:
        """Whether it may move a date: not where all it logged is words."""
        kinds = {fact.kind for fact in (*self.spoken_of, *(before for before, _ in self.corrected))}
        return self.edited or not kinds <= set(_WITHOUT_DATES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Blame:
    """Whose doing a move is: its cause, and the job and supplier where it has one; ``us`` is our own bench, or our delay."""

    cause: Cause
    job: str = ""
    supplier: str = ""


def whole_step(changed: Changed) -> Step:
    """All that an entry did, as one step."""
    entry, before, after = changed.entry, changed.before, changed.after
    old, new = before.facts if before else (), after.facts if after else ()
    removed, facts, corrected = _facts_between(old, new)
    was, now = before.job_by_code if before else {}, after.job_by_code if after else {}
    return Step(
        entry=entry,
        before=before,
        plan=after,
        facts=facts,
        removed=removed,
        corrected=corrected,
        edited=_edited(before, after),
        added=tuple(job for code, job in now.items() if code not in was),
        dropped=tuple(job for code, job in was.items() if code not in now),
    )


def steps_of(whole: Step) -> Iterator[Step]:
    """The parts of a step: edits first, then what was logged, or taken back from the last on, job by job.

    A correction, and facts taken back together with edits, stay whole.
    """
    before, after = whole.before, whole.plan
    longer = before if whole.removed else after
    if after is None or longer is None or whole.corrected or (whole.removed and whole.edited):
        yield whole
        return
    if whole.edited and whole.facts:
        edits = replace(after, facts=before.facts if before else ())
        yield replace(whole, plan=edits, facts=())
        before = edits
    shorter = after.facts if whole.removed else before.facts if before else ()
    groups = _by_subject(longer.facts, _missing_in(longer.facts, shorter))
    if not groups:
        yield whole
    for number in range(len(groups)):
        left_out = groups[-number - 1 :] if whole.removed else groups[number + 1 :]
        last = number == len(groups) - 1
        plan = after if last else _without(after, longer.facts, left_out)
        told = tuple(longer.facts[place] for place in groups[-number - 1 if whole.removed else number])
        part = Step(entry=whole.entry, before=before, plan=plan)
        yield replace(part, removed=told) if whole.removed else replace(part, facts=told)
        before = plan


def _by_subject(facts: Sequence[Fact], places: Iterable[int]) -> list[tuple[int, ...]]:
    """The places of the facts that came or went, those in a row about one thing together."""
    return [tuple(group) for _, group in groupby(places, key=lambda place: _subject(facts[place]))]


def _without(plan: Plan, facts: tuple[Fact, ...], groups: Iterable[Sequence[int]]) -> Plan:
    """The plan with these facts but those in some places."""
    left_out = {place for group in groups for place in group}
    kept = tuple(fact for place, fact in enumerate(facts) if place not in left_out)
    return plan if kept == plan.facts else replace(plan, facts=kept)


def blame_of(step: Step, days: int) -> Blame:
    """Whose doing it is that a step moves a shipment by ``days``; taking back bears the cause of what it takes back.

    Of several facts the most telling one decides: rejects, then what somebody else did. Rejects are blamed only for
    what comes later by them; a delivery with rejects may bring a date forward all the same.
    """
    facts = [fact for fact in step.spoken_of if fact.kind not in _WITHOUT_DATES]
    plan = step.plan
    if not facts or plan is None:
        loops = any(_loops(job) for job in (*step.added, *step.dropped))
        return Blame(cause="rejects" if loops else "plan edited")
    fact = min(facts, key=lambda one: (not _rejects(one), one.kind in _OURS))
    job = _job_of(fact, step)
    ours = job is None or _inhouse(job, step)
    whose = US if job is None or ours else job.supplier
    about = Blame(cause="our own delay", job=job.code if job else fact.job, supplier=whose)
    if fact.kind == "called_off":
        return replace(about, cause="plan edited", supplier="")
    later = -days if fact in step.removed else days
    if fact.kind == "failed" or _passes_after_failure(fact, plan) or (_rejects(fact) and later > 0):
        return replace(about, cause="rejects")
    if ours or fact.kind in _OURS:
        return replace(about, supplier=US)
    return replace(about, cause="supplier late" if later > 0 else "supplier earlier")


def _job_of(fact: Fact, step: Step) -> Job | None:
    """The job a fact speaks of, also one taken out with it; of pieces found bad later the one job that makes them."""
    for plan in (step.plan, step.before):
        makers = plan.makers_of.get(fact.part, ()) if plan and fact.kind == "scrapped" else ()
        code = makers[0].code if len(makers) == 1 else fact.job
        if plan and code in plan.job_by_code:
            return plan.job_by_code[code]
    return None


def _inhouse(job: Job, step: Step) -> bool:
    suppliers = (plan.supplier_by_code.get(job.supplier) for plan in (step.plan, step.before) if plan)
    return any(one.inhouse for one in suppliers if one)


def _facts_between(
    old: tuple[Fact, ...], new: tuple[Fact, ...]
) -> tuple[tuple[Fact, ...], tuple[Fact, ...], tuple[tuple[Fact, Fact], ...]]:
    """Facts taken back, come (again), or changed in place; facts keep their order, and an entry does one of the three."""
    if len(new) > len(old) and new[: len(old)] == old:
        return (), tuple(new[len(old) :]), ()
    if len(old) == len(new):
        pairs = zip(old, new, strict=True)
        return (), (), tuple((was, now) for was, now in pairs if was != now)
    longer, shorter = (old, new) if len(old) > len(new) else (new, old)
    found = tuple(longer[place] for place in _missing_in(longer, shorter))
    return (found, (), ()) if longer is old else ((), found, ())


def _missing_in(facts: Sequence[Fact], others: Iterable[Fact]) -> list[int]:
    """The places of facts that the other sequence, the same without them, does not have."""
    rest = iter(others)
    other = next(rest, None)
    found = []
    for place, fact in enumerate(facts):
        if fact == other:
            other = next(rest, None)
        else:
            found.append(place)
    return found


def _edited(before: Plan | None, after: Plan | None) -> bool:
    if before is None or after is None:
        return before is not after
    return any(
        getattr(before, name) != getattr(after, name)
        for name in ("jobs", "suppliers", "shipments", "parts", "holidays", "run")
    )


def _subject(fact: Fact) -> tuple[str, str, str]:
    return fact.job, fact.shipment, fact.supplier


def _rejects(fact: Fact) -> bool:
    return bool(fact.rework or fact.scrap)


def _passes_after_failure(fact: Fact, plan: Plan) -> bool:
    return fact.kind == "passed" and any(one.kind == "failed" for one in plan.facts_by_job.get(fact.job, ()))


def _loops(job: Job) -> bool:
    """Whether a job is there because something was not right the first time."""
    return bool(job.rework_of or job.retry_of or any(link.on == "fail" for link in job.after))

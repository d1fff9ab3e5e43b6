"""Telling a thing told twice from one that happened twice."""

from dataclasses import replace

from tracker.plan.model import Fact, Plan

_COUNTED = ("in", "posted", "scrapped")
_REPLACES = (
    ("promised",),
    ("passed", "failed"),
    ("paused", "resumed", "called_off"),
    ("ordered",),
    ("started",),
    ("made",),
    ("left",),
    ("finished",),
    ("told",),
    ("given",),
    ("called",),
    ("mailed",),
)


def repeat_of(fact: Fact, plan: Plan) -> int | None:
    """The place among the plan's facts of an equal one that still holds; None where ``fact`` is news.

    A delivery, a posting or pieces found bad repeat any equal one, whatever its note says. Other facts repeat only the latest of
    those that can replace each other, such as all promises of a job: a date promised again after another one
    is news. A mail sent again on one day is news once anything else was logged after the first.
    """
    fact = _with_its_part(fact, plan)
    facts = [_with_its_part(known, plan) for known in plan.facts]
    places = [place for place, known in enumerate(facts) if _about(known) == _about(fact)]
    group = next((kinds for kinds in _REPLACES if fact.kind in kinds), None)
    if group is not None:
        places = [place for place in places if facts[place].kind in group][-1:]
    if fact.kind == "mailed":
        places = [place for place in places if all(one.kind == "mailed" for one in facts[place:])]
    return next((place for place in places if _sense(facts[place]) == _sense(fact)), None)


def _with_its_part(fact: Fact, plan: Plan) -> Fact:
    """A count of a job that makes one part is about that part, whether the words named it or not."""
    job = plan.job_by_code.get(fact.job)
    if fact.part or job is None or fact.kind not in ("in", "made", "sorted"):
        return fact
    made = plan.makes_of(job)
    return replace(fact, part=made[0].part) if len(made) == 1 else fact


def _about(fact: Fact) -> tuple[str, ...]:
    """Whom and, for a condition or a count, what it speaks of."""
    return fact.job, fact.shipment, fact.supplier, fact.option, fact.what, fact.part


def _sense(fact: Fact) -> Fact:
    """A fact without what may differ between two tellings of the same thing."""
    note = "" if fact.kind in _COUNTED else fact.note
    return replace(fact, logged=fact.on, note=note)

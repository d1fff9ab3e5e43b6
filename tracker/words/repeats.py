"""Telling a thing told twice from one that happened twice."""

from dataclasses import replace

from tracker.plan.model import Fact, Plan

_COUNTED = ("in", "posted")
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

    A delivery or posting repeats any equal one, whatever its note says. Other facts repeat only the latest of
    those that can replace each other, such as all promises of a job: a date promised again after another one
    is news. A mail sent again on one day is news once anything else was logged after the first.
    """
    places = [place for place, known in enumerate(plan.facts) if _about(known) == _about(fact)]
    group = next((kinds for kinds in _REPLACES if fact.kind in kinds), None)
    if group is not None:
        places = [place for place in places if plan.facts[place].kind in group][-1:]
    if fact.kind == "mailed":
        places = [place for place in places if all(one.kind == "mailed" for one in plan.facts[place:])]
    return next((place for place in places if _sense(plan.facts[place]) == _sense(fact)), None)


def _about(fact: Fact) -> tuple[str, str, str, str]:
    """Whom and, for a condition, what it speaks of."""
    return fact.job, fact.shipment, fact.supplier, fact.what


def _sense(fact: Fact) -> Fact:
    """A fact without what may differ between two tellings of the same thing."""
    note = "" if fact.kind in _COUNTED else fact.note
    return replace(fact, logged=fact.on, note=note)

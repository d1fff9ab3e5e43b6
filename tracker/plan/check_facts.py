"""Problems of logged facts: what they are about, when, and whether their kind has what they say."""

from collections.abc import Iterator
from dataclasses import fields

from tracker.errors import Problem
from tracker.plan.fact_fields import COMMON_FIELDS, COUNTS, FACT_FIELDS, GIVEN_WHAT
from tracker.plan.known import Known, date_problem, order_problem, pieces_problem
from tracker.plan.model import FACT_KINDS, Fact
from tracker.plan.nearest import nearest

_DEFAULTS = {field.name: field.default for field in fields(Fact)}
_SPECIFIC = tuple(name for name in _DEFAULTS if name not in COMMON_FIELDS)
_SAYS = {"day": "a day", "what": "what was given", "scrap": "how many pieces were scrapped"}


def fact_name(fact: Fact) -> str:
    """Name a fact the way messages and lists do: ``in finish-natural 2026-11-10``."""
    about = fact.part if fact.kind == "scrapped" else fact.job
    about = about or fact.shipment or fact.supplier or fact.option
    return " ".join(part for part in (fact.kind, about, fact.on.isoformat()) if part)


def fact_problems(fact: Fact, known: Known) -> Iterator[Problem]:
    """Problems of one fact."""
    place = f"fact {fact_name(fact)}"
    if fact.kind not in FACT_KINDS:
        close = nearest(fact.kind, FACT_KINDS)
        remedy = f"did you mean {close}?" if close else f"use one of {', '.join(FACT_KINDS)}"
        yield Problem(place=place, found=f"there is no kind of fact '{fact.kind}'", remedy=remedy)
        return
    yield from _fields(place, fact)
    yield from _references(place, fact, known)
    yield from _dates(place, fact, known)
    for name in (*COUNTS, "count"):
        yield from pieces_problem(f"{place}, {name}", getattr(fact, name), least=0)
    yield from pieces_problem(f"{place}, quantity", fact.quantity, least=1)
    if fact.kind == "given":
        yield from _given(place, fact)
    elif fact.kind == "in" and not (fact.pieces or fact.closes):
        yield Problem(
            place=place,
            found="brings no pieces",
            remedy="say how many are good, or last = true where nobody counted",
        )
    elif fact.kind == "told":
        yield from _told(place, fact)
    elif fact.kind == "scrapped" and fact.scrap == 0:
        yield Problem(place=place, found="scraps no pieces", remedy="say how many were scrapped")
    elif fact.kind == "sorted" and not fact.pieces:
        yield Problem(place=place, found="sorts no pieces", remedy="say how many are good, rework or scrap")
    elif fact.kind in ("passed", "failed") and fact.job not in known.gates and fact.job in known.codes["job"]:
        yield Problem(
            place=place,
            found=f"{fact.job} is no gate, so it cannot have {fact.kind}",
            remedy=f"write gate = true in job {fact.job}, or log finished",
        )


def _fields(place: str, fact: Fact) -> Iterator[Problem]:
    shape = FACT_FIELDS[fact.kind]
    for name in shape.needs:
        if getattr(fact, name) == _DEFAULTS[name]:
            says = _SAYS.get(name, f"a {name}")
            yield Problem(place=place, found=f"does not say {says}", remedy=f"a fact '{fact.kind}' needs it")
    allowed = shape.all
    for name in _SPECIFIC:
        if name not in allowed and getattr(fact, name) != _DEFAULTS[name]:
            yield Problem(
                place=place,
                found=f"a fact '{fact.kind}' has no {name}",
                remedy=f"take it out; beside its day it has {', '.join(allowed)} and note",
            )


def _references(place: str, fact: Fact, known: Known) -> Iterator[Problem]:
    for kind in ("job", "shipment", "supplier", "option"):
        code = getattr(fact, kind)
        if code and not known.is_known(kind, code):
            yield known.unknown(place, kind, code)
    if fact.kind == "scrapped":
        if fact.part and not known.is_known("part", fact.part):
            yield known.unknown(place, "part", fact.part)
    elif fact.part and "part" in FACT_FIELDS[fact.kind].all:
        yield from _counted_part(place, fact, known)


def _counted_part(place: str, fact: Fact, known: Known) -> Iterator[Problem]:
    """A count speaks of a part that its job makes, or that is in its shipment."""
    about = fact.job or fact.shipment
    job, shipment = known.plan.job_by_code.get(fact.job), known.plan.shipment_by_code.get(fact.shipment)
    if known.is_unread(about) or not (job or shipment):
        return
    parts = [make.part for make in known.plan.makes_of(job)] if job else []
    parts += [content.part for content in shipment.contents] if shipment else []
    if fact.part in parts:
        return
    does = f"{about} does not make" if job else f"is not in {about}"
    close = nearest(fact.part, parts)
    remedy = f"name one of {', '.join(parts)}" if parts else "take part out"
    yield Problem(
        place=f"{place}, part",
        found=f"counts '{fact.part}', which {does}",
        remedy=f"did you mean {close}?" if close else remedy,
    )


def _dates(place: str, fact: Fact, known: Known) -> Iterator[Problem]:
    for day in (fact.on, fact.logged, fact.day, fact.first, fact.worst):
        yield from date_problem(place, day)
    yield from order_problem(place, fact.first, fact.day)
    if fact.worst is not None and fact.day is not None and fact.worst < fact.day:
        yield Problem(
            place=place,
            found=f"the worst day {fact.worst} comes before the day promised {fact.day}",
            remedy="exchange the two, or correct one of them",
        )
    days = {"on": fact.on} if fact.logged == fact.on else {"on": fact.on, "logged": fact.logged}
    for name, day in days.items():
        if day > known.today:
            yield Problem(
                place=place,
                found=f"{name} is {day}, which comes after today ({known.today})",
                remedy="facts lie at or before today: correct the day, or log a promise instead",
            )
    if fact.logged < fact.on:
        yield Problem(
            place=place,
            found=f"was logged on {fact.logged}, before it happened on {fact.on}",
            remedy="correct on or logged",
        )


def _told(place: str, fact: Fact) -> Iterator[Problem]:
    if fact.day is None and not fact.words:
        remedy = "write for = the day, first and last of a span, or words = the words alone"
        yield Problem(place=place, found="does not say what was told", remedy=remedy)
    if fact.first is not None and fact.day is None:
        yield Problem(place=place, found="is a span without its last day", remedy="write last = the last day")


def _given(place: str, fact: Fact) -> Iterator[Problem]:
    if fact.what and fact.what not in GIVEN_WHAT:
        close = nearest(fact.what, GIVEN_WHAT)
        yield Problem(
            place=place,
            found=f"'{fact.what}' cannot be given; expected {', '.join(GIVEN_WHAT)}",
            remedy=f"did you mean {close}?" if close else "use one of these words",
        )
    if fact.what == "day1" and fact.day is None:
        yield Problem(
            place=place, found="does not say which day is day 1", remedy="write for = the day they named"
        )
    if fact.what != "day1" and fact.day is not None:
        yield Problem(
            place=place,
            found=f"names a day ({fact.day}), which only day1 does",
            remedy="take for out; on is the day it was given",
        )

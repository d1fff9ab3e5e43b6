"""Small plans from a short text, so that a test shows its network on one line."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from tracker.plan.model import Fact, Job, Link, Plan, Run, Shipment, Supplier
from tracker.plan.span import Span, parse_lead, parse_span

MONDAY = date(2026, 6, 1)
BENCH = Supplier(code="bench", workdays="all", inhouse=True)
SHOP = Supplier(code="shop")  # outside, Monday to Friday, dates in hand
KINDS = {">": "finish-start", ">>": "start-start", ">|": "finish-finish"}


def plan(
    text: str,
    *,
    facts: Sequence[Fact] = (),
    jobs: Mapping[str, Mapping[str, Any]] | None = None,
    suppliers: Sequence[Supplier] = (BENCH, SHOP),
    shipments: Sequence[Shipment] | None = None,
    start: date = MONDAY,
) -> Plan:
    """Read ``a:5 b:3wd@shop | a>b+2cd``: jobs with lead and supplier, then links.

    Bare leads are calendar days, jobs without supplier are done on the bench. ``>`` is finish-start, ``>>``
    start-start, ``>|`` finish-finish. ``jobs`` changes fields of single jobs. One shipment waits for all
    jobs that no other waits for, unless ``shipments`` are given.
    """
    words, _, links = text.partition("|")
    made = {}
    for word in words.split():
        name, _, supplier = word.partition("@")
        code, _, lead = name.partition(":")
        lead = lead if lead.endswith("d") else f"{lead}cd"
        made[code] = Job(code=code, supplier=supplier or "bench", lead=parse_lead(lead))
    for word in links.split():
        before, link, after = _link(word)
        made[after] = replace(made[after], after=(*made[after].after, replace(link, job=before)))
    for code, changes in (jobs or {}).items():
        made[code] = replace(made[code], **changes)
    followed = {link.job for job in made.values() for link in job.after}
    last = tuple(code for code in made if code not in followed)
    return Plan(
        run=Run(code="run-1", quantity=100, start=start),
        suppliers=tuple(suppliers),
        jobs=tuple(made.values()),
        shipments=(Shipment(code="wave-1", quantity=100, after=last),)
        if shipments is None
        else tuple(shipments),
        facts=tuple(facts),
    )


def _link(word: str) -> tuple[str, Link, str]:
    word, _, lag = word.partition("+")
    sign = next(sign for sign in (">>", ">|", ">") if sign in word)
    before, after = word.split(sign)
    return before, Link(job=before, kind=KINDS[sign], lag=parse_span(lag) if lag else Span(0)), after


def day(count: int) -> date:
    """The ``count``-th day after Monday 1 June 2026; 0 is that Monday."""
    return MONDAY + timedelta(days=count)


def fact(kind: str, about: str, on: int, **fields: Any) -> Fact:
    """A fact about a job, or a shipment for kinds that speak of one, ``on`` days after the Monday."""
    who = {"shipment" if kind in ("posted", "told") else "job": about}
    dates = {name: day(value) for name, value in fields.items() if name == "day"}
    return Fact(on=day(on), logged=day(on), kind=kind, **who, **{**fields, **dates})

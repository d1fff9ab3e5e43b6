"""All problems of a plan at once, each with its place, what was found against what was expected, and a remedy."""

from collections.abc import Iterator
from datetime import date

from tracker.errors import Problem
from tracker.plan.check_facts import fact_problems
from tracker.plan.check_items import job_problems, supplier_problems
from tracker.plan.check_options import option_problems
from tracker.plan.check_parts import part_problems
from tracker.plan.check_rings import ring_problems
from tracker.plan.check_shipments import shipment_problems
from tracker.plan.known import FIRST_YEAR, LAST_YEAR, Known, date_problem, pieces_problem
from tracker.plan.model import FirstPlan, Plan, PublicHolidays, Run
from tracker.plan.reserved import code_trouble

FEW = 3


def check_plan(plan: Plan, today: date, *, unreadable: frozenset[str] = frozenset()) -> tuple[Problem, ...]:
    """Find every problem of a plan.

    Parameters
    ----------
    plan : Plan
        The plan as it would be stored.
    today : date
        The status date; facts may lie on it but not after it.
    unreadable : frozenset of str
        Codes whose own entry could not be read in full: they count as known and as whatever is expected of
        them, so that one mistake is reported once.

    Returns
    -------
    tuple of Problem
        Codes first, then run, suppliers, parts, jobs, rings, shipments, options, facts, first plan, public holidays.

    Examples
    --------
    >>> plan = Plan(run=Run(code="dial-1", quantity=0, start=date(2026, 6, 15)))
    >>> print(*check_plan(plan, date(2026, 6, 15)))
    run dial-1, quantity: is 0; expected 1 or more; correct the number
    """
    late = _many_after(plan, today)
    known = Known(plan=plan, today=late or today, unreadable=unreadable)
    found = tuple(_all_problems(plan, known))
    return found if late is None else (_all_after(plan, today, late), *found)


def _all_problems(plan: Plan, known: Known) -> Iterator[Problem]:
    yield from _code_problems(plan, known.unreadable)
    yield from _run_problems(plan.run, known)
    for supplier in plan.suppliers:
        yield from supplier_problems(supplier)
    for part in plan.parts:
        yield from part_problems(part, known)
    for job in plan.jobs:
        yield from job_problems(job, known)
    yield from ring_problems(known)
    for shipment in plan.shipments:
        yield from shipment_problems(shipment, known)
    for option in plan.options:
        yield from option_problems(option, known)
    for fact in plan.facts:
        yield from fact_problems(fact, known)
    if plan.first_plan is not None:
        yield from _first_plan_problems(plan.first_plan, known)
    yield from _holiday_problems(plan.holidays)


def _many_after(plan: Plan, today: date) -> date | None:
    """The latest day of facts after today when there are many of them: then today is what is wrong."""
    after = [max(fact.on, fact.logged) for fact in plan.facts if max(fact.on, fact.logged) > today]
    return max(after) if len(after) > FEW else None


def _all_after(plan: Plan, today: date, late: date) -> Problem:
    count = sum(max(fact.on, fact.logged) > today for fact in plan.facts)
    return Problem(
        place=f"run {plan.run.code}",
        found=f"{count} facts lie after today ({today}), the latest on {late}",
        remedy=f"give the status date with --today {late}, or keep one: today = {late} in [run]",
    )


def _code_problems(plan: Plan, unreadable: frozenset[str]) -> Iterator[Problem]:
    coded = [("run", plan.run.code)]
    coded += [("supplier", s.code) for s in plan.suppliers]
    coded += [("part", p.code) for p in plan.parts]
    coded += [("job", j.code) for j in plan.jobs]
    coded += [("shipment", s.code) for s in plan.shipments]
    coded += [("option", o.code) for o in plan.options]
    taken: dict[str, str] = {}
    for kind, code in coded:
        if not code and code in unreadable:
            continue
        trouble = code_trouble(code)
        if trouble:
            remedy = f"choose another, such as {code}-1" if trouble.startswith("is ") else "choose another"
            yield Problem(place=f"{kind} {code}", found=f"the code '{code}' {trouble}", remedy=remedy)
        if code.lower() in taken:
            yield Problem(
                place=f"{kind} {code}",
                found=f"the code is taken by {taken[code.lower()]}",
                remedy="choose another; run, suppliers, parts, jobs, shipments and options share one list, capitals aside",
            )
        taken.setdefault(code.lower(), f"{kind} {code}")


def _run_problems(run: Run, known: Known) -> Iterator[Problem]:
    place = f"run {run.code}"
    yield from pieces_problem(f"{place}, quantity", run.quantity, least=1)
    yield from date_problem(f"{place}, start", run.start)
    yield from date_problem(f"{place}, today", run.today)
    for unit in run.units:
        if not known.is_known("part", unit):
            yield known.unknown(f"{place}, unit", "part", unit)


def _first_plan_problems(first_plan: FirstPlan, known: Known) -> Iterator[Problem]:
    rows: list[tuple[str, str, tuple[date, ...]]] = [
        ("job", row.job, (row.start, row.finish, row.arrives)) for row in first_plan.jobs
    ]
    rows += [("shipment", row.shipment, (row.date,)) for row in first_plan.shipments]
    seen: set[tuple[str, str]] = set()
    for kind, code, days in rows:
        place = f"first plan, {kind} {code}"
        if not known.is_known(kind, code):
            yield known.unknown(place, kind, code)
        if (kind, code) in seen:
            yield Problem(place=place, found="stands in it twice", remedy="keep one of the two")
        seen.add((kind, code))
        for day in days:
            yield from date_problem(place, day)


def _holiday_problems(kept: tuple[PublicHolidays, ...]) -> Iterator[Problem]:
    seen: set[tuple[str, str]] = set()
    for row in kept:
        place = f"public holidays {row.country} {row.subdivision}".rstrip()
        if (row.country, row.subdivision) in seen:
            yield Problem(place=place, found="stand here twice", remedy="keep one of the two")
        seen.add((row.country, row.subdivision))
        if not FIRST_YEAR <= row.first_year <= row.last_year <= LAST_YEAR:
            yield Problem(
                place=place,
                found=f"run from {row.first_year} to {row.last_year}; expected years that rise from {FIRST_YEAR} to {LAST_YEAR}",
                remedy="correct first_year or last_year",
            )
        outside = [day for day in row.days if not row.first_year <= day.year <= row.last_year]
        if outside:
            yield Problem(
                place=place,
                found=f"{outside[0]} lies outside {row.first_year} to {row.last_year}",
                remedy="take the day out, or widen the years",
            )

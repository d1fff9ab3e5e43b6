"""Problems of suppliers and jobs, each on its own and in what it refers to."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from tracker.errors import Problem
from tracker.plan.check_links import link_problems, retry_problems
from tracker.plan.check_lots import lot_problems
from tracker.plan.check_material import material_problems
from tracker.plan.check_rework import rework_problems
from tracker.plan.known import Known, date_problem, order_problem, pieces_problem, twice_problems
from tracker.plan.model import CLOCK_CONDITIONS, LEAVE_CONDITIONS, Job, Supplier
from tracker.plan.nearest import nearest
from tracker.plan.span import DayRate, Lead
from tracker.plan.workdays import parse_workdays


def supplier_problems(supplier: Supplier) -> Iterator[Problem]:
    """Problems of a supplier's calendar."""
    place = f"supplier {supplier.code}"
    try:
        parse_workdays(supplier.workdays)
    except ValueError as error:
        found, _, remedy = str(error).partition(": ")
        yield Problem(place=f"{place}, workdays", found=found, remedy=remedy)
    for closure in supplier.closures:
        yield from date_problem(f"{place}, closures", closure.first)
        yield from date_problem(f"{place}, closures", closure.last)
        yield from order_problem(f"{place}, closures", closure.first, closure.last)
    for day in supplier.opens:
        yield from date_problem(f"{place}, opens", day)
    yield from twice_problems(f"{place}, opens", [str(day) for day in supplier.opens])
    if supplier.subdivision and not supplier.country:
        yield Problem(
            place=f"{place}, subdivision",
            found=f"'{supplier.subdivision}' stands without a country",
            remedy="write country as well, such as GB",
        )


def job_problems(job: Job, known: Known) -> Iterator[Problem]:
    """Problems of one job: its supplier, numbers, conditions, links, retry, parts, lots and rework."""
    place = f"job {job.code}"
    if not known.is_known("supplier", job.supplier):
        yield known.unknown(f"{place}, supplier", "supplier", job.supplier)
    yield from pieces_problem(f"{place}, quantity", job.quantity, least=1)
    yield from date_problem(f"{place}, not_before", job.not_before)
    yield from _conditions(f"{place}, clock", job.clock or (), CLOCK_CONDITIONS)
    yield from _conditions(f"{place}, leave_when", job.leave_when, LEAVE_CONDITIONS)
    yield from _rate_problems(f"{place}, rate", job)
    yield from link_problems(job, known)
    yield from retry_problems(job, known)
    yield from lot_problems(job, known)
    if job.counts_pieces:
        yield from material_problems(job, known)
        yield from rework_problems(job, known)


def _conditions(place: str, words: Sequence[str], expected: Sequence[str]) -> Iterator[Problem]:
    for word in words:
        if word not in expected:
            close = nearest(word, expected)
            yield Problem(
                place=place,
                found=f"'{word}' is no condition here; expected {', '.join(expected)}",
                remedy=f"did you mean {close}?" if close else "use one of these words",
            )
    yield from twice_problems(place, words)


def _rate_problems(place: str, job: Job) -> Iterator[Problem]:
    rate = job.lead
    if isinstance(rate, Lead):
        return
    numbers: list[tuple[str, Fraction | int]] = (
        [("per_day", rate.per_day)]
        if isinstance(rate, DayRate)
        else [
            ("minutes_each", rate.minutes_each),
            ("hours_per_day", rate.hours_per_day),
            ("machines", rate.machines),
        ]
    )
    for name, number in numbers:
        if number <= 0:
            yield Problem(
                place=f"{place}, {name}", found=f"is {number}; expected more than 0", remedy="correct it"
            )
    setup = rate.setup if isinstance(rate, DayRate) else rate.setup_h
    if setup < 0:
        yield Problem(place=f"{place}, set-up", found=f"is {setup}; expected 0 or more", remedy="correct it")
    if not isinstance(rate, DayRate) and rate.hours_per_day > _HOURS:
        yield Problem(
            place=f"{place}, hours_per_day",
            found=f"is {rate.hours_per_day}; a day has {_HOURS} hours",
            remedy="count several machines in machines",
        )


_HOURS = 24

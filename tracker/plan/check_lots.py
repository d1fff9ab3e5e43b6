"""Problems of how a job's pieces come out: yield, lots, whom they serve, and printed counts that may differ."""

from collections.abc import Iterator, Sequence
from dataclasses import fields
from fractions import Fraction

from tracker.errors import Problem
from tracker.plan.check_material import pieces_put_in
from tracker.plan.known import Known, number_text, pieces_problem, twice_problems
from tracker.plan.model import Job

MOST_LOTS = 1000
_KEYS = {
    ("yield" if field.name == "yields" else field.name): (field.name, field.default)
    for field in fields(Job)
    if field.name in ("yields", "lots", "one_by_one", "serves", "rerun", "unders", "overs")
}


def lot_problems(job: Job, known: Known) -> Iterator[Problem]:
    """Problems of one job's yield, lots, shipments served and count tolerance."""
    said = [key for key, (name, default) in _KEYS.items() if getattr(job, name) != default]
    if not said:
        return
    place = f"job {job.code}"
    if not (known.plan.makes_of(job) or job.rework_of or known.is_unread(job.code)):
        yield from _idle_keys(job, said)
    if not 0 < job.yields <= 1:
        yield Problem(
            place=f"{place}, yield",
            found=f"is {number_text(job.yields)}; expected more than 0 and 1 at most",
            remedy="write the share that comes out good, such as 0.95 or 95%",
        )
    if isinstance(job.lots, int):
        yield from _number_of_lots(f"{place}, lots", job.lots, pieces_put_in(job))
    elif isinstance(job.lots, tuple):
        yield from _sizes(f"{place}, lots", job.lots, pieces_put_in(job))
    for code in job.serves:
        if not known.is_known("shipment", code):
            yield known.unknown(f"{place}, serves", "shipment", code)
    yield from twice_problems(f"{place}, serves", job.serves)
    if not 0 <= job.unders < 1:
        yield _tolerance(f"{place}, unders", job.unders, "0% or more and less than 100%")
    if not 0 <= job.overs <= 1:
        yield _tolerance(f"{place}, overs", job.overs, "0% to 100%")


def _idle_keys(job: Job, said: Sequence[str]) -> Iterator[Problem]:
    """What only says something of a job that makes a part."""
    for key in said:
        yield Problem(
            place=f"job {job.code}, {key}",
            found=f"says nothing, since {job.code} makes no part",
            remedy=f"write makes = the part it makes, or take {key} out",
        )


def _number_of_lots(place: str, lots: int, pieces: int | None) -> Iterator[Problem]:
    if not 1 <= lots <= MOST_LOTS:
        bound = "1 or more" if lots < 1 else f"{MOST_LOTS} at most"
        yield Problem(
            place=place,
            found=f"is {lots}; expected {bound}",
            remedy="give the number of lots, or their sizes such as [100, 75]",
        )
    elif pieces is not None and lots > pieces:
        yield Problem(
            place=place,
            found=f"cuts {pieces} pieces into {lots} lots",
            remedy="give fewer lots; sizes stand in brackets, such as [100, 75]",
        )


def _sizes(place: str, sizes: Sequence[int], pieces: int | None) -> Iterator[Problem]:
    if not sizes:
        yield Problem(
            place=place, found="names no lot", remedy="give the sizes, such as [100, 75], or take it out"
        )
        return
    for size in sizes:
        yield from pieces_problem(f"{place} {size}", size, least=1)
    if pieces is not None and min(sizes) > 0 and sum(sizes) != pieces:
        yield Problem(
            place=place,
            found=f"come to {sum(sizes)} pieces, but quantity is {pieces}",
            remedy="correct the sizes or the quantity",
        )


def _tolerance(place: str, share: Fraction, expected: str) -> Problem:
    return Problem(
        place=place,
        found=f"is {number_text(share * 100)}%; expected {expected}",
        remedy="write how far the count may differ, such as 10%",
    )

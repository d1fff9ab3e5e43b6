"""Problems of parts: how they are counted, whether anything brings them, and who covers a shortage."""

from collections.abc import Iterator

from tracker.errors import Problem
from tracker.plan.known import MOST_PIECES, Known, number_text, pieces_problem
from tracker.plan.nearest import nearest
from tracker.plan.parts import Part


def part_problems(part: Part, known: Known) -> Iterator[Problem]:
    """Problems of one part: its numbers, and the jobs that make it."""
    place = f"part {part.code}"
    yield from _here_problems(f"{place}, here", part, known)
    yield from pieces_problem(f"{place}, spares", part.spares, least=0)
    yield from pieces_problem(f"{place}, moq", part.moq, least=1)
    yield from pieces_problem(f"{place}, multiple", part.multiple, least=1)
    rerun = [job.code for job in known.plan.makers_of[part.code] if job.rerun and not job.rework_of]
    if len(rerun) > 1:
        yield Problem(
            place=place,
            found=f"{' and '.join(rerun)} would all make it again for a shortage",
            remedy="leave rerun = true in one of them",
        )
    if not part.here and not known.plan.makers_of[part.code] and known.makers_are_known:
        yield from _nobody_makes(part, known)


def _here_problems(place: str, part: Part, known: Known) -> Iterator[Problem]:
    if not 0 <= part.here <= MOST_PIECES:
        bound = "0 or more" if part.here < 0 else f"{MOST_PIECES} at most"
        found = f"is {number_text(part.here)}; expected {bound}"
        yield Problem(place=place, found=found, remedy="correct the number")
    elif part.here.denominator != 1 and not part.unit and not known.is_unread(part.code):
        yield Problem(
            place=place,
            found=f"is {number_text(part.here)}, but {part.code} is counted in whole pieces",
            remedy="give a whole number, or write what it is measured in, such as unit = 'm'",
        )


def _nobody_makes(part: Part, known: Known) -> Iterator[Problem]:
    """A part that is wanted and never comes."""
    takers = [f"{job.code} takes" for job in known.plan.jobs if part.code in (t.part for t in job.takes)]
    holders = [
        f"{shipment.code} contains"
        for shipment in known.plan.shipments
        if part.code in (content.part for content in shipment.contents)
    ]
    for wants in (*takers, *holders)[:1]:
        close = nearest(part.code, known.codes["job"])
        where = f"job {close}" if close else "the job that brings it"
        yield Problem(
            place=f"part {part.code}",
            found=f"{wants} it, but no job makes it and none is here",
            remedy=f"write makes = '{part.code}' in {where}, or here = the number in stock",
        )

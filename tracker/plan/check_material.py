"""Problems of what a job takes and makes: the parts, how much of each, and whether the pieces are counted."""

from collections.abc import Iterator

from tracker.errors import Problem
from tracker.plan.known import MOST_PIECES, Known, number_text, pieces_problem, twice_problems
from tracker.plan.model import Job
from tracker.plan.nearest import nearest
from tracker.plan.parts import Take


def pieces_put_in(job: Job) -> int | None:
    """The pieces a job is for: its quantity, else the sum of its shares; None where the need decides."""
    shares = [make.quantity for make in job.makes if make.quantity is not None]
    if job.quantity is not None or not shares or len(shares) < len(job.makes):
        return job.quantity
    return sum(shares)


def material_problems(job: Job, known: Known) -> Iterator[Problem]:
    """Problems of the parts one job takes and makes."""
    place = f"job {job.code}, takes"
    for take in job.takes:
        yield from _take_problems(place, job, take, known)
    yield from twice_problems(place, [take.part for take in job.takes])
    if job.takes and not known.plan.makes_of(job) and pieces_put_in(job) is None:
        yield from _uncounted(place, job, known)
    place = f"job {job.code}, makes"
    for make in job.makes:
        if not known.is_known("part", make.part):
            yield known.unknown(place, "part", make.part)
        yield from pieces_problem(f"{place} {make.part}", make.quantity, least=1)
    yield from twice_problems(place, [make.part for make in job.makes])
    yield from _share_problems(place, job)


def _take_problems(place: str, job: Job, take: Take, known: Known) -> Iterator[Problem]:
    part = known.plan.part_by_code.get(take.part)
    made = [make.part for make in known.plan.makes_of(job)]
    if not known.is_known("part", take.part):
        yield known.unknown(place, "part", take.part)
    elif take.part in made and not job.rework_of:
        yield Problem(
            place=place,
            found=f"takes {take.part}, which {job.code} makes itself",
            remedy="take it out of takes or out of makes; a job that mends pieces of another says rework_of",
        )
    if not 0 < take.per <= MOST_PIECES:
        bound = "more than 0" if take.per <= 0 else f"{MOST_PIECES} at most"
        found = f"is {number_text(take.per)}; expected {bound}"
        yield Problem(place=f"{place} {take.part}", found=found, remedy="correct the number")
    elif part is not None and take.per.denominator != 1 and not part.unit and not known.is_unread(part.code):
        yield Problem(
            place=f"{place} {take.part}",
            found=f"is {number_text(take.per)}, but {take.part} is counted in whole pieces",
            remedy=f"give a whole number, or write in part {take.part} what it is measured in, such as unit = 'm'",
        )
    if take.into and take.into not in made and not known.is_unread(job.code):
        yield _not_made(place, job, take, made)


def _not_made(place: str, job: Job, take: Take, made: list[str]) -> Problem:
    close = nearest(take.into, made)
    remedy = f"name one of {', '.join(made)}" if made else "take into out, or write makes as well"
    return Problem(
        place=place,
        found=f"{take.part} goes into '{take.into}', which {job.code} does not make",
        remedy=f"did you mean {close}?" if close else remedy,
    )


def _uncounted(place: str, job: Job, known: Known) -> Iterator[Problem]:
    """A taker with no count; a rework job without one is told so with its rework."""
    if not job.rework_of and not known.is_unread(job.code):
        yield Problem(
            place=place,
            found="takes parts, but nothing says for how many pieces: it makes no part and has no quantity",
            remedy="write quantity = the number of pieces, or makes = the part it makes",
        )


def _share_problems(place: str, job: Job) -> Iterator[Problem]:
    """Shares that are missing, or that do not add up to the quantity."""
    unshared = [make.part for make in job.makes if make.quantity is None]
    if len(job.makes) > 1 and unshared:
        example = ", ".join(f"{make.part} = {make.quantity or 'N'}" for make in job.makes)
        yield Problem(
            place=place,
            found=f"does not say how many pieces are for {', '.join(unshared)}",
            remedy=f"give each part its share, such as makes = {{ {example} }}",
        )
        return
    shares = [make.quantity for make in job.makes if make.quantity is not None]
    if shares and job.quantity not in (None, sum(shares)):
        added = f" ({' + '.join(map(str, shares))})" if len(shares) > 1 else ""
        yield Problem(
            place=place,
            found=f"comes to {sum(shares)} pieces{added}, but quantity is {job.quantity}",
            remedy="correct one of the two, or leave quantity out",
        )

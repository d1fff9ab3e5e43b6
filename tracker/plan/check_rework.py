"""Problems of jobs that mend another's pieces."""

from collections.abc import Iterator

from tracker.errors import Problem
from tracker.plan.check_material import pieces_put_in
from tracker.plan.known import Known
from tracker.plan.model import Job


def rework_problems(job: Job, known: Known) -> Iterator[Problem]:
    """Problems of a rework job: whose pieces go in, how many, and what comes out."""
    place = f"job {job.code}, rework_of"
    if not job.rework_of:
        return
    if job.rework_of == job.code:
        yield Problem(
            place=place, found=f"{job.code} is rework of itself", remedy="name the job whose pieces it mends"
        )
        return
    if not known.is_known("job", job.rework_of):
        yield known.unknown(place, "job", job.rework_of)
        return
    if known.is_unread(job.code):
        return
    if pieces_put_in(job) is None:
        yield Problem(
            place=f"job {job.code}, quantity",
            found="does not say how many pieces go in",
            remedy=f"write quantity = the pieces of {job.rework_of} that it mends",
        )
    if job.rerun:
        yield Problem(
            place=f"job {job.code}, rerun",
            found=f"mends pieces of {job.rework_of} and makes no new ones, so it cannot cover a shortage",
            remedy="write rerun = true in the job that makes new ones",
        )
    if not known.is_unread(job.rework_of):
        yield from _comes_out(job, known)


def _comes_out(job: Job, known: Known) -> Iterator[Problem]:
    """What a rework job makes is what the job it mends for makes, said where that leaves a choice."""
    place = f"job {job.code}, makes"
    mended = [make.part for make in known.plan.makes_of(known.plan.job_by_code[job.rework_of])]
    if not mended:
        yield Problem(
            place=f"job {job.code}, rework_of",
            found=f"{job.rework_of} makes no part, so no pieces of it can be mended",
            remedy=f"write makes = the part it makes in job {job.rework_of}",
        )
        return
    for make in job.makes:
        if make.part not in mended and known.is_known("part", make.part):
            yield Problem(
                place=place,
                found=f"makes {make.part}, but {job.rework_of}, whose pieces it mends, makes {', '.join(mended)}",
                remedy=f"write makes = '{mended[0]}'"
                if len(mended) == 1
                else f"name one of {', '.join(mended)}",
            )
    if len(known.plan.makes_of(job)) != 1 and not job.makes:
        yield Problem(
            place=place,
            found=f"does not say which part of {job.rework_of} it mends",
            remedy=f"write makes = one of {', '.join(mended)}",
        )

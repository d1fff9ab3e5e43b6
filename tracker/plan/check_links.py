"""What jobs wait for: unknown, doubled and impossible links, and retries of gates."""

from collections.abc import Iterator

from tracker.errors import Problem
from tracker.plan.known import Known
from tracker.plan.model import Job, Link


def link_problems(job: Job, known: Known) -> Iterator[Problem]:
    """Problems of what one job waits for, link by link."""
    place = f"job {job.code}, after"
    seen: set[tuple[str, str]] = set()
    for link in job.after:
        if (link.job, link.kind) in seen:
            yield Problem(
                place=place, found=f"names {link.job} twice ({link.kind})", remedy="keep one of the two"
            )
        seen.add((link.job, link.kind))
        yield from _one_link(place, job, link, known)


def _one_link(place: str, job: Job, link: Link, known: Known) -> Iterator[Problem]:
    if link.job == job.code:
        yield Problem(
            place=place,
            found=f"{job.code} waits for itself",
            remedy="take it out, or name the job that was meant",
        )
    elif not known.is_known("job", link.job):
        yield known.unknown(place, "job", link.job)
    elif link.on == "fail" and link.job not in known.gates:
        yield Problem(
            place=place,
            found=f"runs after {link.job} has failed, but {link.job} is no gate and cannot fail",
            remedy=f"write gate = true in job {link.job}, or take out on = 'fail'",
        )


def retry_problems(job: Job, known: Known) -> Iterator[Problem]:
    """Problems of a second attempt at a gate: a known gate, and not itself."""
    place = f"job {job.code}, retry_of"
    if not job.retry_of:
        return
    if job.retry_of == job.code:
        yield Problem(
            place=place, found=f"{job.code} is a retry of itself", remedy="name the gate that failed first"
        )
        return
    if not known.is_known("job", job.retry_of):
        yield known.unknown(place, "job", job.retry_of)
        return
    if job.retry_of not in known.gates:
        yield Problem(
            place=place,
            found=f"{job.retry_of} is no gate, so there is nothing to retry",
            remedy=f"write gate = true in job {job.retry_of}",
        )
    for link in job.after:
        if link.on == "pass" and link.job != job.code and link.job in known.attempts.get(job.code, ()):
            yield Problem(
                place=f"job {job.code}, after",
                found=f"waits for {link.job} to pass, yet is there for the case that it fails",
                remedy=f"wait for the rework instead, or run after {link.job} on = 'fail'",
            )

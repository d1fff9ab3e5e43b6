"""Pieces of a job that go back: a job of their own that makes the same part, and what is in rework now."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from tracker.errors import Refused
from tracker.plan.counts import count_pieces, shares_of
from tracker.plan.model import Job, Link, Plan, Supplier
from tracker.plan.parts import Make
from tracker.plan.progress import progress_of
from tracker.plan.second_attempt import free_code
from tracker.plan.span import Lead, Span


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLoop:
    """So many pieces of ``part`` to be reworked.

    ``supplier``, ``lead`` and ``travel`` are those of the job whose pieces they are where they are empty.
    ``check`` is the lead of a check before they count, done by ``checker`` or our own bench.
    """

    pieces: int
    part: str
    supplier: str = ""
    lead: Lead | None = None
    travel: Span | None = None
    check: Lead | None = None
    checker: str = ""
    said: str = ""


def rework_jobs_of(plan: Plan, job: Job, today: date) -> tuple[Job, ...]:
    """The jobs that took pieces of ``job`` to rework, those called off left out."""
    return tuple(
        one
        for one in plan.jobs
        if one.rework_of == job.code and one.code != job.code and not progress_of(plan, one, today).called_off
    )


def pieces_in_rework(plan: Plan, job: Job, today: date) -> Mapping[str, int]:
    """Pieces of each made part that wait to be reworked, none of them with a rework job of its own yet.

    Pieces that came beyond what was put in are taken for reworked ones that came back.
    """
    counted, progress = count_pieces(plan, job, today), progress_of(plan, job, today)
    whole = None if progress.done is None else progress.whole
    sent: dict[str, int] = {}
    for other in rework_jobs_of(plan, job, today):
        for part, share in shares_of(plan, other).items():
            sent[part] = sent.get(part, 0) + (share or 0)
    found = {}
    for part, share in shares_of(plan, job).items():
        rework = sum(one.rework for one in counted.came_of(part))
        back = counted.back_from_rework(part, share, whole)
        found[part] = max(0, rework - back - sent.get(part, 0))
    return found


def with_piece_rework(plan: Plan, job: Job, loop: PieceLoop, today: date) -> Plan:
    """Add the job that reworks pieces of ``job``; they join the stock of their part, and nothing else moves its links.

    With a check, the check takes the pieces over and the rework job comes before it as plain work, so that they
    count as good no sooner than they have been looked at.

    Raises
    ------
    Refused
        If fewer pieces are in rework as of ``today``, or it is not clear which bench is to check them.
    """
    _refuse_too_many(plan, job, loop, today)
    first = _first_job(plan, job)
    codes = set(plan.job_by_code)
    mended = _mended(job, first, loop, free_code(f"rework-{first.code}", codes))
    if loop.check is None:
        return replace(plan, jobs=(*plan.jobs, mended))

    def named(checker: str) -> str:
        return f"tracker rework {job.code} {loop.pieces} check {checker} {loop.check}"

    work = replace(mended, makes=(), rework_of="", yields=Fraction(1))
    check = Job(
        code=free_code(f"check-{mended.code}", codes),
        name=f"Check after rework of {first.name or first.code}",
        public_name=f"{first.public_name}: check after rework" if first.public_name else "",
        supplier=loop.checker or our_bench(plan, job.supplier, named).code,
        lead=loop.check,
        after=(Link(job=work.code),),
        quantity=loop.pieces,
        makes=mended.makes,
        rework_of=job.code,
        yields=mended.yields,
    )
    return replace(plan, jobs=(*plan.jobs, work, check))


def _first_job(plan: Plan, job: Job) -> Job:
    """The job whose pieces went round first, where ``job`` is a rework itself."""
    seen = {job.code}
    while job.rework_of in plan.job_by_code and job.rework_of not in seen:
        job = plan.job_by_code[job.rework_of]
        seen.add(job.code)
    return job


def _mended(job: Job, first: Job, loop: PieceLoop, code: str) -> Job:
    return Job(
        code=code,
        name=f"Rework of {first.name or first.code}",
        public_name=f"{first.public_name}: rework" if first.public_name else "",
        supplier=loop.supplier or job.supplier,
        process=first.process,
        lead=loop.lead or job.lead,
        said=loop.said,
        quantity=loop.pieces,
        travel=job.travel if loop.travel is None else loop.travel,
        makes=(Make(part=loop.part),),
        yields=job.yields,
        rework_of=job.code,
    )


def _refuse_too_many(plan: Plan, job: Job, loop: PieceLoop, today: date) -> None:
    waiting = pieces_in_rework(plan, job, today).get(loop.part, 0)
    if loop.pieces <= waiting:
        return
    sent = ", ".join(one.code for one in rework_jobs_of(plan, job, today))
    of = f" of {loop.part}" if len(shares_of(plan, job)) > 1 else ""
    beside = f" beside those of {sent}" if sent else ""
    if waiting:
        raise Refused(
            f"{job.code} has {waiting}{of} in rework{beside}, fewer than {loop.pieces}",
            hint=f"write {waiting} at most, or log first what else goes back: tracker in {job.code} rework 4",
        )
    raise Refused(
        f"{job.code} has no pieces{of} in rework{beside}",
        hint=f"log first what goes back: tracker in {job.code} good 52 rework 5",
    )


def our_bench(plan: Plan, otherwise: str, instead: Callable[[str], str]) -> Supplier:
    """Our own bench, where there is exactly one.

    Where there is not, ``instead`` words the command that names who checks; ``otherwise`` stands in for a bench.
    """
    benches = [one for one in plan.suppliers if one.inhouse]
    if len(benches) == 1:
        return benches[0]
    which = (
        f"several benches are ours, {', '.join(one.code for one in benches)}"
        if benches
        else "no bench is ours"
    )
    checker = benches[0].code if benches else otherwise
    raise Refused(f"who checks the pieces? {which}", hint=f"name who does: {instead(checker)}")

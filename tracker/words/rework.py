"""The words of ``rework``: a gate or pieces of a job, who mends them, and how long that takes."""

import re
from collections.abc import Mapping, Sequence
from datetime import date

from tracker.errors import Refused, UsageError
from tracker.plan.gates import gates_of
from tracker.plan.model import Job, Plan
from tracker.plan.piece_rework import PieceLoop, pieces_in_rework, with_piece_rework
from tracker.plan.progress import progress_of
from tracker.plan.second_attempt import Loop, free_code, with_rework
from tracker.plan.span import NO_DAYS, parse_lead, parse_span
from tracker.words.codes import find_job, find_supplier
from tracker.words.keyed import days_of, named_and_days, parted
from tracker.words.parts import one_of, parts_made

_KEYS = ("by", "lead", "travel", "check", "said", "of")
_EXAMPLE = "for example: tracker rework fit-check by tolmark lead 12wd"
_PIECES_EXAMPLE = "for example: tracker rework finish-natural 9 by varne lead 8wd"
_NUMBER = re.compile(r"[0-9]{1,9}")


def read_rework(words: Sequence[str], plan: Plan, today: date) -> Plan:
    """The plan with the rework that ``words`` ask for.

    A gate: GATE by SUPPLIER lead LEAD [travel, check, said]. Pieces: JOB N [of PART, by, lead, travel, check, said].

    Raises
    ------
    UsageError
        If a word has no place, something needed is missing, or days have no unit.
    Refused
        If the job neither is a gate nor makes a part, or needs no such rework as of ``today``.
    """
    subjects, values = parted(words, _KEYS, _EXAMPLE)
    job = _job(subjects, plan, today)
    if job.gate or job.retry_of:
        return with_rework(plan, job, _gate_loop(subjects, values, plan), today)
    if not plan.makes_of(job):
        code = free_code(f"rework-{job.code}", plan.job_by_code)
        raise Refused(
            f"{job.code} is no gate and makes no part, so its pieces are not followed through a rework",
            hint=f"add a job for them: tracker add job {code} supplier={job.supplier} lead=8wd after={job.code}",
        )
    return with_piece_rework(plan, job, _piece_loop(job, subjects[1:], values, plan, today), today)


def added_text(job: Job) -> str:
    """A job of a rework as read back; what it follows goes without saying."""
    pieces = ""
    if job.quantity and not job.gate:
        what = job.makes[0].part if job.makes else "piece" if job.quantity == 1 else "pieces"
        pieces = f" {job.quantity} of {what}," if job.makes else f" {job.quantity} {what},"
    travel = f", travel {job.travel}" if job.travel.days else ""
    said = f', said "{job.said}"' if job.said else ""
    return f"job {job.code} added: {job.supplier},{pieces} lead {job.lead}{travel}{said}"


def _gate_loop(subjects: Sequence[str], values: Mapping[str, str], plan: Plan) -> Loop:
    extra = next((word for word in (*subjects[1:], *(["of"] if "of" in values else []))), None)
    if extra is not None:
        raise UsageError(f"'{extra}' has no place in 'rework' of a gate", hint=_EXAMPLE)
    missing = [key for key in ("by", "lead") if key not in values]
    if missing:
        raise UsageError(f"rework needs {' and '.join(missing)}", hint=_EXAMPLE)
    return Loop(
        supplier=find_supplier(values["by"], plan),
        lead=days_of("lead", values["lead"], parse_lead, _EXAMPLE),
        travel=days_of("travel", values["travel"], parse_span, _EXAMPLE) if "travel" in values else NO_DAYS,
        check=days_of("check", values["check"], parse_lead, _EXAMPLE) if "check" in values else None,
        said=values.get("said", ""),
    )


def _piece_loop(
    job: Job, numbers: Sequence[str], values: Mapping[str, str], plan: Plan, today: date
) -> PieceLoop:
    part = _part(job, values.get("of", ""), plan)
    checker, check = named_and_days(values.get("check", ""))
    return PieceLoop(
        pieces=_pieces(job, numbers, part, plan, today),
        part=part,
        supplier=find_supplier(values["by"], plan) if "by" in values else "",
        lead=days_of("lead", values["lead"], parse_lead, _PIECES_EXAMPLE) if "lead" in values else None,
        travel=days_of("travel", values["travel"], parse_span, _PIECES_EXAMPLE)
        if "travel" in values
        else None,
        check=days_of("check", check, parse_lead, _PIECES_EXAMPLE) if check else None,
        checker=find_supplier(checker, plan) if checker else "",
        said=values.get("said", ""),
    )


def _part(job: Job, of: str, plan: Plan) -> str:
    made = parts_made(plan, job)
    if of:
        return one_of(of, made, f"{job.code} makes")
    if len(made) > 1:
        raise UsageError(
            f"{job.code} makes {' and '.join(made)}: pieces of which one?",
            hint=f"say it: tracker rework {job.code} 3 of {made[0]}",
        )
    return made[0]


def _pieces(job: Job, numbers: Sequence[str], part: str, plan: Plan, today: date) -> int:
    if not numbers:
        waiting = pieces_in_rework(plan, job, today).get(part, 0)
        raise UsageError(
            f"rework how many pieces of {job.code}? {waiting} {'is' if waiting == 1 else 'are'} in rework",
            hint=_PIECES_EXAMPLE,
        )
    first, *more = numbers
    if more or not _NUMBER.fullmatch(first) or not int(first):
        wrong = more[0] if more else first
        raise UsageError(
            f"rework takes one number of pieces, 1 or more, found '{wrong}'", hint=_PIECES_EXAMPLE
        )
    return int(first)


def _job(subjects: Sequence[str], plan: Plan, today: date) -> Job:
    """The job named: of several that fit, a gate that failed, or one with pieces in rework."""
    if not subjects:
        raise UsageError("rework which gate, or how many pieces of which job?", hint=_EXAMPLE)
    failed_on = gates_of(plan, today).failed_on

    def needs_it(job: Job) -> bool:
        return job.code in failed_on or any(pieces_in_rework(plan, job, today).values())

    return find_job(
        subjects[0],
        plan,
        is_open=lambda one: progress_of(plan, one, today).done is None or needs_it(one),
        fits=needs_it,
    )

"""Which part is meant: one found bad, or one of several that a job makes or a shipment holds."""

from collections.abc import Sequence

from tracker.errors import UsageError
from tracker.plan.model import Job, Plan
from tracker.words.codes import codes_meant, find_code, find_job, unknown


def part_found_bad(word: str, of: str, plan: Plan) -> str:
    """The part that ``scrap`` speaks of: a part's code, or a job's for what it makes; ``of`` picks one of several.

    Raises
    ------
    UsageError
        If nothing or several things fit, or the job makes several parts and ``of`` names none.
    """
    if not plan.parts:
        raise UsageError(
            "this run counts no parts yet, so none can be scrapped",
            hint="add one, then say who makes it: tracker add part housing; tracker set JOB makes=housing",
        )
    if not word:
        return find_code(of, plan.part_by_code, "part")
    parts, jobs = codes_meant(word, plan.part_by_code), codes_meant(word, plan.job_by_code)
    if parts and not of and (_is_whole(word, parts) or not _is_whole(word, jobs)):
        return find_code(word, parts, "part")
    if not jobs:
        raise unknown(word, [*plan.part_by_code, *plan.job_by_code], "part")
    job = find_job(word, plan, is_open=lambda _: True, fits=lambda one: bool(plan.makes_of(one)))
    return _part_made(job, of, plan)


def _is_whole(word: str, codes: Sequence[str]) -> bool:
    return [code.lower() for code in codes] == [word.lower()]


def _part_made(job: Job, of: str, plan: Plan) -> str:
    made = parts_made(plan, job)
    if of:
        return one_of(of, made, f"{job.code} makes")
    if not made:
        raise UsageError(
            f"{job.code} makes no part, so it is not clear what was found bad",
            hint=f"name the part: {', '.join(plan.part_by_code)}",
        )
    if len(made) > 1:
        raise UsageError(
            f"{job.code} makes {' and '.join(made)}: which one?", hint=f"name it: tracker scrap {made[0]} 3"
        )
    return made[0]


def parts_made(plan: Plan, job: Job) -> tuple[str, ...]:
    """The parts a job makes, in plan order."""
    return tuple(make.part for make in plan.makes_of(job))


def part_counted(of: str, plan: Plan, *, job: str = "", shipment: str = "") -> str:
    """The part that ``of`` names among those that a job makes, or that a shipment holds.

    Raises
    ------
    UsageError
        If it names none of them; the message says which there are.
    """
    if job:
        return one_of(of, parts_made(plan, plan.job_by_code[job]), f"{job} makes")
    held = tuple(content.part for content in plan.shipment_by_code[shipment].contents)
    return one_of(of, held, f"{shipment} holds")


def one_of(word: str, parts: Sequence[str], verb: str) -> str:
    """The one of ``parts`` that ``word`` means; ``verb`` says whose they are, such as ``trial makes``."""
    if not parts:
        raise UsageError(
            f"{verb} no part, so 'of' says nothing here", hint="leave 'of' and the word after it out"
        )
    if not codes_meant(word, parts):
        raise UsageError(f"{verb} {' and '.join(parts)}, no '{word}'", hint=f"write: of {parts[0]}")
    return find_code(word, parts, "part")

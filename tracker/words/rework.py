"""The words of ``rework``: a gate, who mends it, and how long that takes."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import TypeVar

from tracker.errors import Refused, UsageError
from tracker.plan.gates import gates_of
from tracker.plan.model import Job, Plan
from tracker.plan.progress import progress_of
from tracker.plan.second_attempt import Loop, with_rework
from tracker.plan.span import NO_DAYS, UnclearDaysError, parse_lead, parse_span
from tracker.words.codes import find_job, find_supplier

_KEYS = ("by", "lead", "travel", "check", "said")
_EXAMPLE = "for example: tracker rework fit-check by tolmark lead 12wd"

_T = TypeVar("_T")


def read_rework(words: Sequence[str], plan: Plan, today: date) -> Plan:
    """The plan with the rework loop that ``words`` ask for: GATE by SUPPLIER lead LEAD [travel, check, said].

    Raises
    ------
    UsageError
        If a word has no place, ``by`` or ``lead`` is missing, or days have no unit.
    Refused
        If the job is no gate, or the gate needs no rework as of ``today``.
    """
    subjects, values = _parted(words)
    gate = _gate(subjects, plan, today)
    missing = [key for key in ("by", "lead") if key not in values]
    if missing:
        raise UsageError(f"rework needs {' and '.join(missing)}", hint=_EXAMPLE)
    loop = Loop(
        supplier=find_supplier(values["by"], plan),
        lead=_days("lead", values["lead"], parse_lead),
        travel=_days("travel", values["travel"], parse_span) if "travel" in values else NO_DAYS,
        check=_days("check", values["check"], parse_lead) if "check" in values else None,
        said=values.get("said", ""),
    )
    return with_rework(plan, gate, loop, today)


def _parted(words: Sequence[str]) -> tuple[list[str], dict[str, str]]:
    """The words before the first key, and each key's words up to the next key."""
    subjects: list[str] = []
    values: dict[str, list[str]] = {}
    current = subjects
    for word in words:
        key = word.lower()
        if key in _KEYS and current is not values.get("said"):
            if key in values:
                raise UsageError(f"{key} comes a second time in one command", hint=_EXAMPLE)
            current = values[key] = []
        elif word.strip():
            current.append(word.strip())
    empty = next((key for key, found in values.items() if not found), None)
    if empty is not None:
        raise UsageError(f"{empty} needs a word after it", hint=_EXAMPLE)
    return subjects, {key: " ".join(found) for key, found in values.items()}


def _gate(subjects: Sequence[str], plan: Plan, today: date) -> Job:
    if not subjects:
        raise UsageError("rework which gate?", hint=_EXAMPLE)
    failed_on = gates_of(plan, today).failed_on
    job = find_job(
        subjects[0],
        plan,
        is_open=lambda one: progress_of(plan, one, today).done is None,
        fits=lambda one: one.code in failed_on,
    )
    if not (job.gate or job.retry_of):
        raise Refused(
            f"{job.code} is no gate: pieces of a lot that go back are a job of their own for now",
            hint=f"add it: tracker add job rework-{job.code} supplier=CODE lead=8wd after={job.code}",
        )
    if len(subjects) > 1:
        raise UsageError(f"'{subjects[1]}' has no place in 'rework' of a gate", hint=_EXAMPLE)
    return job


def _days(key: str, text: str, parse: Callable[[str], _T]) -> _T:
    try:
        return parse(text)
    except UnclearDaysError as error:
        raise UsageError(f"{key}: {error}", hint=_EXAMPLE) from None

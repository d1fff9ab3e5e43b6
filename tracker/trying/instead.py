"""The words of ``instead``: what comes from elsewhere, from whom, and how long that takes."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tracker.errors import UsageError
from tracker.plan.day_text import full_day
from tracker.plan.model import Plan
from tracker.plan.span import NO_DAYS, parse_lead, parse_span
from tracker.trying.replaced import Replaced, of_job, of_part
from tracker.trying.second_source import Offer, SecondSource, with_second_source
from tracker.words.codes import find_code, find_supplier
from tracker.words.keyed import days_of, named_and_days, parted
from tracker.words.rework import added_text

_KEYS = ("by", "lead", "travel", "check", "said")
_EXAMPLE = "for example: tracker try instead magnets by kessling lead 10wd travel 2cd check 2wd"
_NUMBER = re.compile(r"[1-9][0-9]{0,8}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Instead:
    """The plan with a second source, what it changes in words, and the jobs it adds."""

    plan: Plan
    lines: tuple[str, ...]
    added: tuple[str, ...]


def read_instead(words: Sequence[str], plan: Plan, today: date, begins: date) -> Instead:
    """The plan with the second source that the words ask for: WHAT [N] by SUPPLIER lead LEAD [travel, check, said].

    ``begins`` is the day the order goes out.

    Raises
    ------
    UsageError
        If a word has no place, something needed is missing, or days have no unit.
    Refused
        As ``of_job`` and ``with_second_source`` do.
    """
    subjects, values = parted(words, _KEYS, _EXAMPLE)
    what, pieces = _subject(subjects)
    missing = [key for key in ("by", "lead") if key not in values]
    if missing:
        raise UsageError(f"instead needs {' and '.join(missing)}", hint=_EXAMPLE)
    code = find_code(what, (*plan.job_by_code, *plan.part_by_code), "job or part")
    job = plan.job_by_code.get(code)
    replaced = of_part(plan, code, today) if job is None else of_job(plan, job, today)
    source = with_second_source(plan, code, replaced, _offer(values, pieces, plan), today, begins)
    return Instead(
        plan=source.plan,
        lines=tuple(_lines(plan, replaced, source, begins)),
        added=tuple(one.code for one in source.jobs),
    )


def _subject(subjects: Sequence[str]) -> tuple[str, int | None]:
    if not subjects:
        raise UsageError("instead of which job or part?", hint=_EXAMPLE)
    what, *more = subjects
    if not more:
        return what, None
    if len(more) > 1 or not _NUMBER.fullmatch(more[0]):
        raise UsageError(
            f"after {what} comes a number of pieces, or 'by'; found '{' '.join(more)}'", hint=_EXAMPLE
        )
    return what, int(more[0])


def _offer(values: Mapping[str, str], pieces: int | None, plan: Plan) -> Offer:
    checker, check = named_and_days(values.get("check", ""))
    return Offer(
        supplier=_supplier(values["by"], plan),
        lead=days_of("lead", values["lead"], parse_lead, _EXAMPLE),
        travel=days_of("travel", values["travel"], parse_span, _EXAMPLE) if "travel" in values else NO_DAYS,
        check=days_of("check", check, parse_lead, _EXAMPLE) if check else None,
        checker=_supplier(checker, plan) if checker else "",
        said=values.get("said", ""),
        pieces=pieces,
    )


def _supplier(word: str, plan: Plan) -> str:
    try:
        return find_supplier(word, plan)
    except UsageError as error:
        raise UsageError(
            error.message,
            hint=f"{error.hint}; a new one is added first, in the same try: add supplier {word} and instead ...",
        ) from None


def _lines(plan: Plan, replaced: Replaced, source: SecondSource, begins: date) -> list[str]:
    """Each job added, what it replaces, when it is ordered and who follows it."""
    first = source.jobs[0]
    said = [added_text(job) for job in source.jobs]
    if not plan.supplier_by_code[first.supplier].inhouse:
        said[0] += f", ordered {full_day(begins)}"
    gone = _listed(tuple(job.code for job in replaced.jobs))
    stays = _listed(replaced.staying)
    stands = f"in place of {gone}" if gone else f"beside {stays or f'what came of {replaced.part} already'}"
    last, follow = source.jobs[-1].code, _listed(source.followers)
    if replaced.part and follow:
        stands = f"{stands}; brings {replaced.part} for {follow}"
    elif follow:
        stands = f"{stands}; {follow} {'waits' if len(source.followers) == 1 else 'wait'} for {last} now"
    return [*said, stands, *_goes_on(replaced.staying)]


def _goes_on(staying: tuple[str, ...]) -> list[str]:
    goes, them = ("goes", "it") if len(staying) == 1 else ("go", "them")
    return [f"{_listed(staying)} {goes} on, since other parts come of {them}"] if staying else []


def _listed(codes: Sequence[str]) -> str:
    return " and ".join((", ".join(codes[:-1]), codes[-1])) if len(codes) > 1 else "".join(codes)

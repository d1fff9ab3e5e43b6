"""Finding what a typed word means: a whole code, or a beginning that fits only one."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from difflib import get_close_matches

from tracker.errors import UsageError
from tracker.plan.model import Job, Plan

_MOST_NAMED = 8
_NAME = re.compile(r"[^\W\d]{2,}")

Fits = Callable[[Job], bool]


def find_job(word: str, plan: Plan, *, is_open: Fits, fits: Fits) -> Job:
    """The job a word stands for.

    A whole code wins, that of a shipment or a part is refused; then the only job it begins, or begins a dashed piece of, among open jobs first and
    jobs the verb fits next; then the only open job of a supplier.

    Raises
    ------
    UsageError
        If nothing or several things fit; the message names them, or the nearest.
    """
    exact = _exact(word, plan.job_by_code)
    if exact is not None:
        return plan.job_by_code[exact]
    _refuse_whole_code_of_another_thing(word, plan)
    for tells in (_begins, _begins_a_piece):
        found = [job for job in plan.jobs if tells(word, job.code)]
        for narrower in (is_open, fits):
            if len(found) > 1:
                found = [job for job in found if narrower(job)] or found
        if len(found) == 1:
            return found[0]
        if found:
            raise _several(word, [job.code for job in found])
    return _job_of_supplier(word, plan, is_open, fits)


def _refuse_whole_code_of_another_thing(word: str, plan: Plan) -> None:
    """A shipment's or a part's whole code never stands for a job that only begins with it."""
    for kind, codes in (("shipment", plan.shipment_by_code), ("part", plan.part_by_code)):
        code = _exact(word, codes)
        begun = [job.code for job in plan.jobs if _begins(word, job.code)]
        if code is not None and begun:
            raise UsageError(
                f"{code} is a {kind}, and a job is meant here",
                hint=f"write the job's whole code: {', '.join(begun)}",
            )


def find_code(word: str, codes: Iterable[str], what: str) -> str:
    """The code among ``codes`` that a word stands for; ``what`` names the kind of thing in messages."""
    known = list(codes)
    found = codes_meant(word, known)
    if len(found) == 1:
        return found[0]
    if found:
        raise _several(word, found)
    raise unknown(word, known, what)


def codes_meant(word: str, codes: Iterable[str]) -> list[str]:
    """The codes that a word can stand for: the whole one alone, else those it begins, else those it begins a piece of."""
    known = list(codes)
    exact = _exact(word, known)
    if exact is not None:
        return [exact]
    begun = [code for code in known if _begins(word, code)]
    return begun or [code for code in known if _begins_a_piece(word, code)]


def find_supplier(word: str, plan: Plan) -> str:
    """The supplier a word stands for: by code, else the only one whose name or contact has a word that it begins."""
    codes = plan.supplier_by_code
    try:
        return find_code(word, codes, "supplier")
    except UsageError:
        named = [one.code for one in plan.suppliers if _named(word, f"{one.name} {one.contact}")]
        if len(named) != 1:
            raise
        return named[0]


def _named(word: str, text: str) -> bool:
    return any(piece.lower().startswith(word.lower()) for piece in _NAME.findall(text))


def unknown(word: str, known: Sequence[str], what: str) -> UsageError:
    """The error for a word that fits nothing; it names the nearest code."""
    near = get_close_matches(word.lower(), [code.lower() for code in known], n=1, cutoff=0.5)
    if near:
        nearest = next(code for code in known if code.lower() == near[0])
        return UsageError(f"there is no {what} '{word}'", hint=f"did you mean {nearest}?")
    some = ", ".join(known[:_MOST_NAMED]) or "none yet"
    more = ", ..." if len(known) > _MOST_NAMED else ""
    return UsageError(f"there is no {what} '{word}'", hint=f"known: {some}{more}")


def _job_of_supplier(word: str, plan: Plan, is_open: Fits, fits: Fits) -> Job:
    exact = _exact(word, plan.supplier_by_code)
    suppliers = [exact] if exact else [code for code in plan.supplier_by_code if _begins(word, code)]
    if len(suppliers) != 1:
        raise unknown(word, [*plan.job_by_code, *plan.supplier_by_code], "job")
    theirs = [job for job in plan.jobs if job.supplier == suppliers[0] and is_open(job)]
    if len(theirs) > 1:
        theirs = [job for job in theirs if fits(job)] or theirs
    if len(theirs) == 1:
        return theirs[0]
    if not theirs:
        raise UsageError(
            f"{suppliers[0]} has no open job", hint=f"name the job: tracker {suppliers[0]} lists them"
        )
    raise UsageError(
        f"{suppliers[0]} has {len(theirs)} open jobs: {', '.join(job.code for job in theirs)}",
        hint="name one",
    )


def _exact(word: str, codes: Iterable[str] | Mapping[str, object]) -> str | None:
    same = [code for code in codes if code.lower() == word.lower()]
    return same[0] if same else None


def _begins(word: str, code: str) -> bool:
    return code.lower().startswith(word.lower())


def _begins_a_piece(word: str, code: str) -> bool:
    return (
        any(piece.startswith(word.lower()) for piece in code.lower().split("-"))
        or f"-{word.lower()}" in code.lower()
    )


def _several(word: str, codes: Sequence[str]) -> UsageError:
    return UsageError(
        f"'{word}' begins several codes: {', '.join(codes)}", hint="type a little more of the one you mean"
    )

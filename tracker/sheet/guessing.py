"""Guessing what each column of a maker's own table holds, from its heading, its values and what was said before."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tracker.planfile.faults import in_quotes
from tracker.planfile.grid import column_letters
from tracker.sheet.column_words import columns_named
from tracker.sheet.evidence import Evidence, evidence_of
from tracker.sheet.headings import MAYBE, OUTRIGHT, is_other, roles_of_heading
from tracker.sheet.model import ROLES, Guess, SheetTable

NEEDED = ("item", "supplier", "lead")
"""Roles without which no job can be made."""

_BY_VALUES, _BOTH, _HARDLY = 1.6, 1.0, 0.9
_CLOSE = 0.55
_ENOUGH, _REPEATING, _CODES_DIFFER = 4, 0.75, 0.9
_SEVERAL = ("status",)
_DATES = ("promised", "ordered", "not-before")
_CLASHING: Mapping[str, str] = {
    "lead": "dates or words, not lengths of time",
    "quantity": "hardly any whole numbers",
    "promised": "hardly any dates",
    "ordered": "hardly any dates",
    "not-before": "hardly any dates",
    "supplier": "numbers or dates, not names",
    "item": "dates, not names",
    "country": "no names of countries",
    "travel": "no lengths of time",
    "code": "numbers or codes that come more than once",
}


_THE: Mapping[str, str] = {
    "item": "the item (what the job is called)",
    "supplier": "the supplier",
    "lead": "the lead time",
    "after": "what a job waits for",
    "promised": "the promised date",
    "ordered": "the day of the order",
    "not-before": "the earliest start",
    "travel": "the travel time",
    "process": "the process",
    "said": "the supplier's own words",
    "unit": "the unit of the lead",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Claim:
    """How strongly a column speaks for a role."""

    score: float
    column: int
    role: str


def guess_columns(
    table: SheetTable, *, known_suppliers: Collection[str] = (), remembered: Mapping[str, str] | None = None
) -> Guess:
    """Guess the role of each column; a column that speaks for none is left out of the roles.

    Parameters
    ----------
    table : SheetTable
        A table as found.
    known_suppliers : Collection of str
        Names and codes of suppliers already in the plan; a column that holds them is the supplier's.
    remembered : Mapping of str to str, optional
        Roles by heading from an earlier read, ``""`` for a column to ignore; they win over every guess.

    Returns
    -------
    Guess
        Each role at most once. ``doubts`` also name columns other than the needed ones that compete.
    """
    return _guess(table, known_suppliers, _recalled(table, remembered or {}))


def columns_from_words(
    table: SheetTable,
    words: Sequence[str],
    *,
    known_suppliers: Collection[str] = (),
    remembered: Mapping[str, str] | None = None,
) -> Guess:
    """The guess, with the columns named in words such as ``vendor=supplier`` or ``F=skip`` taken as said.

    Left stands the sheet's own heading (any case; blanks, underscores and hyphens alike; an unambiguous beginning
    will do) or the column's letter, right a role or a word for it.

    Raises
    ------
    UsageError
        If a heading or role is unknown (the nearest is named), or two words contradict each other.
    """
    said = columns_named(table, words)
    recalled = {
        column: role
        for column, role in _recalled(table, remembered or {}).items()
        if column not in said and (not role or role not in said.values())
    }
    return _guess(table, known_suppliers, {**recalled, **said})


def _recalled(table: SheetTable, remembered: Mapping[str, str]) -> dict[int, str]:
    roles = {_plain(heading): role for heading, role in remembered.items() if role in ROLES or not role}
    found: dict[int, str] = {}
    for column, heading in enumerate(table.headings):
        role = roles.get(_plain(heading)) if heading else None
        if role is not None and (not role or role not in found.values()):
            found[column] = role
    return found


def _plain(heading: str) -> str:
    return " ".join(heading.casefold().split())


def _guess(table: SheetTable, known_suppliers: Collection[str], fixed: Mapping[int, str]) -> Guess:
    evidence = evidence_of(table, known_suppliers)
    taken = set(fixed.values())
    claims: list[_Claim] = []
    doubts: dict[str, list[str]] = {}
    for column, heading in enumerate(table.headings):
        if column in fixed:
            continue
        mine, clash = _claims(column, heading, evidence[column])
        claims += [claim for claim in mine if claim.role not in taken]
        if clash and clash not in taken:
            doubts.setdefault(clash, []).append(
                f"{_named(table, column)} is headed as {_the(clash)} but holds {_CLASHING[clash]};"
                f" not read unless you say {column_letters(table.columns[column])}={clash}"
            )
    roles = _assigned(claims, {column: role for column, role in fixed.items() if role})
    for role, text in _competing(table, claims, roles, taken):
        doubts.setdefault(role, []).append(text)
    for column in set(range(len(evidence))) - fixed.keys():
        for role, text in _of_values(table, column, roles.get(column, ""), evidence[column]):
            doubts.setdefault(role, []).append(text)
    for role in NEEDED:
        if role not in roles.values() and role not in doubts:
            doubts[role] = [f"no column was recognised as {_the(role)}"]
    sure = set(NEEDED) <= set(roles.values()) and not set(NEEDED) & doubts.keys()
    ordered = {column: roles[column] for column in sorted(roles)}
    return Guess(
        roles=ordered, sure=sure, doubts=tuple(text for role in ROLES for text in doubts.get(role, ()))
    )


def _claims(column: int, heading: str, evidence: Evidence) -> tuple[list[_Claim], str]:
    """What a column speaks for, and the role its heading names outright though its values cannot be that."""
    if is_other(heading):
        return [], ""
    scores = roles_of_heading(heading) if heading else {}
    best = max(scores, key=lambda role: scores[role], default="")
    claims = _tempered({role: score for role, score in scores.items() if evidence.fits(role)}, best, evidence)
    clash = best if best in _CLASHING and not claims and scores[best] > MAYBE else ""
    if "item" in claims and evidence.is_numbered:
        claims |= {"item": _HARDLY, "code": MAYBE}
    for role in _DATES if evidence.speaks_for == "date" else (evidence.speaks_for,):
        if role in claims:
            claims[role] += _BOTH
        elif role in ROLES and role not in _DATES and not claims:
            claims[role] = _BY_VALUES
    return [_Claim(score=score, column=column, role=role) for role, score in claims.items()], clash


def _tempered(claims: dict[str, float], best: str, evidence: Evidence) -> dict[str, float]:
    """The claims of a heading without those that the cells speak against."""
    if best == "ordered" and evidence.filled and not evidence.shares.get("date"):
        return {"status": MAYBE}
    if "status" in claims and evidence.is_prose:
        return {"note": MAYBE}
    faint = {role for role in ("country", "after") if claims.get(role, OUTRIGHT) < OUTRIGHT}
    if evidence.speaks_for == "country":
        faint.discard("country")
    if evidence.speaks_for != "item":
        faint.discard("after")
    if evidence.filled > 1 and evidence.distinct <= _CODES_DIFFER:
        faint.add("code")
    return {role: score for role, score in claims.items() if role not in faint}


def _assigned(claims: Sequence[_Claim], roles: dict[int, str]) -> dict[int, str]:
    """Each role to the column that speaks for it most, the strongest claim first, the left column first."""
    for claim in sorted(claims, key=lambda claim: (-claim.score, claim.column)):
        if claim.column not in roles and (claim.role in _SEVERAL or claim.role not in roles.values()):
            roles[claim.column] = claim.role
    return roles


def _competing(
    table: SheetTable, claims: Sequence[_Claim], roles: Mapping[int, str], taken: Collection[str]
) -> Iterator[tuple[str, str]]:
    """Roles that a column without one claims nearly as strongly as the column that has it."""
    place = {role: column for column, role in roles.items()}
    own = {(claim.column, claim.role): claim.score for claim in claims}
    for claim in claims:
        winner = place.get(claim.role)
        if claim.column in roles or winner is None or claim.role in taken or claim.role == "note":
            continue
        if claim.score >= own[winner, claim.role] - _CLOSE:
            yield (
                claim.role,
                f"{_named(table, winner)} and {_named(table, claim.column)} both look like {_the(claim.role)}",
            )


def _of_values(table: SheetTable, column: int, role: str, evidence: Evidence) -> Iterator[tuple[str, str]]:
    """What the values of one column leave open: names that repeat, dates of no known kind."""
    if role == "item" and evidence.filled >= _ENOUGH and evidence.distinct <= _REPEATING:
        yield role, f"{_named(table, column)} is taken for {_the(role)}, but its names repeat"
    letters = column_letters(table.columns[column])
    if not role and evidence.speaks_for == "date" and not is_other(table.headings[column]):
        yield (
            "promised",
            f"{_named(table, column)} holds dates and is not read; if they matter, say {letters}=promised, ordered or not-before",
        )


def _the(role: str) -> str:
    return _THE.get(role, f"the {role}")


def _named(table: SheetTable, column: int) -> str:
    letters = column_letters(table.columns[column])
    heading = table.headings[column]
    return f"column {letters} ({in_quotes(heading)})" if heading else f"column {letters}"

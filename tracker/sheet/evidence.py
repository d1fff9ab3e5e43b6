"""What the values of a table's columns speak for, whatever is written above them."""

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from tracker.planfile.faults import BadValue
from tracker.planfile.grid import Value
from tracker.sheet.countries import country_of
from tracker.sheet.looks import CellKind, kind_of
from tracker.sheet.model import SheetTable

_MOSTLY, _FEW, _LONG_TEXT, _FULL = 0.7, 0.85, 40, 0.9
_NAMED_FIRMS, _SOME = 0.5, 0.2
_FEW_WORDS, _SHORT = 8, 12
_PARTS = re.compile(r"\s*(?:[,;/+&\n]|\band\b)\s*")
_COUNTS: tuple[CellKind, ...] = ("lead", "whole", "range", "number")
_KINDS_OF_ROLE: dict[str, tuple[CellKind, ...]] = {
    "lead": _COUNTS,
    "travel": _COUNTS,
    "unit": ("unit",),
    "quantity": ("whole", "number", "range"),
    "not-before": ("date",),
    "ordered": ("date",),
    "promised": ("date",),
    "item": ("text", "whole", "number", "lead", "contact"),
    "supplier": ("text", "contact"),
    "after": ("text", "whole", "range", "unit", "number", "lead"),
    "country": ("text",),
}
"""Kinds of cells that a role can be read from; a role not named here takes any."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """One column's filled cells: the share of each kind, and what they are by themselves.

    ``speaks_for`` is the role the values alone speak for (``""`` for none), ``distinct`` the share of different
    values among the filled cells, and ``typical`` their length in signs on average.
    """

    filled: int
    shares: dict[CellKind, float]
    distinct: float
    typical: float
    speaks_for: str

    @property
    def is_numbered(self) -> bool:
        """Whether the cells are mostly whole numbers, so that they number the rows rather than name them."""
        return self.shares.get("whole", 0.0) >= _MOSTLY

    @property
    def is_prose(self) -> bool:
        """Whether the cells hold sentences of their own rather than a few words that come again."""
        return self.distinct * self.filled > _FEW_WORDS and self.typical > _SHORT

    def fits(self, role: str) -> bool:
        """Whether the cells that say anything can mostly be what the role holds; of leads some will do."""
        kinds = _KINDS_OF_ROLE.get(role)
        told = 1 - self.shares.get("unknown", 0.0)
        if kinds is None or not self.filled or told == 0:
            return True
        share = sum(self.shares.get(kind, 0.0) for kind in kinds)
        return share >= told / 2 or (role == "lead" and share >= _SOME * told)


def evidence_of(table: SheetTable, known_suppliers: Collection[str] = ()) -> list[Evidence]:
    """The evidence of each column, along the headings."""
    columns = [
        [row.cells[at] for row in table.rows if row.cells[at] is not None]
        for at in range(len(table.headings))
    ]
    shares = [_shares(cells) for cells in columns]
    names = _names_column(columns, shares, len(table.rows))
    firms = {_plain(one) for one in known_suppliers}
    return [
        Evidence(
            filled=len(cells),
            shares=share,
            distinct=len(_texts(cells)) / len(cells) if cells else 0.0,
            typical=sum(len(str(one)) for one in cells) / len(cells) if cells else 0.0,
            speaks_for=_speaks_for(
                cells, share, columns[names] if names is not None else [], firms, is_names=at == names
            ),
        )
        for at, (cells, share) in enumerate(zip(columns, shares, strict=True))
    ]


def _shares(cells: Sequence[Value]) -> dict[CellKind, float]:
    kinds = [kind_of(one) for one in cells]
    return {kind: kinds.count(kind) / len(kinds) for kind in set(kinds)}


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _texts(cells: Sequence[Value]) -> set[str]:
    return {_plain(str(one)) for one in cells}


def _names_column(
    columns: Sequence[Sequence[Value]], shares: Sequence[dict[CellKind, float]], rows: int
) -> int | None:
    """The column whose values name the rows: the one that others refer to, else the first of different short texts."""
    able = [
        at
        for at, (cells, share) in enumerate(zip(columns, shares, strict=True))
        if len(cells) >= _FULL * rows
        and share.get("text", 0.0) >= _MOSTLY
        and len(_texts(cells)) >= _FULL * len(cells)
    ]
    for at in able:
        names = _texts(columns[at])
        if any(other != at and _refers(cells, names) for other, cells in enumerate(columns)):
            return at
    short = [at for at in able if sum(len(str(one)) for one in columns[at]) <= _LONG_TEXT * len(columns[at])]
    return short[0] if short else None


def _refers(cells: Sequence[Value], names: set[str]) -> bool:
    """Whether most cells are made of the names, one or several."""
    pointing = sum(
        _plain(str(one)) in names or all(_plain(part) in names for part in _PARTS.split(str(one)) if part)
        for one in cells
    )
    return bool(cells) and pointing >= _MOSTLY * len(cells) and len(_texts(cells)) > 1


def _speaks_for(
    cells: Sequence[Value],
    shares: dict[CellKind, float],
    names: Sequence[Value],
    firms: set[str],
    *,
    is_names: bool,
) -> str:
    told = 1 - shares.get("unknown", 0.0)
    if not cells or told == 0:
        return ""
    if is_names:
        return "item"
    for kind, role in (
        ("lead", "lead"),
        ("unit", "unit"),
        ("date", "date"),
        ("whole", "quantity"),
        ("contact", "contact"),
    ):
        if shares.get(kind, 0.0) >= _MOSTLY * told:  # type: ignore[call-overload]
            return role
    if shares.get("text", 0.0) < _MOSTLY * told:
        return ""
    return _role_of_texts(cells, names, firms)


def _role_of_texts(cells: Sequence[Value], names: Sequence[Value], firms: set[str]) -> str:
    texts = [str(one) for one in cells if kind_of(one) == "text"]
    different = _texts(list(texts))
    if firms and sum(_plain(one) in firms for one in texts) >= _NAMED_FIRMS * len(texts):
        return "supplier"
    if names and _refers(texts, _texts(names)):
        return "after"
    if all(_is_country(one) for one in sorted(set(texts), key=len)):
        return "country"
    repeats = len(different) <= _FEW * len(texts) and len(different) > 1
    return "supplier" if repeats and sum(map(len, texts)) <= _LONG_TEXT * len(texts) else ""


def _is_country(text: str) -> bool:
    try:
        country_of(text)
    except BadValue:
        return False
    return True

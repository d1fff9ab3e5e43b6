"""Telling a heading row from titles above it and from the rows below it."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from tracker.planfile.grid import Value
from tracker.sheet.area import Area, Block, Row
from tracker.sheet.headings import heading_key, is_known_heading, is_unit
from tracker.sheet.looks import kind_of

_LOOK_BELOW, _LOOK_FOR_BETTER, _LONGEST = 20, 12, 60
_MOSTLY, _WIDE_ENOUGH, _STEPS, _CLEARLY_MORE = 0.75, 0.6, 4, 2
_NEAR = 5
_WORDS = ("text", "unit")


@dataclass(frozen=True, slots=True, kw_only=True)
class Headings:
    """A heading, of one or two rows of the sheet (counted from 0), and its text by column.

    ``lines`` are the heading's rows as they stand, by which a printed repeat is known.
    """

    first: int
    last: int
    names: dict[int, str]
    lines: tuple[Row, ...]

    def repeated_by(self, row: Row) -> bool:
        """Whether a row only says the headings, or one of their two rows, again."""
        return any(_keys(row) == _keys(line) for line in self.lines)


def could_be_heading(area: Area, order: Sequence[int], at: int) -> bool:
    """Whether the row at place ``at`` of ``order`` reads like headings of the rows below it."""
    row = area.rows[order[at]]
    below = [area.rows[one] for one in order[at + 1 : at + 1 + _LOOK_BELOW]]
    if len(row) < 2 or not _reads_like_headings(row) or not below:  # noqa: PLR2004 - one cell is a title
        return False
    if not any(len(row.keys() & one.keys()) > 1 for one in below[:_NEAR]):
        return False
    typical = sorted(len(one) for one in below)[len(below) * 3 // 4]
    return len(row) >= _WIDE_ENOUGH * typical and not _recurs(row, below)


def is_first_heading(area: Area, order: Sequence[int], at: int) -> bool:
    """Whether the headings of a table stand here, and no better row for them follows soon."""
    if not could_be_heading(area, order, at):
        return False
    row = area.rows[order[at]]
    for later in range(at + 1, min(at + 1 + _LOOK_FOR_BETTER, len(order))):
        other = area.rows[order[later]]
        if len(other) < len(row) or not could_be_heading(area, order, later):
            continue
        gain = known_headings(other) - known_headings(row)
        if gain >= _CLEARLY_MORE or (len(other) > len(row) and gain >= 0):
            return False
    return True


def is_next_heading(
    area: Area, order: Sequence[int], at: int, above: Sequence[int], *, gap: bool, titled: bool
) -> bool:
    """Whether a new table's headings stand here, below the rows ``above`` of another.

    ``gap`` tells that a blank row parts them, ``titled`` that a line of one cell leads in.
    """
    if not could_be_heading(area, order, at):
        return False
    row = area.rows[order[at]]
    known, contrast = known_headings(row), _contrast(area, order, at)
    if not gap:
        return known >= _CLEARLY_MORE and known >= _MOSTLY * len(row)
    if known >= _CLEARLY_MORE or (known and contrast):
        return True
    if contrast < (1 if titled else _CLEARLY_MORE):
        return False
    return not set(row.values()) & {value for one in above for value in area.rows[one].values()}


def known_headings(row: Row) -> int:
    """How many cells are, as a whole, words makers write above columns."""
    return sum(isinstance(value, str) and is_known_heading(value) for value in row.values())


def read_headings(area: Area, order: Sequence[int], at: int) -> Headings:
    """The headings that stand at place ``at`` of ``order``, joined with a row of groups above or of parts below."""
    here = order[at]
    names = _texts(area.rows[here])
    across = [one for one in area.merged if one[0] == one[2] and one[3] > one[1]]
    above = order[at - 1] if at and order[at - 1] == here - 1 else None
    if above is not None and (groups := _groups_above(area, above, names)):
        joined = {
            column: _join(groups.get(column, ""), names.get(column, ""))
            for column in sorted({*groups, *names})
        }
        return Headings(first=above, last=here, names=joined, lines=(area.rows[above], area.rows[here]))
    below = order[at + 1] if order[at + 1 : at + 2] == [here + 1] else None
    spread = _spread(names, [one for one in across if one[0] == here])
    if below is not None and _is_second_line(area, here, below):
        parts = _texts(area.rows[below])
        groups = _carried(spread, parts)
        joined = {
            column: _join(groups.get(column, ""), parts.get(column, ""))
            for column in sorted({*groups, *parts})
        }
        return Headings(first=here, last=below, names=joined, lines=(area.rows[here], area.rows[below]))
    return Headings(first=here, last=here, names=spread, lines=(area.rows[here],))


def _reads_like_headings(row: Row) -> bool:
    values = list(row.values())
    texts = [
        value
        for value in values
        if isinstance(value, str) and kind_of(value) in _WORDS and len(value) <= _LONGEST
    ]
    texts += [
        value for value in values if isinstance(value, str) and value not in texts and is_known_heading(value)
    ]
    labels = sum(text.endswith(":") for text in texts)
    if 0 < labels <= len(texts) / 2 or len({heading_key(text) for text in texts}) < _MOSTLY * len(texts):
        return False
    rest = [value for value in values if value not in texts]
    return len(texts) >= _MOSTLY * len(values) or (len(texts) > 1 and _steady(values[len(texts) :], rest))


def _steady(last: list[Value], rest: list[Value]) -> bool:
    """Whether what is no text stands at the end, all dates or rising numbers, as in a sheet with a column a week."""
    if last != rest or len(rest) < _STEPS:
        return False
    numbers = [one for one in rest if isinstance(one, int | float)]
    rising = len(numbers) == len(rest) and all(one < two for one, two in pairwise(numbers))
    return rising or all(kind_of(one) == "date" for one in rest)


def _recurs(row: Row, below: Sequence[Row]) -> bool:
    """Whether a cell of the row is said again below it, as only entries are, other than in a whole repeat."""
    if known_headings(row) >= _CLEARLY_MORE:
        return False
    return any(
        one.get(column) == value for one in below for column, value in row.items() if _keys(one) != _keys(row)
    )


def _contrast(area: Area, order: Sequence[int], at: int) -> int:
    """In how many columns words stand over numbers, dates or lengths of time."""
    row = area.rows[order[at]]
    below = [area.rows[one] for one in order[at + 1 : at + 1 + _NEAR]]
    found = 0
    for column, value in row.items():
        kinds = [kind_of(one[column]) for one in below if column in one]
        if kind_of(value) in _WORDS and kinds:
            found += sum(kind not in (*_WORDS, "unknown") for kind in kinds) > len(kinds) / 2
    return found


def _groups_above(area: Area, above: int, names: dict[int, str]) -> dict[int, str]:
    """Texts of merged cells above the headings: over several of them, or reaching down beside them."""
    groups: dict[int, str] = {}
    row = area.rows[above]
    for top, left, bottom, right in area.merged:
        text = row.get(left)
        if top != above or not isinstance(text, str):
            continue
        if bottom == top and left < right and sum(left <= column <= right for column in names) < len(names):
            groups.update({column: text for column in range(left, right + 1) if column in names})
        elif bottom > top and left not in names:
            groups[left] = text
    return groups


def _is_second_line(area: Area, here: int, below: int) -> bool:
    """Whether the row below the headings belongs to them: their units, or parts of merged or wide ones."""
    parts, row = area.rows[below], area.rows[here]
    if not all(isinstance(value, str) and kind_of(value) in (*_WORDS, "unknown") for value in parts.values()):
        return False
    if all(is_unit(str(value)) for value in parts.values()) and len(parts) < len(row):
        return True
    wide = [block for block in area.merged if block[0] == block[2] == here and block[1] < block[3]]
    blocks = [set(range(block[1], block[3] + 1)) for block in wide]
    if min(row) not in parts:
        blocks += [{one, one + 1} for one in parts if one in row and one + 1 in parts and one + 1 not in row]
        blocks += [
            {block[1]} for block in area.merged if block[0] == here < block[2] and block[1] not in parts
        ]
    under = {
        column for block in blocks if len(block) == 1 or len(block & parts.keys()) > 1 for column in block
    }
    tall_beside = any(len(block) == 1 for block in blocks)
    return bool(under) and (tall_beside or all(column in under or column not in row for column in parts))


def _spread(names: dict[int, str], across: Sequence[Block]) -> dict[int, str]:
    """The headings, a merged one over each of its columns."""
    spread = dict(names)
    for _, left, _, right in across:
        if left in names:
            spread.update(dict.fromkeys(range(left, right + 1), names[left]))
    return spread


def _carried(names: dict[int, str], parts: dict[int, str]) -> dict[int, str]:
    """The headings, each also over the columns to its right that have only a part below it."""
    carried = dict(names)
    for column in sorted(parts):
        if column not in carried and column - 1 in parts and column - 1 in carried:
            carried[column] = carried[column - 1]
    return carried


def _texts(row: Row) -> dict[int, str]:
    return {column: " ".join(str(value).split()) for column, value in row.items()}


def _keys(row: Row) -> dict[int, str]:
    return {column: heading_key(str(value)) for column, value in row.items()}


def _join(group: str, part: str) -> str:
    return part if group == part or not group else f"{group} {part}".strip()

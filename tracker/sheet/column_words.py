"""What people say of a sheet's columns: ``vendor=supplier needs=after F=skip``."""

from collections.abc import Mapping, Sequence

from tracker.errors import UsageError
from tracker.plan.nearest import nearest
from tracker.planfile.faults import in_quotes
from tracker.planfile.grid import column_letters
from tracker.sheet.model import ROLES, SheetTable

_ALSO: Mapping[str, str] = {
    "name": "item", "job": "item", "part": "item", "task": "item", "what": "item",
    "vendor": "supplier", "company": "supplier", "who": "supplier", "shop": "supplier",
    "id": "code", "number": "code",
    "lead time": "lead", "duration": "lead", "days": "lead",
    "waits": "after", "waits for": "after", "needs": "after", "depends on": "after",
    "qty": "quantity", "pieces": "quantity",
    "transit": "travel", "shipping": "travel",
    "earliest": "not before",
    "order date": "ordered", "ordered on": "ordered",
    "due": "promised", "promise": "promised", "eta": "promised",
    "phone": "contact", "email": "contact",
    "words": "said", "quoted": "said", "units": "unit", "state": "status", "done": "status",
    "notes": "note", "remark": "note", "remarks": "note", "comment": "note",
    "skip": "", "ignore": "", "none": "",
}  # fmt: skip
_BY_WORDS: Mapping[str, str] = {role.replace("-", " "): role for role in ROLES}
_EXAMPLE = "write the sheet's own heading, then what it holds: vendor=supplier needs=after F=skip"


def columns_named(table: SheetTable, words: Sequence[str]) -> dict[int, str]:
    """The role of each column that the words name, ``""`` for one to skip.

    Raises
    ------
    UsageError
        If a word has no ``=``, a heading or role is unknown or unclear, or two words contradict each other.
    """
    said: dict[int, str] = {}
    for word in words:
        left, equals, right = word.rpartition("=")
        if not equals or not left.strip() or not right.strip():
            raise UsageError(f"{in_quotes(word)} does not say what a column holds", hint=_EXAMPLE)
        column, role = _column(table, left, right), _role(right)
        if said.get(column, role) != role:
            raise UsageError(
                f"column {_shown(table, column)} is said to hold {said[column] or 'nothing'} and {role or 'nothing'}"
            )
        first = next((one for one, held in said.items() if role and held == role and one != column), None)
        if first is not None:
            raise UsageError(
                f"columns {_shown(table, first)} and {_shown(table, column)} cannot both hold {role}",
                hint=f"name one of them, or skip the other: {left}=skip",
            )
        said[column] = role
    return said


def _plain(text: str) -> str:
    """Text as compared: capitals aside, blanks, underscores and hyphens alike."""
    return " ".join(text.casefold().replace("_", " ").replace("-", " ").split())


def _column(table: SheetTable, left: str, right: str) -> int:
    wanted = _plain(left)
    keys = [_plain(heading) for heading in table.headings]
    by_letter = [
        at for at, column in enumerate(table.columns) if column_letters(column) == left.strip().upper()
    ]
    exact = [at for at, key in enumerate(keys) if key == wanted]
    begins = [at for at, key in enumerate(keys) if key.startswith(wanted)]
    capitals = by_letter if left.strip().isupper() else []
    for found in (exact, capitals, begins, by_letter):
        if len(found) == 1:
            return found[0]
        if found:
            shown = " or ".join(_shown(table, at) for at in found)
            hint = f"name it by its letter: {column_letters(table.columns[found[0]])}={right}"
            raise UsageError(f"{in_quotes(left)} can mean the column {shown}", hint=hint)
    raise _no_column(table, left, right)


def _no_column(table: SheetTable, left: str, right: str) -> UsageError:
    headings = [heading for heading in table.headings if heading]
    shown = ", ".join(_shown(table, at) for at in range(len(table.headings)))
    if _plain(left) in {**_BY_WORDS, **_ALSO} and _plain(right) in map(_plain, headings):
        hint = f"the sheet's own heading comes first: {right}={left}"
    else:
        close = nearest(left, headings)
        hint = (
            f"did you mean {in_quotes(close)}? the columns are: {shown}"
            if close
            else f"the columns are: {shown}"
        )
    return UsageError(f"sheet {table.sheet} has no column headed {in_quotes(left)}", hint=hint)


def _role(right: str) -> str:
    wanted = _plain(right)
    if wanted in _BY_WORDS:
        return _BY_WORDS[wanted]
    if wanted in _ALSO:
        meant = _ALSO[wanted]
        return _BY_WORDS.get(meant, meant)
    close = nearest(wanted, [*_BY_WORDS, *_ALSO])
    mean = f"did you mean {_BY_WORDS.get(close, close)}? " if close else ""
    roles = ", ".join((*ROLES, "skip"))
    raise UsageError(f"{in_quotes(right)} is nothing a column can hold", hint=f"{mean}it can hold: {roles}")


def _shown(table: SheetTable, at: int) -> str:
    letters = column_letters(table.columns[at])
    return f"{letters} ({in_quotes(table.headings[at])})" if table.headings[at] else letters

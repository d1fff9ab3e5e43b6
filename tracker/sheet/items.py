"""What a sheet calls its jobs, and whom each of them waits for in those words."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tracker.plan.nearest import nearest
from tracker.planfile.faults import BadValue, Fault, bad, in_quotes
from tracker.sheet.leads import read_days
from tracker.sheet.values import NOTHING

_PARTING = re.compile(r"\s*(?:[,;/+&|\n\u2192]|->|\b(?:and|then|und|et|y|e|en)\b)\s*", re.IGNORECASE)
_ROW = re.compile(r"row\s*#?\s*(\d{1,7})", re.IGNORECASE)
_MOST_SEARCHED = 400
_SHORTEST_BEGINNING = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A job by what it is called: its name, its code, what the sheet's own code column holds, and its row.

    ``row`` is None for a stored job the sheet does not mention.
    """

    name: str
    code: str
    ident: str = ""
    row: int | None = None


def plain(text: str) -> str:
    """Text by which names are compared: capitals and blanks aside."""
    return " ".join(text.casefold().split())


class Items:
    """All jobs a sheet can speak of; ``skipped`` are rows left out, by what they are called."""

    def __init__(self, items: Iterable[Item], skipped: Mapping[str, int] | None = None) -> None:
        self._items = tuple(items)
        self._skipped = {plain(name): row for name, row in (skipped or {}).items()}
        self._ways = tuple(
            self._by(key)
            for key in (
                lambda i: i.name,
                lambda i: plain(i.name),
                lambda i: plain(i.ident),
                lambda i: plain(i.code),
            )
        )
        self._rows = {item.row: item.code for item in self._items if item.row is not None}
        self._numbered = any(item.ident.isdigit() for item in self._items)

    def _by(self, key: Callable[[Item], str]) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for item in self._items:
            codes = found.setdefault(key(item), [])
            if item.code not in codes:
                codes.append(item.code)
        return found

    def codes_in(self, text: str) -> tuple[str, ...]:
        """The codes of all jobs that ``text`` names, in its order, each once.

        A name counts as a whole before its own commas and the like are taken to part several.

        Raises
        ------
        BadValue
            With a fault for every piece that names no job, or several.
        """
        codes: list[str] = []
        faults: list[Fault] = []
        for piece in self._pieces(text.strip()):
            try:
                codes.append(self.one(piece))
            except BadValue as error:
                faults.extend(error.faults)
        if faults:
            raise BadValue(*faults)
        return tuple(dict.fromkeys(codes))

    def _pieces(self, text: str) -> Iterator[str]:
        """Names in a text: the longest known one from the left, else up to the next parting sign."""
        if plain(text) in NOTHING:
            return
        partings = [*_PARTING.finditer(text)]
        starts = [0, *(found.end() for found in partings)]
        ends = [*(found.start() for found in partings), len(text)]
        place = 0
        while place < len(starts):
            last = next(
                (
                    end
                    for end in range(len(ends) - 1, place, -1)
                    if self._whole(text[starts[place] : ends[end]])
                ),
                place,
            )
            piece = text[starts[place] : ends[last]].strip()
            if plain(piece) not in NOTHING:
                yield piece
            place = last + 1

    def _whole(self, text: str) -> list[str]:
        """Codes of the jobs called exactly so: by name, by name capitals aside, by the code column, by code."""
        for way, key in zip(self._ways, (text, plain(text), plain(text), plain(text)), strict=True):
            if text and key in way:
                return way[key]
        return []

    def knows(self, name: str) -> bool:
        """Whether a job is called exactly so, capitals aside."""
        return bool(self._whole(name))

    def one_in_sheet(self, name: str) -> str:
        """The code of the job in the sheet that ``name`` stands for.

        Raises
        ------
        BadValue
            If it names no job, several, or one the sheet does not mention.
        """
        code = self.one(name)
        if code not in self._rows.values():
            raise bad(f"{code} is not in the sheet", f"change it with: tracker set {code} lead=12wd")
        return code

    def one(self, piece: str) -> str:
        """The code of the job that ``piece`` names: as a whole, by its row or number, or by a clear beginning.

        Raises
        ------
        BadValue
            If it names no job, or several.
        """
        found = self._whole(piece)
        if len(found) > 1:
            raise bad(
                f"{in_quotes(piece)} names several jobs: {', '.join(found)}",
                "write the code of the one meant",
            )
        if found:
            return found[0]
        row = _ROW.fullmatch(piece)
        if row:
            return self._in_row(int(row[1]))
        if piece.isdigit():
            raise self._no_number(piece)
        return self._begun(piece)

    def _in_row(self, row: int) -> str:
        if row not in self._rows:
            raise bad(f"row {row} holds no job", "write the row as the sheet numbers it, or the item's name")
        return self._rows[row]

    def _no_number(self, piece: str) -> BadValue:
        if self._numbered:
            return bad(
                f"no item has the number {piece}", "write a number of the code column, or the item's name"
            )
        return bad(
            f"{piece} is a number, but no column numbers the items", f"write the item's name, or row {piece}"
        )

    def _begun(self, piece: str) -> str:
        """The only job whose name or code begins so."""
        start = plain(piece)
        if start in self._skipped:
            raise bad(
                f"{in_quotes(piece)} is row {self._skipped[start]}, which has neither supplier nor lead and is no job",
                "fill these in there, or name the job that was meant",
            )
        if len(start) >= _SHORTEST_BEGINNING:
            found = {
                i.code
                for i in self._items
                if plain(i.name).startswith(start) or plain(i.code).startswith(start)
            }
            if len(found) == 1:
                return found.pop()
            if found:
                some = ", ".join(item.code for item in self._items if item.code in found)
                raise bad(f"{in_quotes(piece)} begins several jobs: {some}", "write more of the one meant")
        raise self._unknown(piece)

    def _unknown(self, piece: str) -> BadValue:
        heard = read_days(piece)
        if heard.lead or heard.kind:
            return bad(
                f"{in_quotes(piece)} is a length of time, not an item",
                "days on the road belong in a travel column",
            )
        names: Sequence[str] = [item.name for item in self._items if item.name]
        close = nearest(piece, names) if len(names) <= _MOST_SEARCHED else ""
        remedy = f"did you mean {in_quotes(close)}?" if close else "write the name of an item, or row 7"
        return bad(f"there is no item {in_quotes(piece)}", remedy)

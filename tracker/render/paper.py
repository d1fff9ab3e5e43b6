"""Plain text for a terminal: wrapped lines, aligned tables, and colour for state words only."""

import re
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, field

_STATE_COLOURS = {
    "LATE": 166, "NO NEWS": 166, "CANNOT HOLD": 166, "FAILED": 166, "AT BEST": 166,
    "TIGHT": 214, "PAUSED": 214,
    "ON THE WAY": 74, "MADE": 74, "PART IN": 74,
    "DONE": 36,
    "CLOCK NOT STARTED": 175,
}  # fmt: skip
_STATE = re.compile(
    "|".join(rf"\b{re.escape(word)}\b" for word in sorted(_STATE_COLOURS, key=len, reverse=True))
)
_GAP = "  "
_NARROWEST = 12


@dataclass(slots=True, kw_only=True)
class Paper:
    """Lines of text for a width in characters; ``colour`` adds terminal colours to state words."""

    width: int = 80
    colour: bool = False
    lines: list[str] = field(default_factory=list)

    def line(self, text: str = "", indent: int = 0) -> None:
        """Add a sentence, wrapped under ``indent`` (further lines two deeper)."""
        if not text:
            self.lines.append("")
            return
        self.lines += textwrap.wrap(
            text,
            max(self.width, 40),
            initial_indent=" " * indent,
            subsequent_indent=" " * (indent + 2),
            break_on_hyphens=False,
            break_long_words=False,
        )

    def table(
        self,
        headings: Sequence[str],
        rows: Sequence[Sequence[str]],
        indent: int = 2,
        flexible: int = -1,
        under: Sequence[str] = (),
    ) -> None:
        """Add an aligned table; the ``flexible`` column wraps where the width does not hold it.

        ``under`` holds a sentence for each row, to stand below it, or an empty text.
        """
        if not rows:
            return
        cells = [list(headings), *(list(row) for row in rows)]
        if not any(headings):
            cells = cells[1:]
        widths = [max(len(row[column]) for row in cells) for column in range(len(headings))]
        flexible %= len(headings)
        spare = self.width - indent - sum(widths) - len(_GAP) * (len(widths) - 1)
        if spare < 0:
            widths[flexible] = max(_NARROWEST, widths[flexible] + spare)
        below = ("",) * (len(cells) - len(rows)) + tuple(under or ("",) * len(rows))
        for row, text in zip(cells, below, strict=True):
            self._row(row, widths, indent, flexible)
            if text:
                self.line(text, indent + 2)

    def _row(self, row: Sequence[str], widths: Sequence[int], indent: int, flexible: int) -> None:
        pieces = textwrap.wrap(
            row[flexible], max(1, widths[flexible]), break_on_hyphens=False, break_long_words=False
        ) or [""]
        for place, piece in enumerate(pieces):
            cells = [
                piece if column == flexible else text if not place else "" for column, text in enumerate(row)
            ]
            text = _GAP.join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True))
            self.lines.append((" " * indent + text).rstrip())

    def text(self) -> str:
        """All lines as one text that ends with a newline."""
        whole = "\n".join(self.lines) + "\n"
        return _STATE.sub(_coloured, whole) if self.colour else whole


def _coloured(found: re.Match[str]) -> str:
    return f"\x1b[38;5;{_STATE_COLOURS[found[0]]}m{found[0]}\x1b[0m"

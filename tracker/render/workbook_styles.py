"""The few cell styles all sheets share, made once per workbook and called by name."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Literal

from tracker.render.tints import GREY, TINTS

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.styles import Border, Font, PatternFill
    from openpyxl.worksheet.worksheet import Worksheet

TITLE = "page title"
TEXT = "page text"
INDENTED = "page indented"
NOTE = "page note"
STRONG = "page strong"
HEAD = "page head"
DAY = "page day"
STRONG_DAY = "page strong day"
COUNT = "page count"
ONE = "page count of one"
WEEK = "week head"
TODAY = "week today"
MARK = "week mark"
BOX = "week box"

DAY_FORMAT = "ddd d mmm yyyy"
_DAYS_FORMAT = '0" days";-0" days"'
_ONE_DAY_FORMAT = '0" day";-0" day"'
_UPRIGHT = 90
_LINE, _BLACK = "BFBFBF", "000000"
_Look = dict[str, Any]


def tinted(hue: str) -> str:
    """The style of text on the tint of a hue; plain text for ``""``."""
    return f"state {hue}" if hue else TEXT


def mark(hue: str) -> str:
    """The style of a letter in the week chart; grey for ``""``."""
    return f"week {hue or 'grey'}"


def counted(days: int | None) -> str:
    """The style of a count of days; one day, late or early, has its own word.

    A sign must come from a plain format: LibreOffice drops it where a format of several parts has conditions
    (seen in version 7).
    """
    return ONE if days is not None and abs(days) == 1 else COUNT


def add_styles(book: "Workbook") -> None:
    """Give the workbook every style named here."""
    from openpyxl.styles import Alignment, NamedStyle

    plain: _Look = {
        "font": _font(),
        "alignment": Alignment(horizontal="left", vertical="center", wrap_text=True),
        "border": _under("thin", _LINE),
    }
    for name, look in {**_page_looks(), **_week_looks()}.items():
        book.add_named_style(NamedStyle(name=name, **{**plain, **look}))


def _page_looks() -> Mapping[str, _Look]:
    """How the styles of rows of text differ from plain text."""
    from openpyxl.styles import Alignment, Border

    one_line: _Look = {"alignment": Alignment(vertical="center"), "border": Border()}
    low = Alignment(horizontal="left", vertical="bottom", wrap_text=True)
    return {
        TITLE: {**one_line, "font": _font(size=16, bold=True)},
        NOTE: one_line,
        TEXT: {},
        INDENTED: {"alignment": Alignment(horizontal="left", vertical="center", indent=2)},
        STRONG: {"font": _font(bold=True)},
        HEAD: {"font": _font(bold=True), "alignment": low, "border": _under("medium", _BLACK)},
        DAY: {"number_format": DAY_FORMAT},
        STRONG_DAY: {"font": _font(bold=True), "number_format": DAY_FORMAT},
        COUNT: {"number_format": _DAYS_FORMAT},
        ONE: {"number_format": _ONE_DAY_FORMAT},
        **{tinted(hue): {"fill": _fill(tint)} for hue, tint in TINTS.items()},
    }


def _week_looks() -> Mapping[str, _Look]:
    """How the styles of the week chart differ from plain text."""
    from openpyxl.styles import Alignment, Border, Side

    centre: _Look = {"alignment": Alignment(horizontal="center", vertical="center", wrap_text=True)}
    edge = Side(style="medium", color=_BLACK)
    week: _Look = {
        "alignment": Alignment(horizontal="center", vertical="bottom", text_rotation=_UPRIGHT),
        "border": _under("medium", _BLACK),
        "number_format": DAY_FORMAT,
    }
    return {
        WEEK: week,
        TODAY: {**week, "font": _font(bold=True), "fill": _fill(GREY)},
        BOX: {
            **centre,
            "font": _font(bold=True),
            "border": Border(left=edge, right=edge, top=edge, bottom=edge),
        },
        MARK: centre,
        mark(""): {**centre, "fill": _fill(GREY)},
        **{mark(hue): {**centre, "fill": _fill(tint)} for hue, tint in TINTS.items()},
    }


def rule_row(sheet: "Worksheet", row: int) -> None:
    """Draw the line under a row where it has no cells, without making any."""
    sheet.row_dimensions[row].border = _under("thin", _LINE)


def _font(size: int = 10, *, bold: bool = False) -> "Font":
    from openpyxl.styles import Font

    return Font(name="Arial", size=size, bold=bold)


def _fill(colour: str) -> "PatternFill":
    from openpyxl.styles import PatternFill

    return PatternFill(fill_type="solid", start_color=colour, end_color=colour)


def _under(style: Literal["thin", "medium"], colour: str) -> "Border":
    from openpyxl.styles import Border, Side

    return Border(bottom=Side(style=style, color=colour))

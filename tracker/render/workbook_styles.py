"""The few cell styles all sheets share, made once per workbook and called by name."""

from typing import TYPE_CHECKING, Any

from tracker.render.tints import GREY, TINTS

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

TITLE = "page title"
TEXT = "page text"
NOTE = "page note"
STRONG = "page strong"
HEAD = "page head"
DAY = "page day"
STRONG_DAY = "page strong day"
COUNT = "page count"
WEEK = "week head"
TODAY = "week today"
MARK = "week mark"
BOX = "week box"

DAY_FORMAT = "ddd d mmm yyyy"
_DAYS_FORMAT = '[=1]0" day";[=-1]-0" day";0" days"'
_UPRIGHT = 90
_LINE = "BFBFBF"


def tinted(hue: str) -> str:
    """The style of text on the tint of a hue; plain text for ``""``."""
    return f"state {hue}" if hue else TEXT


def mark(hue: str) -> str:
    """The style of a letter in the week chart; grey for ``""``."""
    return f"week {hue or 'grey'}"


def add_styles(book: "Workbook") -> None:
    """Give the workbook every style named here."""
    from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side

    plain, bold = Font(name="Arial", size=10), Font(name="Arial", size=10, bold=True)
    wrap = Alignment(horizontal="left", vertical="center", wrap_text=True)
    centre = Alignment(horizontal="center", vertical="center", wrap_text=True)
    upright = Alignment(horizontal="center", vertical="bottom", text_rotation=_UPRIGHT)
    line = Border(bottom=Side(style="thin", color=_LINE))
    rule = Border(bottom=Side(style="medium", color="000000"))
    edge = Side(style="medium", color="000000")
    box = Border(left=edge, right=edge, top=edge, bottom=edge)

    def fill(colour: str) -> PatternFill:
        return PatternFill(fill_type="solid", start_color=colour, end_color=colour)

    def add(name: str, **look: Any) -> None:
        book.add_named_style(NamedStyle(name=name, **{"font": plain, "alignment": wrap, **look}))

    add(TITLE, font=Font(name="Arial", size=16, bold=True), alignment=Alignment(vertical="center"))
    add(NOTE, alignment=Alignment(vertical="center"))
    add(TEXT, border=line)
    add(STRONG, font=bold, border=line)
    add(
        HEAD,
        font=bold,
        alignment=Alignment(horizontal="left", vertical="bottom", wrap_text=True),
        border=rule,
    )
    add(DAY, number_format=DAY_FORMAT, border=line)
    add(STRONG_DAY, font=bold, number_format=DAY_FORMAT, border=line)
    add(COUNT, number_format=_DAYS_FORMAT, border=line)
    add(WEEK, alignment=upright, number_format=DAY_FORMAT, border=rule)
    add(TODAY, font=bold, alignment=upright, number_format=DAY_FORMAT, border=rule, fill=fill(GREY))
    add(BOX, font=bold, alignment=centre, border=box)
    add(MARK, alignment=centre, border=line)
    add(mark(""), alignment=centre, border=line, fill=fill(GREY))
    for hue, tint in TINTS.items():
        add(tinted(hue), border=line, fill=fill(tint))
        add(mark(hue), alignment=centre, border=line, fill=fill(tint))


def rule_row(sheet: "Worksheet", row: int) -> None:
    """Draw the line under a row where it has no cells, without making any."""
    from openpyxl.styles import Border, Side

    sheet.row_dimensions[row].border = Border(bottom=Side(style="thin", color=_LINE))

"""The sheet *This week*: what was told, what is expected, what holds it, what came, what is late."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tracker.render.backers_words import count_text, held_text, moved_text
from tracker.render.tints import hue_of
from tracker.render.words import full_day, plural
from tracker.render.workbook_moved import Row, moved_blocks, next_word
from tracker.render.workbook_sheet import put, put_row, set_height, set_page, set_widths
from tracker.render.workbook_styles import (
    DAY,
    HEAD,
    NOTE,
    STRONG,
    STRONG_DAY,
    TEXT,
    TITLE,
    counted,
    tinted,
)
from tracker.report.backers import BackerLate, BackerShipment, BackersReport

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_WIDTHS = (32, 17, 17, 17, 64)
_HEADS = (HEAD,) * len(_WIDTHS)


def fill_this_week(sheet: "Worksheet", report: BackersReport) -> None:
    """Write one block a shipment, then what arrived, then what is late; a blank row between blocks."""
    put(sheet, 1, 1, report.product or "Weekly status", TITLE)
    sheet.row_dimensions[1].height = 26
    put(sheet, 2, 1, f"Status on {full_day(report.today)}", NOTE)
    row = 4
    blocks = (
        *(_shipment(one, report) for one in report.shipments),
        *moved_blocks(report.news, report.today),
        _arrived(report),
        _late(report),
        next_word(None if report.all_posted else report.news),
    )
    for block in blocks:
        start = row
        for values, styles in block:
            put_row(sheet, row, values, styles)
            set_height(sheet, row, values, _WIDTHS)
            row += 1
        row += row > start
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, _WIDTHS)
    set_page(sheet, report.today, rows="1:2")


def _shipment(one: BackerShipment, report: BackersReport) -> Iterator[Row]:
    heading = f"{one.name}, {plural(one.quantity, 'unit')}"
    yield (heading, "Said on", "First day", "Last day", "In words"), _HEADS
    told = (TEXT, DAY, DAY, DAY, TEXT)
    if one.posted:
        yield (
            ("Posted", None, None, one.posted, _against_told(one)),
            (STRONG, DAY, DAY, STRONG_DAY, _tint(one)),
        )
    else:
        yield (
            (
                "Ready to post since" if one.ready else "Expected now",
                report.today,
                None,
                one.forecast,
                _against_told(one),
            ),
            (STRONG, DAY, DAY, STRONG_DAY, _tint(one)),
        )
        yield from _then(one, report)
        if one.at_best:
            yield (
                ("Rests on old dates", None, None, None, _at_best(one.at_best)),
                (*told[:4], tinted(hue_of("AT BEST"))),
            )
        if one.holds:
            yield ("What holds it", None, None, None, held_text(one.holds, one.then)), told
    if one.told:
        yield ("Told last", one.told.on, one.told.first, one.told.last, one.told.words), told
    for earlier in reversed(one.told_before):
        yield ("Told before", earlier.on, earlier.first, earlier.last, earlier.words), told


def _then(one: BackerShipment, report: BackersReport) -> Iterator[Row]:
    """The forecast as it stood when backers were last told, or a week ago, and how far it moved since."""
    if report.news is None or one.before is None:
        return
    is_told_now = one.told is not None and one.told.on == report.today
    when = "told before" if is_told_now else "last told"
    label = f"Expected when {when}" if report.news.told else "Expected a week ago"
    days = f"now {moved_text(one.moved_days)}" if one.moved_days else "has not moved since"
    yield (label, report.news.since, None, one.before, days), (TEXT, DAY, DAY, DAY, TEXT)


def _against_told(one: BackerShipment) -> str:
    if one.forecast is None:
        return "no date yet"
    if one.days_late is None:
        return "no date told yet"
    if one.days_late == 0:
        return "on the last day we told"
    count = plural(abs(one.days_late), "day")
    return (
        f"LATE: {count} after the last day we told"
        if one.days_late > 0
        else f"{count} before the last day we told"
    )


def _tint(one: BackerShipment) -> str:
    late = one.days_late is not None and one.days_late > 0
    return tinted(hue_of("LATE" if late else ""))


def _at_best(names: tuple[str, ...]) -> str:
    return f"AT BEST: {plural(len(names), 'date')} it rests on passed without news ({'; '.join(names)})"


def _arrived(report: BackersReport) -> Iterator[Row]:
    since = f"{report.arrived_since:%a} {report.arrived_since.day} {report.arrived_since:%b}"
    yield (f"Came in since {since}", "Day", "What", None, None), _HEADS
    styles = (TEXT, DAY, TEXT, TEXT, TEXT)
    for one in report.arrived:
        yield (one.name, one.day, one.what, None, count_text(one.count)), styles
    if not report.arrived:
        yield ("Nothing new", None, None, None, None), styles


def _late(report: BackersReport) -> Iterator[Row]:
    yield ("Late, and why", "First planned", "Expected now", "Late by", "Why"), _HEADS
    for one in report.late:
        late = (one.expected - one.planned).days
        yield (
            (one.name, one.planned, one.expected, late, _why(one)),
            (TEXT, DAY, DAY, counted(late), tinted(hue_of("AT BEST" if one.at_best else ""))),
        )
    if not report.late:
        yield ("Nothing", None, None, None, None), (TEXT,) * len(_WIDTHS)


def _why(one: BackerLate) -> str:
    return f"AT BEST: {one.why}" if one.at_best else one.why

"""The sheet *Full sets*: a chart of how many complete sets there are parts for, and the numbers behind it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from openpyxl.chart import LineChart, Reference
from openpyxl.chart.axis import ChartLines, DateAxis
from openpyxl.chart.legend import Legend
from openpyxl.chart.marker import Marker
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.drawing.line import LineProperties

from tracker.render.tints import hue_of
from tracker.render.words import full_day
from tracker.render.workbook_sheet import Value, put, put_row, set_height, set_page, set_widths
from tracker.render.workbook_styles import DAY, HEAD, NOTE, TEXT, TITLE, tinted
from tracker.report.backer_sets import BackerSets, BackerSetsDay
from tracker.report.backers import BackersReport
from tracker.report.owed import listed

if TYPE_CHECKING:
    from openpyxl.chart.series import Series
    from openpyxl.worksheet.worksheet import Worksheet

_DAY_WIDTH, _NUMBER_WIDTH, _TEXT_WIDTH = 19, 17, 48
_CHART_ROW, _CHART_ROWS = 5, 19
_CHART_HEIGHT, _WIDEST_CHART, _CENTIMETRES = 10, 30, 0.19  # centimetres; of a column for each digit
_THICK, _THIN = 31_750, 15_875  # in 12,700ths of a point
_DASHES = ("dash", "sysDot", "dashDot", "lgDashDotDot")
_BLACK, _DARK, _PALE = "000000", "595959", "D9D9D9"
_MONTH = 31
_STEPS = ((7, 3 * _MONTH), (14, 6 * _MONTH))


def fill_full_sets(sheet: "Worksheet", report: BackersReport) -> None:
    """Write what there is today, the chart, then shipments and evenings as tables."""
    view = report.sets
    assert view is not None  # noqa: S101 - the sheet is only made where sets are counted
    put(sheet, 1, 1, "Full sets", TITLE)
    put(sheet, 2, 1, "Complete sets that there are parts for, built ones among them, as parts arrive.", NOTE)
    put(sheet, 3, 1, _today(view), NOTE)
    row = _put_shipments(sheet, _CHART_ROW + _CHART_ROWS, view)
    first, last = _put_days(sheet, row + 1, view)
    sheet.add_chart(_chart(sheet, view, first, last), f"A{_CHART_ROW}")
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, _widths(view))
    set_page(sheet, report.today, rows="1:2")


def _widths(view: BackerSets) -> Sequence[float]:
    columns = max(3, 1 + len(view.products) + len(view.shipments))
    return (_DAY_WIDTH, *(_NUMBER_WIDTH for _ in range(columns)), _TEXT_WIDTH)


def _today(view: BackerSets) -> str:
    counts = [f"{view.built} built"] if view.built else []
    counts += [f"{view.in_work} in work"] if view.in_work else []
    counts.append(f"parts here for {view.sets}{' more' if counts else ''}")
    short = f" Short: {listed(view.short)}." if view.short else ""
    return f"On {full_day(view.today)}: {', '.join(counts)}.{short}"


def _put_shipments(sheet: "Worksheet", row: int, view: BackerSets) -> int:
    """When the parts for each shipment are here; returns the row below."""
    if not view.shipments:
        return row
    put_row(sheet, row, ("Shipment", "Units", "With those before", "Parts here"), (HEAD,) * 4)
    for one in view.shipments:
        row += 1
        here: Value = one.possible_on or "not with what is planned"
        put_row(sheet, row, (one.name, one.quantity, one.upto, here), (TEXT, TEXT, TEXT, DAY))
        set_height(sheet, row, (one.name, here), (_DAY_WIDTH, _NUMBER_WIDTH))
    return row + 1


def _put_days(sheet: "Worksheet", row: int, view: BackerSets) -> tuple[int, int]:
    """The numbers of the chart, one evening a row; returns the rows of the headings and of the last evening."""
    upto = [one.upto for one in view.shipments]
    headings = ("Evening of", "Full sets", *view.products, *_lines(view), "What arrives")
    put_row(sheet, row, headings, (HEAD,) * len(headings))
    set_height(sheet, row, headings[2:-1], (_NUMBER_WIDTH,) * (len(headings) - 3))
    for place, one in enumerate(view.days, start=row + 1):
        values: tuple[Value, ...] = (one.day, one.total, *one.by_product, *upto, _arrives(one))
        numbers = (TEXT,) * (len(values) - 2)
        put_row(sheet, place, values, (DAY, *numbers, tinted(hue_of("AT BEST" if one.at_best else ""))))
        set_height(sheet, place, (_arrives(one),), (_TEXT_WIDTH,))
    return row, row + len(view.days)


def _lines(view: BackerSets) -> tuple[str, ...]:
    """A heading for each line of a shipment: its name, and those before it."""
    return tuple(
        one.name if one.upto == one.quantity else f"{one.name} and those before" for one in view.shipments
    )


def _arrives(one: BackerSetsDay) -> str:
    text = "; ".join(one.came)
    return f"AT BEST{': ' if text else ''}{text}" if one.at_best else text


def _chart(sheet: "Worksheet", view: BackerSets, first: int, last: int) -> LineChart:
    """Sets as a thick line, each shipment's units as a broken one, told apart without colour."""
    chart = LineChart()
    chart.title = "Complete sets there are parts for"
    chart.width, chart.height = min(_WIDEST_CHART, round(sum(_widths(view)) * _CENTIMETRES)), _CHART_HEIGHT
    lines = 3 + len(view.products)
    for column in (2, *range(lines, lines + len(view.shipments))):
        numbers = Reference(sheet, min_col=column, min_row=first, max_row=last)
        chart.add_data(numbers, titles_from_data=True)
    chart.set_categories(Reference(sheet, min_col=1, min_row=first + 1, max_row=last))
    for place, series in enumerate(chart.series):
        _draw(series, _DASHES[(place - 1) % len(_DASHES)] if place else "")
    chart.x_axis = _days_axis((view.days[-1].day - view.days[0].day).days)
    chart.y_axis.title, chart.y_axis.number_format, chart.y_axis.crossAx = "Units", "0", chart.x_axis.axId
    chart.y_axis.scaling.min, chart.y_axis.delete = 0, False
    chart.y_axis.majorGridlines = ChartLines(
        spPr=GraphicalProperties(ln=LineProperties(solidFill=_PALE, w=_THIN // 2))
    )
    chart.legend = Legend()
    chart.legend.position = "b"
    return chart


def _days_axis(days: int) -> DateAxis:
    """An axis of real days, marked by the week, fortnight or month as they grow more."""
    axis = DateAxis(crossAx=100, majorTimeUnit="days", baseTimeUnit="days")
    axis.majorUnit = next((step for step, most in _STEPS if days <= most), _MONTH)
    axis.title, axis.number_format, axis.delete = "Evening of", "d mmm yyyy", False
    axis.axPos, axis.tickLblPos, axis.majorTickMark = "b", "low", "out"
    return axis


def _draw(series: "Series", dash: str) -> None:
    series.smooth = False
    series.marker = Marker(symbol="none")
    line = series.graphicalProperties.line
    line.solidFill = _DARK if dash else _BLACK
    line.width = _THIN if dash else _THICK
    line.dashStyle = dash or "solid"

"""What a job takes, makes and draws, and its lots, as cells and lines of its page."""

from datetime import date

from tracker.render.amounts import amount_text
from tracker.render.coverage_text import KINDS
from tracker.render.paper import Paper
from tracker.render.words import short_day
from tracker.report.drawing import DrawnPart
from tracker.report.job_days import CountedLotRow
from tracker.report.owed import listed
from tracker.report.pages import JobPage


def part_cells(view: JobPage) -> list[tuple[str, str]]:
    """What it takes for each piece, and what it makes."""
    taken = [
        f"{take.part} {amount_text(take.per)}" + (f" for {take.into}" if take.into else "")
        for take in view.job.takes
    ]
    made = [one.part if one.put_in is None else f"{one.part} {one.put_in}" for one in view.makes if one.part]
    cells = (("takes", ", ".join(taken)), ("makes", ", ".join(made)), ("mends", view.job.rework_of))
    return [(label, text) for label, text in cells if text]


def drawn_cells(one: DrawnPart, today: date) -> tuple[str, str, str]:
    """A part it waits for, when all of it is here, and who brings it."""
    when = f"{'here' if one.done else 'arrives'} {short_day(one.day, today)}" if one.day else "-"
    if one.short:
        when = f"{amount_text(one.short)} never come"
    sources = (*one.jobs, *(("stock",) if one.from_stock else ()))
    return one.part, when, f"from {listed(sources)}" if sources else ""


def write_lots(view: JobPage, paper: Paper) -> None:
    """Lots of a job that counts pieces, where there are several."""
    lots = [lot for lot in view.row.lots if isinstance(lot, CountedLotRow)]
    if len(lots) < 2:  # noqa: PLR2004 - one lot says what the job says
        return
    paper.line("lots", indent=2)
    cells = [_lot_cells(lot, view.today) for lot in lots]
    shown = ["", "", "here", "harmless to", "for"]
    paper.table(shown, cells, indent=4)


def _lot_cells(lot: CountedLotRow, today: date) -> list[str]:
    good = f", {lot.good} good" if lot.kind == "received" else ""
    harmless = short_day(lot.harmless_until, today) if lot.harmless_until else ""
    kind = f"{KINDS[lot.kind]}{good}"
    return [str(lot.quantity), kind, short_day(lot.arrives, today), harmless, ", ".join(lot.for_shipments)]

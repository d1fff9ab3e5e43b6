"""What ``read`` says of a maker's own sheet before anything is stored; all of it on standard error."""

from collections.abc import Iterable, Iterator
from datetime import date
from itertools import groupby

from tracker.cli.session import paper, say
from tracker.plan.model import Plan
from tracker.planfile.difference import Change
from tracker.planfile.grid import column_letters
from tracker.render.fact_text import fact_text
from tracker.render.paper import Paper
from tracker.render.words import chain_text, days_text, full_day, plural
from tracker.report.answer import FactRow
from tracker.report.picture import Picture
from tracker.report.shipments import shipment_rows
from tracker.sheet.model import Guess, SheetTable
from tracker.sheet.values import text_of

MOST_ROWS = 40
MOST_NOTES = 3
MOST_ENDS = 12
MOST_UNREAD = 3
_EXAMPLE = 28
_HOLDS = {"": "not read", "status": "status, read back only"}


def own_paper() -> Paper:
    """A sheet as wide as the terminal, without colour."""
    return Paper(width=paper().width)


def tell_guess(table: SheetTable, guess: Guess, source: str) -> None:
    """Which table was taken, and what each of its columns seems to hold."""
    sheet = own_paper()
    where = f"{source}, sheet {table.sheet}"
    sheet.line(f"{where}: headings in row {table.heading_row}, {plural(len(table.rows), 'row')} below")
    sheet.table(("column", "heading", "holds", "first example"), list(_columns(table, guess)))
    for doubt in guess.doubts:
        sheet.line(f"in doubt: {doubt}")
    say(sheet.text())


def _columns(table: SheetTable, guess: Guess) -> Iterator[tuple[str, str, str, str]]:
    """A row for each column; many that are not read side by side, as in a sheet with a column a week, are one."""
    for read, places in groupby(range(len(table.headings)), lambda at: guess.roles.get(at, "")):
        run = list(places)
        first, last = run[0], run[-1]
        if not read and len(run) > MOST_UNREAD:
            letters = f"{column_letters(table.columns[first])}-{column_letters(table.columns[last])}"
            yield letters, f"{_heading(table, first)} ... {_heading(table, last)}", "not read", ""
            continue
        for at in run:
            example = shortened(_example(table, at), _EXAMPLE)
            yield column_letters(table.columns[at]), _heading(table, at), _HOLDS.get(read, read), example


def _heading(table: SheetTable, at: int) -> str:
    return shortened(" ".join(table.headings[at].split()), _EXAMPLE) or "(none)"


def _example(table: SheetTable, at: int) -> str:
    texts = (" ".join(text_of(row.cells[at]).split()) for row in table.rows if at < len(row.cells))
    return next(filter(None, texts), "")


def shortened(text: str, width: int) -> str:
    """Text cut to a width in signs."""
    return text if len(text) <= width else f"{text[: width - 3]}..."


def more_line(count: int, sheet: Paper) -> None:
    """Say how many of ``count`` entries were left off a list."""
    if count > MOST_ROWS:
        sheet.line(f"and {count - MOST_ROWS} more", indent=2)


def tell_changes(
    changes: Iterable[Change], facts: Iterable[FactRow], remarks: Iterable[str], kept: Iterable[str]
) -> None:
    """How stored jobs and suppliers change, the facts that come, remarks, and what the sheet does not mention."""
    sheet = own_paper()
    lines = [f"~ {change.what}: {change.detail}" for change in changes if _is_told(change)]
    told, notes = _parted(facts)
    lines += [f"+ {fact_text(row)}" for row in told]
    for line in lines[:MOST_ROWS]:
        sheet.line(line)
    more_line(len(lines), sheet)
    if notes:
        first = notes[0].fact
        sheet.line(f"+ {plural(len(notes), 'note')}, such as {first.job}: {shortened(first.note, _EXAMPLE)}")
    for remark in remarks:
        sheet.line(remark)
    names = [name for name in kept if not name.startswith("shipment ")]
    if names:
        sheet.line(f"not in the sheet and kept: {', '.join(names)}")
    if sheet.lines:
        say(sheet.text())


def _parted(facts: Iterable[FactRow]) -> tuple[list[FactRow], list[FactRow]]:
    """Facts with dates, and notes, of which many are only counted."""
    told: list[FactRow] = []
    notes: list[FactRow] = []
    for row in facts:
        (notes if row.fact.kind == "note" else told).append(row)
    return (told, notes) if len(notes) > MOST_NOTES else ([*told, *notes], [])


def _is_told(change: Change) -> bool:
    """New entries have their lists, holidays and the first plan their commands."""
    return change.kind == "changed" and not change.what.startswith(("public holidays", "first plan"))


def tell_forecast(before: Picture, after: Picture) -> None:
    """The dates that storing the sheet would give; without a shipment the last job's arrival."""
    sheet = own_paper()
    sheet.line("the forecast it gives:")
    for line in forecast_lines(before, after):
        sheet.line(line, indent=2)
    say(sheet.text())


def forecast_lines(before: Picture, after: Picture) -> Iterator[str]:
    """One line a shipment: its date, how that moves it, what holds it."""
    was = {row.code: row.forecast for row in shipment_rows(before)}
    for row in shipment_rows(after):
        if row.forecast is None:
            continue
        old = was.get(row.code)
        moved = f" ({days_text((row.forecast - old).days)})" if old and old != row.forecast else ""
        chain = chain_text(row.held_by, row.path, after.today)
        yield f"{row.code} {full_day(row.forecast)}{moved}" + (f", held by {chain}" if chain else "")
    yield from no_shipment_lines(after)
    yield from loose_lines(before.plan, after.plan)


def loose_lines(before: Plan, after: Plan) -> Iterator[str]:
    """New jobs at the end of the work that no shipment waits for, with the command that makes the last one wait."""
    waited = {link.job for job in after.jobs for link in job.after}
    waited.update(code for shipment in after.shipments for code in shipment.after)
    loose = [code for code in after.job_by_code if code not in before.job_by_code and code not in waited]
    if loose and after.shipments:
        command = f"tracker set {after.shipments[-1].code} after+={','.join(loose)}"
        yield f"no shipment waits for {', '.join(loose)}: {command}"


def no_shipment_lines(picture: Picture) -> Iterator[str]:
    """Where there is no shipment: the last arrival, and a command that adds one for all jobs nothing waits for."""
    network, arrive = picture.forecast.network, picture.forecast.times.arrive
    if picture.plan.shipments or not network.jobs:
        return
    last = max(range(len(network.jobs)), key=lambda lot: arrive[lot])
    waited = {link.job for job in picture.plan.jobs for link in job.after}
    ends = [job.code for job in picture.plan.jobs if job.code not in waited]
    after = ",".join(ends) if len(ends) <= MOST_ENDS else f"{network.jobs[last].code},..."
    day = full_day(date.fromordinal(arrive[last]))
    yield f"no shipment yet; the last job, {network.jobs[last].code}, is here {day}"
    yield f"add one: tracker add shipment wave-1 quantity={picture.plan.run.quantity} after={after}"

"""What ``read`` says of a maker's own sheet before anything is stored; all of it on standard error."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from tracker.cli.session import paper, say
from tracker.plan.model import Job
from tracker.planfile.difference import Change
from tracker.planfile.grid import column_letters
from tracker.render.fact_text import fact_text
from tracker.render.paper import Paper
from tracker.render.words import chain_text, days_text, full_day, plural
from tracker.report.answer import FactRow
from tracker.report.picture import Picture
from tracker.report.shipments import shipment_rows
from tracker.sheet.draft_model import Chosen, Draft, Question
from tracker.sheet.model import Guess, SheetTable
from tracker.sheet.values import text_of

MOST_ROWS = 40
MOST_ENDS = 12
_EXAMPLE, _ITEM, _WIDE = 28, 36, 110


def _sheet() -> Paper:
    return Paper(width=paper().width)


def tell_guess(table: SheetTable, guess: Guess, source: str) -> None:
    """Which table was taken, and what each of its columns seems to hold."""
    sheet = _sheet()
    where = f"{source}, sheet {table.sheet}"
    sheet.line(f"{where}: headings in row {table.heading_row}, {plural(len(table.rows), 'row')} below")
    rows = [
        (
            column_letters(table.columns[at]),
            " ".join(heading.split()) or "(none)",
            guess.roles.get(at) or "not read",
            _shortened(_example(table, at), _EXAMPLE),
        )
        for at, heading in enumerate(table.headings)
    ]
    sheet.table(("column", "heading", "holds", "first example"), rows)
    for doubt in guess.doubts:
        sheet.line(f"in doubt: {doubt}")
    say(sheet.text())


def _example(table: SheetTable, at: int) -> str:
    texts = (" ".join(text_of(row.cells[at]).split()) for row in table.rows if at < len(row.cells))
    return next(filter(None, texts), "")


def _shortened(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 3]}..."


def tell_draft(draft: Draft, stored: frozenset[str]) -> None:
    """The suppliers and jobs made, the readings chosen, and what is left open or left out."""
    sheet = _sheet()
    _suppliers(draft, stored, sheet)
    _jobs(draft, stored, sheet)
    _chosen(draft.chosen, sheet)
    _questions(draft.questions, sheet)
    for remark in draft.remarks:
        sheet.line(remark)
    if draft.without_country:
        names = ", ".join(draft.without_country)
        sheet.line(f"suppliers without a country, so without public holidays: {names}")
        sheet.line(f"give each its own: tracker set {draft.without_country[0]} country=GB", indent=2)
    _skipped(draft, sheet)
    say(sheet.text())


def _suppliers(draft: Draft, stored: frozenset[str], sheet: Paper) -> None:
    new = [one for one in draft.plan.suppliers if one.code not in stored]
    if not new:
        return
    sheet.line(f"{plural(len(new), 'new supplier')}:")
    rows = [
        (one.code, one.name, one.country or "no country", "our own" if one.inhouse else one.contact)
        for one in new
    ]
    sheet.table(("", "", "", ""), rows)


def _jobs(draft: Draft, stored: frozenset[str], sheet: Paper) -> None:
    new = [job for job in draft.plan.jobs if job.code not in stored]
    if not new:
        return
    open_leads = {one.job for one in draft.questions if not one.is_travel}
    shows = {"item": sheet.width >= _WIDE, "pieces": any(job.quantity for job in new)}
    columns = ["row", "job", "item", "supplier", "pieces", "lead", "waits for"]
    columns = [name for name in columns if shows.get(name, True)]
    sheet.line(f"{plural(len(new), 'new job')}:")
    rows = []
    for job in new[:MOST_ROWS]:
        cells = {
            "row": str(draft.rows[job.code]),
            "job": job.code,
            "item": _shortened(job.name, _ITEM),
            "supplier": job.supplier,
            "pieces": str(job.quantity or "-"),
            "lead": "?" if job.code in open_leads else f"{job.lead}{_road(job)}",
            "waits for": _waits(job),
        }
        rows.append([cells[name] for name in columns])
    sheet.table(columns, rows)
    _more(len(new), sheet)


def _road(job: Job) -> str:
    """Travel behind the lead, where there is any."""
    return f" +{job.travel}" if job.travel.days else ""


def _waits(job: Job) -> str:
    """What a job waits for: others, and a day it may not start before."""
    waits = [link.job for link in job.after]
    waits += [f"not before {full_day(job.not_before)}"] if job.not_before else []
    return ", ".join(waits) or "-"


def _more(count: int, sheet: Paper) -> None:
    if count > MOST_ROWS:
        sheet.line(f"and {count - MOST_ROWS} more", indent=2)


def tell_chosen(chosen: Iterable[Chosen]) -> None:
    """The readings chosen by what was just answered."""
    sheet = _sheet()
    _chosen(tuple(chosen), sheet)
    say(sheet.text())


def _chosen(chosen: Sequence[Chosen], sheet: Paper) -> None:
    if not chosen:
        return
    sheet.line("read as:")
    rows = [
        (
            f"row {one.row}",
            one.job,
            f"'{_shortened(one.said, _EXAMPLE)}'" if one.said else "nothing",
            one.read_as,
            one.why,
        )
        for one in chosen[:MOST_ROWS]
    ]
    sheet.table(("", "", "", "", ""), rows)
    _more(len(chosen), sheet)


def _questions(questions: Sequence[Question], sheet: Paper) -> None:
    if not questions:
        return
    sheet.line("these need a word (wd = their working days, cd = calendar days):")
    for question in questions[:MOST_ROWS]:
        sheet.line(question_text(question), indent=2)
    _more(len(questions), sheet)


def question_text(question: Question) -> str:
    """``row 9 boxes '20 days': wd (20wd) or cd (20cd)?``."""
    heard = question.heard
    what = " on the road" if question.is_travel else ""
    start = f"row {question.row} {question.job}"
    if heard.kind:
        more = "; or are these weeks?" if heard.kind == "numbers" else "?"
        return f"{start} '{heard.said}'{what}: wd ({heard.working}) or cd ({heard.calendar}){more}"
    return f"{start}: {heard.trouble or 'no lead'}; how long is it{what}?"


def _skipped(draft: Draft, sheet: Paper) -> None:
    if not draft.skipped:
        return
    sheet.line(f"{plural(len(draft.skipped), 'row')} left out:")
    for one in draft.skipped[:MOST_ROWS]:
        words = f" '{_shortened(' '.join(one.words.split()), _ITEM)}'" if one.words else ""
        sheet.line(f"row {one.row}{words}: {one.why}", indent=2)
    _more(len(draft.skipped), sheet)


def tell_changes(
    changes: Iterable[Change], facts: Iterable[FactRow], remarks: Iterable[str], kept: Iterable[str]
) -> None:
    """How stored jobs and suppliers change, the facts that come, remarks, and what the sheet does not mention."""
    sheet = _sheet()
    lines = [f"~ {change.what}: {change.detail}" for change in changes if _is_told(change)]
    lines += [f"+ {fact_text(row)}" for row in facts]
    for line in lines[:MOST_ROWS]:
        sheet.line(line)
    _more(len(lines), sheet)
    for remark in remarks:
        sheet.line(remark)
    names = [name for name in kept if not name.startswith("shipment ")]
    if names:
        sheet.line(f"not in the sheet and kept: {', '.join(names)}")
    if sheet.lines:
        say(sheet.text())


def _is_told(change: Change) -> bool:
    """New entries have their lists, holidays and the first plan their commands."""
    return change.kind == "changed" and not change.what.startswith(("public holidays", "first plan"))


def tell_forecast(before: Picture, after: Picture) -> None:
    """The dates that storing the sheet would give; without a shipment the last job's arrival."""
    sheet = _sheet()
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

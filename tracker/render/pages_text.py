"""The pages of a job, a supplier and a shipment as text."""

from datetime import date

from tracker.render.answer_text import count_text, made_text
from tracker.render.board_text import write_shipments
from tracker.render.calls_text import write_promises
from tracker.render.coverage_text import KINDS, counted_text, coverage_text
from tracker.render.fact_text import fact_text
from tracker.render.lots_text import drawn_cells, part_cells, write_lots
from tracker.render.paper import Paper
from tracker.render.words import (
    at_best_text,
    cannot_hold_text,
    chain_text,
    days_text,
    full_day,
    joined,
    later_pass_text,
    on_its_way_text,
    passed_text,
    plural,
    reason_text,
    room_text,
    short_day,
    state_text,
)
from tracker.report.counts import CountRow, PartCountRow
from tracker.report.jobs import JobRow, at_tightest
from tracker.report.logged import LoggedFact
from tracker.report.owed import listed, owed_text
from tracker.report.pages import InputRow, JobPage, ShipmentPage, SupplierPage


def write_job(view: JobPage, paper: Paper) -> None:
    """Dates, float, links both ways, counts, promises, facts and the caution of one job."""
    row, job, today = view.row, view.job, view.today
    paper.line(joined(row.code, row.name, " ".join((state_text(row.state), *row.flags))))
    where = "our own bench" if view.supplier.inhouse else f"contact {view.supplier.contact or 'not noted'}"
    paper.line(f"{joined(row.supplier, view.supplier.name)}, {where}", indent=2)
    paper.table(("", ""), _facts_of(view), flexible=1)
    write_lots(view, paper)
    _links(view, paper)
    if row.at_best and row.is_open:
        paper.line(at_best_text(row.at_best), indent=2)
    if view.promises:
        paper.line("promises", indent=2)
        write_promises(view.promises, today, paper, indent=4)
    write_facts(view.facts, paper)
    if view.caution:
        paper.line(f"caution ({job.process}): {view.caution}", indent=2)


def _facts_of(view: JobPage) -> list[tuple[str, str]]:
    row, job, today = view.row, view.job, view.today
    cells = [("lead", _lead_text(view)), *part_cells(view)]
    if job.travel.days:
        cells.append(("travel", str(job.travel)))
    cells += _days_of(view)
    if view.reason is not None:
        cells.append(("because", reason_text(view.reason, today)))
    remarks = (("no news", passed_text(row, today)), ("promise", cannot_hold_text(row, today)))
    cells += [(label if row.undated is None else "the rest", text) for label, text in remarks if text]
    for owed in row.owes:
        by = f", by {short_day(owed.by, today)} to keep {owed.frees}" if owed.by else ""
        cells.append(("we owe", f"{owed_text(owed)} {'to leave' if owed.to_leave else 'to start'}{by}"))
    cells += _float_of(view)
    pieces = _pieces(view.counts, today) if view.counts is not None else ""
    cells += [("pieces", pieces)] if pieces else []
    named = len(view.coverage) > 1
    known = (view.job.code,)
    texts = [coverage_text(one, today, named=named, known=known) for one in view.coverage]
    return cells + [("covers", text) for text in texts]


def _lead_text(view: JobPage) -> str:
    """The lead as kept, the days it comes to where it does not say them itself, and the words as heard."""
    text, planned = str(view.job.lead), str(view.planned)
    if view.pieces is not None:
        text += f": {planned} for {view.pieces}"
    elif text != planned:
        text += f", plans with {planned}"
    return text + (f' ("{view.job.said}")' if view.job.said else "")


def _days_of(view: JobPage) -> list[tuple[str, str]]:
    row, today = view.row, view.today
    cells = []
    takes_time = row.start is not None and row.finish is not None and row.start <= row.finish
    if takes_time:
        cells.append(("start", short_day(row.start, today)))
    if takes_time or (row.finish and not row.start):
        cells.append(("last day worked", short_day(row.finish, today)))
    if row.arrives:
        best = " AT BEST" if row.at_best and row.is_open else ""
        cells.append(("arrives", short_day(row.arrives, today) + best))
    if row.passed_by:
        cells.append(("result", later_pass_text(row, today)))
    if row.first_arrives:
        span = f"{short_day(row.first_start, today)} to {short_day(row.first_arrives, today)}"
        cells.append(("first plan", span))
    return cells


def _pieces(counts: CountRow, today: date) -> str:
    """What is here, sorted; how many are made where none of them were counted in."""
    if isinstance(counts, PartCountRow):
        made = made_text(counts) if not (counts.at_home or counts.back) else ""
        return ", ".join(text for text in (made, counted_text(counts, today, whole=True)) if text)
    if counts.made and not counts.good + counts.rework + counts.scrap + counts.unjudged:
        return made_text(counts)
    text = f"{count_text(counts)}: {counts.good} good, {counts.rework} rework, {counts.scrap} scrap"
    return f"{text}, {counts.unjudged} not judged yet" if counts.unjudged else text


def _float_of(view: JobPage) -> list[tuple[str, str]]:
    row, today = at_tightest(view.row), view.today
    own = "calendar day" if row.left else "own day"
    cells = []
    if row.harmless_until:
        until = f"{short_day(row.ready, today)}, harmless until {short_day(row.harmless_until, today)}"
        lot = view.row.tightest
        until = f"{lot.quantity} {KINDS[lot.kind]}, {until}" if lot else until
        cells.append(("on its way", on_its_way_text(row, today)) if row.left else ("ready", until))
        spare = plural(row.spare_days or 0, "spare calendar day")
        cells.append(("total float", f"{plural(row.total_float or 0, own)}, {spare}"))
    if row.free_float is not None:
        cells.append(("free float", plural(row.free_float, own)))
    cells += [
        ("one day more", f"{short_day(cost.day, today)} costs {cost.shipment} {plural(cost.days, 'day')}")
        for cost in view.next_day
    ]
    cells += [
        (
            f"for {code}",
            f"{plural(slack.spare_days or 0, 'spare day')}, its length costs {plural(slack.drag, 'day')}",
        )
        for code, slack in row.by_shipment.items()
    ]
    if row.room is not None:
        verdict = "to spare" if row.room >= 0 else "too late"
        cells.append(("dates told", f"{room_text(row)} {verdict} for what was told of {row.room_of}"))
    return cells


def _links(view: JobPage, paper: Paper) -> None:
    if view.waits_for or view.draws:
        paper.line("waits for", indent=2)
        cells = []
        for one in view.waits_for:
            how: str = "" if one.link.kind == "finish-start" else one.link.kind
            how += f" lag {one.link.lag}" if one.link.lag.days else ""
            cells.append((one.link.job, _when(one, view.today), how))
        cells += [drawn_cells(one, view.today) for one in view.draws]
        paper.table(("", "", ""), cells, indent=4)
    if view.job.retry_of:
        paper.line(f"second attempt at {view.job.retry_of}", indent=2)
    if view.retries:
        paper.line(f"tried again as {', '.join(view.retries)}", indent=2)
    if view.needed_by:
        paper.line(f"needed by {', '.join(view.needed_by)}", indent=2)
    if view.row.holds:
        paper.line(f"holds {', '.join(view.row.holds)}", indent=2)


def _when(one: InputRow, today: date) -> str:
    """When an input came or comes; for a link on failure, when the gate failed or that it has not."""
    day = short_day(one.day, today)
    if one.link.on == "fail":
        return f"failed {day}" if one.done else "only if it fails"
    if one.day is None:
        return "not in the forecast"
    if one.opener != one.link.job:
        return f"{'passed' if one.done else 'opened'} by {one.opener} {day}"
    return f"{'done' if one.done else 'arrives'} {day}"


def write_facts(facts: tuple[LoggedFact, ...], paper: Paper) -> None:
    """Logged facts, oldest first, with their entry numbers."""
    if not facts:
        return
    paper.line("logged", indent=2)
    for fact in facts:
        number = f"{fact.entry:>4}  " if fact.entry is not None else ""
        paper.line(f"{number}{fact_text(fact.row)}", indent=4)
        for by, was in fact.before:
            paper.line(f"until entry {by}: {fact_text(was)}", indent=10)


def write_supplier(view: SupplierPage, paper: Paper) -> None:
    """Contact, calendar, closures ahead, jobs and promises of one supplier."""
    one, today = view.supplier, view.today
    paper.line(joined(one.code, one.name))
    paper.table(("", ""), _supplier_cells(view), flexible=1)
    if view.rows:
        paper.line("jobs", indent=2)
        cells = [
            (row.code, row.state, short_day(row.arrives, today), _notes(row, today)) for row in view.rows
        ]
        paper.table(("", "", "", ""), cells, indent=4)
    if view.promises:
        paper.line("promises", indent=2)
        for code, row in view.promises:
            slip = f" ({days_text(row.slip)})" if row.slip else ""
            said = f' "{row.words}"' if row.words else ""
            paper.line(
                f"{code} {short_day(row.day, today)}{slip}, given {short_day(row.given, today)}{said}",
                indent=4,
            )
    write_facts(view.facts, paper)


def _notes(row: JobRow, today: date) -> str:
    return " ".join((*row.flags, *((later_pass_text(row, today),) if row.passed_by else ())))


def _supplier_cells(view: SupplierPage) -> list[tuple[str, str]]:
    one, today = view.supplier, view.today
    where = " ".join(word for word in (one.country, one.subdivision) if word)
    cells = [
        ("contact", one.contact or "not noted"),
        ("dates mean", one.dates_mean),
        ("works", one.workdays + (f", public holidays of {where}" if where else "")),
    ]
    if one.bank.days:
        cells.append(("bank", f"payments are credited after {one.bank}"))
    if one.inhouse:
        cells.append(("in house", "our own bench: needs no order"))
    ahead = [closure for closure in one.closures if closure.last >= today]
    cells += [("shut", _closure(closure.first, closure.last, closure.why, today)) for closure in ahead[:6]]
    return cells


def _closure(first: date, last: date, why: str, today: date) -> str:
    span = (
        short_day(first, today) if first == last else f"{short_day(first, today)} to {short_day(last, today)}"
    )
    return f"{span}, {why}" if why else span


def write_shipment(view: ShipmentPage, paper: Paper) -> None:
    """Forecast, every chain, the jobs on them with what each costs, every date told."""
    row, today = view.row, view.today
    paper.line(joined(row.code, row.name))
    write_shipments((row,), today, paper)
    if row.tied:
        paper.line("chains as long as each other", indent=2)
        for held, path in view.chains:
            paper.line(chain_text(held, path, today), indent=4)
    if view.jobs:
        paper.line("jobs that hold it", indent=2)
        cells = [
            (
                one.code,
                short_day(one.arrives, today),
                f"its length costs {plural(one.by_shipment[row.code].drag, 'day')}"
                if row.code in one.by_shipment
                else "",
            )
            for one in view.jobs
        ]
        paper.table(("", "", ""), cells, indent=4)
    contents = (
        f"{one.quantity} {one.part}" + (f" (from {listed(jobs)})" if jobs else "")
        for one, jobs in view.contents
    )
    paper.line(f"waits for {', '.join((*view.after, *contents)) or 'nothing yet'}", indent=2)
    if row.first_plan:
        paper.line(f"first plan {full_day(row.first_plan)}", indent=2)
    for told in row.told_all:
        days = [full_day(day) for day in (told.first, told.last) if day]
        words = [f'"{told.words}"'] if told.words else []
        paper.line(f"told on {full_day(told.on)}: {' '.join((' to '.join(days), *words)).strip()}", indent=2)
    write_facts(view.facts, paper)
    for code, text in view.cautions:
        paper.line(f"caution ({code}): {text}", indent=2)

"""Gates as text: those shut with what to do about them, those passed in a line each."""

from datetime import date

from tracker.render.paper import Paper
from tracker.render.words import at_best_text, full_day, joined, plural, short_day
from tracker.report.gates import BehindRow, GateReport, GateResult, GateRow, HoldRow, Shut
from tracker.report.owed import listed

_PARTLESS = {"not needed": "not needed as things stand", "called off": "called off"}


def write_gates(view: GateReport, paper: Paper) -> None:
    """A block for each gate that is shut, then a line for each that passed or plays no part."""
    paper.line(f"gates on {full_day(view.today)}")
    if not view.gates:
        paper.line("no job of this run is a gate: tracker set JOB gate=yes makes one")
    for row in view.gates:
        if row.shut is not None:
            paper.line()
            _shut(row, row.shut, view.today, paper)
    opened = [row for row in view.gates if row.shut is None]
    if opened:
        paper.line()
        paper.table(("", ""), [(row.gate, _opened(row, view.today)) for row in opened])


def _opened(row: GateRow, today: date) -> str:
    if row.passed_on is None:
        return _PARTLESS[row.state]
    by = f" by {row.opener}" if row.opener != row.gate else ""
    failed = [short_day(one.on, today) for one in row.results if one.outcome == "fail"]
    before = f", had failed {listed(tuple(failed))}" if failed else ""
    return f"passed {short_day(row.passed_on, today)}{by}{before}"


def _shut(row: GateRow, shut: Shut, today: date, paper: Paper) -> None:
    failed = row.state == "failed"
    paper.line(
        f"{row.gate} {'FAILED, stays shut' if failed else 'not passed yet'}: nothing behind it is released"
    )
    for result in row.results:
        paper.line(_result_text(result, row, today), indent=2)
    for text in _what_next(row, shut, today):
        paper.line(text, indent=2)
    blocked = [plural(shut.open_jobs, "open job")] if shut.open_jobs else []
    blocks = listed((*blocked, *shut.shipments)) or "nothing"
    first = f"; next in line: {', '.join(shut.next_jobs)}" if shut.next_jobs else ""
    paper.line(f"blocks {blocks}{first}", indent=2)
    if shut.hold:
        paper.line("tell them to hold:" if failed else "let out already, before it passed:", indent=2)
        for supplier in shut.hold:
            _hold(supplier, today, paper)
    if shut.done:
        done = (f"{one.job} {short_day(one.on, today)}{_good(one)}" for one in shut.done)
        paper.line(f"done already: {', '.join(done)}", indent=2)
    if shut.not_begun:
        paper.line(f"not begun: {', '.join(shut.not_begun)}", indent=2)


def _result_text(result: GateResult, row: GateRow, today: date) -> str:
    who = f"{result.job} " if len(row.attempts) > 1 else ""
    note = f": {result.note}" if result.note else ""
    return f"{who}{'passed' if result.outcome == 'pass' else 'failed'} {short_day(result.on, today)}{note}"


def _what_next(row: GateRow, shut: Shut, today: date) -> list[str]:
    """What opens it and when at the earliest, and what that still waits for."""
    day = short_day(shut.may_pass, today)
    if row.to_plan:
        found = [
            f"no second attempt is planned: dates count on another try at best, passed {day}",
            f"plan one: tracker rework {row.opener} by SUPPLIER lead 12wd",
        ]
    elif row.results:
        found = [f"second attempt {row.opener} {row.opener_state}, may pass {day} at the earliest"]
    else:
        found = [f"{row.opener_state}, may pass {day} at the earliest"]
    found += [
        f"waits for {one.job} ({one.supplier}) {one.state}, here {short_day(one.arrives, today)}"
        for one in shut.waits_for
    ]
    if shut.missing:
        found.append(f"waits for {listed(shut.missing)} from us")
    return found + ([at_best_text(shut.at_best)] if shut.at_best else [])


def _hold(row: HoldRow, today: date, paper: Paper) -> None:
    who = "our own bench" if row.inhouse else joined(row.name, row.contact or "no contact noted")
    paper.line(joined(row.supplier, who), indent=4)
    for job in row.jobs:
        paper.line(f"{job.job} {job.step} {short_day(job.on, today)}{_good(job)}", indent=6)


def _good(row: BehindRow) -> str:
    return f" ({row.good} good)" if row.good else ""

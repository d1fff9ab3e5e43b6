"""Carrying out ``read`` and ``write`` of plan files."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.cli.logging_facts import put_answer
from tracker.cli.logging_steps import printed_dates
from tracker.cli.session import confirmed, loaded_plan, now, put, say, session, status_date
from tracker.cli.texts import text_of
from tracker.errors import PlanProblems, Problem, Refused, UsageError
from tracker.plan.checks import check_plan
from tracker.plan.model import Plan
from tracker.plan.public_holidays import check_holidays, national_only, with_holidays
from tracker.planfile.difference import Change, difference, not_in_file
from tracker.planfile.faults import in_quotes
from tracker.planfile.merging import merge
from tracker.planfile.reading import Parsed, parse_plan
from tracker.planfile.writing import write_plan
from tracker.render.whole_file import write_whole
from tracker.render.words import plural
from tracker.report.answer import answer
from tracker.report.picture import Picture
from tracker.schedule.first_plan import first_plan_of
from tracker.schedule.forecast import Forecast
from tracker.store.database import reading, writing
from tracker.store.load import has_plan, load_plan

if TYPE_CHECKING:
    from tracker.planfile.grid import Grid
    from tracker.store.database import Store
    from tracker.store.edit import Transaction

SHOWN = 40
WORKBOOK = ".xlsx"
SPREADSHEETS = (WORKBOOK, ".xlsm", ".xls", ".xlsb", ".csv", ".tsv", ".ods", ".fods", ".numbers")
"""Endings of files that are read as sheets, those included that have to be saved in another form first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Intake:
    """A file read against what is stored: the plan it would give, and how that differs."""

    stored: Plan | None
    merged: Plan
    today: date
    changes: tuple[Change, ...]
    unmentioned: tuple[str, ...]
    remarks: tuple[str, ...]


def read_file(file: str, words: Sequence[str], today: str, *, yes: bool, as_json: bool) -> None:
    """Bring in a plan file, a plan workbook, or a maker's own sheet with ``words`` about it."""
    path = Path(file)
    if path.suffix.lower() not in SPREADSHEETS:
        if words:
            raise UsageError(
                f"{in_quotes(words[0])}: only spreadsheets take words after the file",
                hint=f"write: tracker read {file}",
            )
        read_plan_file(file, today, yes=yes, as_json=as_json)
        return
    from tracker.cli.spreadsheets import read_grids

    grids = read_grids(path)
    if _is_plan_book(grids):
        from tracker.cli.plan_books import read_plan_book

        if words:
            raise UsageError(
                f"{file} is a plan workbook and says all itself", hint=f"write: tracker read {file}"
            )
        read_plan_book(path, grids, today, yes=yes, as_json=as_json)
        return
    from tracker.cli.sheets import read_sheet

    read_sheet(path, grids, words, today, yes=yes, as_json=as_json)


def _is_plan_book(grids: "Sequence[Grid]") -> bool:
    """Whether a workbook has the plan's own form: a sheet ``run`` whose headings hold ``code``."""
    return any(
        grid.sheet.strip().lower() == "run"
        and bool(grid.rows)
        and "code" in [str(cell).strip().lower() for cell in grid.rows[0]]
        for grid in grids
    )


def read_plan_file(file: str, today: str, *, yes: bool, as_json: bool) -> None:
    """Bring a plan file in after showing what it changes."""
    text, source = text_of(file)
    store, stored = opened()
    parsed = parse_plan(text, source=source, today=status_date(stored, today))
    bring_in(store, take_in(stored, parsed, source, today), source, today, yes=yes, as_json=as_json)


def opened() -> "tuple[Store, Plan | None]":
    """The database, which must exist, and the plan stored in it, None where there is none yet."""
    store = session.open()
    with reading(store) as connection:
        return store, load_plan(connection) if has_plan(connection) else None


def bring_in(store: "Store", intake: Intake, source: str, today: str, *, yes: bool, as_json: bool) -> None:
    """Show what a file changes, ask, store all of it and answer."""
    if not intake.changes:
        answer_nothing_new(intake, source, today, as_json=as_json)
        return
    _show(intake)
    if intake.stored is not None and not confirmed(
        f"store {plural(len(intake.changes), 'change')}?", yes=yes
    ):
        say("nothing was stored")
        return
    remarks = (f"{plural(len(intake.changes), 'change')} stored",)
    keep(store, intake, today, remarks, as_json=as_json)


def answer_nothing_new(intake: Intake, source: str, today: str, *, as_json: bool) -> None:
    """Answer a read that changes nothing."""
    as_is = Picture(Forecast(intake.merged, intake.today))
    remark = f"{source} holds nothing new; nothing was stored"
    put_answer(answer(as_is, as_is, (), (remark,)), today, as_json=as_json)


def keep(
    store: "Store",
    intake: Intake,
    today: str,
    remarks: tuple[str, ...],
    *,
    as_json: bool,
    also: "Callable[[Transaction], None] | None" = None,
    verbose: bool = False,
) -> None:
    """Store all of an intake, and what ``also`` writes, in one transaction; then answer, with all lines where ``verbose``."""
    stored = intake.stored
    with writing(store) as transaction:
        if transaction.load() != stored:
            raise Refused("the database changed while you looked", hint="read the file again")
        entry = store_intake(transaction, intake, session.command)
        if also is not None:
            also(transaction)
        after = Picture(Forecast(intake.merged, intake.today))
        before = Picture(Forecast(stored, status_date(stored, today))) if stored else None
        view = answer(before, after, (), remarks, entry)
    put_answer(view, today, as_json=as_json, verbose=verbose)


def take_in(stored: Plan | None, parsed: Parsed, source: str, today: str) -> Intake:
    """Check what a file says against the stored plan; all problems are reported at once.

    A plan that is new, or that gets its first facts with the file, gets its first plan, too.
    """
    problems: tuple[Problem, ...] = parsed.problems
    if parsed.plan is None:
        raise PlanProblems(problems, what=source)
    merged = merge(stored, parsed.plan)
    day = status_date(merged, today)
    problems += (*check_plan(merged, day, unreadable=parsed.unreadable), *check_holidays(merged))
    if problems:
        raise PlanProblems(problems, what=source)
    merged = _as_logged(stored, with_holidays(merged))
    begins = stored is None or len(merged.facts) > len(stored.facts)
    if begins and merged.first_plan is None and merged.shipments:
        merged = replace(merged, first_plan=first_plan_of(merged))
    return Intake(
        stored=stored,
        merged=merged,
        today=day,
        changes=difference(stored, merged),
        unmentioned=not_in_file(stored, parsed.plan),
        remarks=_country_remarks(stored, merged),
    )


def _as_logged(stored: Plan | None, merged: Plan) -> Plan:
    """New facts in the order they were logged, which is the order they are stored in."""
    known = len(stored.facts) if stored else 0
    new = sorted(merged.facts[known:], key=lambda fact: fact.logged)
    return replace(merged, facts=(*merged.facts[:known], *new))


def _country_remarks(stored: Plan | None, merged: Plan) -> tuple[str, ...]:
    """Remarks on public holidays, without loading their library for plans that name no country."""
    return national_only(stored, merged) if any(one.country for one in merged.suppliers) else ()


def store_intake(transaction: "Transaction", intake: Intake, command: str) -> int:
    """Store the plan as one entry, then the new facts as one entry for each day they were logged.

    Returns the number of the last entry.
    """
    known = intake.stored.facts if intake.stored else ()
    new = intake.merged.facts[len(known) :]
    days = [fact.logged for fact in new]
    begins = intake.today if intake.stored else min((intake.today, intake.merged.run.start, *days))
    plan = replace(intake.merged, facts=known)
    entry = 0
    if intake.stored is None or plan != intake.stored:
        entry = transaction.begin_entry(command, min((begins, *days)), now())
        transaction.save(intake.stored, plan)
    for day, facts in groupby(new, key=lambda fact: fact.logged):
        grown = replace(plan, facts=(*plan.facts, *facts))
        entry = transaction.begin_entry(f"{command} (logged {day.isoformat()})", day, now())
        transaction.save(plan, grown)
        plan = grown
    transaction.record_dates(entry, printed_dates(Forecast(plan, intake.today)), intake.today)
    return entry


def write_plan_file(file: str, *, force: bool) -> None:
    """Write the stored plan to a file or standard output."""
    plan = loaded_plan(opened()[1])
    if file == "-":
        put(write_plan(plan))
        return
    path = Path(file)
    refuse_there(path, force=force)
    ending = path.suffix.lower()
    if ending == WORKBOOK:
        from tracker.cli.plan_books import write_plan_book

        write_plan_book(plan, path)
    elif ending in SPREADSHEETS:
        raise UsageError(
            f"a plan is not written as {ending}", hint=f"name it {WORKBOOK} for a workbook, .toml for text"
        )
    else:
        write_whole(write_plan(plan).encode("utf-8"), path)
    say(f"{file} written: {plural(len(plan.jobs), 'job')}, {plural(len(plan.facts), 'fact')}")


def refuse_there(path: Path, *, force: bool) -> None:
    """Refuse to write over a file unless that was asked for."""
    if path.exists() and not force:
        raise Refused(
            f"there is a file at {path} already", hint="add --force to overwrite it, or name another"
        )


def _show(intake: Intake) -> None:
    for line in (*_lines(intake), *intake.remarks):
        say(line)


def _lines(intake: Intake) -> Iterator[str]:
    signs = {"added": "+", "changed": "~", "removed": "-"}
    if intake.stored is None:
        merged = intake.merged
        things = {
            "supplier": len(merged.suppliers),
            **({"part": len(merged.parts)} if merged.parts else {}),
            "job": len(merged.jobs),
            "shipment": len(merged.shipments),
            **({"option": len(merged.options)} if merged.options else {}),
            "fact": len(merged.facts),
        }
        yield f"new run {merged.run.code}: " + ", ".join(
            plural(count, what) for what, count in things.items()
        )
        return
    for change in intake.changes[:SHOWN]:
        yield f"{signs[change.kind]} {change.what}" + (f": {change.detail}" if change.detail else "")
    if len(intake.changes) > SHOWN:
        yield f"and {len(intake.changes) - SHOWN} more"
    if intake.unmentioned:
        yield f"not in the file and kept: {', '.join(intake.unmentioned)} (tracker remove CODE takes one out)"

"""Carrying out the asking verbs of a day on the telephone; each imports only the report it prints."""

from tracker.cli.asking import supplier_asked
from tracker.cli.loading import load
from tracker.cli.session import put_view
from tracker.errors import UsageError

FURTHEST = 730


def show_owed(today: str, *, as_json: bool) -> None:
    """Clocks that wait for us."""
    from tracker.render.owing_text import write_owing
    from tracker.report.owing import owing

    view = owing(load(today).picture)
    put_view(view, lambda paper: write_owing(view, paper), as_json=as_json)


def show_gates(today: str, *, as_json: bool) -> None:
    """Gates."""
    from tracker.render.gates_text import write_gates
    from tracker.report.gates import gate_report

    view = gate_report(load(today).picture)
    put_view(view, lambda paper: write_gates(view, paper), as_json=as_json)


def show_near(today: str, *, as_json: bool) -> None:
    """Jobs by harmless days."""
    from tracker.render.near_text import write_near
    from tracker.report.near import near

    view = near(load(today).picture)
    put_view(view, lambda paper: write_near(view, paper), as_json=as_json)


def show_promises(supplier: str, today: str, *, as_json: bool) -> None:
    """Every promise, of one supplier or of all."""
    from tracker.render.promises_text import write_promise_record
    from tracker.report.promise_record import promise_record

    loaded = load(today)
    code = supplier_asked(loaded.plan, supplier, "promises")
    view = promise_record(loaded.picture, code)
    put_view(view, lambda paper: write_promise_record(view, paper), as_json=as_json)


def show_closures(days: str, today: str, *, as_json: bool) -> None:
    """Closures as cliffs."""
    from tracker.render.closures_text import write_closures
    from tracker.report.closures import closures

    if not (
        days.isascii() and days.isdigit() and len(days) <= len(str(FURTHEST)) and 1 <= int(days) <= FURTHEST
    ):
        raise UsageError(
            f"closures takes a number of days from 1 to {FURTHEST}, found '{days}'",
            hint="for example: tracker closures 120",
        )
    view = closures(load(today).picture, int(days))
    put_view(view, lambda paper: write_closures(view, paper), as_json=as_json)

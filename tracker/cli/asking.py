"""Carrying out the asking verbs: load, forecast, print; each imports only the report it prints."""

from tracker.cli.loading import Loaded, load
from tracker.cli.session import put, put_view, session, status_date
from tracker.errors import UsageError
from tracker.plan.model import Plan
from tracker.store.database import reading
from tracker.store.load import has_plan, load_plan

NEWEST = 20


def show_board(today: str, *, as_json: bool) -> None:
    """The board."""
    from tracker.render.board_text import write_board
    from tracker.report.board import board

    loaded = load(today)
    view = board(loaded.picture, fixed_today=_fixed(loaded))
    put_view(view, lambda paper: write_board(view, paper), as_json=as_json)


def show_forecast(today: str, *, as_json: bool) -> None:
    """Every job."""
    from tracker.render.forecast_text import write_forecast
    from tracker.report.forecast import forecast_view

    loaded = load(today)
    view = forecast_view(loaded.picture, detail=as_json)
    if as_json:
        from tracker.render.json_text import forecast_json

        put(forecast_json(view))
        return
    fixed = _fixed(loaded)
    put_view(
        view,
        lambda paper: write_forecast(view.shipments, view.jobs, view.today, paper, fixed=fixed),
        as_json=False,
    )


def show_late(today: str, *, as_json: bool) -> None:
    """Late jobs ranked."""
    from tracker.render.late_text import write_late
    from tracker.report.lateness import late_report

    view = late_report(load(today).picture)
    put_view(view, lambda paper: write_late(view, paper), as_json=as_json)


def show_calls(supplier: str, today: str, *, as_json: bool) -> None:
    """The call list, or one supplier's jobs with the telephone in hand."""
    from tracker.render.calls_text import write_calls
    from tracker.report.calls import calls

    loaded = load(today)
    asked = supplier_asked(loaded.plan, supplier, "calls")
    if asked and loaded.plan.supplier_by_code[asked].inhouse:
        raise UsageError(
            f"{asked} is our own bench: there is nobody to call", hint=f"its jobs: tracker {asked}"
        )
    view = calls(loaded.picture, asked)
    put_view(view, lambda paper: write_calls(view, paper), as_json=as_json)


def supplier_asked(plan: Plan, word: str, verb: str) -> str:
    """The code of the supplier whom a word after an asking verb stands for; empty for no word.

    Raises
    ------
    UsageError
        If it is a job's code, or fits none or several.
    """
    from tracker.words.codes import find_supplier

    job = plan.job_by_code.get(word.lower())
    if job is not None:
        raise UsageError(
            f"{job.code} is a job of {job.supplier}, not a supplier",
            hint=f"about the job: tracker {job.code}; about the supplier: tracker {verb} {job.supplier}",
        )
    return find_supplier(word, plan) if word else ""


def show_weeks(today: str, *, whole: bool, as_json: bool) -> None:
    """Bars."""
    from tracker.render.weeks_text import write_weeks
    from tracker.report.weeks import weeks

    view = weeks(load(today).picture, whole=whole)
    put_view(view, lambda paper: write_weeks(view, paper), as_json=as_json)


def show_diary(word: str, today: str, *, everything: bool, as_json: bool) -> None:
    """The diary."""
    from tracker.render.diary_text import write_diary
    from tracker.report.diary import diary_rows, entries_by
    from tracker.store.diary import read_diary

    with reading(session.open()) as connection:
        plan = load_plan(connection) if has_plan(connection) else None
        entries = read_diary(connection, with_changes=bool(word))
    if session.as_known:
        from tracker.cli.as_known import day_back

        entries = entries_by(entries, day_back(session.as_known, plan))
    rows = diary_rows(entries, status_date(plan, today), word)
    shown = rows if everything or as_json else rows[:NEWEST]
    put_view(
        shown,
        lambda paper: write_diary(shown, paper, left_off=len(rows) - len(shown), filtered=bool(word)),
        as_json=as_json,
    )


def show_code(code: str, today: str, *, as_json: bool) -> None:
    """The page of a job, a supplier, a shipment or a part."""
    from tracker.render.pages_text import write_job, write_shipment, write_supplier
    from tracker.report.pages import job_page, shipment_page, supplier_page

    loaded = load(today, with_entries=True)
    plan, picture, entries = loaded.plan, loaded.picture, loaded.entries
    found = _meant(plan, code)
    if found in plan.job_by_code:
        job = job_page(picture, found, entries)
        put_view(job, lambda paper: write_job(job, paper), as_json=as_json)
    elif found in plan.supplier_by_code:
        supplier = supplier_page(picture, found, entries)
        put_view(supplier, lambda paper: write_supplier(supplier, paper), as_json=as_json)
    elif found in plan.option_by_code:
        from tracker.cli.options_kept import show_option

        show_option(loaded, found, as_json=as_json)
    elif found in plan.part_by_code:
        from tracker.render.part_text import write_part
        from tracker.report.part_page import part_page

        part = part_page(picture, found, entries)
        put_view(part, lambda paper: write_part(part, paper), as_json=as_json)
    else:
        shipment = shipment_page(picture, found, entries)
        put_view(shipment, lambda paper: write_shipment(shipment, paper), as_json=as_json)


def _meant(plan: Plan, word: str) -> str:
    """The code a word stands for; a part only where no single job, supplier or shipment is meant."""
    from tracker.words.codes import codes_meant, find_code

    doers = (*plan.job_by_code, *plan.supplier_by_code, *plan.shipment_by_code)
    codes = (*doers, *plan.part_by_code, *plan.option_by_code)
    meant = [] if word.lower() in (code.lower() for code in plan.part_by_code) else codes_meant(word, doers)
    return meant[0] if len(meant) == 1 else find_code(word, codes, "verb or code")


def _fixed(loaded: Loaded) -> bool:
    return loaded.plan.run.today == loaded.picture.today

"""The asking verbs as commands."""

from typing import Annotated

import typer

from tracker.cli.options import Code, Json, Today, looks_back


def declare(app: typer.Typer) -> None:
    """Add the asking verbs."""
    for command in (forecast, late, calls, diary, weeks, show):
        app.command(command.__name__)(looks_back(command))


def forecast(today: Today = "", as_json: Json = False) -> None:
    """Every job: state, dates, spare days, flags.

    Wide terminals also see starts, the first plan and what each job holds.

    Example: tracker forecast --json
    """
    from tracker.cli.asking import show_forecast

    show_forecast(today, as_json=as_json)


def late(today: Today = "", as_json: Json = False) -> None:
    """Which late part moves the ship date, and how far.

    One at a time: what the last parcel would gain were that job alone back on its first-plan day.

    Example: tracker late
    """
    from tracker.cli.asking import show_late

    show_late(today, as_json=as_json)


def calls(
    supplier: Annotated[
        str,
        typer.Argument(
            metavar="[SUPPLIER]",
            help="Only this supplier, with all open jobs; by default whoever is to be called.",
            show_default=False,
        ),
    ] = "",
    today: Today = "",
    as_json: Json = False,
) -> None:
    """Whom to call, about what, which date to accept.

    By supplier: promises passed, what is due within a week, what they wait for from us.

    Example: tracker calls qingsha
    """
    from tracker.cli.asking import show_calls

    show_calls(supplier, today, as_json=as_json)


def diary(
    word: Annotated[
        str, typer.Argument(help="Only entries whose command holds this word.", show_default=False)
    ] = "",
    everything: Annotated[bool, typer.Option("--all", help="All entries, not the last 20.")] = False,
    today: Today = "",
    as_json: Json = False,
) -> None:
    """Every command that changed something, newest first.

    Example: tracker diary licence
    """
    from tracker.cli.asking import show_diary

    show_diary(word, today, everything=everything, as_json=as_json)


def weeks(
    whole: Annotated[bool, typer.Option("--whole", help="From the start of the run.")] = False,
    today: Today = "",
    as_json: Json = False,
) -> None:
    """Bars week by week: made, travel, waits on us.

    Example: tracker weeks --whole
    """
    from tracker.cli.asking import show_weeks

    show_weeks(today, whole=whole, as_json=as_json)


def show(code: Code, today: Today = "", as_json: Json = False) -> None:
    """Everything about one job, supplier, shipment or part.

    The word 'show' may be left out.

    Example: tracker licence
    """
    from tracker.cli.asking import show_code

    show_code(code, today, as_json=as_json)

"""The asking verbs of a day on the telephone as commands."""

from typing import Annotated

import typer

from tracker.cli.options import Json, Today, looks_back

_Supplier = Annotated[
    str,
    typer.Argument(
        metavar="[SUPPLIER]", help="Only this supplier's; all of them by default.", show_default=False
    ),
]
_Days = Annotated[
    str,
    typer.Argument(
        metavar="[DAYS]", help="How many days ahead to look, up to 730; 90 by default.", show_default=False
    ),
]


def declare(app: typer.Typer) -> None:
    """Add the asking verbs of the telephone day."""
    for command in (owed, gates, near, promises, closures):
        app.command(command.__name__)(looks_back(command))


def owed(today: Today = "", as_json: Json = False) -> None:
    """Every clock that waits for us: what, for whom, since when, by when.

    Each line names the shipment it frees.

    Example: tracker owed
    """
    from tracker.cli.telephoning import show_owed

    show_owed(today, as_json=as_json)


def gates(today: Today = "", as_json: Json = False) -> None:
    """Every gate: its results, what it blocks, when it may open.

    Example: tracker gates
    """
    from tracker.cli.telephoning import show_gates

    show_gates(today, as_json=as_json)


def near(today: Today = "", as_json: Json = False) -> None:
    """Open jobs by harmless days, the nearest first.

    Example: tracker near
    """
    from tracker.cli.telephoning import show_near

    show_near(today, as_json=as_json)


def promises(supplier: _Supplier = "", today: Today = "", as_json: Json = False) -> None:
    """Every promise ever made, its slips, and whether it was kept.

    Example: tracker promises qingsha
    """
    from tracker.cli.telephoning import show_promises

    show_promises(supplier, today, as_json=as_json)


def closures(days: _Days = "90", today: Today = "", as_json: Json = False) -> None:
    """When suppliers shut, and the last day to order, pay or send before.

    What the next day costs stands beside it.

    Example: tracker closures 120
    """
    from tracker.cli.telephoning import show_closures

    show_closures(days, today, as_json=as_json)

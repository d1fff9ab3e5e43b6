"""The asking verbs about parts: what is needed, and where the pieces are."""

import typer

from tracker.cli.options import Code, Json, Today, looks_back


def declare(app: typer.Typer) -> None:
    """Add ``need`` and ``where``."""
    for command in (need, where):
        app.command(command.__name__)(looks_back(command))


def need(today: Today = "", as_json: Json = False) -> None:
    """What to order by when, which shipment it frees, what is short.

    Then every part's balance, and every job's good, rework and scrap.

    Example: tracker need
    """
    from tracker.cli.asking_counts import show_need

    show_need(today, as_json=as_json)


def where(code: Code, today: Today = "", as_json: Json = False) -> None:
    """Every piece of a part by place and state.

    The code of a job stands for the parts it makes.

    Example: tracker where housing
    """
    from tracker.cli.asking_counts import show_where

    show_where(code, today, as_json=as_json)

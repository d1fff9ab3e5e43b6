"""The Friday page as a command."""

from typing import Annotated

import typer

from tracker.cli.options import Force, Json, Today

_Out = Annotated[
    str,
    typer.Option(
        "--out",
        metavar="FILE",
        help="Where to write the workbook; the text for backers goes beside it.",
        show_default=False,
    ),
]
_Everything = Annotated[bool, typer.Option("--verbose", "-v", help="All lines of every block.")]


def declare(app: typer.Typer) -> None:
    """Add the command."""
    app.command("friday")(friday)


def friday(
    out: _Out = "",
    force: Force = False,
    everything: _Everything = False,
    today: Today = "",
    as_json: Json = False,
) -> None:
    """The Friday page; writes the backers' workbook and text.

    Since backers were last told, else for a week: what came, went wrong, moved and why; what to do; when backers must
    hear. Public names alone go into exports/friday-DATE.xlsx and .txt.

    Example: tracker friday
    """
    from tracker.cli.friday_page import show_friday

    show_friday(out, today, force=force, everything=everything, as_json=as_json)

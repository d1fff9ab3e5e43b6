"""Why dates moved, as a command."""

from typing import Annotated

import typer

from tracker.cli.options import Json, Today

_Span = Annotated[
    list[str] | None,
    typer.Argument(
        metavar="[since DATE] [until DATE]",
        help="The days to look at; by default from when backers were last told until today.",
        show_default=False,
    ),
]


def declare(app: typer.Typer) -> None:
    """Add the command that looks back."""
    app.command("moved", context_settings={"ignore_unknown_options": True})(moved)


def moved(
    span: _Span = None,
    everything: Annotated[bool, typer.Option("--all", help="Lines that move nothing, too.")] = False,
    today: Today = "",
    as_json: Json = False,
) -> None:
    """What moved the shipments and why, line by line.

    Each diary entry and each stretch of days with its effect on every shipment; the lines add up.

    Example: tracker moved since 16oct
    """
    from tracker.cli.looking_back import show_moved

    show_moved(span or [], today, everything=everything, as_json=as_json)

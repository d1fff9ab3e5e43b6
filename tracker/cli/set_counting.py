"""The command that counts full sets."""

from typing import Annotated

import typer

from tracker.cli.options import Json, Today, looks_back

_PartAndDay = Annotated[
    list[str] | None,
    typer.Argument(
        metavar="[PART] [on DATE]",
        help="A part that is built from others; the run's unit by default. A day ahead; now by default.",
        show_default=False,
    ),
]


def declare(app: typer.Typer) -> None:
    """Add ``sets``."""
    app.command("sets")(looks_back(sets))


def sets(words: _PartAndDay = None, today: Today = "", as_json: Json = False) -> None:
    """How many full sets can be built, which part is short, and when there are more.

    From what is here and no started work holds; each product variant apart and all together.

    Example: tracker sets on 4dec
    """
    from tracker.cli.asking_sets import show_sets

    show_sets(words or [], today, as_json=as_json)

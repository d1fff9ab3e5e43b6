"""The sharing verbs as commands: the weekly workbook, and the demo."""

from typing import Annotated

import typer

from tracker.cli.options import Force, Json, Out, Today, Yes

_WhomAndSince = Annotated[
    list[str] | None,
    typer.Argument(metavar="SUPPLIER [since DATE]", help="Whom, and from which day on.", show_default=False),
]


def declare(app: typer.Typer) -> None:
    """Add ``export``, ``mail`` and ``demo``."""
    app.command("export")(export)
    app.command("mail")(mail)
    app.command("demo")(demo)


def export(
    what: Annotated[str, typer.Argument(metavar="backers", help="Which page to write.", show_default=False)],
    out: Out = "",
    force: Force = False,
    today: Today = "",
) -> None:
    """Write the weekly workbook for backers.

    Sheets This week, Progress, Full sets (where parts are counted) and Weeks, from public names only.

    Example: tracker export backers --out exports/status.xlsx
    """
    from tracker.cli.sharing import export_page

    export_page(what, out, today, force=force)


def mail(words: _WhomAndSince = None, today: Today = "", as_json: Json = False) -> None:
    """Text to paste into a mail to one supplier.

    From facts since the last one (log it with 'mailed'): what was said, dates that passed, what came in, what must
    stop. Never another supplier's names, and no prices. 'since DATE' begins on another day.

    Example: tracker mail varne since 10nov
    """
    from tracker.cli.mailing import show_mail

    show_mail(words or [], today, as_json=as_json)


def demo(
    directory: Annotated[
        str, typer.Option("--in", metavar="FOLDER", help="Where to put the demo's database and workbook.")
    ] = ".",
    yes: Yes = False,
) -> None:
    """Build the demo run and show what it answers.

    Afresh each time: one more delivery is logged, the board shown, the workbook written. What you logged into an
    earlier one is asked about first.

    Example: tracker demo
    """
    from tracker.cli.sharing import run_demo

    run_demo(directory, yes=yes)

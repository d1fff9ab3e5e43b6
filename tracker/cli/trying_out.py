"""Trying things out as a command."""

import typer

from tracker.cli.options import Json, Today, Words, looks_back


def declare(app: typer.Typer) -> None:
    """Add ``try``."""
    app.command("try", context_settings={"ignore_unknown_options": True})(looks_back(try_out))


def try_out(words: Words = None, today: Today = "", as_json: Json = False) -> None:
    """Show what something would do to the shipments; nothing is stored.

    It takes the words of the log, of set, add, remove and rework, several joined by 'and', and days still to come.
    A span such as 11jan..26feb is tried day by day. A second source: instead WHAT by SUPPLIER lead DAYS, with
    travel and check where there are any.

    Example: tracker try promised licence 11jan..26feb
    """
    from tracker.cli.trying import try_words

    try_words(words or (), today, as_json=as_json)

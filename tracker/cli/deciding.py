"""What could be decided, as a command."""

import typer

from tracker.cli.options import Json, Today, Words, looks_back


def declare(app: typer.Typer) -> None:
    """Add ``option``."""
    app.command("option", context_settings={"ignore_unknown_options": True})(looks_back(option))


def option(words: Words = None, today: Today = "", as_json: Json = False) -> None:
    """Keep a try-out until it is decided, or list what is kept.

    With a name and the words of a try: keeps them, says what deciding it today gains and the last day it helps;
    'cost' and a few words may follow. Without words: all options, or the one named. 'decided NAME' takes it off
    the list, 'remove NAME' as if it had never been there.

    Example: tracker option quick-boxes "set boxes lead=12wd" cost GBP 240
    """
    from tracker.cli.options_kept import keep_or_list

    keep_or_list(words or (), today, as_json=as_json)

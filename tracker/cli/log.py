"""The logging verbs as commands; all of them share one grammar and one way of answering."""

from collections.abc import Callable
from typing import Annotated

import typer

from tracker.cli.options import Json, Note, On, Today, Verbose, Words
from tracker.words.verbs import VERBS, Verb


def declare(app: typer.Typer) -> None:
    """Add one command for each logging verb, and ``undo``."""
    for verb in VERBS.values():
        app.command(
            verb.name,
            help=f"{verb.help}\n\nExample: tracker {verb.example}",
            short_help=verb.help,
            context_settings={"ignore_unknown_options": True},
        )(_command(verb))
    app.command("undo")(undo)


def _command(verb: Verb) -> Callable[..., None]:
    def command(
        words: Words = None,
        on: On = "",
        note: Note = "",
        today: Today = "",
        as_json: Json = False,
        verbose: Verbose = False,
    ) -> None:
        from tracker.cli.logging_facts import log_words

        extra = (*(("on", *on.split()) if on else ()), *(("note", note) if note else ()))
        log_words(verb, [*(words or ()), *extra], today, as_json=as_json, verbose=verbose)

    return command


def undo(
    number: Annotated[
        str, typer.Argument(help="The entry to take back; the last one by default.", show_default=False)
    ] = "",
    today: Today = "",
    as_json: Json = False,
    verbose: Verbose = False,
) -> None:
    """Take an entry back by a new entry; both stay in the diary.

    Without a number: the last entry that is neither an undo nor undone. Undoing an undo does it again.

    Example: tracker undo 93
    """
    from tracker.cli.logging_facts import undo_entry

    undo_entry(number, today, as_json=as_json, verbose=verbose)

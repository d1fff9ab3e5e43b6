"""The logging verbs as commands; all of them share one grammar and one way of answering."""

from collections.abc import Callable
from typing import Annotated

import typer

from tracker.cli.options import Json, Note, On, Today, Verbose, Words
from tracker.words.verbs import VERBS, Verb

_FREE_WORDS = {"ignore_unknown_options": True}


def declare(app: typer.Typer) -> None:
    """Add one command for each logging verb, then those that change or gather what was logged."""
    for verb in VERBS.values():
        app.command(
            verb.name,
            help=f"{verb.help}\n\nExample: tracker {verb.example}",
            short_help=verb.help,
            context_settings=_FREE_WORDS,
        )(_command(verb))
    app.command("rework", context_settings=_FREE_WORDS)(rework)
    app.command("fix", context_settings=_FREE_WORDS)(fix)
    app.command("undo")(undo)
    app.command("log")(log)


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


def fix(
    number: Annotated[str, typer.Argument(help="The entry to correct.", show_default=False)],
    words: Words = None,
    today: Today = "",
    as_json: Json = False,
    verbose: Verbose = False,
) -> None:
    """Correct what an entry logged; both stay in the diary.

    Only what the words name changes. An entry about several jobs needs the code of one first.

    Example: tracker fix 57 good 91
    """
    from tracker.cli.logging_facts import fix_words

    fix_words(number, words or (), today, as_json=as_json, verbose=verbose)


def rework(words: Words = None, today: Today = "", as_json: Json = False, verbose: Verbose = False) -> None:
    """Send pieces back to be reworked, or add a second check behind a gate that failed.

    Pieces become a job of their own that makes the same part; supplier, lead and travel are those of their job
    unless the words say otherwise: by, lead, travel, said, of PART where it makes several, and check for a check
    at our own bench before they count. What waited for a gate waits for its second check then; by and lead are
    needed.

    Example: tracker rework finish-natural 9 by varne lead 8wd
    """
    from tracker.cli.logging_facts import rework_words

    rework_words(words or (), today, as_json=as_json, verbose=verbose)


def log(
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="A text; - for standard input.", show_default=False)
    ],
    today: Today = "",
    as_json: Json = False,
    verbose: Verbose = False,
) -> None:
    """Log what was written down away from the machine: all lines, or none.

    One command a line, as typed after 'tracker'; a line 'on DATE' dates the lines below it.

    Example: tracker log notes.txt
    """
    from tracker.cli.logging_lines import log_lines

    log_lines(file, today, as_json=as_json, verbose=verbose)

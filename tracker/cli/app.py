"""The program: its commands, abbreviations of them, and one place where errors become text."""

import gc
import os
import shlex
import sys
from itertools import pairwise
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from tracker.cli.session import say, session
from tracker.errors import EXIT_REFUSED, PlanProblems, TrackerError, UsageError

NO_COPY = "--no-copy"
_SEVERAL = 2
_ASKING = frozenset((
    "forecast", "late", "calls", "diary", "weeks", "owed", "gates", "near", "promises", "closures", "sets", "need",
    "where", "moved", "option", "friday",
))  # fmt: skip


class Verbs(TyperGroup):
    """Takes beginnings of verbs, and codes in place of a verb; turns our errors into one message."""

    def list_commands(self, ctx: Any) -> list[str]:
        """Commands in the order they were declared."""
        del ctx
        return list(self.commands)

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """Resolve the first word once its verb is whole; the words are kept for the diary, so they must be text."""
        unreadable = next((word for word in args if not _is_text(word)), None)
        if unreadable is not None:
            raise UsageError(f"'{unreadable}' holds bytes that are no text", hint="type it again")
        kept = [args[0], *(word for word in args[1:] if word != NO_COPY)]
        if len(kept) < len(args):
            ctx.params["no_copy"] = True
        session.database = ctx.params["db"]
        words = self._with_whole_verb(kept)
        session.command = shlex.join(words)
        return super().resolve_command(ctx, words)

    def _with_whole_verb(self, args: list[str]) -> list[str]:
        """Read the first word as a whole verb, a code, or a beginning of either; a code stands alone."""
        word = args[0]
        if word in self.commands or word.startswith("-"):
            return args
        after = _words_after(args)
        verbs = self._fitting([verb for verb in self.commands if verb.startswith(word.lower())], len(after))
        alone = not after
        if not verbs:
            if not alone:
                from tracker.words.codes import unknown

                raise unknown(word, list(self.commands), "verb")
            return ["show", *args]
        from tracker.cli.finding import codes_beginning

        codes = codes_beginning(word) if alone else []
        exact = [code for code in codes if code.lower() == word.lower()]
        if exact:
            return ["show", *exact, *args[1:]]
        if len(verbs) == 1 and not codes:
            return [verbs[0], *args[1:]]
        both = ", ".join((*verbs, *codes))
        raise UsageError(
            f"'{word}' begins several verbs or codes: {both}", hint="type a little more of the one you mean"
        )

    def _fitting(self, verbs: list[str], count: int) -> list[str]:
        """Of several verbs with one beginning, those meant before ``count`` words.

        Before words a logging verb is meant, not one that asks; alone the reverse. Where one verb begins all the
        others, it is that one.
        """
        from tracker.words.verbs import VERBS

        if len(verbs) < _SEVERAL:
            return verbs
        if count:
            logs = any(verb in VERBS for verb in verbs)
            fit = [verb for verb in verbs if not (logs and verb in _ASKING)]
        else:
            fit = [verb for verb in verbs if verb not in VERBS] or verbs
        shortest = min(fit, key=len)
        return [shortest] if all(verb.startswith(shortest) for verb in fit) else fit

    def invoke(self, ctx: Any) -> Any:
        """Run the command; a refusal prints one message on standard error and sets the exit code."""
        try:
            return super().invoke(ctx)
        except TrackerError as error:
            say(error_text(error))
            raise typer.Exit(error.exit_code) from None
        except BrokenPipeError:
            sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123 - keeps the exit quiet
            raise typer.Exit(EXIT_REFUSED) from None
        except Exception as error:
            if type(error).__module__.startswith("typer") or os.environ.get("TRACKER_DEBUG"):
                raise
            kept = f"entry {session.stored} is stored" if session.stored else "nothing was stored"
            say(f"error: the tracker itself failed ({type(error).__name__}: {error}); {kept}")
            say("hint: please report it with the command typed; TRACKER_DEBUG=1 shows where it failed")
            raise typer.Exit(EXIT_REFUSED) from None


def _is_text(word: str) -> bool:
    try:
        word.encode()
    except UnicodeEncodeError:
        return False
    return True


def _words_after(args: list[str]) -> list[str]:
    """Words after the first that are neither options nor the value of one that takes a date."""
    dated = ("--today", "--as-known")
    return [word for before, word in pairwise(args) if not word.startswith("-") and before not in dated]


def error_text(error: TrackerError) -> str:
    """The error as people see it: the sentence, each problem on a line, the hint."""
    lines = [f"error: {error.message}"]
    if isinstance(error, PlanProblems):
        lines += [f"  {problem}" for problem in error.problems]
    if error.hint:
        lines.append(f"hint: {error.hint}")
    return "\n".join(lines)


app = typer.Typer(
    cls=Verbs,
    name="tracker",
    rich_markup_mode=None,
    add_completion=True,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


@app.callback(invoke_without_command=True)
def main_command(
    ctx: typer.Context,
    db: Annotated[
        str,
        typer.Option(
            "--db",
            metavar="URL",
            help="Database file; else TRACKER_DB, else ./tracker.sqlite.",
            show_default=False,
        ),
    ] = "",
    today: Annotated[
        str,
        typer.Option("--today", metavar="DATE", help="Status date instead of today's.", show_default=False),
    ] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print the board as one JSON document.")] = False,
    no_copy: Annotated[
        bool,
        typer.Option(
            NO_COPY,
            envvar="TRACKER_NO_COPY",
            show_envvar=False,
            help="Keep no copy of the database before the day's first write; also TRACKER_NO_COPY=1.",
        ),
    ] = False,
    as_known: Annotated[
        str,
        typer.Option(
            "--as-known", metavar="DATE", help="The board as it was known on that day.", show_default=False
        ),
    ] = "",
    version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
) -> None:
    """Track the supplier jobs of a small production run and the date of every shipment.

    Without a verb: the board. With a code in place of a verb: everything about that job, supplier,
    shipment or part. Any clear beginning of a verb or code will do. Dates: 2026-12-04, 4dec, fri, today, +3.

    Example: tracker in glass-sea 268 scrap 2
    """
    session.database, session.today, session.no_copy, session.stored = db, today, no_copy, None
    session.as_known = as_known
    if version:
        from tracker import __version__

        typer.echo(f"tracker {__version__}")
        raise typer.Exit
    if ctx.invoked_subcommand is None:
        from tracker.cli.asking import show_board

        show_board(today, as_json=as_json)
        return
    for option, typed in (("--json", as_json), ("--as-known DATE", as_known)):
        if typed:
            raise UsageError(
                f"{option.split()[0]} before a verb is for the board",
                hint=f"write: tracker {ctx.invoked_subcommand} ... {option}",
            )


def _declare() -> None:
    from tracker.cli import (
        ask,
        counting,
        deciding,
        friday,
        log,
        set_counting,
        set_up,
        share,
        telephone,
        trying_out,
        why,
    )

    for part in (
        set_up,
        log,
        ask,
        telephone,
        counting,
        set_counting,
        why,
        trying_out,
        deciding,
        friday,
        share,
    ):
        part.declare(app)


_declare()


def main() -> None:
    """Run the program; a command lives too briefly for the collector to earn its keep."""
    gc.disable()
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        app()
    finally:
        gc.freeze()

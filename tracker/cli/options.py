"""Options that many commands share, each declared once."""

import inspect
from collections.abc import Callable
from functools import wraps
from typing import Annotated

import typer

from tracker.cli.session import session

Words = Annotated[
    list[str] | None, typer.Argument(help="Codes, numbers and dates as plain words.", show_default=False)
]
Today = Annotated[
    str, typer.Option("--today", metavar="DATE", help="Status date instead of today's.", show_default=False)
]
Json = Annotated[bool, typer.Option("--json", help="Print one JSON document.")]
On = Annotated[
    str,
    typer.Option(
        "--on", metavar="DATE", help="The day it happened; the same as: on DATE.", show_default=False
    ),
]
Note = Annotated[
    str, typer.Option("--note", metavar="TEXT", help="A note; the same as: note TEXT.", show_default=False)
]
Verbose = Annotated[bool, typer.Option("--verbose", "-v", help="All lines of the answer.")]
Yes = Annotated[bool, typer.Option("--yes", help="Do not ask; needed where there is no terminal.")]
Code = Annotated[str, typer.Argument(help="A code, or a beginning that fits only one.", show_default=False)]
Out = Annotated[str, typer.Option("--out", metavar="FILE", help="Where to write.", show_default=False)]
Force = Annotated[bool, typer.Option("--force", help="Overwrite a file that is there.")]
AsKnown = Annotated[
    str,
    typer.Option(
        "--as-known",
        metavar="DATE",
        help="Answer from what was entered by then, seen on that day.",
        show_default=False,
    ),
]


def looks_back(command: Callable[..., None]) -> Callable[..., None]:
    """The command with ``--as-known DATE``, which the loading of the plan obeys."""

    @wraps(command)
    def asked(*, as_known: str = "", **words: object) -> None:
        session.as_known = as_known
        command(**words)

    signature = inspect.signature(command)
    option = inspect.Parameter("as_known", inspect.Parameter.KEYWORD_ONLY, default="", annotation=AsKnown)
    asked.__signature__ = signature.replace(parameters=[*signature.parameters.values(), option])  # type: ignore[attr-defined]
    asked.__annotations__ = {**command.__annotations__, "as_known": AsKnown}
    return asked

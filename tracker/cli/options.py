"""Options that many commands share, each declared once."""

from typing import Annotated

import typer

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

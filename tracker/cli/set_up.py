"""The setting-up verbs as commands."""

from typing import Annotated

import typer

from tracker.cli.options import Force, Json, Today, Yes

_Thing = Annotated[
    str, typer.Argument(metavar="supplier|part|job|shipment", help="What to add.", show_default=False)
]
_NewCode = Annotated[str, typer.Argument(metavar="CODE", help="Its code.", show_default=False)]
_Keys = Annotated[
    list[str] | None,
    typer.Argument(
        metavar="KEY=VALUE", help="As in plan files; KEY+=VALUE adds to a list.", show_default=False
    ),
]
_WrittenFile = Annotated[
    str,
    typer.Argument(metavar="FILE", help="Where to; - or nothing for standard output.", show_default=False),
]


def declare(app: typer.Typer) -> None:
    """Add the setting-up verbs."""
    for name, command in (
        ("new", new),
        ("read", read),
        ("write", write),
        ("add", add),
        ("set", set_keys),
        ("remove", remove),
        ("keep-plan", keep_plan),
    ):
        app.command(name)(command)


def new(
    code: Annotated[str, typer.Argument(metavar="[CODE]", help="The run's code.", show_default=False)] = "",
    keys: _Keys = None,
    today: Today = "",
) -> None:
    """Make a new database, and the run in it when a code is given.

    Example: tracker new ebb-1 product="Tabletop tide dial" quantity=240 start=2026-06-15
    """
    from tracker.cli.editing import new_database

    new_database(code, keys or [], today)


def read(
    file: Annotated[
        str,
        typer.Argument(
            metavar="FILE", help="A plan file, a plan workbook or your own sheet.", show_default=False
        ),
    ],
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="WORDS", help="For your own sheet: columns, leads, countries, sheet.", show_default=False
        ),
    ] = None,
    yes: Yes = False,
    today: Today = "",
    as_json: Json = False,
) -> None:
    """Bring a plan file or your own spreadsheet in: all of it, or nothing.

    All problems are listed, or the difference is shown and stored. A second read updates and never doubles; what the file does not mention stays.
    Of your own sheet (.xlsx, .csv) the columns are guessed and shown; say what they hold with columns vendor=supplier,
    how days and weeks are meant with leads days=wd boxes=20cd, where suppliers are with countries varne=GB, which sheet with sheet NAME.

    Example: tracker read jobs.xlsx columns item=name vendor=supplier leads days=wd
    """
    from tracker.cli.plan_files import read_file

    read_file(file, words or [], today, yes=yes, as_json=as_json)


def write(
    file: _WrittenFile = "",
    blank: Annotated[
        bool, typer.Option("--blank", help="A workbook to fill in: plan-blank.xlsx unless named.")
    ] = False,
    force: Force = False,
) -> None:
    """Write the whole plan as a plan file: a workbook where the name ends in .xlsx, else text.

    Facts and first plan are included; reading it again gives an equal plan.

    Example: tracker write plan.xlsx
    """
    if blank:
        from tracker.cli.plan_books import write_blank_book

        write_blank_book(file, force=force)
        return
    from tracker.cli.plan_files import write_plan_file

    write_plan_file(file or "-", force=force)


def add(thing: _Thing, code: _NewCode, keys: _Keys = None, today: Today = "", as_json: Json = False) -> None:
    """Add a supplier, a part, a job or a shipment.

    Example: tracker add job foam supplier=brenta lead=10wd after=trial lag 2cd
    """
    from tracker.cli.editing import add_thing

    add_thing(thing, code, keys or [], today, as_json=as_json)


def set_keys(
    code: Annotated[
        str,
        typer.Argument(
            metavar="CODE", help="A job, supplier, part or shipment, or: run.", show_default=False
        ),
    ],
    keys: _Keys = None,
    today: Today = "",
    as_json: Json = False,
) -> None:
    """Change keys of a job, a supplier, a part, a shipment or the run.

    Example: tracker set boxes lead=12wd
    """
    from tracker.cli.editing import set_thing

    set_thing(code, keys or [], today, as_json=as_json)


def remove(
    code: Annotated[
        str, typer.Argument(metavar="CODE", help="A job, supplier, part or shipment.", show_default=False)
    ],
    today: Today = "",
    as_json: Json = False,
) -> None:
    """Remove a job, a supplier, a part or a shipment that nothing refers to.

    Example: tracker remove foam
    """
    from tracker.cli.editing import remove_thing

    remove_thing(code, today, as_json=as_json)


def keep_plan(today: Today = "", yes: Yes = False, as_json: Json = False) -> None:
    """Replace the first plan by today's forecast.

    'Late' is then measured against it.

    Example: tracker keep-plan --yes
    """
    from tracker.cli.editing import keep_first_plan

    keep_first_plan(today, yes=yes, as_json=as_json)

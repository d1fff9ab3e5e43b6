"""What one run of the program works with: the database, the clock, and where text goes."""

import os
import shutil
import sys
import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.errors import Refused, StoreError, UsageError

if TYPE_CHECKING:
    from tracker.plan.model import Plan
    from tracker.render.paper import Paper
    from tracker.store.database import Store
    from tracker.store.edit import Transaction

DEFAULT_DATABASE = "tracker.sqlite"


@dataclass(slots=True)
class Session:
    """Choices as typed: a path or URL and a status date, empty for the default.

    ``as_known`` is the day whose entries an answer stops at; empty for all of them. ``no_copy`` leaves out the day's copy of the database. ``command`` is the rest of the command line, its verb
    spelled out, as the diary keeps it; ``stored`` is the number of the entry this run has committed, if any.
    """

    database: str = ""
    today: str = ""
    as_known: str = ""
    no_copy: bool = False
    command: str = ""
    stored: int | None = None

    @property
    def where(self) -> str:
        """The database: ``--db``, else ``TRACKER_DB``, else ``./tracker.sqlite``."""
        return self.database or os.environ.get("TRACKER_DB", "") or DEFAULT_DATABASE

    def exists(self) -> bool:
        """Whether there is a file where the database should be."""
        from tracker.store.database import database_url

        return Path(database_url(self.where).database or "").is_file()

    def open(self) -> "Store":
        """Open the database, which must exist; a copy is kept ahead of each day's first change."""
        from tracker.store.database import open_store

        return open_store(self.where, before_change=None if self.no_copy else keep_copy)

    @contextmanager
    def writing(self) -> "Iterator[Transaction]":
        """All or nothing on the database, which must exist: leaving the block commits."""
        from tracker.store.database import writing

        with writing(self.open()) as transaction:
            yield transaction


session = Session()


def now() -> datetime:
    """The moment the command runs, in UTC."""
    return datetime.now(UTC)


def keep_copy(database: Path) -> None:
    """Keep this machine's day's copy of the database; where none can be made, say so and go on."""
    from tracker.store.copies import copy_for_day

    try:
        made = copy_for_day(database, date.today())  # noqa: DTZ011 - the maker's own day, not UTC's
    except StoreError as error:
        say(f"warning: {error.message}; your command goes on\nhint: {error.hint}")
        return
    if made:
        warn_if_synchronised(database)


def warn_if_synchronised(database: Path) -> None:
    """Say so where the database lies in a folder that looks synchronised with other machines."""
    from tracker.store.copies import copies_folder
    from tracker.store.synchronised import looks_synchronised

    folder = looks_synchronised(database)
    if folder:
        say(
            f"warning: {folder} looks synchronised; two machines writing through it can lose or split the database\n"
            "hint: keep it in a plain folder and point TRACKER_DB at it; its copies in "
            f"{copies_folder(database).name} may be synchronised instead"
        )


def own_today(plan: "Plan | None") -> date:
    """Today where none is typed: the one the run keeps, else this machine's."""
    kept = plan.run.today if plan else None
    return kept or date.today()  # noqa: DTZ011 - the maker's own day, not UTC's


def status_date(plan: "Plan | None", typed: str) -> date:
    """The status date: as typed (read forward from the run's own or this machine's), else one of these two."""
    base = own_today(plan)
    typed = typed or session.today
    if not typed:
        return base
    from tracker.plan.workdays import FIRST_DAY, LAST_DAY
    from tracker.words.dates import DateReader

    order = plan.run.dates if plan else None
    found = DateReader(today=base, order=order).whole(typed, "forward")
    if not FIRST_DAY <= found.toordinal() <= LAST_DAY:
        raise UsageError(
            f"the status date {found} is out of the years 1990 to 2100", hint="check the year of --today"
        )
    return found


def loaded_plan(plan: "Plan | None") -> "Plan":
    """The stored plan, or a refusal that says how to get one."""
    if plan is None:
        raise Refused(
            f"there is no run in {session.where} yet",
            hint="bring a plan in with 'tracker read plan.toml', or start one: tracker new CODE quantity=240 start=2026-06-15",
        )
    return plan


def say(text: str) -> None:
    """Talk to the person: standard error, wrapped where it is a terminal."""
    if sys.stderr.isatty():
        width = max(40, shutil.get_terminal_size((80, 24)).columns)
        lines = (
            textwrap.fill(line, width, subsequent_indent="  ", break_on_hyphens=False)
            for line in text.split("\n")
        )
        text = "\n".join(lines)
    sys.stderr.write(text if text.endswith("\n") else text + "\n")


def put(text: str) -> None:
    """Print data: standard output."""
    sys.stdout.write(text if text.endswith("\n") else text + "\n")


def paper() -> "Paper":
    """A sheet as wide as the terminal (80 where there is none); colour only on one that wants it."""
    from tracker.render.paper import Paper

    width = shutil.get_terminal_size((80, 24)).columns
    colour = sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return Paper(width=max(40, width), colour=colour)


def put_view(view: object, write: "Callable[[Paper], None]", *, as_json: bool) -> None:
    """Print a view as JSON, or as text by ``write``."""
    if as_json:
        from tracker.render.json_text import json_text

        put(json_text(view))
        return
    sheet = paper()
    write(sheet)
    put(sheet.text())


def confirmed(question: str, *, yes: bool) -> bool:
    """Ask on a terminal; elsewhere ``--yes`` must be given."""
    if yes:
        return True
    if not sys.stdin.isatty():
        raise UsageError(f"there is no terminal to answer on: {question}", hint="add --yes to say yes")
    say(f"{question} [y/N]")
    return sys.stdin.readline().strip().lower() in ("y", "yes")

"""Carrying out ``export`` and ``demo``."""

import shlex
from pathlib import Path

from tracker.cli.asking import show_board
from tracker.cli.session import confirmed, put, say, session, status_date
from tracker.cli.telling import load_telling
from tracker.errors import Refused, StoreError, UsageError
from tracker.render.words import plural
from tracker.report.backers import backers_report

DEMO_FILES = ("1-june.toml", "2-november.toml")
DEMO_DELIVERY = ("glass-sea", "268", "scrap", "2", "ref", "MF-2291")


def export_page(what: str, out: str, today: str, *, force: bool) -> None:
    """Write one page for others; only the backers' workbook so far."""
    if not what or not "backers".startswith(what.lower()):
        raise UsageError(f"there is no page '{what}' to export", hint="write: tracker export backers")
    telling = load_telling(today)
    picture = telling.picture
    path = Path(out or f"backers-{picture.today.isoformat()}.xlsx")
    if path.suffix.lower() != ".xlsx":
        raise UsageError(f"{path} does not end in .xlsx", hint="the page is a workbook: name it so")
    if path.exists() and not force:
        raise Refused(
            f"there is a file at {path} already",
            hint="add --force to overwrite it, or name another with --out",
        )
    from tracker.render.workbook import write_backers

    report = backers_report(picture, telling.news)
    write_backers(report, path)
    put(f"{path} written: {len(report.progress)} jobs, {len(report.shipments)} shipments, public names only")
    if report.unnamed:
        say(f"left out for want of a public_name: {', '.join(report.unnamed)}")


def run_demo(directory: str, *, yes: bool) -> None:
    """Build the demo's database afresh and show what it answers; asks where somebody has logged into the old one."""
    from tracker.cli.logging_facts import log_words
    from tracker.cli.plan_files import store_intake, take_in
    from tracker.planfile.reading import parse_plan
    from tracker.store.database import create_store, writing
    from tracker.words.verbs import VERBS

    folder = Path(directory)
    if not folder.is_dir():
        raise Refused(f"there is no folder {folder}", hint="name one that exists: tracker demo --in FOLDER")
    database, exports = folder / "demo_db" / "demo.sqlite", folder / "exports"
    session.today, session.no_copy = "", True
    source = _demo_source()
    own = _own_entries(database)
    if own and not confirmed(
        f"{database} holds {plural(own, 'entry', 'entries')} of your own: build it afresh without them?",
        yes=yes,
    ):
        say("nothing was changed")
        return
    _clear(database, exports)
    store = create_store(database)
    with writing(store) as transaction:
        for name in DEMO_FILES:
            stored = transaction.load()
            text = (source / name).read_text(encoding="utf-8")
            parsed = parse_plan(text, source=name, today=status_date(stored, ""))
            intake = take_in(stored, parsed, name, "")
            store_intake(transaction, intake, f"read {name}")
    session.database = str(database)
    put(f"demo run read from {', '.join(DEMO_FILES)} into {database}")
    put(f"> tracker in {' '.join(DEMO_DELIVERY)}")
    log_words(VERBS["in"], DEMO_DELIVERY, "", as_json=False, verbose=False)
    put("\n> tracker")
    show_board("", as_json=False)
    workbook = exports / "backers-2026-11-24.xlsx"
    put(f"\n> tracker export backers --out {workbook}")
    export_page("backers", str(workbook), "", force=True)
    put(f"\ngo on with: export TRACKER_DB={database}; then tracker late, tracker calls, tracker licence")


def _own_entries(database: Path) -> int:
    """How many entries of an earlier demo's database are neither the demo's plan nor its delivery."""
    from tracker.store.database import open_store, reading
    from tracker.store.diary import read_diary

    if not database.is_file():
        return 0
    try:
        with reading(open_store(database)) as connection:
            commands = [entry.command for entry in read_diary(connection)]
    except StoreError:
        return 0
    delivery = shlex.join(("in", *DEMO_DELIVERY))
    return sum(not command.startswith("read ") and command != delivery for command in commands)


def _clear(database: Path, exports: Path) -> None:
    """Make the demo's folders and take an earlier demo's database away."""
    try:
        for made in (database.parent, exports):
            made.mkdir(exist_ok=True)
        for tail in ("", "-wal", "-shm"):
            database.with_name(database.name + tail).unlink(missing_ok=True)
    except OSError as error:
        raise Refused(
            f"the demo cannot be built in {database.parent.parent}: {error.strerror}",
            hint="name a folder of your own: tracker demo --in FOLDER",
        ) from error


def _demo_source() -> Path:
    """The demo's text: inside an installed package, else beside it in a checkout."""
    package = Path(__file__).parent.parent
    for folder in (package / "demo_db", package.parent / "demo_db"):
        if (folder / DEMO_FILES[0]).is_file():
            return folder
    raise Refused(
        "the demo's text is not installed", hint="install the tracker again, or run it from its checkout"
    )

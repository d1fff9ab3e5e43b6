"""How long whole commands take beside the imports they cannot do without, each a process of its own.

Run with ``python tests/benchmarks/bench_commands.py``; it prints ratios and asserts nothing. Commands and
floors take turns; a ratio is that of the medians, and every figure comes with the least and the most.
"""

import gc
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from contextlib import closing
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.benchmarks.big_run import big_plan, job_under_way, make_database
from tracker.cli.plan_files import store_intake, take_in
from tracker.plan.checks import check_plan
from tracker.plan.model import Plan
from tracker.planfile.reading import parse_plan
from tracker.planfile.writing import write_plan
from tracker.store.copies import copies_folder
from tracker.store.database import create_store, writing
from tracker.store.rows import fact_rows

ROUNDS = 9
MANY_FACTS = 10_000
LINES = 20
NOW = datetime(2026, 8, 1, 12, tzinfo=UTC)
FLOORS = {
    "typer": "import typer",
    "typer, sqlmodel": "import typer, sqlmodel",
    "typer, sqlmodel, openpyxl": "import typer, sqlmodel, openpyxl",
}
Run = Callable[[], float]


def main() -> None:
    """Print the ratio of each command to its floor, then the cost of taking in many facts."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as compiled:
        _installed(compiled)
        database = Path(folder) / "big.sqlite"
        plan = big_plan()
        make_database(plan, database)
        _print_commands(_commands(database, job_under_way(plan).code), rounds)
    _print_taking_in(rounds)


def _commands(database: Path, job: str) -> Mapping[str, tuple[str, Run]]:
    """Each command's floor, and how to run it once."""
    numbers = count(1)
    spare = database.with_name("spare.sqlite")
    notes = database.with_name("notes.txt")
    promise, supplier = _promise_and_supplier(database, job)

    def change(*words: str) -> float:
        shutil.copyfile(database, spare)
        taken = _tracker(spare, *words)
        for made in (spare, *database.parent.glob("spare.sqlite-*")):
            made.unlink()
        return taken

    def log() -> float:
        return change("in", job, "3", "ref", f"N-{next(numbers)}")

    def log_first() -> float:
        shutil.rmtree(copies_folder(spare), ignore_errors=True)
        return log()

    def log_lines() -> float:
        notes.write_text("".join(f"in {job} 3 ref N-{next(numbers)}\n" for _ in range(LINES)))
        return change("log", str(notes))

    def ask(*words: str) -> tuple[str, Run]:
        return "typer, sqlmodel", lambda: _tracker(database, *words)

    return {
        "in JOB, first of day": ("typer, sqlmodel", log_first),
        "in JOB 3 ref NUMBER": ("typer, sqlmodel", log),
        "fix ENTRY JOB said": ("typer, sqlmodel", lambda: change("fix", promise, job, "said", "Friday")),
        f"log of {LINES} lines": ("typer, sqlmodel", log_lines),
        "(the board)": ask(),
        "forecast": ask("forecast"),
        "forecast --json": ask("forecast", "--json"),
        "JOB": ask(job),
        "late": ask("late"),
        "near": ask("near"),
        "calls": ask("calls"),
        "owed": ask("owed"),
        "gates": ask("gates"),
        "promises": ask("promises"),
        "closures 120": ask("closures", "120"),
        "mail SUPPLIER": ask("mail", supplier),
        "weeks": ask("weeks"),
        "diary": ask("diary"),
        "moved since a month ago": ask("moved", "since", _a_month_before(database)),
        "try promised JOB +9": ask("try", "promised", job, "+9"),
        "late --as-known today": ask("late", "--as-known", "today"),
        "--help": ("typer", lambda: _tracker(database, "--help")),
        **_books(database, "told 17 weeks ago"),
        **_books(_told_lately(database), "told 2 weeks ago"),
    }


def _promise_and_supplier(database: Path, job: str) -> tuple[str, str]:
    """An entry that logged a promise of the job and nothing else of it, and a supplier outside."""
    alone = (
        "SELECT entry FROM fact WHERE job = ? GROUP BY entry HAVING min(kind) = 'promised' AND count(*) = 1"
    )
    with closing(sqlite3.connect(database)) as connection:
        found = connection.execute(alone, (job,)).fetchone()
        (supplier,) = connection.execute("SELECT min(code) FROM supplier WHERE NOT inhouse").fetchone()
    return str(found[0]), supplier


def _books(database: Path, told: str) -> Mapping[str, tuple[str, Run]]:
    """What writes the workbook for backers, which tells what moved since they were last told."""
    workbook = ("--force", "--out", str(database.with_suffix(".xlsx")))
    floor = "typer, sqlmodel, openpyxl"
    return {
        f"export backers, {told}": (floor, lambda: _tracker(database, "export", "backers", *workbook)),
        f"friday, {told}": (floor, lambda: _tracker(database, "friday", *workbook)),
    }


def _told_lately(database: Path) -> Path:
    """The same run, with one line more: words told two weeks ago, entered then."""
    copy = database.with_name("told.sqlite")
    shutil.copyfile(database, copy)
    with closing(sqlite3.connect(copy)) as connection:
        query = "SELECT date(max(day), '-14 days'), (SELECT min(code) FROM shipment) FROM entry"
        day, shipment = connection.execute(query).fetchone()
    _tracker(copy, "told", str(shipment), "said", "still on its way", "on", str(day))
    return copy


def _a_month_before(database: Path) -> str:
    with closing(sqlite3.connect(database)) as connection:
        (day,) = connection.execute("SELECT date(max(day), '-30 days') FROM entry").fetchone()
    return str(day)


def _tracker(database: Path, *words: str) -> float:
    return _seconds("-m", "tracker", "--db", str(database), *words)


def _installed(folder: str) -> None:
    """Let processes keep compiled modules, as an installed program has them, in ``folder``."""
    for name in ("PYTHONDONTWRITEBYTECODE", "TRACKER_DB", "TRACKER_DEBUG"):
        os.environ.pop(name, None)
    os.environ["PYTHONPYCACHEPREFIX"] = folder


def _seconds(*arguments: str) -> float:
    """How long the interpreter takes from start to exit; a failure shows what it said."""
    command = [sys.executable, *arguments]
    root = Path(__file__).parents[2]
    begin = time.perf_counter()
    done = subprocess.run(command, check=False, capture_output=True, text=True, cwd=root)
    taken = time.perf_counter() - begin
    if done.returncode:
        raise SystemExit(f"{' '.join(arguments)}: {done.stderr}")
    return taken


def _print_commands(commands: Mapping[str, tuple[str, Run]], rounds: int) -> None:
    arms: dict[str, Run] = {name: lambda code=code: _seconds("-c", code) for name, code in FLOORS.items()}
    arms |= {f"tracker {name}": run for name, (_, run) in commands.items()}
    taken = _in_turns(arms, rounds)
    for name in FLOORS:
        print(f"{name:30} {_spread(taken[name])}")
    for name, (floor, _) in commands.items():
        mine = taken[f"tracker {name}"]
        print(
            f"{'tracker ' + name:30} {_spread(mine)}  {median(mine) / median(taken[floor]):5.2f} of {floor}"
        )


def _in_turns(arms: Mapping[str, Run], rounds: int) -> dict[str, list[float]]:
    """Every figure of every arm; a first round, which fills caches, is not counted."""
    taken: dict[str, list[float]] = {name: [] for name in arms}
    for number in range(rounds + 1):
        for name, run in arms.items():
            figure = run()
            if number:
                taken[name].append(figure)
    return taken


def _spread(figures: list[float]) -> str:
    least, middle, most = (value * 1e3 for value in (min(figures), median(figures), max(figures)))
    return f"{middle:7.1f} ms ({least:.1f} to {most:.1f})"


def _print_taking_in(rounds: int) -> None:
    """A plan file with many facts, beside its fact rows put into a bare table of the same columns."""
    plan = big_plan(facts=MANY_FACTS)
    text = write_plan(plan)
    rows = [tuple(row.values()) for row in fact_rows(plan.facts, 1)]
    with tempfile.TemporaryDirectory() as folder:
        names = (Path(folder) / f"{number}.sqlite" for number in count())
        arms: dict[str, Run] = {
            "bare executemany": lambda: _timed(lambda: _executemany(rows, next(names))),
            "facts checked and stored": lambda: _timed(lambda: _store_facts(plan, next(names))),
            "file read, checked and stored": lambda: _timed(lambda: _read_file(text, next(names))),
        }
        taken = _in_turns(arms, rounds)
    print(f"{MANY_FACTS} facts")
    for name, figures in taken.items():
        ratio = median(figures) / median(taken["bare executemany"])
        print(f"{name:30} {_spread(figures)}  {ratio:5.2f} of bare executemany")


def _timed(call: Callable[[], object]) -> float:
    gc.collect()
    gc.freeze()
    gc.disable()
    begin = time.perf_counter()
    call()
    taken = time.perf_counter() - begin
    gc.enable()
    gc.unfreeze()
    return taken


def _executemany(rows: list[tuple[object, ...]], path: Path) -> None:
    marks = ", ".join("?" * len(rows[0]))
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute(f"CREATE TABLE fact ({', '.join(f'c{place}' for place in range(len(rows[0])))})")
        connection.executemany(f"INSERT INTO fact VALUES ({marks})", rows)


def _store_facts(plan: Plan, path: Path) -> None:
    assert plan.run.today is not None
    problems = check_plan(plan, plan.run.today)
    assert not problems
    with writing(create_store(path)) as transaction:
        transaction.begin_entry("read plan.toml", plan.run.today, NOW)
        transaction.save(None, plan)


def _read_file(text: str, path: Path) -> None:
    with writing(create_store(path)) as transaction:
        parsed = parse_plan(text, source="plan.toml", today=NOW.date())
        store_intake(transaction, take_in(None, parsed, "plan.toml", ""), "read plan.toml")


if __name__ == "__main__":
    main()

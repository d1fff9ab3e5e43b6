"""The program as its user meets it: a copy of the demo's database in an empty folder, and a way to type commands."""

import json
import shutil
import sqlite3
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from tracker.cli.app import app

DEMO = Path(__file__).parent.parent / "demo_db"
JUNE, NOVEMBER = DEMO / "1-june.toml", DEMO / "2-november.toml"


class Program:
    """Types commands against one database and insists on their exit code."""

    def __init__(self, database, monkeypatch):
        self.database = database
        self.monkeypatch = monkeypatch

    def __call__(self, *words, exit_code=0, text=None, width=80):
        typed = ["--db", str(self.database), *words]
        self.monkeypatch.setattr(sys, "argv", ["tracker", *typed])
        result = CliRunner().invoke(app, typed, input=text, env={"COLUMNS": str(width), "TRACKER_DB": None})
        assert result.exit_code == exit_code, f"{words}: {result.exit_code}\n{result.output}"
        return result

    def out(self, *words, **options):
        """What the command prints."""
        return self(*words, **options).stdout

    def json(self, *words):
        """The document it prints with --json."""
        return json.loads(self.out(*words, "--json"))

    def refuses(self, *words, exit_code, text=None):
        """The one message of a command that must fail and leave every table as it was."""
        before = self.rows()
        result = self(*words, exit_code=exit_code, text=text)
        assert result.stdout == ""
        assert "Traceback" not in result.stderr
        assert self.rows() == before
        return result.stderr

    def rows(self):
        """Every row of every table."""
        return dump(self.database)

    def dates(self, *extra):
        """Forecast dates of the shipments, as ISO text."""
        return {one["code"]: one["forecast"] for one in self.json("forecast", *extra)["shipments"]}

    def job(self, code, *extra):
        """A job as ``forecast --json`` has it."""
        return next(one for one in self.json("forecast", *extra)["jobs"] if one["code"] == code)


def dump(database):
    """All rows by table; nothing for a file that is not there."""
    if not Path(database).exists():
        return {}
    connection = sqlite3.connect(database)
    try:
        names = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return {name: connection.execute(f"SELECT * FROM {name}").fetchall() for name in names}
    finally:
        connection.close()


@pytest.fixture(scope="session")
def november_database(tmp_path_factory):
    """The demo's two plan files read in, before its delivery is logged."""
    path = tmp_path_factory.mktemp("demo") / "november.sqlite"
    with pytest.MonkeyPatch.context() as patch:
        program = Program(path, patch)
        program("new")
        program("read", str(JUNE))
        program("read", str(NOVEMBER), "--yes")
    return path


@pytest.fixture
def program(november_database, tmp_path, monkeypatch):
    """The program on its own copy of the demo, in an empty folder."""
    monkeypatch.chdir(tmp_path)
    database = tmp_path / "run.sqlite"
    shutil.copy(november_database, database)
    return Program(database, monkeypatch)


@pytest.fixture
def empty(tmp_path, monkeypatch):
    """The program where there is no database yet."""
    monkeypatch.chdir(tmp_path)
    return Program(tmp_path / "run.sqlite", monkeypatch)

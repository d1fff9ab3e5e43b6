"""The day's copy of the database as its user meets it, and the warning in a folder that looks synchronised."""

import tomllib
from datetime import date, datetime, timedelta

import pytest

from tests.conftest import NOVEMBER, Program, dump


def copies(program):
    """The copies beside the program's database, oldest first."""
    return sorted(program.database.with_name(f"{program.database.name}.copies").glob("*"))


def machine_day():
    """This machine's own day."""
    return datetime.now().astimezone().date()


def last_command(program):
    """The command of the newest entry, as the diary keeps it."""
    return program.json("diary")[0]["command"]


def a_day_passes(program):
    """Yesterday's first write was the last one: its copy bears yesterday's date."""
    (copy,) = copies(program)
    day = date.fromisoformat(copy.stem[-10:]) - timedelta(days=1)
    return copy.rename(copy.with_name(f"run-{day}.sqlite"))


@pytest.fixture
def changed_plan_file(tmp_path):
    """The demo's second file with one thing more."""
    path = tmp_path / "plan.toml"
    more = '[[supplier]]\ncode = "quayside"\n'
    path.write_text(NOVEMBER.read_text(encoding="utf-8") + more, encoding="utf-8")
    assert tomllib.loads(path.read_text(encoding="utf-8"))["supplier"][-1]["code"] == "quayside"
    return path


@pytest.mark.parametrize(
    "command",
    [
        "paid boxes", "in glass-sea 268 scrap 2", "undo", "set boxes lead=12wd", "add supplier quayside",
        "keep-plan --yes", "read plan.toml --yes", "note boxes the printer has moved", "told wave-1 20jan",
    ],
)  # fmt: skip
def test_whatever_writes_first_is_preceded_by_a_copy(program, changed_plan_file, command):
    del changed_plan_file
    before = program.rows()
    result = program(*command.split())
    (copy,) = copies(program)
    assert program.rows() != before
    assert dump(copy) == before
    assert result.stderr == "" or command.startswith("read")


@pytest.mark.parametrize("command", ["", "forecast", "write -", "calls", "boxes"])
def test_asking_makes_no_copy(program, command):
    program(*command.split())
    assert copies(program) == []


@pytest.mark.parametrize(
    ("command", "exit_code"),
    [
        ("in nowhere 5", 2), ("undo 999", 1), ("set boxes lead=3weeks", 1), ("remove boxes", 1),
        ("in gaskets 40 on 1dec", 2),
    ],
)  # fmt: skip
def test_a_refused_command_makes_no_copy(program, command, exit_code):
    assert program.refuses(*command.split(), exit_code=exit_code)
    assert copies(program) == []


def test_the_second_write_of_a_day_makes_none_and_the_next_days_first_does(program):
    program("paid", "boxes")
    (first,) = copies(program)
    content = first.read_bytes()
    program("set", "boxes", "lead=12wd")
    assert copies(program) == [first]
    assert first.read_bytes() == content
    before = program.rows()
    yesterdays = a_day_passes(program)
    program("note", "boxes", "the printer has moved")
    assert len(copies(program)) == 2
    assert yesterdays.read_bytes() == content
    assert dump(copies(program)[-1]) == before


def test_the_day_is_the_machines_whatever_status_date_is_typed(program):
    program("paid", "boxes", "--today", "2026-11-30")
    program("note", "boxes", "the printer has moved", "--today", "2026-12-01")
    (copy,) = copies(program)
    assert copy.name == f"run-{machine_day()}.sqlite"


def test_a_copy_answers_as_the_database_did_before(program, monkeypatch):
    before = program.out("forecast")
    program("promised", "licence", "15jan")
    assert program.out("forecast") != before
    restored = Program(copies(program)[0], monkeypatch)
    assert restored.out("forecast") == before
    assert restored.out("in", "glass-sea", "268", "scrap", "2")


@pytest.mark.parametrize(
    "words",
    [
        ("--no-copy", "paid", "boxes"), ("paid", "--no-copy", "boxes"), ("paid", "boxes", "--no-copy"),
        ("pai", "boxes", "--no-copy"), ("--no-copy", "paid", "boxes", "--no-copy"),
    ],
)  # fmt: skip
def test_no_copy_may_stand_before_and_after_the_verb(program, words):
    program(*words)
    assert copies(program) == []
    assert last_command(program) == "paid boxes"


def test_no_copy_is_for_that_command_alone(program):
    program("paid", "boxes", "--no-copy")
    program("note", "boxes", "the printer has moved")
    assert len(copies(program)) == 1


def test_no_copy_is_no_word_of_a_text_typed_without_quotes(program):
    program("note", "boxes", "the", "printer", "has", "moved", "--no-copy")
    assert copies(program) == []
    assert "the printer has moved" in program.out("boxes")
    assert "--no-copy" not in program.out("boxes") + program.out("diary")


def test_copies_can_be_left_out_by_the_environment(program, monkeypatch):
    monkeypatch.setenv("TRACKER_NO_COPY", "1")
    program("paid", "boxes")
    assert copies(program) == []
    monkeypatch.setenv("TRACKER_NO_COPY", "0")
    program("note", "boxes", "the printer has moved")
    assert len(copies(program)) == 1


def test_a_copy_that_cannot_be_made_does_not_stop_the_logging(program):
    program.database.with_name("run.sqlite.copies").write_text("mine")
    result = program("paid", "boxes")
    assert result.stdout.startswith("boxes payment sent")
    warning, hint = result.stderr.splitlines()
    assert warning.startswith("warning: the day's copy of the database cannot be made in ")
    assert warning.endswith("run.sqlite.copies: a file is in the way of that folder; your command goes on")
    assert hint == "hint: put that right, or leave copies out with --no-copy"
    assert last_command(program) == "paid boxes"
    assert program("note", "boxes", "moved", "--no-copy").stderr == ""


def test_a_new_database_has_nothing_to_copy_until_it_holds_a_run(empty):
    empty("new", "dial-1", "quantity=240", "start=2026-06-15")
    assert copies(empty) == []
    before = empty.rows()
    empty("add", "supplier", "mill")
    (copy,) = copies(empty)
    assert dump(copy) == before


def test_the_demo_makes_no_copies(empty, tmp_path):
    for _ in range(2):
        empty("demo")
        assert {path.name for path in (tmp_path / "demo_db").iterdir()} == {"demo.sqlite"}


@pytest.fixture
def in_synchronised_folder(tmp_path, monkeypatch):
    """The program where there is no database yet, in a folder with a service's name."""
    folder = tmp_path / "Dropbox" / "dial"
    folder.mkdir(parents=True)
    return Program(folder / "run.sqlite", monkeypatch)


def test_a_synchronised_folder_is_warned_of_when_the_database_is_made(in_synchronised_folder, tmp_path):
    program = in_synchronised_folder
    warning, hint = program("new").stderr.splitlines()
    assert warning == (
        f"warning: {tmp_path / 'Dropbox'} looks synchronised; "
        "two machines writing through it can lose or split the database"
    )
    assert "TRACKER_DB" in hint
    assert "run.sqlite.copies" in hint
    assert program("new", "dial-1", "quantity=240", "start=2026-06-15").stderr == ""


def test_a_synchronised_folder_is_warned_of_once_with_a_days_first_write(in_synchronised_folder):
    program = in_synchronised_folder
    assert program("new", "dial-1", "quantity=240", "start=2026-06-15").stderr.count("synchronised;") == 1
    assert "looks synchronised" in program("add", "supplier", "mill").stderr
    assert program("add", "supplier", "press").stderr == ""
    assert program("forecast").stderr == ""
    a_day_passes(program)
    assert program("add", "supplier", "painter", "--no-copy").stderr == ""
    assert "looks synchronised" in program("add", "supplier", "binder").stderr


def test_a_plain_folder_is_not_warned_of(empty):
    assert empty("new", "dial-1", "quantity=240", "start=2026-06-15").stderr == ""
    assert empty("add", "supplier", "mill").stderr == ""

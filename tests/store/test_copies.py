"""Dated copies: whole, of the state before, made once a day, forgotten after thirty, and never at another file's cost."""

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import textwrap
import time
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from tests.store.copied import DAY, add_fact, dump, grown, in_folder, plan_in
from tracker.errors import StoreError
from tracker.store.copies import copies_folder, copy_for_day
from tracker.store.database import create_store, reading, writing
from tracker.store.load import has_plan

NOBODY = 65534
posix = pytest.mark.skipif(os.name != "posix", reason="rights and limits of a process are POSIX")


def test_a_copy_holds_what_was_stored_and_lies_beside_the_database(store, keep, plan, tmp_path):
    keep(plan)
    copy = copy_for_day(store.path, DAY)
    assert copy == tmp_path / "run.sqlite.copies" / "run-2026-11-25.sqlite"
    assert in_folder(store.path) == ["run-2026-11-25.sqlite"]
    assert dump(copy) == dump(store.path)
    assert plan_in(copy) == plan


@pytest.mark.parametrize(
    ("database", "copy"),
    [
        ("run", "run.copies/run-2026-11-25"),
        ("my run.v2.db", "my run.v2.db.copies/my run.v2-2026-11-25.db"),
        ("100% is it? #3.sqlite", "100% is it? #3.sqlite.copies/100% is it? #3-2026-11-25.sqlite"),
        ("run-2026-11-24.sqlite", "run-2026-11-24.sqlite.copies/run-2026-11-24-2026-11-25.sqlite"),
    ],
)
def test_any_name_of_a_database_gives_a_copy(tmp_path, database, copy):
    made = copy_for_day(create_store(tmp_path / database).path, DAY)
    assert made == tmp_path / copy
    assert plan_in(made) is None


def test_two_databases_in_one_folder_keep_their_copies_apart(tmp_path):
    copies = {
        copy_for_day(create_store(tmp_path / name).path, DAY) for name in ("run.sqlite", "run.db", "run")
    }
    assert len({copy.parent for copy in copies}) == 3


def test_a_database_reached_by_a_link_has_its_copies_beside_the_real_file(store, tmp_path):
    (tmp_path / "desk").mkdir()
    link = tmp_path / "desk" / "today.sqlite"
    link.symlink_to(store.path)
    assert copy_for_day(link, DAY) == tmp_path / "run.sqlite.copies" / "run-2026-11-25.sqlite"
    assert copy_for_day(store.path, DAY) is None


def test_the_second_copy_of_a_day_is_not_made_and_the_next_day_has_its_own(store, keep, plan, fact):
    keep(plan)
    first = copy_for_day(store.path, DAY)
    content = first.read_bytes()
    keep(grown(plan, fact))
    assert copy_for_day(store.path, DAY) is None
    assert first.read_bytes() == content
    second = copy_for_day(store.path, DAY + timedelta(days=1))
    assert plan_in(first) == plan
    assert plan_in(second) == grown(plan, fact)


def test_a_copy_made_inside_a_transaction_is_without_its_changes(store, keep, plan, fact):
    keep(plan)
    with writing(store) as transaction:
        add_fact(transaction, fact)
        copy = copy_for_day(store.path, DAY)
    assert plan_in(copy) == plan
    assert plan_in(store.path) == grown(plan, fact)


def test_what_only_the_write_ahead_log_holds_is_in_the_copy(store, keep, plan, fact, tmp_path):
    keep(plan)
    with reading(store) as connection:
        has_plan(connection)
        keep(grown(plan, fact))
        assert store.path.with_name("run.sqlite-wal").stat().st_size > 0
        without_log = tmp_path / "main-file-alone.sqlite"
        shutil.copy(store.path, without_log)
        copy = copy_for_day(store.path, DAY)
    assert plan_in(without_log) == plan
    assert plan_in(copy) == grown(plan, fact)


def test_copies_older_than_thirty_days_go_and_no_others(store):
    folder = copies_folder(store.path)
    folder.mkdir()
    ages = range(-40, 61)
    names = {age: f"run-{DAY - timedelta(days=age)}.sqlite" for age in ages if age != 0}
    for name in names.values():
        (folder / name).touch()
    copy_for_day(store.path, DAY)
    left = {age for age, name in names.items() if (folder / name).exists()}
    assert left == {age for age in names if age <= 30}


def test_copies_can_be_kept_for_another_number_of_days(store):
    for back in (9, 8, 7, 1):
        copy_for_day(store.path, DAY - timedelta(days=back))
    copy_for_day(store.path, DAY, keep_days=7)
    assert in_folder(store.path) == [
        "run-2026-11-18.sqlite",
        "run-2026-11-24.sqlite",
        "run-2026-11-25.sqlite",
    ]


@pytest.mark.parametrize(
    "name",
    [
        "run-2025-01-01.sqlite-wal", "run-2025-01-01.sqlite.bak", "run-2025-01-01.db", "run-2025-01-01",
        "run-2025-01-01xsqlite", "a-run-2025-01-01.sqlite", "other-2025-01-01.sqlite", "run-20250101.sqlite",
        "run-2025-1-1.sqlite", "run-2025-02-30.sqlite", "run-2025-01-01-before-the-fair.sqlite", "notes.txt",
        "run-٢٠٢٥-01-01.sqlite", "run-2025-01-01.sqlite\n", "run.sqlite",
    ],
)  # fmt: skip
def test_a_file_of_another_form_is_never_deleted(store, name):
    folder = copies_folder(store.path)
    folder.mkdir()
    (folder / name).write_text("mine")
    copy_for_day(store.path, DAY)
    assert (folder / name).read_text() == "mine"


def test_a_folder_and_a_link_with_a_copys_name_are_left(store, tmp_path):
    folder = copies_folder(store.path)
    (folder / "run-2025-01-01.sqlite").mkdir(parents=True)
    mine = tmp_path / "mine.sqlite"
    mine.touch()
    (folder / "run-2025-01-02.sqlite").symlink_to(mine)
    copy_for_day(store.path, DAY)
    assert in_folder(store.path) == [
        "run-2025-01-01.sqlite",
        "run-2025-01-02.sqlite",
        "run-2026-11-25.sqlite",
    ]


def test_parts_that_a_crash_left_are_made_anew_or_forgotten(store, keep, plan):
    keep(plan)
    folder = copies_folder(store.path)
    folder.mkdir()
    for name in ("run-2026-11-25.sqlite.part", "run-2026-11-20.sqlite.part", "run-2026-10-01.sqlite.part"):
        (folder / name).write_bytes(b"half a copy")
    assert plan_in(copy_for_day(store.path, DAY)) == plan
    assert in_folder(store.path) == ["run-2026-11-20.sqlite.part", "run-2026-11-25.sqlite"]


def test_a_file_in_place_of_the_folder_is_said_and_left(store):
    in_the_way = copies_folder(store.path)
    in_the_way.write_text("mine")
    with pytest.raises(StoreError, match="a file is in the way of that folder") as error:
        copy_for_day(store.path, DAY)
    assert "--no-copy" in error.value.hint
    assert in_the_way.read_text() == "mine"


LIMITED = """
    import os, resource, sys
    from datetime import date
    from pathlib import Path
    from tracker.errors import StoreError
    from tracker.store.copies import copy_for_day
    path = Path(sys.argv[1])
    {limit}
    try:
        copy_for_day(path, date(2026, 11, 25))
    except StoreError as error:
        print(error)
"""


def limited(path, limit):
    """What a copy says in a process of its own under ``limit``."""
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(LIMITED).format(limit=limit), str(path)],
        capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert (done.stderr, done.returncode) == ("", 0)
    return done.stdout


@posix
def test_a_full_disk_leaves_no_half_copy(store, keep, plan):
    keep(plan)
    room = "resource.setrlimit(resource.RLIMIT_FSIZE, (os.path.getsize(path) // 2,) * 2)"
    said = limited(store.path, room)
    assert "cannot be made in" in said
    assert "disk" in said
    assert in_folder(store.path) == []
    assert plan_in(store.path) == plan


@posix
@pytest.mark.parametrize("rights", [0o555, 0o000])
def test_a_folder_without_rights_is_one_sentence(store, keep, plan, rights):
    """Root may write anywhere, so as root the process turns into nobody before it writes."""
    keep(plan)
    with tempfile.TemporaryDirectory(dir="/tmp") as folder:
        path = Path(folder) / "run.sqlite"
        shutil.copy(store.path, path)
        Path(folder).chmod(0o777)
        path.chmod(0o666)
        copies_folder(path).mkdir()
        copies_folder(path).chmod(rights)
        said = limited(path, f"os.setuid({NOBODY}) if os.getuid() == 0 else None")
        copies_folder(path).chmod(0o755)
        assert "Permission denied" in said
        assert in_folder(path) == []


@posix
@pytest.mark.parametrize("rights", [0o600, 0o664])
def test_who_may_read_the_database_may_read_its_copies_and_no_one_else(store, rights):
    store.path.chmod(rights)
    assert copy_for_day(store.path, DAY).stat().st_mode & 0o777 == rights


def test_another_writer_does_not_hold_the_copy_up(store, keep, plan, fact):
    keep(plan)
    with writing(store) as other:
        add_fact(other, fact)
        begun = time.monotonic()
        copy = copy_for_day(store.path, DAY)
        assert time.monotonic() - begun < 2
    assert plan_in(copy) == plan


def test_a_program_that_holds_the_database_against_readers_is_waited_for_only_so_long(store):
    with closing(sqlite3.connect(store.path, isolation_level=None)) as other:
        other.execute("PRAGMA journal_mode = DELETE")
        other.execute("BEGIN EXCLUSIVE")
        begun = time.monotonic()
        with pytest.raises(StoreError, match="another program holds the database"):
            copy_for_day(store.path, DAY, patience=0.2)
        assert 0.1 < time.monotonic() - begun < 3
    assert in_folder(store.path) == []

"""``read`` on files as spreadsheet programs leave them: read right, or refused with the cell named and nothing stored.

bells.xlsx, wrong.xlsx, blank.xlsx: made for these tests, saved by LibreOffice as .ods and from there as .xlsx, formulas
with the values it worked out. maker.xlsx and german.csv: see tests/cli/test_spreadsheets.py.
"""

import shutil
import time
from datetime import date
from pathlib import Path

import pytest
from openpyxl import Workbook

from tests.cli.sheet_files import workbook
from tests.cli.typed import typed
from tests.conftest import Program

FILES = Path(__file__).parent.parent / "sheet" / "files"
SEPTEMBER, MAY = "--today 2026-09-07", "--today 2026-05-11"


@pytest.fixture
def bells(empty, tmp_path):
    """A run with nothing in it, and all the files in the same folder."""
    shutil.copytree(FILES, tmp_path, dirs_exist_ok=True)
    typed(empty, "tracker new bell quantity=200 start=2026-05-01")
    return empty


def refusal(program, line, exit_code=1):
    """The lines of the refusal itself, behind the guess; nothing may have been stored."""
    message = program.refuses(*line.split(), exit_code=exit_code)
    return message[message.index("error: ") :].splitlines()


def test_a_sheet_saved_by_a_spreadsheet_program_is_read_whole(bells):
    """Title merged, blanks behind and before words, formulas, a date as text, a second table below, an empty sheet."""
    result = bells("read", "bells.xlsx", "--yes", *SEPTEMBER.split(), width=200)
    assert (
        "sheet Autumn (headings in row 3) fits best; not read: sheet Autumn (headings in row 11)"
        in result.stderr
    )
    assert result.stdout.startswith("3 new suppliers, 6 new jobs, 3 new facts stored from bells.xlsx")
    jobs = {one["code"]: one for one in bells.json("forecast", *SEPTEMBER.split())["jobs"]}
    assert {code: (job["supplier"], job["lots"][0]["quantity"], job["waits_for"]) for code, job in jobs.items()} == {
        "castings": ("halm", 410, []),
        "coils": ("pike", 420, []),
        "covers": ("halm", 410, ["castings"]),
        "build": ("bench", 200, ["coils", "covers"]),
        "boxes": ("pike", 210, []),
        "pack": ("bench", 200, ["build", "boxes"]),
    }  # fmt: skip


def test_leads_and_dates_of_that_sheet_give_the_days_counted_by_hand(bells):
    """Ordered Wed 2 and Thu 3 Sep: 15 days from the 3rd, 10 from the 4th; then 12, 4 and 2; Mon to Fri, no holidays."""
    typed(bells, f"tracker read bells.xlsx --yes {SEPTEMBER}")
    days = {
        one["code"]: (one["start"], one["finish"])
        for one in bells.json("forecast", *SEPTEMBER.split())["jobs"]
    }
    assert days == {
        "castings": ("2026-09-03", "2026-09-23"), "coils": ("2026-09-04", "2026-09-17"),
        "covers": ("2026-09-24", "2026-10-09"), "build": ("2026-10-12", "2026-10-15"),
        "boxes": ("2026-09-08", "2026-09-17"), "pack": ("2026-10-16", "2026-10-19"),
    }  # fmt: skip


def test_each_cell_that_cannot_be_right_is_named_and_nothing_is_stored(bells):
    head, *told = refusal(bells, f"read wrong.xlsx --yes {SEPTEMBER}")
    assert head == f"error: wrong.xlsx has {len(told)} problems; nothing was written"
    for cell, says in (
        ("row 4, column C (Lead (working days))", "#DIV/0!"),
        ("row 4, column F (Ordered)", "not a date in the calendar"),
        ("row 5, column E (Qty)", "about 400"),
        ("row 6, column D (Needs)", "there is no item 'casting moulds'; did you mean 'Castings'?"),
        ("row 7, column B (Shop)", "has no supplier"),
    ):
        assert [
            says in line for line in told if line.startswith(f"  wrong.xlsx, sheet Autumn, {cell}: ")
        ] == [True]


def test_each_lead_that_is_no_length_is_asked_for_by_its_row(bells):
    message = bells.refuses("read", "wrong.xlsx", "--yes", *SEPTEMBER.split(), exit_code=1)
    for row in (
        "row 4 castings: '#DIV/0!'",
        "row 5 coils: '#DIV/0!'",
        "row 8 boxes: 'soon' is not a number of days",
    ):
        assert row in message


def test_a_file_put_right_is_read_where_a_wrong_one_was_refused(bells, tmp_path):
    refusal(bells, f"read wrong.xlsx --yes {SEPTEMBER}")
    shutil.copy(tmp_path / "bells.xlsx", tmp_path / "wrong.xlsx")
    assert "6 new jobs" in typed(bells, f"tracker read wrong.xlsx --yes {SEPTEMBER}")


def test_of_many_tables_none_is_taken_for_another(bells):
    head, hint = refusal(bells, f"read maker.xlsx --yes {MAY}", exit_code=2)
    assert head.startswith(
        "error: maker.xlsx has several tables that could be meant: sheet Jobs (headings in row 4)"
    )
    assert hint == "hint: name one, such as: sheet Jobs 4"
    out = typed(bells, f"tracker read maker.xlsx sheet Jobs 4 leads days=wd weeks=cd --yes {MAY}")
    assert out.startswith("4 new suppliers, 5 new jobs stored from maker.xlsx")
    out = typed(bells, f"tracker read maker.xlsx sheet Side by side 1 leads weeks=cd --yes {MAY}")
    assert out.startswith("2 new suppliers, 3 new jobs stored from maker.xlsx")


def test_dates_written_as_text_are_read_like_dates(bells):
    words = "columns F=promised leads days=wd weeks=cd"
    typed(bells, f"tracker read maker.xlsx sheet Jobs 4 {words} --yes --today 2026-05-01")
    promised = {
        one["code"]: one["promise"] for one in bells.json("forecast", "--today", "2026-05-01")["jobs"]
    }
    assert promised == {
        "housing": "2026-05-04", "lid": "2026-05-11", "boards": "2026-05-12", "gaskets": "2026-05-12", "assembly": None,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("read blank.xlsx --yes", "blank.xlsx holds no table with headings"),
        ("read maker.xlsx sheet Empty --yes", "has no table on a sheet 'Empty'"),
        ("read locked.xlsx --yes", "is behind a password"),
        ("read old.xls --yes", "is a .xls file, which cannot be read as it is"),
        ("read jobs.ods --yes", "is a .ods file, which cannot be read as it is"),
    ],
)
def test_what_holds_no_table_is_refused_with_a_way_out(bells, tmp_path, line, says):
    shutil.copy(FILES / "maker.xlsx", tmp_path / "jobs.ods")
    before = bells.rows()
    result = bells(*line.split(), exit_code=2 if ".ods" in line or ".xls " in line or "Empty" in line else 1)
    assert says in result.stderr
    assert "hint: " in result.stderr
    assert bells.rows() == before


def test_a_german_list_in_an_old_encoding_keeps_its_letters_and_asks_only_for_leads(bells):
    leads = "leads gehause=15wd deckel=15wd dichtung=10wd grossenschild-klein=5wd"
    result = bells("read", "german.csv", *leads.split(), "--yes", *MAY.split(), width=200)
    assert "2 new suppliers, 4 new jobs stored from german.csv" in result.stdout
    page = typed(bells, f"tracker gehause {MAY}")
    assert page.startswith("gehause  Gehäuse  ")
    assert "Fräserei Übel" in page
    assert typed(bells, f"tracker grossenschild {MAY}").startswith(
        "grossenschild-klein  Größenschild; klein  "
    )
    jobs = bells.json("forecast", *MAY.split())["jobs"]
    assert {one["code"]: one["lots"][0]["quantity"] for one in jobs} == {
        "gehause": 120, "deckel": 120, "dichtung": 130, "grossenschild-klein": 120,
    }  # fmt: skip


def test_formulas_nobody_worked_out_are_refused_by_their_cells(bells, tmp_path):
    book = Workbook()
    for row in (
        ("Item", "Vendor", "Lead (working days)", "Needs"),
        ("Coils", "Pike Wire", "=3*4", None),
        ("Covers", "Halm", 8, "Coils"),
    ):
        book.active.append(row)
    book.save(tmp_path / "raw.xlsx")
    head, hint = refusal(bells, f"read raw.xlsx --yes {SEPTEMBER}")
    assert "C2" in head
    assert "save" in hint


def many_rows(lead_of_row):
    """3,000 rows in chains of 30 or so, the lead of one of them given."""
    for at in range(3000):
        lead = lead_of_row.get(at, "1wd")
        yield f"Step {at}", f"Firm{at % 12} Works", lead, f"Step {at - 97}" if at >= 97 else None, 200


def test_one_bad_cell_among_three_thousand_rows_is_named_and_leaves_nothing_behind(bells, tmp_path):
    workbook(tmp_path / "big.xlsx", list(many_rows({2990: "soon"})))
    began = time.perf_counter()
    message = bells.refuses("read", "big.xlsx", "--yes", *SEPTEMBER.split(), exit_code=2)
    assert time.perf_counter() - began < 10
    assert "row 2994 step-2990: 'soon' is not a number of days" in message
    assert "error: 1 length of days needs a word" in message


def test_a_text_file_with_semicolons_reads_like_the_workbook_it_came_from(bells, tmp_path):
    rows = (
        "Item;Vendor;Lead (working days);Needs;Ordered", "Größe;Übel & Söhne ;15;;2 Sep 2026",
        " Deckel;Übel & Söhne;12; größe;", "Pack;us;2;Deckel;",
    )  # fmt: skip
    (tmp_path / "latin.csv").write_bytes("\r\n".join(rows).encode("latin-1"))
    book = Workbook()
    for row in rows:
        book.active.append([cell or None for cell in row.split(";")])
    book.active["C2"], book.active["E2"] = 15, date(2026, 9, 2)
    book.save(tmp_path / "modern.xlsx")
    other = Program(tmp_path / "other.sqlite", bells.monkeypatch)
    typed(other, "tracker new bell quantity=200 start=2026-05-01")
    typed(bells, f"tracker read latin.csv --yes {SEPTEMBER}")
    typed(other, f"tracker read modern.xlsx --yes {SEPTEMBER}")
    as_text, as_cells = (one.json("forecast", *SEPTEMBER.split()) for one in (bells, other))
    assert as_text == as_cells
    assert [one["finish"] for one in as_text["jobs"]] == ["2026-09-23", "2026-10-09", "2026-10-13"]

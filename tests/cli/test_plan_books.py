"""The plan as a workbook, out and in through the command line, and the blank one to fill in."""

import re
import zipfile
from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.planfile.test_reading import EXPECTED
from tracker.cli.spreadsheets import read_grids
from tracker.planfile.book import parse_book
from tracker.planfile.book_sheets import SHEETS

RESAVED = Path(__file__).parent / "resaved.xlsx"
LAMP = """
[run]
code = "lamp"
quantity = 50
start = 2026-11-02
[[supplier]]
code = "mill"
workdays = "mon-fri"
contact = "Ann, 0-555-0100"
[[supplier]]
code = "bench"
inhouse = true
[[job]]
code = "bodies"
supplier = "mill"
lead = "15wd"
said = "three weeks"
travel = "2cd"
[[job]]
code = "build"
supplier = "bench"
lead = "5wd"
after = ["bodies"]
[[shipment]]
code = "first"
quantity = 50
after = ["build"]
told = [{ on = 2026-11-02, for = 2026-12-18 }]
"""
AS_TYPED = {
    "run": [{"code": "lamp", "quantity": 50, "start": date(2026, 11, 2)}],
    "supplier": [{"code": "mill", "workdays": "mon-fri", "contact": "Ann, 0-555-0100"}, {"code": "bench", "inhouse": "yes"}],
    "job": [
        {"code": "bodies", "supplier": "mill", "lead": "15wd", "said": "three weeks", "travel": "2cd"},
        {"code": "build", "supplier": "bench", "lead": "5wd", "after": "bodies"},
    ],
    "shipment": [{"code": "first", "quantity": 50, "after": "build", "told": "2026-11-02:2026-12-18"}],
}  # fmt: skip


def columns(sheet):
    """Column numbers of a sheet by heading."""
    return {cell.value: cell.column for cell in sheet[1]}


def fill_in(path, entries):
    """Type entries below the headings, as a person would."""
    book = load_workbook(path)
    for name, rows in entries.items():
        at = columns(book[name])
        for number, row in enumerate(rows, start=2):
            for key, value in row.items():
                book[name].cell(number, at[key]).value = value
    book.save(path)


def validation(sheet, key, row=2):
    """What is checked in a cell of the column ``key``."""
    cell = sheet.cell(row, columns(sheet)[key]).coordinate
    (found,) = [one for one in sheet.data_validations.dataValidation if cell in one.sqref]
    return found


@pytest.fixture
def blank(empty, tmp_path):
    assert "plan-blank.xlsx written" in empty("write", "--blank").stderr
    empty("new")
    return tmp_path / "plan-blank.xlsx"


def test_a_plan_written_as_a_workbook_is_the_same_plan_in_another_database(program, tmp_path):
    assert "plan.xlsx written: 35 jobs" in program("write", "plan.xlsx").stderr
    text = program.out("write")
    assert "holds nothing new; nothing was stored" in program.out("read", "plan.xlsx")
    program.database = tmp_path / "other.sqlite"
    program("new")
    program("read", "plan.xlsx")
    assert program.out("write") == text
    assert "holds nothing new; nothing was stored" in program.out("read", "plan.xlsx")


def test_what_a_changed_cell_would_change_is_shown_before_it_is_stored(program, tmp_path):
    program("write", "plan.xlsx")
    book = load_workbook(tmp_path / "plan.xlsx")
    sheet = book["job"]
    row = next(cell.row for cell in sheet["A"] if cell.value == "boxes")
    sheet.cell(row, columns(sheet)["lead"]).value = "22wd"
    book.save(tmp_path / "plan.xlsx")
    assert "~ job boxes: lead 20wd -> 22wd" in program.refuses("read", "plan.xlsx", exit_code=2)
    assert "1 change stored" in program.out("read", "plan.xlsx", "--yes")


def test_a_workbook_is_not_written_over_a_file_unless_asked(program, tmp_path):
    (tmp_path / "plan.xlsx").write_bytes(b"mine")
    message = program.refuses("write", "plan.xlsx", exit_code=1)
    assert "add --force to overwrite it" in message
    assert (tmp_path / "plan.xlsx").read_bytes() == b"mine"
    program("write", "plan.xlsx", "--force")
    assert zipfile.is_zipfile(tmp_path / "plan.xlsx")


@pytest.mark.parametrize("name", ["plan.csv", "plan.ods", "plan.xlsm"])
def test_a_plan_is_written_as_no_other_spreadsheet(program, tmp_path, name):
    message = program.refuses("write", name, exit_code=2)
    assert "name it .xlsx for a workbook, .toml for text" in message
    assert not (tmp_path / name).exists()


def test_the_same_plan_gives_the_same_bytes(program, tmp_path):
    program("write", "one.xlsx")
    program("write", "two.xlsx")
    assert (tmp_path / "one.xlsx").read_bytes() == (tmp_path / "two.xlsx").read_bytes()


def test_a_workbook_saved_again_by_another_program_is_the_same_plan():
    """The file was written here from ``EXPECTED``, then opened and saved by LibreOffice 7.4."""
    parsed = parse_book(read_grids(RESAVED), source="resaved.xlsx", today=EXPECTED.run.today)
    assert parsed.problems == ()
    assert parsed.plan == EXPECTED


def test_a_blank_workbook_needs_no_database_and_keeps_what_is_there(empty):
    empty("write", "--blank", "mine.xlsx")
    assert "add --force" in empty("write", "--blank", "mine.xlsx", exit_code=1).stderr
    empty("write", "--blank", "mine.xlsx", "--force")
    assert not empty.database.exists()


def test_a_blank_plan_is_only_a_workbook(empty, tmp_path):
    message = empty("write", "--blank", "plan.toml", exit_code=2).stderr
    assert "hint: write: tracker write --blank plan-blank.xlsx" in message
    assert not (tmp_path / "plan.toml").exists()


def test_an_untouched_blank_workbook_is_refused_by_what_is_missing(empty, blank):
    assert empty.refuses("read", blank.name, exit_code=1) == (
        "error: plan-blank.xlsx has 1 problem; nothing was written\n"
        "  plan-blank.xlsx, sheet run, row 2: is empty;"
        " write code, quantity and start of the run below their headings\n"
    )


def test_a_blank_workbook_filled_in_is_the_plan_of_the_text_file(empty, blank, tmp_path):
    fill_in(blank, AS_TYPED)
    assert "new run lamp: 2 suppliers, 2 jobs, 1 shipment, 0 facts" in empty("read", blank.name).stderr
    text = empty.out("write")
    empty.database = tmp_path / "other.sqlite"
    empty("new")
    (tmp_path / "plan.toml").write_text(LAMP, encoding="utf-8")
    empty("read", "plan.toml")
    assert empty.out("write") == text


def test_every_mistake_of_a_workbook_is_listed_at_once_with_its_cell(empty, blank):
    typed = {
        **AS_TYPED,
        "job": [
            {"code": "bodies", "supplier": "mil", "lead": "3 weeks"},
            {"code": "build", "supplier": "bench", "lead": "5wd", "after": "bodes"},
        ],
    }
    fill_in(blank, typed)
    lines = empty.refuses("read", blank.name, exit_code=1).splitlines()
    assert lines == [
        "error: plan-blank.xlsx has 3 problems; nothing was written",
        "  plan-blank.xlsx, sheet job, row 2, F2 (lead): '3 weeks' can be read in two ways; write 21cd (calendar days) or 15wd (their working days)",
        "  plan-blank.xlsx, sheet job, row 2, D2 (supplier): there is no supplier 'mil'; did you mean mill?",
        "  plan-blank.xlsx, sheet job, row 3, I3 (after): there is no job 'bodes'; did you mean bodies?",
    ]


def test_the_read_me_tells_every_column_and_how_to_go_on(blank):
    book = load_workbook(blank)
    assert book.sheetnames == ["Read me", *SHEETS]
    rows = list(book["Read me"].values)
    assert "tracker read plan.xlsx" in " ".join(str(row[0]) for row in rows)
    told = {(row[0], row[1]) for row in rows}
    assert told >= {(name, column.key) for name, one in SHEETS.items() for column in one.columns}
    assert told >= {("fact", kind) for kind, _, _ in SHEETS["fact"].kinds}


def test_every_column_has_its_prompt_within_what_a_spreadsheet_shows(blank):
    """Excel shows 32 letters of a prompt's title and 255 of its text (Microsoft's documentation, from memory)."""
    book = load_workbook(blank)
    for name, one in SHEETS.items():
        for column in one.columns:
            for row in (1, 2, 500):
                found = validation(book[name], column.key, row)
                assert found.showInputMessage
                assert found.promptTitle == column.key
                assert len(found.prompt) <= 255
                assert found.prompt.endswith(f"Such as: {column.example}")


@pytest.mark.parametrize("file", ["plan-blank.xlsx", "plan.xlsx"])
def test_cells_are_checked_as_they_are_typed(program, file):
    program("write", file, *(["--blank"] if "blank" in file else []))
    book = load_workbook(file)
    job, fact, run = book["job"], book["fact"], book["run"]
    choice = validation(fact, "kind")
    assert (choice.type, choice.errorStyle) == ("list", "stop")
    assert choice.formula1.strip('"').split(",") == [kind for kind, _, _ in SHEETS["fact"].kinds]
    assert validation(job, "gate").formula1 == '"yes,no"'
    assert validation(book["supplier"], "dates_mean").formula1 == '"in hand,leaves"'
    day = validation(run, "start")
    assert (day.type, day.operator, day.formula1, day.formula2) == (
        "date", "between", "DATE(1990,1,1)", "DATE(2100,12,31)",
    )  # fmt: skip
    for sheet, key, least in ((run, "quantity", "1"), (fact, "quantity", "1"), (fact, "good", "0")):
        number = validation(sheet, key)
        assert (number.type, number.operator, number.formula1) == ("whole", "greaterThanOrEqual", least)
    assert "supplier!$A$2" in validation(job, "supplier").formula1
    assert "job!$A$2" in validation(fact, "job").formula1
    assert validation(job, "process").type is None
    for name, one in SHEETS.items():
        assert book[name]["A1"].value == one.columns[0].key, "codes are looked up in column A"


def test_headings_stay_in_sight_and_on_every_page(blank):
    book = load_workbook(blank)
    for name in SHEETS:
        sheet = book[name]
        assert re.fullmatch("[A-C]2", sheet.freeze_panes)
        assert sheet.print_title_rows == "$1:$1"
        assert (sheet.page_setup.orientation, sheet.page_setup.paperSize) == ("landscape", 9)
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.auto_filter.ref.startswith("A1:")


def test_what_is_typed_in_a_text_column_stays_text(blank):
    """A cell formatted as text takes 8/10/15wd, 007 or =1+1 as they are typed."""
    sheet = load_workbook(blank)["job"]
    formats = {cell.value: sheet.column_dimensions[cell.column_letter].number_format for cell in sheet[1]}
    assert formats["lead"] == formats["code"] == formats["after"] == "@"
    assert formats["not_before"] == "ddd d mmm yyyy"
    assert formats["quantity"] == "0"


def test_text_that_begins_like_a_formula_is_no_formula(program, tmp_path):
    program("note", "boxes", "=1+1", "on", "today")
    program("write", "plan.xlsx")
    sheet = load_workbook(tmp_path / "plan.xlsx")["fact"]
    cells = [sheet.cell(row, columns(sheet)["note"]) for row in range(2, sheet.max_row + 1)]
    (cell,) = [cell for cell in cells if str(cell.value).startswith("=")]
    assert (cell.data_type, cell.value, cell.quotePrefix) == ("s", "=1+1", True)


def test_a_book_written_before_the_first_fact_holds_nothing_new_when_read_again(empty):
    """The first plan is kept with the first fact, and reading what was just written does not keep it early."""
    empty("new", "lamp-1", "quantity=240", "start=2026-06-15")
    empty("add", "supplier", "mill")
    empty("add", "job", "bodies", "supplier=mill", "lead=10wd")
    empty("add", "shipment", "first", "quantity=240", "after=bodies")
    for file in ("plan.xlsx", "plan.toml"):
        empty("write", file)
        assert "holds nothing new; nothing was stored" in empty.out("read", file, "--yes")
    empty("ordered", "bodies")
    assert "first_plan" in empty.out("write", "-")

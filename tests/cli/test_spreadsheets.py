"""Spreadsheet files become grids, whatever made them; what cannot be read is refused with a way out."""

import codecs
import time
import zipfile
from datetime import date, datetime
from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.styles import PatternFill

from tracker.cli.spreadsheets import read_grids
from tracker.errors import Refused, TrackerError, UsageError
from tracker.sheet.finding import find_tables
from tracker.sheet.guessing import guess_columns

FILES = Path(__file__).parent.parent / "sheet" / "files"


@pytest.fixture
def written(tmp_path):
    """Writes a file of that name and reads it."""

    def write(content, name="jobs.csv"):
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return read_grids(path)

    return write


@pytest.fixture
def book(tmp_path):
    """Saves a workbook made by a function of its first sheet, and reads it."""

    def save(fill, name="jobs.xlsx"):
        workbook = Workbook()
        fill(workbook.active)
        workbook.save(tmp_path / name)
        return read_grids(tmp_path / name)

    return save


def test_a_file_of_a_spreadsheet_program_keeps_every_sheet_hidden_ones_too():
    """maker.xlsx: OpenDocument text converted to .ods and then to .xlsx by LibreOffice; its last sheet is hidden."""
    jobs, empty, _, two_rows = read_grids(FILES / "maker.xlsx")
    assert [jobs.sheet, empty.sheet, two_rows.sheet] == ["Jobs", "Empty", "Two rows"]
    assert (empty.rows, jobs.merged) == ((), ((0, 0, 0, 5),))
    assert jobs.rows[3][:4] == ("Bits ", "Chap", "How long", " Wants first")
    assert jobs.rows[4] == ("Housing ", "Ashdown Mill", "3 weeks", None, 124, date(2026, 5, 4), 248)
    assert jobs.formulas == frozenset()
    assert (2, 1, 3, 1) in two_rows.merged


def test_a_formula_that_gave_an_empty_text_was_worked_out():
    jobs = read_grids(FILES / "maker.xlsx")[0]
    assert len(jobs.rows[6]) == 6
    assert (6, 6) not in jobs.formulas


def test_formulas_nobody_worked_out_are_named(book):
    def fill(sheet):
        sheet.append(["Item", "Weeks"])
        sheet.append(["Box", "=1+2"])
        sheet["D4"] = "=SUM(B2:B3)"

    (grid,) = book(fill)
    assert grid.formulas == {(1, 1), (3, 3)}
    assert grid.rows == (("Item", "Weeks"), ("Box",))


def test_values_keep_their_kind_and_midnight_is_no_time_of_day(book):
    moments = [date(2026, 5, 4), datetime(2026, 5, 4), datetime(2026, 5, 4, 8, 30)]  # noqa: DTZ001 - cells have no zone
    (grid,) = book(lambda sheet: sheet.append([3, 2.5, True, " x ", None, *moments]))
    assert grid.rows == ((3, 2.5, True, " x ", None, date(2026, 5, 4), date(2026, 5, 4), moments[2]),)
    assert [type(value) for value in grid.rows[0][-3:]] == [date, date, datetime]


def test_a_date_outside_the_calendar_is_no_reason_to_stop(book):
    def fill(sheet):
        sheet.append(["Item", "Due"])
        sheet.append(["Box", 10**10])
        sheet["B2"].number_format = "yyyy-mm-dd"

    assert book(fill)[0].rows == (("Item", "Due"), ("Box", "#VALUE!"))


def test_a_sheet_that_claims_the_wrong_size_is_read_whole(tmp_path):
    workbook = Workbook()
    workbook.active.append(["Item", "Lead"])
    workbook.active.append(["Box", "3 weeks"])
    workbook.save(tmp_path / "right.xlsx")
    with (
        zipfile.ZipFile(tmp_path / "right.xlsx") as right,
        zipfile.ZipFile(tmp_path / "wrong.xlsx", "w") as wrong,
    ):
        for name in right.namelist():
            wrong.writestr(name, right.read(name).replace(b'ref="A1:B2"', b'ref="A1"'))
    assert read_grids(tmp_path / "wrong.xlsx") == read_grids(tmp_path / "right.xlsx")


def test_a_sheet_filled_to_its_last_row_and_column_takes_seconds_at_most(book):
    def fill(sheet):
        sheet.append(["Item", "Lead"])
        sheet.append(["Box", "3 weeks"])
        sheet["A1048576"].fill = sheet["XFD1"].fill = PatternFill("solid", fgColor="FFFF00")
        sheet["B1048570"] = "the end"

    began = time.perf_counter()
    (grid,) = book(fill)
    tables = find_tables([grid])
    assert time.perf_counter() - began < 10
    assert (len(grid.rows), grid.rows[0]) == (1048570, ("Item", "Lead"))
    assert [row.cells for row in tables[0].rows] == [("Box", "3 weeks")]


def test_three_thousand_rows_are_read_found_and_guessed_in_seconds(book):
    def fill(sheet):
        sheet.append(["Spring run"])
        sheet.append(["Bits", "Chap", "How long", "Wants first", "Pcs"])
        for at in range(3000):
            sheet.append(
                [
                    f"bit {at}",
                    f"firm {at % 9}",
                    f"{at % 7 + 1} weeks",
                    f"bit {at - 1}" if at else None,
                    at + 1,
                ]
            )

    grids = book(fill)
    began = time.perf_counter()
    (table,) = find_tables(grids)
    guess = guess_columns(table)
    assert time.perf_counter() - began < 5
    assert (len(table.rows), table.rows[-1].number) == (3000, 3002)
    assert dict(guess.roles) == {0: "item", 1: "supplier", 2: "lead", 3: "after", 4: "quantity"}


def test_a_german_file_with_semicolons_in_an_old_encoding_is_read():
    """german.csv: saved by LibreOffice in ISO 8859-1 with semicolons."""
    (grid,) = read_grids(FILES / "german.csv")
    assert grid.sheet == "german"
    assert grid.rows[0] == ("Stückliste Frühjahr", None, None, None, None)
    assert grid.rows[3] == ("Gehäuse", "Fräserei Übel", "3 Wochen", "120", "12,50")
    assert grid.rows[6][0] == "Größenschild; klein"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_text_is_read_in_the_encodings_spreadsheet_programs_write(encoding, written):
    (grid,) = written("Item,Who\nGehäuse – 5 €,Übel\n".encode(encoding))  # noqa: RUF001
    assert grid.rows == (("Item", "Who"), ("Gehäuse – 5 €", "Übel"))  # noqa: RUF001


def test_utf_16_of_either_byte_order_is_known_by_its_mark(written):
    (grid,) = written(codecs.BOM_UTF16_BE + "Item;Who\nGehäuse;Übel\n".encode("utf-16-be"))
    assert grid.rows[1] == ("Gehäuse", "Übel")


@pytest.mark.parametrize(
    ("text", "row"),
    [
        pytest.param("Item,Who,Lead\nBox,Acme,3 weeks\n", ("Box", "Acme", "3 weeks"), id="commas"),
        pytest.param("Item\tWho\nBox\tAcme, Leeds\n", ("Box", "Acme, Leeds"), id="tabs"),
        pytest.param("Item|Who\nBox|Acme\n", ("Box", "Acme"), id="bars"),
        pytest.param("Item;Weeks;Price\nBox;3;2,5\nLid;3;1,5\n", ("Box", "3", "2,5"), id="semicolons and decimal commas"),
        pytest.param("Item;Who\nBox, a, b, c, d;Acme\nLid;Acme\n", ("Lid", "Acme"), id="one cell full of commas"),
        pytest.param("Plan, spring\n\nItem;Who\nBox;Acme\n", ("Item", "Who"), id="a title with a comma"),
        pytest.param("sep=|\nItem|Who\nBox|a,b|c,d\n", ("Box", "a,b", "c,d"), id="told in the first line"),
        pytest.param('Item,Who\n"Box, small","Acme ""North"""\n', ("Box, small", 'Acme "North"'), id="quotes"),
        pytest.param('Item,Who\n"Box\nlarge",Acme\n', ("Box\nlarge", "Acme"), id="a line break in quotes"),
        pytest.param('Item,Who\n5" panel,Acme\n', ('5" panel', "Acme"), id="inches"),
        pytest.param("Item,Who\rBox,Acme\r", ("Box", "Acme"), id="carriage returns alone"),
    ],
)  # fmt: skip
def test_what_parts_the_cells_of_a_text_file_is_found(text, row, written):
    (grid,) = written(text)
    assert row in grid.rows


def test_cells_of_text_files_stay_text_and_empty_ones_are_none(written):
    (grid,) = written("Item,Qty,Note\nBox,012,\n\n\n")
    assert grid.rows == (("Item", "Qty", "Note"), ("Box", "012", None))


@pytest.mark.parametrize("name", ["jobs.ods", "jobs.xls"])
def test_other_spreadsheets_are_refused_with_the_forms_that_can_be_read(name, tmp_path):
    (tmp_path / name).write_bytes(b"anything")
    with pytest.raises(UsageError, match=r"jobs\.\w+ is a \.\w+ file") as refusal:
        read_grids(tmp_path / name)
    assert "save it as .xlsx or .csv" in refusal.value.hint


def test_a_missing_file_and_a_folder_are_told_apart(tmp_path):
    with pytest.raises(UsageError, match=r"there is no file .*jobs\.xlsx"):
        read_grids(tmp_path / "jobs.xlsx")
    with pytest.raises(UsageError, match="is a folder"):
        read_grids(tmp_path)


def test_a_file_behind_a_password_is_refused_as_such():
    """locked.xlsx: encrypted with a password by an independent library for office files."""
    with pytest.raises(Refused, match="behind a password") as refusal:
        read_grids(FILES / "locked.xlsx")
    assert "without the password" in refusal.value.hint


def test_an_old_file_under_a_new_name_is_known(written):
    """old.xls: saved by LibreOffice."""
    for name in ("jobs.xlsx", "jobs.csv"):
        with pytest.raises(Refused, match=r"an old \.xls file under another name"):
            written((FILES / "old.xls").read_bytes(), name)


def test_files_under_a_wrong_name_are_refused_with_the_right_one(written, tmp_path):
    with pytest.raises(Refused, match=r"is not an \.xlsx file") as refusal:
        written("Item,Lead\n", "jobs.xlsx")
    assert ".csv" in refusal.value.hint
    with pytest.raises(Refused, match="not a text file but a packed one") as refusal:
        written((FILES / "maker.xlsx").read_bytes(), "jobs.csv")
    assert ".xlsx" in refusal.value.hint
    with zipfile.ZipFile(tmp_path / "other.xlsx", "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
    with pytest.raises(Refused, match="another kind of document"):
        read_grids(tmp_path / "other.xlsx")
    with pytest.raises(UsageError, match="is no spreadsheet"):
        written("Item,Lead\n", "jobs.txt")


@pytest.mark.parametrize("place", range(0, 8953, 373))
def test_a_damaged_file_is_refused_or_read_but_never_breaks_the_program(place, written):
    content = bytearray((FILES / "maker.xlsx").read_bytes())
    content[place : place + 40] = bytes(40)
    try:
        grids = written(bytes(content), "jobs.xlsx")
    except TrackerError as refusal:
        assert refusal.hint  # noqa: PT017 - a damaged spot may also lie where nothing is read
    else:
        assert [grid.sheet for grid in grids][:1] == ["Jobs"]


def test_half_a_file_is_refused_as_damaged(written):
    content = (FILES / "maker.xlsx").read_bytes()
    with pytest.raises(Refused, match="is damaged"):
        written(content[: len(content) // 2], "jobs.xlsx")


@pytest.mark.parametrize(
    ("content", "name", "words"),
    [
        pytest.param("", "jobs.csv", "is empty", id="no bytes"),
        pytest.param("", "jobs.xlsx", "is empty", id="no bytes in a workbook"),
        pytest.param(";;\n;;\n", "jobs.csv", "no filled cell", id="only separators"),
        pytest.param("Item,Who\nBox\0,Acme\n", "jobs.csv", "NUL bytes", id="NUL bytes"),
        pytest.param(b"I\0t\0e\0m\0", "jobs.csv", "NUL bytes", id="two bytes a letter without a mark"),
        pytest.param(
            'Item,Who\nBox,"Acme\nLid,B\n', "jobs.csv", "line 2: a quotation mark", id="a quote left open"
        ),
    ],
)
def test_text_that_cannot_be_read_is_refused(content, name, words, written):
    with pytest.raises(Refused, match=words) as refusal:
        written(content, name)
    assert refusal.value.hint

"""Lists as small makers keep them, read from the command line: invented firms, layouts common practice without a source."""

import re
from datetime import date, timedelta

import pytest

from tests.cli.sheet_files import on_a_terminal, text_file, workbook
from tests.cli.test_read_sheets import DAY, leads_of

UNITS = ("#", "Item", "Supplier", "Lead", "Unit", "Qty", "Unit price", "Done?", "Depends on")
SPEAKER = (
    (1, "Drawings rev C", "us", 5, "working days", None, None, "✅", None),
    (2, "Housing CNC", "Halden", 4, "weeks", "250", 41.5, "", 1),
    (3, "Anodising", "Varne", 8, "working days", 260, 6.2, "❌", 2),
    (4, "Magnets \U0001f9f2", "Qingsha", 12, "days", 520, 0.9, "", 1),
    (5, "Build", "own bench", 12, "wd", None, None, "", "3, 4"),
)
GERMAN = ("Pos.", "Bezeichnung", "Lieferant", "Menge", "Lieferzeit", "Einzelpreis", "Voraussetzung", "Status")
LAMP_DE = (
    ("10", "Gehäuse gefräst", "Müller Feinmechanik GmbH", "250", "3 Wochen", "41,50 €", "", "bestellt"),
    ("20", "Eloxieren", "Köhler", "250 Stück", "8 Arbeitstage", "6,20 €", "10", "offen"),
    ("30", "Leiterplatten", "Lipowa", "280", "ca. 12-15 AT", "3,10 €", "", ""),
    ("40", "Montage", "wir", "", "20 Werktage", "", "20, 30", ""),
    ("", "Summe", "", "", "", "12.345,00 €", "", ""),
)


@pytest.fixture
def run(empty):
    """A run with nothing in it."""
    empty("new", "lamp-1", "quantity=240", "start=2026-06-15")
    return empty


def test_a_unit_column_a_done_column_prices_and_numbers_are_each_taken_for_what_they_are(run, tmp_path):
    workbook(tmp_path / "speaker.xlsx", SPEAKER, UNITS)
    result = run("read", "speaker.xlsx", "leads", "weeks=cd", "days=wd", "--yes", *DAY)
    assert {code: str(lead) for code, lead in leads_of(run).items()} == {
        "drawings-rev-c": "5wd", "housing-cnc": "28cd", "anodising": "8wd", "magnets": "12wd", "build": "12wd",
    }  # fmt: skip
    assert "column H (Done?) is read back, not stored: '✅' drawings-rev-c; '❌' anodising" in result.stderr
    assert "28cd (4 weeks)" in result.stderr
    waits = {job["code"]: job["waits_for"] for job in run.json("forecast", *DAY)["jobs"]}
    assert waits["build"] == ["anodising", "magnets"]


def test_a_two_row_heading_of_number_and_unit_reads_like_two_columns(run, tmp_path):
    rows = (
        (None, None, "number", "unit", None),
        *((row[1], row[2], row[3], row[4], None) for row in SPEAKER),
    )
    path = tmp_path / "two.xlsx"
    workbook(path, rows, ("Item", "Supplier", "Lead", None, "Remarks"))
    from openpyxl import load_workbook

    book = load_workbook(path)
    for block in ("C3:D3", "A3:A4", "B3:B4", "E3:E4"):
        book.active.merge_cells(block)
    book.save(path)
    message = run("read", "two.xlsx", "leads", "weeks=cd", "days=wd", "--yes", *DAY).stderr
    assert re.search(r"C +Lead number +lead +5\n +D +Lead unit +unit +working days", message)
    assert str(leads_of(run)["housing-cnc"]) == "28cd"


def test_a_german_list_reads_like_its_english_twin(run, tmp_path):
    text_file(tmp_path / "liste.csv", LAMP_DE, GERMAN)
    result = run("read", "liste.csv", "leads", "weeks=cd", "--yes", *DAY)
    assert {code: str(lead) for code, lead in leads_of(run).items()} == {
        "gehause-gefrast": "21cd", "eloxieren": "8wd", "leiterplatten": "12..15wd", "montage": "20wd",
    }  # fmt: skip
    assert re.search("bench +Our own bench", result.stderr)
    assert "20wd (20 Werktage)" in result.stderr
    assert "row 6 'Summe': a total" in result.stderr


def test_many_columns_that_are_not_read_are_one_line(run, tmp_path):
    weeks = [date(2026, 6, 15) + timedelta(7 * at) for at in range(30)]
    rows = [("Drawings", "Me", "5wd", "x"), ("Housing", "Tolmark", "20wd", None, "x", "x")]
    workbook(tmp_path / "weeks.xlsx", rows, ("Task", "Who", "How long", *weeks))
    message = run("read", "weeks.xlsx", "--yes", *DAY).stderr
    assert re.search(r"D-AG +2026-06-15 \.\.\. 2027-01-04 +not read\n2 new suppliers", message)


def test_many_leads_counted_alike_are_one_question_and_their_words_stand_in_the_table(run, tmp_path):
    rows = [(f"Job {at}", "Tolmark", f"{at} days", None, None) for at in range(2, 9)]
    workbook(tmp_path / "many.xlsx", rows)
    message = run.refuses("read", "many.xlsx", "--yes", *DAY, exit_code=2)
    asked = message[message.index("these need a word") : message.index("no job here waits")]
    assert asked.splitlines()[1:] == [
        "  row 4 job-2 '2 days': wd (2wd) or cd (2cd)?",
        "    and so 6 more in days",
    ]
    assert all(f"{at} days ?" in message for at in range(2, 9))


def test_no_column_of_leads_shows_no_lead_instead_of_one_made_up(run, tmp_path):
    rows = [("P1", "Base", "Tolmark", 275, "Open"), ("P1", "Bezel", "Tolmark", 275, "Closed")]
    workbook(
        tmp_path / "orders.xlsx", rows, ("PO Number", "Line Description", "Vendor", "Qty Ordered", "Status")
    )
    message = run.refuses("read", "orders.xlsx", "--yes", *DAY, exit_code=1)
    assert re.search(r"4 +base +tolmark +275 +\? +-", message)
    assert "wd" not in message[message.index("new jobs") : message.index("column E (Status)")]
    assert "row 3: no column holds the leads; say which one does: columns HEADING=lead" in message


def test_one_trouble_in_many_rows_of_a_column_is_told_once_with_all_rows(run, tmp_path):
    rows = [(f"Job {at}", "Tolmark", "4wd", f"0{at}.06.2026") for at in range(1, 6)]
    workbook(tmp_path / "dots.xlsx", rows, ("Item", "Vendor", "Lead", "Ordered on"))
    message = run.refuses("read", "dots.xlsx", "--yes", *DAY, exit_code=1)
    told = message[message.index("error: ") :].splitlines()
    assert told[0] == "error: dots.xlsx has 1 problem; nothing was written"
    assert (
        "row 4, column D (Ordered on): '01.06.2026' can be read in two ways: 1jun or 6jan (and so rows 5, 6, 7, 8)"
        in told[1]
    )
    run("set", "run", "dates=day first", *DAY)
    assert "5 new jobs, 5 new facts stored" in run.out("read", "dots.xlsx", "--yes", *DAY).replace(
        "\n  ", " "
    )


def test_a_sheet_read_again_with_nothing_new_says_only_that(run, tmp_path):
    workbook(tmp_path / "speaker.xlsx", SPEAKER, UNITS)
    run("read", "speaker.xlsx", "leads", "weeks=cd", "days=wd", "--yes", *DAY)
    result = run("read", "speaker.xlsx", *DAY)
    assert result.stderr == ""
    assert result.stdout.splitlines()[0] == "speaker.xlsx holds nothing new; nothing was stored"


def test_without_a_shipment_none_is_said_to_stay_where_it_is(run, tmp_path):
    workbook(tmp_path / "speaker.xlsx", SPEAKER, UNITS)
    out = run.out("read", "speaker.xlsx", "leads", "weeks=cd", "days=wd", "--yes", *DAY)
    assert "no shipment yet" in out
    assert "no shipment moves" not in out
    run("add", "shipment", "wave-1", "quantity=240", "after=build", *DAY)
    again = ("leads", "weeks=cd", "build=12wd", "countries", "varne=GB")
    assert "no shipment moves" in run.out("read", "speaker.xlsx", *again, "--yes", *DAY)


def test_many_notes_are_counted_and_lengths_read_before_are_too(run, tmp_path):
    rows = [(f"Job {at}", "Tolmark", f"{at} days", f"ask Ann {at}") for at in range(2, 9)]
    workbook(tmp_path / "notes.xlsx", rows, ("Item", "Vendor", "Lead", "Notes"))
    message = run("read", "notes.xlsx", "leads", "days=wd", "--yes", *DAY).stderr
    assert "+ 7 notes, such as job-2: ask Ann 2" in message
    message = run("read", "notes.xlsx", "countries", "tolmark=GB", "--yes", *DAY).stderr
    assert "7 lengths are read as before" in message
    assert "ask Ann" not in message[message.index("7 lengths") :]


def test_weeks_and_days_in_the_brackets_of_a_heading_are_two_sheets_and_carry_nothing_over(run, tmp_path):
    rows = [("Body", "Tolmark", 3, 100), ("Coat", "Varne", 2, 101)]
    workbook(tmp_path / "weeks.xlsx", rows, ("Item", "Vendor", "Lead (weeks)", "Alpha"))
    run("read", "weeks.xlsx", "columns", "alpha=quantity", "leads", "weeks=cd", "--yes", *DAY)
    others = [("Foam", "Brenta", 3, 100), ("Feet", "Kessling", 2, 101)]
    workbook(tmp_path / "days.xlsx", others, ("Item", "Vendor", "Lead (days)", "Alpha"))
    message = run.refuses("read", "days.xlsx", "--yes", *DAY, exit_code=2)
    assert "row 4 foam '3 days': wd (3wd) or cd (3cd)?" in message
    run("read", "days.xlsx", "columns", "alpha=skip", "leads", "days=wd", "--yes", *DAY)
    rows[0] = ("Body", "Tolmark", 3, 120)
    workbook(tmp_path / "weeks.xlsx", rows, ("Item", "Vendor", "Lead (weeks)", "Alpha"))
    message = run("read", "weeks.xlsx", "--yes", *DAY).stderr
    assert "~ job body: quantity 100 -> 120" in message
    assert str(leads_of(run)["body"]) == "21cd"


def test_on_a_terminal_groups_and_suppliers_can_be_answered_as_on_the_command_line(run, tmp_path):
    rows = [("Body", "Tolmark", "3 weeks"), ("Coat", "Varne", "8 days"), ("Foam", "Varne", "5 days")]
    workbook(tmp_path / "few.xlsx", rows, ("Item", "Vendor", "Lead"))
    answers = ["nobody=wd", "days=soon", "weeks=cd varne=wd", "y"]
    code, shown = on_a_terminal(tmp_path, run.database, ["read", "few.xlsx", *DAY], answers)
    assert code == 0, shown
    assert "there is no item 'nobody'" in shown
    assert "'soon' is not a number of days" in shown
    assert {code: str(lead) for code, lead in leads_of(run).items()} == {
        "body": "21cd",
        "coat": "8wd",
        "foam": "5wd",
    }


ODD = (
    (("#REF!", "#N/A", "#VALUE!", "#NAME?", "#DIV/0!"),),
    ((True, False, True, True, True),),
    (("x" * 5000, "y" * 5000, "z" * 5000, "w" * 5000, "9" * 5000),),
    ((date(2026, 7, 1), date(2026, 7, 1), date(2026, 7, 1), date(2026, 7, 1), date(2026, 7, 1)),),
    (("Box", "Ann", "1e99", "Box", 1e300), ("Lid", "Ann", -1e300, "Lid", -1)),
    (("=1+1", "=A1", "=B1", "=C1", "=D1"),),
    (("Box", "Ann", "12wd", "Lid", 1), ("Lid", "Ann", "12wd", "Box", 1)),
    (("run", "lamp-1", "12wd", "all", "0"), ("lamp-1", "run", "12wd", "us", "0x10")),
)
SIGNS = (("\u202e\u2066", "\U0001f9f2", "\u00bd", "\u2192", "\u0663"),)


@pytest.mark.parametrize(("rows", "exit_code"), [*((rows, 1) for rows in ODD), (SIGNS, 2)])
def test_odd_cells_are_refused_in_words_and_leave_nothing_behind(run, tmp_path, rows, exit_code):
    workbook(tmp_path / "odd.xlsx", rows)
    before = run.rows()
    result = run(
        "read",
        "odd.xlsx",
        "columns",
        "item=item",
        "vendor=supplier",
        "how=lead",
        "needs=after",
        "pcs=quantity",
        "--yes",
        *DAY,
        exit_code=exit_code,
    )
    assert "error: " in result.stderr
    assert "the tracker itself failed" not in result.stderr
    assert "Traceback" not in result.stderr
    assert run.rows() == before

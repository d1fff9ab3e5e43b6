"""Parts from the command line: added, changed and removed, and out and in as a file and as a workbook."""

import pytest
from openpyxl import load_workbook

from tests.cli.test_plan_books import columns, fill_in, validation

DIAL = """
[run]
code = "dial-1"
quantity = 80
start = 2026-06-15
today = 2026-06-15
unit = "unit"
[[supplier]]
code = "bench"
inhouse = true
[[part]]
code = "bezel"
spares = 8
[[part]]
code = "screw"
here = 1600
[[part]]
code = "tape"
unit = "m"
here = 62.5
[[part]]
code = "unit"
[[job]]
code = "finish"
supplier = "bench"
lead = "8wd"
makes = "bezel"
quantity = 96
yield = 0.95
[[job]]
code = "build"
supplier = "bench"
lead = "3wd"
takes = { bezel = 1, screw = 6, tape = 0.35 }
makes = "unit"
[[shipment]]
code = "wave-1"
quantity = 80
part = "unit"
"""
AS_TYPED = {
    "run": [{"code": "dial-1", "quantity": 80, "start": "2026-06-15", "today": "2026-06-15", "unit": "unit"}],
    "supplier": [{"code": "bench", "inhouse": "yes"}],
    "part": [
        {"code": "bezel", "spares": 8}, {"code": "screw", "here": 1600},
        {"code": "tape", "unit": "m", "here": 62.5}, {"code": "unit"},
    ],
    "job": [
        {"code": "finish", "supplier": "bench", "lead": "8wd", "makes": "bezel", "quantity": 96, "yield": "95%"},
        {
            "code": "build", "supplier": "bench", "lead": "3wd", "takes": "bezel, screw 6, tape 0.35",
            "makes": "unit",
        },
    ],
    "shipment": [{"code": "wave-1", "quantity": 80, "part": "unit"}],
}  # fmt: skip


@pytest.fixture
def dial(empty, tmp_path):
    """A small run with parts, read from a file."""
    (tmp_path / "dial.toml").write_text(DIAL, encoding="utf-8")
    empty("new")
    empty("read", "dial.toml")
    return empty


def read_back(dial):
    """First line of the answer, without its entry."""
    return lambda *words: dial.out(*words, width=200).splitlines()[0].rpartition(" [entry")[0]


def test_the_readback_of_a_part_is_one_line(dial):
    said = read_back(dial)
    assert said("add", "part", "gasket", "spares=8", "moq=100") == "part gasket added: spares 8, moq 100"
    assert said("set", "gask", "spares=12", "moq=") == "part gasket: spares 8 -> 12"
    assert said("remove", "gasket") == "part gasket removed: spares 12"
    assert "gasket" not in dial.out("write")


def test_what_jobs_take_and_make_is_typed_without_quotes(dial):
    dial("add", "part", "magnet", "here=500")
    said = read_back(dial)
    assert said("set", "build", "takes+=magnet", "2") == "job build: takes adds magnet 2"
    assert said("set", "finish", "yield=90%", "lots=50,46") == "job finish: yield 95% -> 90%"
    assert said("set", "build", "takes=bezel,", "screw", "4") == (
        "job build: takes bezel, screw 6, tape 0.35, magnet 2 -> bezel, screw 4"
    )
    assert "takes = { bezel = 1, screw = 4 }" in dial.out("write")


def test_a_shipment_follows_its_quantity(dial):
    said = read_back(dial)
    assert said("set", "wave-1", "quantity=75") == "shipment wave-1: quantity 80 -> 75"
    assert 'quantity = 75\npart = "unit"\n' in dial.out("write")


def test_undo_takes_a_part_back(dial):
    before = dial.out("write")
    dial("add", "part", "gasket", "spares=8")
    dial("undo")
    assert dial.out("write") == before


@pytest.mark.parametrize(
    ("words", "lines"),
    [
        (
            ("set", "build", "takes=bezel 0,screw -1,tape two"),
            [
                "error: job build has 1 problem; nothing was written",
                "  job build, takes, item 3: 'two' is not a number; write it such as 12, 7.5 or 25/3",
            ],
        ),
        (
            ("set", "build", "takes=bezel 0, screw -1"),
            [
                "error: the plan with that change has 2 problems; nothing was written",
                "  job build, takes bezel: is 0; expected more than 0; correct the number",
                "  job build, takes screw: is -1; expected more than 0; correct the number",
            ],
        ),
        (
            ("set", "finish", "lots=0", "yield=0"),
            [
                "error: the plan with that change has 2 problems; nothing was written",
                ("  job finish, yield: is 0; expected more than 0 and 1 at most;"
                " write the share that comes out good, such as 0.95 or 95%"),
                "  job finish, lots: is 0; expected 1 or more; give the number of lots, or their sizes such as [100, 75]",
            ],
        ),
        (
            ("set", "finish", "unders=100%"),
            [
                "error: the plan with that change has 1 problem; nothing was written",
                ("  job finish, unders: is 100%; expected 0% or more and less than 100%;"
                " write how far the count may differ, such as 10%"),
            ],
        ),
        (
            ("remove", "bezel"),
            [
                "error: bezel is needed by finish (makes), build (takes)",
                "hint: change these first, for example: tracker set finish makes=OTHER",
            ],
        ),
        (
            ("set", "bezl", "spares=3"),
            ["error: there is no job, supplier, part or shipment 'bezl'", "hint: did you mean bezel?"],
        ),
        (
            ("add", "part", "finish"),
            [
                "error: the plan with that change has 1 problem; nothing was written",
                ("  job finish: the code is taken by part finish; choose another; run, suppliers, parts, jobs, shipments"
                " and options share one list, capitals aside"),
            ],
        ),
    ],
)  # fmt: skip
def test_a_wrong_form_is_refused_with_place_and_remedy(dial, words, lines):
    assert dial.refuses(*words, exit_code=2 if "bezl" in words else 1).splitlines() == lines


def test_a_second_read_of_a_file_with_parts_adds_nothing(dial):
    assert "holds nothing new; nothing was stored" in dial.out("read", "dial.toml")


def test_a_changed_part_of_a_file_is_shown_before_it_is_stored(dial, tmp_path):
    (tmp_path / "dial.toml").write_text(DIAL.replace("spares = 8", "spares = 12"), encoding="utf-8")
    assert "~ part bezel: spares 8 -> 12" in dial.refuses("read", "dial.toml", exit_code=2)


def test_a_blank_workbook_filled_in_is_the_plan_of_the_text_file(dial, tmp_path):
    text = dial.out("write")
    dial.database = tmp_path / "other.sqlite"
    dial("write", "--blank", "plan.xlsx")
    fill_in(tmp_path / "plan.xlsx", AS_TYPED)
    dial("new")
    said = dial("read", "plan.xlsx").stderr
    assert "new run dial-1: 1 supplier, 4 parts, 2 jobs, 1 shipment, 0 facts" in said
    assert dial.out("write") == text
    dial("write", "again.xlsx")
    assert "holds nothing new; nothing was stored" in dial.out("read", "again.xlsx")


def test_cells_of_parts_are_checked_as_they_are_typed(dial, tmp_path):
    dial("write", "plan.xlsx")
    book = load_workbook(tmp_path / "plan.xlsx")
    part = book["part"]
    here, spares, moq = (validation(part, key) for key in ("here", "spares", "moq"))
    assert (here.type, here.operator, here.formula1) == ("decimal", "greaterThanOrEqual", "0")
    assert (spares.type, spares.formula1, moq.type, moq.formula1) == ("whole", "0", "whole", "1")
    assert "part!$A$2" in validation(book["shipment"], "part").formula1
    assert "part!$A$2" in validation(book["fact"], "part").formula1
    assert "job!$A$2" in validation(book["job"], "rework_of").formula1
    assert validation(book["job"], "rerun").formula1 == '"yes,no"'
    assert [part.cell(row, columns(part)["here"]).value for row in range(2, 6)] == [None, 1600, 62.5, None]


def test_a_closure_typed_as_a_span_in_words_is_refused(program):
    said = program.refuses("set", "varne", "closures=Mon 21 Dec 2026 to Mon 4 Jan 2027", exit_code=1)
    assert "reads like the last day of a span" in said

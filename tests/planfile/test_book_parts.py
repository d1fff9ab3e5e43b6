"""Parts, counts and lots in the cells of the plan workbook."""

from datetime import date
from fractions import Fraction

import pytest

from tests.planfile.test_book import RUN_GRID, cells, lines, parse, read_back, sheet
from tracker.plan.model import Fact, Job, Plan, Run, Shipment
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import parse_lead
from tracker.planfile.book_sheets import SHEETS

DAY = date(2026, 11, 10)
RUN = Run(code="dial-1", quantity=240, start=date(2026, 6, 15), unit="graphite, natural")
BUILD = Job(
    code="build", supplier="bench", lead=parse_lead("3wd"),
    takes=(Take(part="board"), Take(part="magnet", per=Fraction(2)), Take(part="housing", into="graphite")),
    makes=(Make(part="graphite", quantity=74), Make(part="natural", quantity=86)),
    yields=Fraction(19, 20), lots=(100, 60), one_by_one=True, serves=("wave-1",), unders=Fraction(1, 10),
)  # fmt: skip


def with_part(**more):
    return Plan(run=RUN, parts=(Part(code="tape", **more),))


def test_cells_of_parts_and_counts_hold_what_one_would_type():
    wave = Shipment(code="w", quantity=80, contents=(Content(part="packed", quantity=80),))
    scrapped = Fact(on=DAY, logged=DAY, kind="scrapped", part="bezel", scrap=3, job="build")
    plan = Plan(run=RUN, jobs=(BUILD,), shipments=(wave,), facts=(scrapped,))
    assert cells(plan, "run")["unit"] == "graphite, natural"
    assert cells(plan, "job") == {
        "code": "build", "supplier": "bench", "lead": "3wd",
        "takes": "board, magnet 2, housing 1 into graphite", "makes": "graphite 74, natural 86",
        "yield": "95%", "lots": "100, 60", "one_by_one": "yes", "serves": "wave-1", "unders": "10%",
    }  # fmt: skip
    assert cells(plan, "shipment") == {"code": "w", "quantity": 80, "part": "packed"}
    assert cells(plan, "fact") == {"on": DAY, "kind": "scrapped", "part": "bezel", "scrap": 3, "job": "build"}
    assert read_back(plan) == plan


@pytest.mark.parametrize(
    ("here", "cell"),
    [
        (Fraction(1600), 1600),
        (Fraction(25, 2), 12.5),
        (Fraction(7, 20), 0.35),
        (Fraction(1, 3), "1/3"),
    ],
)
def test_a_stock_is_a_number_where_a_cell_holds_it_exactly(here, cell):
    plan = with_part(unit="m", here=here)
    assert cells(plan, "part") == {"code": "tape", "unit": "m", "here": cell}
    assert read_back(plan) == plan


@pytest.mark.parametrize(
    ("key", "cell", "attr", "value"),
    [
        ("yield", 0.95, "yields", Fraction(19, 20)),
        ("yield", "95 %", "yields", Fraction(19, 20)),
        ("overs", 0.1, "overs", Fraction(1, 10)),
        ("lots", 4, "lots", 4),
        ("lots", "Shipments", "lots", "shipments"),
        ("lots", "[100]", "lots", (100,)),
        ("takes", "board,\nmagnet 2", "takes", (Take(part="board"), Take(part="magnet", per=Fraction(2)))),
        ("takes", "{ board = 1 }", "takes", (Take(part="board"),)),
        ("makes", "bezel", "makes", (Make(part="bezel"),)),
        ("makes", '{ "screw-m2.5" = 74 }', "makes", (Make(part="screw-m2.5", quantity=74),)),
    ],
)
def test_cells_are_read_whatever_a_spreadsheet_program_made_of_them(key, cell, attr, value):
    parsed = parse(RUN_GRID, sheet("job", ("code", "supplier", "lead", key), ("a", "mill", "3wd", cell)))
    assert parsed.problems == ()
    assert getattr(parsed.plan.jobs[0], attr) == value


@pytest.mark.parametrize(
    ("cell", "here"), [(12.5, Fraction(25, 2)), ("12.5", Fraction(25, 2)), (1e-7, Fraction(1, 10**7))]
)
def test_a_stock_is_read_from_a_number_or_its_text(cell, here):
    parsed = parse(RUN_GRID, sheet("part", ("code", "unit", "here"), ("tape", "m", cell)))
    assert (parsed.problems, parsed.plan.parts[0].here) == ((), here)


def test_a_sheet_of_shipments_may_have_contents_in_place_of_a_quantity():
    parsed = parse(RUN_GRID, sheet("shipment", ("code", "contents"), ("w", "graphite 66, natural 82")))
    assert parsed.problems == ()
    assert parsed.plan.shipments[0].quantity == 148


@pytest.mark.parametrize(
    ("grid", "line"),
    [
        pytest.param(
            sheet("part", ("code", "here", "spares"), ("bezel", "some", 8)),
            "sheet part, row 2, B2 (here): 'some' is not a number; write it such as 12, 7.5 or 25/3",
            id="a stock in words",
        ),
        pytest.param(
            sheet("part", ("code", "spares"), ("bezel", 1.5)),
            "sheet part, row 2, B2 (spares): 1.5 is a number; expected a whole number;"
            " write it without quotes and without a point, such as 240",
            id="half a spare",
        ),
        pytest.param(
            sheet("part", ("code", "spare"), ("bezel", 8)),
            "sheet part, B1: there is no column 'spare'; did you mean spares?",
            id="a column misspelt",
        ),
        pytest.param(
            sheet("job", ("code", "supplier", "lead", "takes"), ("a", "mill", "3wd", "board, magnet two")),
            "sheet job, row 2, D2 (takes), item 2: 'two' is not a number; write it such as 12, 7.5 or 25/3",
            id="a count in words",
        ),
        pytest.param(
            sheet("job", ("code", "supplier", "lead", "lots"), ("a", "mill", "3wd", "four")),
            "sheet job, row 2, D2 (lots): 'four' is no number of lots;"
            " write 4, shipments, or sizes such as 100,100,75",
            id="lots in words",
        ),
        pytest.param(
            sheet("shipment", ("code", "quantity", "part", "contents"), ("w", 80, "packed", "packed 80")),
            "sheet shipment, row 2: has both part and contents; keep one of the two",
            id="part and contents",
        ),
        pytest.param(
            sheet("shipment", ("code", "quantity"), ("w", 80)),
            "sheet shipment: has no column after or part or contents;"
            " write after in row 1, and below it such as pack-1",
            id="nothing a shipment waits for",
        ),
        pytest.param(
            sheet("shipment", ("code", "after"), ("w", "pack")),
            "sheet shipment: has no column quantity or contents; write quantity in row 1, and below it such as 80",
            id="no number of pieces",
        ),
        pytest.param(
            sheet("fact", ("on", "kind", "job", "part"), (DAY, "left", "boxes", "bezel")),
            "sheet fact, row 2, D2 (part): a fact 'left' has no part; empty this cell;"
            " it has on, job, kind, good, note, logged",
            id="a part where a kind has none",
        ),
    ],
)  # fmt: skip
def test_each_problem_names_its_sheet_row_and_cell(grid, line):
    assert lines(grid) == [f"plan.xlsx, {line}"]


def test_columns_tell_what_their_cells_hold():
    held = {
        (name, one.key): (one.holds, one.least, one.names)
        for name, table in SHEETS.items()
        for one in table.columns
    }
    assert held["part", "here"] == ("number", 0, "")
    assert held["part", "spares"] == ("whole", 0, "")
    assert held["part", "moq"] == ("whole", 1, "")
    assert held["job", "rework_of"] == ("text", 1, "job")
    assert held["job", "one_by_one"] == ("flag", 1, "")
    assert held["shipment", "part"] == held["fact", "part"] == ("text", 1, "part")
    assert held["job", "yield"][0] == held["job", "takes"][0] == "text"


def test_a_shipment_needs_a_number_and_something_to_wait_for():
    needed = {one.key: one.needed for one in SHEETS["shipment"].columns if one.needed}
    either = ("after", "part", "contents")
    assert needed == {
        "code": ("code",), "quantity": ("quantity", "contents"), **dict.fromkeys(either, either)
    }  # fmt: skip

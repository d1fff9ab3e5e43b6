from datetime import date, datetime, time, timedelta
from io import BytesIO

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook

from tests.part_plans import part_plans
from tests.planfile import wild
from tests.planfile.test_reading import EXPECTED, TODAY
from tests.plans import plans
from tracker.errors import Refused
from tracker.plan.checks import check_plan
from tracker.plan.model import Fact, FirstPlan, Job, Link, Plan, Run, Shipment, Supplier, Told
from tracker.plan.span import Lead, Span
from tracker.planfile.book import blank_book, book_of, parse_book
from tracker.planfile.book_places import placed
from tracker.planfile.book_sheets import SHEETS
from tracker.planfile.fields import FACT_TABLES, JOB, PART, RUN, SHIPMENT, SUPPLIER
from tracker.planfile.grid import Grid

RUN_ROW = Run(code="dial-1", quantity=240, start=date(2026, 6, 15))
FEW = settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow], deadline=None)
SLOW = settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)
RUN_GRID = Grid(sheet="run", rows=(("code", "quantity", "start"), ("dial-1", 240, date(2026, 6, 15))))
MIDNIGHT = datetime.combine(date(2026, 10, 1), time())


def grids_of(plan):
    return tuple(
        Grid(sheet=sheet.name, rows=(tuple(column.key for column in sheet.columns), *sheet.rows))
        for sheet in book_of(plan)
    )


def through_a_file(grids):
    """The grids as openpyxl gives them back from a real file, dates as midnights."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for grid in grids:
        sheet = book.create_sheet(grid.sheet)
        for at, row in enumerate(grid.rows, start=1):
            for column, value in enumerate(row, start=1):
                cell = sheet.cell(at, column, value)
                if isinstance(value, str):
                    cell.data_type = "s"
    file = BytesIO()
    book.save(file)
    again = load_workbook(file)
    return tuple(Grid(sheet=sheet.title, rows=tuple(sheet.values)) for sheet in again.worksheets)


def parse(*grids):
    return parse_book(grids, source="plan.xlsx", today=TODAY)


def read_back(plan):
    parsed = parse(*through_a_file(grids_of(plan)))
    assert parsed.problems == ()
    return parsed.plan


def sheet(name, *rows):
    return Grid(sheet=name, rows=rows)


def lines(*grids):
    return [str(problem) for problem in parse(RUN_GRID, *grids).problems]


@SLOW
@given(plans(kinds=("finish-start", "start-start", "finish-finish")))
def test_reading_what_was_written_gives_an_equal_plan(plan):
    assert read_back(plan) == plan


@FEW
@given(part_plans())
def test_a_plan_with_parts_goes_out_and_in(plan):
    assert read_back(plan) == plan


@FEW
@given(wild.parts(), wild.takes(), wild.makes(), wild.lots, wild.shares, wild.contents())
def test_no_part_no_count_and_no_lot_is_lost(part, takes, makes, lots, share, contents):
    job = Job(
        code="a", supplier="b", lead=Lead(1, 1, 1, "wd"), takes=takes, makes=makes, lots=lots, yields=share,
        unders=share, overs=1 - share,
    )  # fmt: skip
    wave = Shipment(code="w", quantity=sum(one.quantity for one in contents), contents=contents)
    plan = Plan(run=RUN_ROW, parts=(part,), jobs=(job,), shipments=(wave,))
    assert read_back(plan) == plan


@SLOW
@given(st.lists(wild.facts(), max_size=5).map(tuple))
def test_no_fact_loses_a_field_or_its_place(facts):
    assert read_back(Plan(run=RUN_ROW, facts=facts)).facts == facts


@SLOW
@given(wild.leads(), st.lists(wild.links, max_size=4).map(tuple), wild.texts, wild.spans)
def test_no_job_loses_a_field(lead, after, text, travel):
    job = Job(code="a", supplier="b", lead=lead, after=after, name=text, said=text, travel=travel)
    assert read_back(Plan(run=RUN_ROW, jobs=(job,))).jobs == (job,)


@SLOW
@given(st.lists(wild.tolds, max_size=4).map(tuple), wild.texts, wild.spans)
def test_no_told_date_and_no_bank_days_are_lost(told, text, bank):
    plan = Plan(
        run=RUN_ROW,
        suppliers=(Supplier(code="s", contact=text, workdays=text, bank=bank),),
        shipments=(Shipment(code="w", quantity=1, told=told, name=text),),
    )
    assert read_back(plan) == plan


def test_a_plan_with_every_key_goes_out_and_in():
    assert read_back(EXPECTED) == EXPECTED
    assert check_plan(read_back(EXPECTED), TODAY) == ()


@pytest.mark.parametrize("first_plan", [None, FirstPlan()])
def test_an_empty_first_plan_stays_apart_from_none(first_plan):
    plan = Plan(run=RUN_ROW, first_plan=first_plan)
    assert read_back(plan).first_plan == first_plan


TEXTS = (
    "=1+1", "+44 114", "-1", "@SUM(A1)", "'quoted", '"quoted"', '"', "240", "007", "1.50", "1e5", "2026-12-04",
    "4/12", "TRUE", "yes", "none", "None", "[1]", "[", "{ a = 1 }", "#N/A", "#REF!", " blank before", "after ",
    "two\nlines", "tab\there", "\r\n", "_x0041_", "x_x000D_y", "\x01", "\x85", "\u00a0", "\ufffe", "a, b", "a;b",
    "Gehäuse", "磁石", "🧲", "true", "\\u0041", "", "a" * 32_767,
)  # fmt: skip


@pytest.mark.parametrize("text", TEXTS, ids=[repr(text[:20]) for text in TEXTS])
def test_text_stays_the_text_it_was(text):
    plan = Plan(
        run=Run(code="dial-1", quantity=1, start=TODAY, product=text),
        suppliers=(Supplier(code="s", workdays=text, contact=text),),
        facts=(Fact(on=TODAY, kind="note", logged=TODAY, note=text),),
    )
    assert read_back(plan) == plan


@pytest.mark.parametrize("number", [0, -3, 10**15, 123_456_789_012_345_678])
@pytest.mark.parametrize(
    "start", [date(1899, 12, 31), date(1900, 2, 28), date(1900, 3, 1), date(9999, 12, 31)]
)
def test_numbers_and_days_that_no_cell_holds_exactly_stand_as_text(number, start):
    """A cell's number is a double of 53 bits (IEEE 754); day numbers before March 1900 differ between programs."""
    plan = Plan(run=Run(code="dial-1", quantity=number, start=start))
    row = cells(plan, "run")
    assert isinstance(row["quantity"], str) == (number >= 10**15)
    assert isinstance(row["start"], str) == (start < date(1900, 3, 1))
    assert read_back(plan) == plan


def test_a_text_longer_than_a_cell_is_refused():
    plan = Plan(run=Run(code="dial-1", quantity=1, start=TODAY, product="🧲" * 16_384))
    with pytest.raises(Refused, match="longer than the 32767 letters"):
        book_of(plan)


def cells(plan, name):
    """Filled cells of the only row of a sheet, by heading."""
    found = next(one for one in book_of(plan) if one.name == name)
    (row,) = found.rows
    return {column.key: cell for column, cell in zip(found.columns, row, strict=True) if cell is not None}


def test_cells_hold_what_one_would_type():
    job = EXPECTED.jobs[3]
    plan = Plan(run=EXPECTED.run, suppliers=EXPECTED.suppliers[:1], jobs=(job,), shipments=EXPECTED.shipments)
    assert cells(plan, "run") == {
        "code": "dial-1", "product": 'Tabletop "tide" dial', "quantity": 240, "currency": "GBP",
        "start": date(2026, 6, 15), "today": TODAY, "dates": "day first",
    }  # fmt: skip
    assert cells(plan, "job") | {"after": ""} == {
        "code": "finish-natural", "name": "Blast and anodize, natural", "public_name": "Anodizing, natural",
        "supplier": "varne", "process": "anodizing", "rate": "setup=1wd per_day=12",
        "said": "8 working days in the shop", "quantity": 96, "travel": "3cd", "not_before": date(2026, 10, 1),
        "clock": "order, drawing", "leave_when": "balance", "after": "",
    }  # fmt: skip
    assert cells(plan, "supplier")["closures"] == "2026-12-21..2027-01-04 works shutdown"
    assert cells(plan, "shipment")["told"] == (
        "2026-06-30:2026-12-18, 2026-10-16:2027-01-10..2027-01-20 mid-January"
    )


def test_what_the_typed_form_would_lose_stands_as_toml():
    told = (Told(on=TODAY, last=TODAY, words="mid-January, or later"),)
    links = (Link(job="a", kind="start-start", lag=Span(2)), Link(job="b"))
    jobs = (Job(code="j", supplier="s", lead=Lead(3, 3, 3, "wd"), after=links, clock=()),)
    plan = Plan(run=RUN_ROW, jobs=jobs, shipments=(Shipment(code="w", quantity=1, told=told),))
    assert cells(plan, "shipment")["told"] == (
        '[{ on = 2026-11-24, for = 2026-11-24, words = "mid-January, or later" }]'
    )
    assert cells(plan, "job")["after"] == '[{ job = "a", kind = "start-start", lag = "2cd" }, "b"]'
    assert cells(plan, "job")["clock"] == "none"
    assert read_back(plan) == plan


def test_every_key_of_every_table_is_a_column_once():
    """The sheets take their columns from the tables, so this holds the guide to the tables."""
    keys = {name: [column.key for column in one.columns] for name, one in SHEETS.items()}
    assert keys["fact"].count("last") == 1
    assert set(keys["fact"]) == {key for table in FACT_TABLES for key in table.by_name}
    for name, table in (
        ("run", RUN),
        ("supplier", SUPPLIER),
        ("part", PART),
        ("job", JOB),
        ("shipment", SHIPMENT),
    ):
        assert sorted(keys[name]) == sorted(table.by_name)


def test_a_blank_book_has_every_sheet_and_no_row():
    assert [one.name for one in blank_book()] == [
        "run", "supplier", "part", "job", "shipment", "option", "fact", "first_plan", "public_holidays",
    ]  # fmt: skip
    assert not any(one.rows for one in blank_book())


def test_an_untouched_blank_book_says_what_is_missing():
    grids = [sheet(one.name, tuple(column.key for column in one.columns)) for one in blank_book()]
    assert [str(problem) for problem in parse(*grids).problems] == [
        "plan.xlsx, sheet run, row 2: is empty; write code, quantity and start of the run below their headings"
    ]


@pytest.mark.parametrize(
    ("key", "cell", "as_stored"),
    [
        pytest.param("quantity", "96", 96, id="a number as text"),
        pytest.param("quantity", 96.0, 96, id="a whole number with a point"),
        pytest.param("not_before", "2026-10-01", date(2026, 10, 1), id="a date as text"),
        pytest.param("not_before", MIDNIGHT, date(2026, 10, 1), id="a date at midnight"),
        pytest.param("name", 7, "7", id="a number where text belongs"),
        pytest.param("name", 7.5, "7.5", id="a number with a point where text belongs"),
        pytest.param("name", MIDNIGHT, "2026-10-01", id="a date where text belongs"),
        pytest.param("name", time(8), "08:00:00", id="a time where text belongs"),
        pytest.param("name", True, "TRUE", id="a yes-or-no where text belongs"),
        pytest.param("name", " boxes\u00a0", "boxes", id="blanks around"),
        pytest.param("gate", True, True, id="TRUE"),
        pytest.param("gate", "No", False, id="no with a capital"),
        pytest.param("gate", "true", True, id="true as in a plan file"),
        pytest.param("clock", "none", (), id="no clock"),
        pytest.param("clock", "order,\npayment,", ("order", "payment"), id="a list over lines"),
        pytest.param("after", "fit on fail lag 2cd", (Link(job="fit", on="fail", lag=Span(2)),), id="a link"),
        pytest.param("after", 12, (Link(job="12"),), id="a code that looks like a number"),
        pytest.param("travel", "4 cd", Span(4), id="a blank before the unit"),
    ],
)  # fmt: skip
def test_cells_are_read_whatever_a_spreadsheet_program_made_of_them(key, cell, as_stored):
    job = sheet("job", ("code", "supplier", "lead", key), ("boxes", "mill", "3wd", cell))
    parsed = parse(RUN_GRID, job)
    assert parsed.problems == ()
    assert getattr(parsed.plan.jobs[0], key) == as_stored


def test_capitals_of_a_choice_are_no_mistake():
    parsed = parse(
        RUN_GRID,
        sheet("Supplier", ("Code", "Dates mean"), ("mill", "In hand"), ("road", "Leaves")),
        sheet("fact", ("on", "kind", "supplier"), (TODAY, "Called", "mill")),
    )
    assert parsed.problems == ()
    assert [one.dates_mean for one in parsed.plan.suppliers] == ["in hand", "leaves"]
    assert parsed.plan.facts[0].kind == "called"


def test_order_of_sheets_and_columns_blank_rows_and_columns_of_ones_own_change_nothing():
    grids = []
    for grid in reversed(grids_of(EXPECTED)):
        wider = [("mine", *reversed(row), None, "own sum") for row in grid.rows]
        wider[0] = (None, *reversed(grid.rows[0]), " ", None)
        grids.append(Grid(sheet=grid.sheet, rows=(wider[0], (), (None, "  "), *wider[1:], ("only mine",))))
    grids += [sheet("Read me", ("job", "name")), sheet("Sheet1", (None,), (" ",))]
    parsed = parse(*grids)
    assert parsed.problems == ()
    assert parsed.plan == EXPECTED


def job_with(key, cell):
    return sheet("job", ("code", "supplier", "lead", key), ("boxes", "mill", "3wd", cell))


@pytest.mark.parametrize(
    ("grid", "line"),
    [
        pytest.param(
            job_with("quantity", "many"),
            "sheet job, row 2, D2 (quantity): 'many' is not a whole number; write digits only, such as 240",
            id="text for a number",
        ),
        pytest.param(
            job_with("quantity", 96.5),
            "sheet job, row 2, D2 (quantity): 96.5 is a number; expected a whole number;"
            " write it without quotes and without a point, such as 240",
            id="half a piece",
        ),
        pytest.param(
            job_with("not_before", 46296),
            "sheet job, row 2, D2 (not_before): 46296 is a number; expected a date; write it such as 2026-06-15",
            id="a date that lost its format",
        ),
        pytest.param(
            job_with("not_before", MIDNIGHT + timedelta(hours=8)),
            "sheet job, row 2, D2 (not_before): 2026-10-01 08:00:00 is a date with a time; expected a date;"
            " leave the time out",
            id="a date with a time",
        ),
        pytest.param(
            job_with("travel", 4),
            "sheet job, row 2, D2 (travel): '4' can be read in two ways;"
            " write 4cd (calendar days) or 4wd (their working days)",
            id="days without unit",
        ),
        pytest.param(
            job_with("travel", date(2026, 8, 12)),
            "sheet job, row 2, D2 (travel): 2026-08-12 is a date; expected days with their unit;"
            ' write "12wd" (their working days) or "12cd" (calendar days)',
            id="days that became a date",
        ),
        pytest.param(
            job_with("gate", "maybe"),
            "sheet job, row 2, D2 (gate): 'maybe' is neither yes nor no; write yes or no",
            id="maybe",
        ),
        pytest.param(
            job_with("after", "fit, a b"),
            "sheet job, row 2, D2 (after), item 2: 'a b' is not a link; write CODE, CODE lag 2cd or CODE on fail",
            id="an item of a list",
        ),
        pytest.param(
            job_with("after", '["fit"'),
            "sheet job, row 2, D2 (after): '[\"fit\"' cannot be read; close its brackets and quotes",
            id="an open bracket",
        ),
        pytest.param(
            job_with("rate", "per_day=12"),
            "sheet job, row 2: has both lead and rate; keep one of the two",
            id="both lead and rate",
        ),
        pytest.param(
            sheet("job", ("code", "supplier", "rate"), ("boxes", "mill", "12 a day")),
            "sheet job, row 2, C2 (rate): '12 a day' cannot be read as a rate; write per_day=12 setup=1wd,"
            " or minutes_each=35 hours_per_day=14 setup_h=6 machines=1",
            id="a rate in words",
        ),
        pytest.param(
            sheet("job", ("code", "supplier", "rate"), ("boxes", "mill", "per_day=12 per_day=14")),
            "sheet job, row 2, C2 (rate): 'per_day=12 per_day=14' cannot be read as a rate; write per_day=12"
            " setup=1wd, or minutes_each=35 hours_per_day=14 setup_h=6 machines=1",
            id="a part of a rate twice",
        ),
        pytest.param(
            sheet("job", ("code", "supplier", "rate"), ("boxes", "mill", "per_day=12 setup=1")),
            "sheet job, row 2, C2 (rate), setup: '1' can be read in two ways;"
            " write 1cd (calendar days) or 1wd (their working days)",
            id="a set-up without unit",
        ),
        pytest.param(
            sheet("job", ("code", "supplier", "lead", "rate"), ("boxes", "mill")),
            "sheet job, row 2, C2 (lead): has no lead or rate;"
            " write it, such as 12wd (their working days) or 45cd (calendar days)",
            id="an empty cell that is needed",
        ),
        pytest.param(
            sheet("job", ("code", "lead"), ("boxes", "3wd"), ("pack", "1wd")),
            "sheet job: has no column supplier; write supplier in row 1, and below it such as varne",
            id="a needed column that is not there, told once",
        ),
        pytest.param(
            sheet("job", ("code", "supplier", "laed"), ("boxes", "mill", "3wd"), ("pack", "mill", "1wd")),
            "sheet job, C1: there is no column 'laed'; did you mean lead?",
            id="a misspelt column, told once and read on",
        ),
        pytest.param(
            sheet("job", ("code", "supplier", "lead", "colour"), ("boxes", "mill", "3wd", "red")),
            "sheet job, D1: there is no column 'colour'; take it out; this sheet has code, name, public_name,"
            " supplier, process, lead, rate, said, after, takes, makes, quantity, yield, lots, one_by_one, serves,"
            " rerun, rework_of, unders, overs, travel, not_before, clock, leave_when, gate, retry_of",
            id="a column like no other",
        ),
        pytest.param(
            sheet("job", ("code", "supplier", "lead", "code"), ("boxes", "mill", "3wd", "x")),
            "sheet job, D1: code is there twice, see A1; keep one",
            id="a column twice",
        ),
        pytest.param(
            sheet("jobs", ("code",), ("boxes",)),
            "sheet jobs: is no sheet of a plan; did you mean job?",
            id="a sheet misspelt",
        ),
        pytest.param(
            sheet("Bills", ("code",), ("boxes",)),
            "sheet Bills: is no sheet of a plan; take it out, or name it Read me; a plan has run, supplier, part,"
            " job, shipment, option, fact, first_plan, public_holidays",
            id="a sheet like no other",
        ),
        pytest.param(
            sheet("fact", ("on", "kind", "job", "good"), (TODAY, "started", "boxes", 5)),
            "sheet fact, row 2, D2 (good): a fact 'started' has no good; empty this cell;"
            " it has on, job, kind, note, logged",
            id="a cell that this kind of fact has not",
        ),
        pytest.param(
            sheet("fact", ("on", "kind", "job"), (TODAY, "promise", "boxes")),
            "sheet fact, row 2, B2 (kind): 'promise' is text; expected a kind of fact; did you mean promised?",
            id="a kind of fact there is not",
        ),
        pytest.param(
            sheet("fact", ("on", "job"), (TODAY, "boxes")),
            "sheet fact: has no column kind; write kind in row 1, and below it such as in",
            id="facts without kinds",
        ),
        pytest.param(
            sheet("fact", ("on", "kind", "job", "last"), (TODAY, "in", "boxes", TODAY)),
            "sheet fact, row 2, D2 (last): '2026-11-24' is neither yes nor no; write yes or no",
            id="a date in the last of a delivery",
        ),
        pytest.param(
            sheet("supplier", ("code",), ("mill",), (None,), ("mill",)),
            "sheet supplier, row 4: stands in the file twice; keep one of the two, or give one another code",
            id="a code twice",
        ),
        pytest.param(
            sheet("run", ("code", "quantity", "start"), ("other", 1, TODAY)),
            "sheet run: is there twice; keep one of the two sheets",
            id="a sheet twice",
        ),
    ],
)  # fmt: skip
def test_each_problem_names_its_sheet_row_and_cell(grid, line):
    (found,) = lines(grid)
    assert found == f"plan.xlsx, {line}"


def test_a_formula_without_a_result_is_told_at_its_cell():
    grid = Grid(
        sheet="job",
        rows=(("code", "supplier", "lead", "quantity"), ("boxes", "mill", "3wd", None)),
        formulas=frozenset({(1, 3)}),
    )
    assert lines(grid) == [
        "plan.xlsx, sheet job, row 2, D2 (quantity): is a formula without a result; type the value itself"
    ]


def test_a_second_run_is_refused_at_its_row():
    grid = sheet("run", *RUN_GRID.rows, ("dial-2", 1, TODAY))
    assert [str(problem) for problem in parse(grid).problems] == [
        "plan.xlsx, sheet run, row 3: is a second run; keep one row: a plan is about one run"
    ]


def test_problems_of_meaning_are_found_in_the_sheet():
    parsed = parse(
        sheet("run", ("code", "quantity", "start"), ("dial-1", 0, TODAY)),
        sheet("supplier", ("code", "workdays"), ("mill", "mon-fry")),
        sheet(
            "job",
            ("code", "supplier", "lead", "after"),
            ("boxes", "mill", "3wd"),
            ("pack", "mil", "3wd", "boxs"),
        ),
        sheet("shipment", ("code", "quantity", "after"), ("wave-1", 5, "pak")),
        sheet(
            "fact",
            ("on", "kind", "job", "good"),
            (TODAY, "in", "boxes", -1),
            (TODAY, "in", "boxes", -1),
            (TODAY, "in", "box", 1),
        ),
        sheet("first_plan", ("shipment", "date"), ("wave-2", TODAY)),
    )
    assert parsed.problems == ()
    found = placed(check_plan(parsed.plan, TODAY), parsed.rows, "plan.xlsx")
    assert [f"{problem.place}: {problem.found}" for problem in found] == [
        "plan.xlsx, sheet run, row 2, B2 (quantity): is 0; expected 1 or more",
        "plan.xlsx, sheet supplier, row 2, B2 (workdays): 'fry' is not a weekday",
        "plan.xlsx, sheet job, row 3, B3 (supplier): there is no supplier 'mil'",
        "plan.xlsx, sheet job, row 3, D3 (after): there is no job 'boxs'",
        "plan.xlsx, sheet shipment, row 2, C2 (after): there is no job 'pak'",
        "plan.xlsx, sheet fact, row 2 or 3 (good): is -1; expected 0 or more",
        "plan.xlsx, sheet fact, row 2 or 3 (good): is -1; expected 0 or more",
        "plan.xlsx, sheet fact, row 4: there is no job 'box'",
        "plan.xlsx, sheet first_plan, row 2: there is no shipment 'wave-2'",
    ]


def test_one_mistake_in_a_row_makes_no_more_of_those_that_name_it():
    parsed = parse(
        RUN_GRID,
        sheet("supplier", ("code", "bank"), ("mill", "soon")),
        sheet("job", ("code", "supplier", "lead"), ("boxes", "mill", "3 weeks"), ("pack", "mill", "1wd")),
        sheet("shipment", ("code", "quantity", "after"), ("wave-1", 5, "boxes")),
    )
    assert [problem.place for problem in parsed.problems] == [
        "plan.xlsx, sheet supplier, row 2, B2 (bank)",
        "plan.xlsx, sheet job, row 2, C2 (lead)",
    ]
    assert check_plan(parsed.plan, TODAY, unreadable=parsed.unreadable) == ()

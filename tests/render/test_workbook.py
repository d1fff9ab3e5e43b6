import re
import zipfile
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from tracker.errors import Refused
from tracker.plan.model import (
    Closure,
    Fact,
    FirstPlan,
    Job,
    Link,
    Plan,
    PlannedJob,
    Run,
    Shipment,
    Supplier,
    Told,
)
from tracker.plan.span import Lead
from tracker.planfile.merging import merge
from tracker.planfile.reading import parse_plan
from tracker.render.tints import GREY, TINTS, hue_of
from tracker.render.workbook import write_backers
from tracker.report.backers import BackersReport, backers_report
from tracker.report.picture import Picture
from tracker.schedule.first_plan import first_plan_of
from tracker.schedule.forecast import Forecast

TODAY = date(2026, 11, 24)
DEMO = Path(__file__).parents[2] / "demo_db"
# The starts that make a cell a formula, and others with them: OWASP, "CSV Injection" (read).
FORMULA_STARTS = ("=1+1", "+1+1", "-1+1", "@SUM(1)", "\t=1+1", "\r=1+1", "\n=1+1")


@pytest.fixture(scope="module")
def demo() -> Plan:
    june, november = (
        parse_plan((DEMO / name).read_text(), source=name, today=TODAY).plan
        for name in ("1-june.toml", "2-november.toml")
    )
    return replace(merge(june, november), first_plan=first_plan_of(june))


@pytest.fixture(scope="module")
def report(demo) -> BackersReport:
    return reported(demo)


@pytest.fixture(scope="module")
def path(report, tmp_path_factory) -> Path:
    place = tmp_path_factory.mktemp("demo") / "backers.xlsx"
    write_backers(report, place)
    return place


@pytest.fixture(scope="module")
def book(path) -> Workbook:
    return load_workbook(path)


def reported(plan: Plan, today: date = TODAY) -> BackersReport:
    return backers_report(Picture(Forecast(plan, today)))


def small_plan(**changes: object) -> Plan:
    job = Job(code="box", public_name="Boxes", supplier="print", lead=Lead(5, 5, 5, "wd"))
    parts = {
        "run": Run(code="run-1", product="Lamp", quantity=10, start=date(2026, 11, 2)),
        "suppliers": (Supplier(code="print", public_name="our printer"),),
        "jobs": (job,),
        "shipments": (Shipment(code="wave-1", quantity=10, after=("box",)),),
    }
    return Plan(**{**parts, **changes})


def rows(sheet: Worksheet) -> list[tuple]:
    return [tuple(day(value) for value in row) for row in sheet.iter_rows(values_only=True)]


def day(value: object) -> object:
    return value.date() if isinstance(value, datetime) else value


def row_of(sheet: Worksheet, name: str, nth: int = 0) -> tuple:
    return [row for row in rows(sheet) if row[0] == name][nth]


def written(cells: Workbook) -> list:
    return [cell for sheet in cells for row in sheet.iter_rows() for cell in row if cell.value is not None]


def whole_text(path: Path) -> str:
    """Every part of the file as text, the names of its parts included."""
    with zipfile.ZipFile(path) as parts:
        return "\n".join(name + "\n" + parts.read(name).decode() for name in parts.namelist())


# This week


def test_the_sheets_stand_in_the_order_a_backer_asks(book):
    assert book.sheetnames == ["This week", "Progress", "Full sets", "Weeks"]


# Dates of the demo scenario, worked out by plain day counting apart from this code.
def test_a_shipment_shows_its_forecast_against_the_last_day_told(book):
    week = book["This week"]
    assert row_of(week, "Expected now", 0)[3:] == (date(2027, 1, 14), "6 days before the last day we told")
    assert row_of(week, "Expected now", 1)[3:] == (
        date(2027, 2, 5),
        "LATE: 16 days after the last day we told",
    )


def test_every_date_told_stands_beside_the_newest_with_the_day_it_was_told(book):
    week = book["This week"]
    newest = (date(2026, 10, 16), date(2027, 1, 10), date(2027, 1, 20), "mid-January")
    assert row_of(week, "Told last", 1)[1:] == newest
    assert row_of(week, "Told before", 1)[1:] == (
        date(2026, 6, 30), None, date(2026, 12, 18), "all posted by 18 Dec 2026",
    )  # fmt: skip


def test_each_shipment_says_what_holds_it_in_plain_words(book):
    week = book["This week"]
    assert row_of(week, "What holds it", 0)[4].startswith("Boxes and leaflets: waits for a payment from us")
    assert row_of(week, "What holds it", 1)[4].startswith(
        "Magnet export licence: promised by our magnet maker"
    )


def test_what_came_and_what_is_late_are_listed(book):
    week = book["This week"]
    assert row_of(week, "Box artwork")[:3] == ("Box artwork", date(2026, 11, 19), "done")
    late = row_of(week, "Magnet export licence")
    assert late[1:4] == (date(2026, 8, 28), date(2026, 12, 4), 98)
    assert late[4].endswith("dates given before: 16 Oct, 6 Nov, 20 Nov")


def test_a_date_that_rests_on_silence_is_at_best_and_names_the_step(tmp_path):
    said = Fact(
        on=date(2026, 11, 9), logged=date(2026, 11, 9), kind="promised", job="box", day=date(2026, 11, 20)
    )
    place = tmp_path / "b.xlsx"
    write_backers(reported(small_plan(facts=(said,))), place)
    texts = [cell.value for cell in written(load_workbook(place)) if isinstance(cell.value, str)]
    assert "AT BEST: 1 date it rests on passed without news (Boxes)" in texts


def test_a_posted_shipment_shows_the_day_it_went(tmp_path):
    went = Fact(on=date(2026, 11, 20), logged=date(2026, 11, 20), kind="posted", shipment="wave-1", good=10)
    place = tmp_path / "b.xlsx"
    write_backers(reported(small_plan(facts=(went,))), place)
    sheets = load_workbook(place)
    assert row_of(sheets["This week"], "Posted")[3] == date(2026, 11, 20)
    assert row_of(sheets["Weeks"], "Wave 1")[1:3] == ("POSTED", date(2026, 11, 20))


def test_a_run_without_a_product_name_told_dates_or_first_plan_still_makes_a_workbook(tmp_path):
    plan = small_plan(jobs=(), shipments=(), run=Run(code="r", quantity=1, start=date(2026, 11, 2)))
    place = tmp_path / "b.xlsx"
    write_backers(reported(plan), place)
    assert rows(load_workbook(place)["This week"])[0][0] == "Weekly status"


# Progress and weeks


def test_progress_has_one_row_a_job_with_first_plan_and_expected_dates(book, report):
    progress = book["Progress"]
    assert progress.max_row == len(report.progress) + 1
    assert row_of(progress, "Boxes and leaflets") == (
        "Boxes and leaflets", "WAITS ON US", "LATE", date(2026, 9, 11), date(2026, 10, 14),
        date(2026, 11, 25), date(2027, 1, 9), 87, 228, 0, 250,
    )  # fmt: skip


def test_the_header_of_progress_stays_in_sight_filters_and_repeats_on_paper(book, report):
    progress = book["Progress"]
    assert progress.freeze_panes == "B2"
    assert progress.auto_filter.ref == f"A1:K{len(report.progress) + 1}"
    assert progress.print_title_rows == "$1:$1"


def test_weeks_carry_letters_and_one_tick_for_the_first_plan(book, report):
    weeks = book["Weeks"]
    marks = {value for row in rows(weeks)[5 : 5 + len(report.weeks.rows)] for value in row[3:] if value}
    assert marks == {"m", "t", "w", "^", "m ^"}
    boards = row_of(weeks, "Circuit board assembly, last part")
    assert [value for value in boards[3:] if value] == ["m", "m", "m", "m", "m", "t"]


def test_each_week_is_headed_by_its_monday_and_todays_says_so(book):
    today, mondays = rows(book["Weeks"])[3], rows(book["Weeks"])[4]
    assert all(monday.weekday() == 0 for monday in mondays[3:])
    assert mondays[today.index("today")] == date(2026, 11, 23)


def test_a_shipment_is_a_boxed_date_in_its_week(book):
    weeks = book["Weeks"]
    boxed = [cell for cell in written(book) if cell.parent is weeks and cell.border.left]
    assert [cell.value for cell in boxed] == [
        "Thu\u00a014\u00a0Jan".replace("\u00a0", " ", 1),
        "Fri 5\u00a0Feb",
    ]
    assert [day(weeks.cell(5, cell.column).value) for cell in boxed] == [date(2027, 1, 11), date(2027, 2, 1)]


# What a reader's program sees


def test_days_are_real_dates_that_show_their_weekday(book):
    dates = [cell for cell in written(book) if cell.is_date]
    assert len(dates) > 100
    assert {cell.number_format for cell in dates} == {"ddd d mmm yyyy"}


def test_every_page_is_landscape_a4_one_page_wide_and_says_its_day_and_number(book):
    for sheet in book:
        assert (sheet.page_setup.orientation, sheet.page_setup.paperSize) == ("landscape", 9)
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.oddFooter.left.text == "Status on Tue 24 Nov 2026"
        assert sheet.oddFooter.right.text == "Page &P of &N"
        assert sheet.print_title_rows
        assert not sheet.merged_cells.ranges


def test_a_tint_never_stands_without_its_word(book):
    filled = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.fill.fill_type]
    assert filled
    assert all(cell.value for cell in filled)


@pytest.mark.parametrize("colour", [*TINTS.values(), GREY])
def test_black_text_on_a_tint_reads(colour):
    """WCAG 2 contrast of 4.5 to 1 and its relative luminance, both from memory."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (0, 2, 4)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    luminance = sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
    assert (luminance + 0.05) / 0.05 >= 4.5


def test_late_waiting_moving_and_done_never_share_a_tint():
    assert len({hue_of(word) for word in ("LATE", "TIGHT", "WAITS ON US", "ON THE WAY", "DONE")}) == 5


# Text stays text


@pytest.mark.parametrize("text", [*FORMULA_STARTS, "#N/A", "=HYPERLINK(A1)"])
def test_text_that_looks_like_a_formula_stays_text(text, tmp_path):
    job = Job(code="box", public_name=text, supplier="print", lead=Lead(5, 5, 5, "wd"))
    told = Told(on=date(2026, 11, 2), last=date(2026, 12, 1), words=text)
    plan = small_plan(
        run=Run(code="r", product=text, quantity=1, start=date(2026, 11, 2)),
        jobs=(job,),
        shipments=(Shipment(code="wave-1", public_name=text, quantity=1, after=("box",), told=(told,)),),
    )
    place = tmp_path / "b.xlsx"
    write_backers(reported(plan), place)
    cells = [cell for cell in written(load_workbook(place)) if cell.value == text.strip()]
    assert len(cells) >= 5
    assert {cell.data_type for cell in cells} == {"s"}
    assert all(cell.quotePrefix for cell in cells) == (not text.startswith("#"))
    assert not re.search("<f[ >]", whole_text(place))


@settings(max_examples=60, deadline=None)
@given(text=st.text(st.characters(exclude_categories=())), told=st.text())
def test_any_text_makes_a_workbook_that_opens(tmp_path_factory, text, told):
    words = (Told(on=date(2026, 11, 2), last=date(2026, 12, 1), words=told),)
    plan = small_plan(
        run=Run(code="r", product=text, quantity=1, start=date(2026, 11, 2)),
        shipments=(Shipment(code="wave-1", public_name=text, quantity=1, after=("box",), told=words),),
    )
    place = tmp_path_factory.mktemp("any") / "b.xlsx"
    write_backers(reported(plan), place)
    assert load_workbook(place).sheetnames == ["This week", "Progress", "Weeks"]


def test_characters_a_workbook_cannot_hold_are_left_out(tmp_path):
    plan = small_plan(
        run=Run(code="r", product="La\x00mp \ud800\ufffe\x1b[31m <b>&", quantity=1, start=date(2026, 11, 2))
    )
    place = tmp_path / "b.xlsx"
    write_backers(reported(plan), place)
    assert rows(load_workbook(place)["This week"])[0][0] == "La mp [31m <b>&"


# Only what is public


def test_no_inside_word_of_any_kind_reaches_the_file(tmp_path):
    """Every text and count that is not public carries a mark; the mark is nowhere in the unzipped file."""
    inside = {"name": "SECRET-name", "process": "SECRET-process", "said": "SECRET-said"}
    common = {"supplier": "SECRET-supplier", "lead": Lead(5, 5, 5, "wd"), **inside}
    jobs = (
        Job(code="SECRET-box", public_name="Boxes", **common),
        Job(code="SECRET-blank", after=(Link(job="SECRET-box"),), **common),
        Job(
            code="SECRET-pack", public_name="Packing", after=(Link(job="SECRET-blank"),), gate=True, **common
        ),
    )
    supplier = Supplier(
        code="SECRET-supplier",
        name="SECRET-firm",
        contact="SECRET-contact",
        closures=(Closure(first=date(2026, 12, 21), last=date(2026, 12, 24), why="SECRET-why"),),
    )
    happened = {
        "on": date(2026, 11, 20),
        "logged": date(2026, 11, 20),
        "note": "SECRET-note",
        "ref": "SECRET-ref",
    }
    facts = (
        Fact(kind="ordered", job="SECRET-box", **happened),
        Fact(kind="promised", job="SECRET-box", day=date(2026, 11, 23), words="SECRET-words", **happened),
        Fact(kind="in", job="SECRET-box", good=71113, rework=71114, scrap=71115, **happened),
        Fact(kind="ordered", job="SECRET-blank", **happened),
        Fact(kind="promised", job="SECRET-blank", day=date(2026, 11, 21), words="SECRET-words", **happened),
        Fact(kind="decided", words="SECRET-decision", **happened),
    )
    shipment = Shipment(
        code="SECRET-wave", name="SECRET-wave-name", public_name="Parcels", quantity=9, after=("SECRET-pack",)
    )
    plan = small_plan(suppliers=(supplier,), jobs=jobs, shipments=(shipment,), facts=facts)
    place = tmp_path / "b.xlsx"
    write_backers(reported(replace(plan, first_plan=first_plan_of(plan))), place)
    text = whole_text(place)
    assert "Parcels" in text
    assert "AT BEST" in text
    assert "SECRET" not in text
    assert not re.search("7111[345]", text)


def test_the_demo_gives_away_no_supplier_contact_inside_name_or_note(demo, path):
    text = whole_text(path)
    inside = {
        *(part for one in demo.suppliers for part in (one.name, one.contact)),
        *(job.name for job in demo.jobs if job.name != job.public_name),
        *(job.said for job in demo.jobs),
        *(shipment.name for shipment in demo.shipments),
        *(part for fact in demo.facts for part in (fact.note, fact.words, fact.ref)),
    } - {""}
    assert len(inside) > 80
    assert [part for part in inside if part in text] == []


def test_the_demo_shows_no_code_unless_it_is_a_plain_word_of_a_public_name(demo, book):
    public = " ".join(one.public_name for one in (*demo.suppliers, *demo.jobs, *demo.shipments)).lower()
    codes = {one.code for one in (*demo.suppliers, *demo.jobs, *demo.shipments) if one.code not in public}
    assert len(codes) > 25
    shown = " ".join(str(cell.value) for cell in written(book))
    assert [code for code in codes if re.search(rf"\b{re.escape(code)}\b", shown, re.IGNORECASE)] == []


def test_nothing_is_hidden_or_commented(book):
    assert {sheet.sheet_state for sheet in book} == {"visible"}
    assert all(cell.comment is None and cell.hyperlink is None for cell in written(book))
    assert not book.defined_names


# The file


def test_the_file_names_no_author_machine_or_moment(path):
    with zipfile.ZipFile(path) as parts:
        about = parts.read("docProps/core.xml").decode()
        assert {part.date_time for part in parts.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert "Ebbstone, a tabletop tide dial</dc:title>" in about
    assert re.findall(r"<dcterms:\w+[^>]*>([^<]*)<", about) == ["2026-11-24T00:00:00Z"] * 2
    assert not re.search("creator|lastModifiedBy", about)
    assert "openpyxl" not in whole_text(path)


def test_the_same_report_gives_the_same_bytes(report, path, tmp_path):
    write_backers(report, tmp_path / "again.xlsx")
    assert (tmp_path / "again.xlsx").read_bytes() == path.read_bytes()


def test_an_older_file_is_replaced_whole(report, path, tmp_path):
    place = tmp_path / "b.xlsx"
    place.write_text("last week's")
    write_backers(report, place)
    assert place.read_bytes() == path.read_bytes()
    assert list(tmp_path.iterdir()) == [place]


@pytest.mark.parametrize(
    ("name", "why"),
    [
        pytest.param("nowhere/b.xlsx", "there is no folder", id="the folder is missing"),
        pytest.param("folder", "it is a folder, not a file", id="a folder has that name"),
        pytest.param("note.txt/b.xlsx", "there is no folder", id="a file stands where the folder should be"),
    ],
)
def test_a_place_that_cannot_be_written_is_refused_and_nothing_is_left(report, tmp_path, name, why):
    (tmp_path / "folder").mkdir()
    (tmp_path / "note.txt").write_text("kept")
    with pytest.raises(Refused, match=why) as refusal:
        write_backers(report, tmp_path / name)
    assert str(tmp_path / name) in refusal.value.message
    assert refusal.value.hint
    assert sorted(one.name for one in tmp_path.rglob("*")) == ["folder", "note.txt"]


# Counts of days


@pytest.mark.parametrize(
    ("late", "shown"),
    [
        (-6, '0" days";-0" days"'),
        (-1, '0" day";-0" day"'),
        (1, '0" day";-0" day"'),
        (0, '0" days";-0" days"'),
    ],
)
def test_early_days_keep_their_sign_and_one_day_its_word(late, shown, tmp_path):
    """A format of sections without conditions keeps the sign; one with conditions lost it in LibreOffice (seen in a CSV it wrote)."""
    planned = PlannedJob(
        job="box",
        start=date(2026, 11, 2),
        finish=date(2026, 12, 1),
        arrives=date(2026, 12, 1) - timedelta(days=late),
    )
    plan = small_plan(
        first_plan=FirstPlan(jobs=(planned,)),
        facts=(
            Fact(kind="promised", job="box", day=date(2026, 12, 1), on=TODAY, logged=TODAY),
            Fact(kind="started", job="box", on=TODAY, logged=TODAY),
        ),
    )
    place = tmp_path / "b.xlsx"
    write_backers(reported(plan), place)
    cell = load_workbook(place)["Progress"]["H2"]
    assert (cell.value, cell.number_format) == (late, shown)

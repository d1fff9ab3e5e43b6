"""The sheet *Full sets* and the counts of *Progress*: the view's own numbers, public names, no rejects."""

import re
from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from openpyxl import load_workbook

from tests.render.test_workbook import day, row_of, rows, small_plan, whole_text, written
from tests.report.counting import PLAN, TODAY, fact, picture, with_facts, with_job, with_part
from tracker.plan.parts import Part
from tracker.render.workbook import write_backers
from tracker.report.backers import backers_report
from tracker.report.full_sets import full_sets

PUBLIC = {
    "magnet": "Ring magnets", "board": "Circuit boards", "screw": "Screws",
    "housing-graphite": "Housings, graphite", "housing-natural": "Housings, natural",
    "unit-graphite": "Graphite", "unit-natural": "Natural",
}  # fmt: skip


def public(plan):
    """The plan with public names for its jobs and most of its parts, and its units named."""
    return replace(
        plan,
        run=replace(plan.run, unit="unit-graphite, unit-natural"),
        jobs=tuple(replace(one, public_name=f"Work on {one.code}") for one in plan.jobs),
        parts=tuple(replace(one, public_name=PUBLIC.get(one.code, "")) for one in plan.parts),
    )


def in_three(plan):
    """The plan with its magnets in three lots, each promised for a day."""
    given = {"on": TODAY, "logged": TODAY}
    promised = [(date(2026, 12, 3), 160), (date(2026, 12, 10), 160), (date(2026, 12, 11), 200)]
    plan = with_facts(plan, fact("ordered", "magnets", date(2026, 11, 2)))
    return with_facts(
        plan,
        *(replace(fact("promised", "magnets", TODAY, day=on, good=good), **given) for on, good in promised),
    )


def book_of(plan, folder):
    place = folder / "b.xlsx"
    write_backers(backers_report(picture(plan)), place)
    return load_workbook(place)


@pytest.fixture
def book(tmp_path):
    return book_of(in_three(public(PLAN)), tmp_path)


# The sheet


def test_the_sheet_stands_before_the_weeks_and_only_where_sets_are_counted(book, tmp_path):
    assert book.sheetnames == ["This week", "Progress", "Full sets", "Weeks"]
    assert book_of(small_plan(), tmp_path).sheetnames == ["This week", "Progress", "Weeks"]


def evenings(sheet):
    """The table of evenings below its heading."""
    found = rows(sheet)
    start = next(n for n, row in enumerate(found) if row[0] == "Evening of")
    return found[start], found[start + 1 :]


def test_the_table_has_each_change_and_the_evening_before_it_up_to_the_last_shipment(book):
    heading, lines = evenings(book["Full sets"])
    assert heading[:7] == (
        "Evening of", "Full sets", "Graphite", "Natural", "Wave 1", "Wave 2 and those before", "What arrives",
    )  # fmt: skip
    assert [line[:2] for line in lines[:6]] == [
        (date(2026, 11, 24), 0),
        (date(2026, 12, 2), 0),
        (date(2026, 12, 3), 80),
        (date(2026, 12, 9), 80),
        (date(2026, 12, 10), 160),
        (date(2026, 12, 11), 250),
    ]
    last = max(one.forecast for one in backers_report(picture(in_three(PLAN))).shipments)
    assert lines[-1][:2] == (last, 250)


def test_the_numbers_of_the_table_are_those_of_the_view(book):
    view = full_sets(picture(in_three(public(PLAN))))
    _, lines = evenings(book["Full sets"])
    by_day = {line[0]: line for line in lines}
    for one in view.curve:
        assert by_day[one.day][1:4] == (one.total, *one.by_unit.values())
    assert {line[4:6] for line in lines} == {tuple(one.upto for one in view.shipments)}


def test_the_chart_draws_the_table_against_real_days(book):
    sheet = book["Full sets"]
    (chart,) = sheet._charts
    heading, lines = evenings(sheet)
    first = next(row for row in range(1, sheet.max_row + 1) if sheet.cell(row, 1).value == "Evening of")
    drawn = [
        (one.tx.strRef.f, one.cat.numRef.f, one.val.numRef.f, one.graphicalProperties.line.dashStyle)
        for one in chart.series
    ]
    span = f"${first + 1}:${{}}${first + len(lines)}"
    for place, (title, days, numbers, dash) in zip((2, 5, 6), drawn, strict=True):
        letter = "ABCDEFG"[place - 1]
        assert title == f"'Full sets'!{letter}{first}"
        assert days == f"'Full sets'!$A{span.format('A')}"
        assert numbers == f"'Full sets'!${letter}{span.format(letter)}"
        assert (dash == "solid") == (heading[place - 1] == "Full sets")
    assert len({dash for *_, dash in drawn}) == 3
    assert chart.x_axis.number_format.formatCode == "d mmm yyyy"
    assert (chart.x_axis.tagname, chart.x_axis.delete, chart.y_axis.delete) == ("dateAx", False, False)


def test_the_chart_is_black_and_grey_and_says_what_it_shows(book):
    (chart,) = book["Full sets"]._charts
    colours = {one.graphicalProperties.line.solidFill.srgbClr for one in chart.series}
    assert all(len({colour[:2], colour[2:4], colour[4:]}) == 1 for colour in colours)
    titles = [one.tx.rich.p[0].r[0].t for one in (chart.title, chart.x_axis.title, chart.y_axis.title)]
    assert titles == ["Complete sets there are parts for", "Evening of", "Units"]


def test_each_shipment_has_the_day_its_parts_are_here(book):
    sheet = book["Full sets"]
    assert row_of(sheet, "Wave 1")[:4] == ("Wave 1", 80, 80, date(2026, 12, 3))
    assert row_of(sheet, "Wave 2")[:4] == ("Wave 2", 148, 228, date(2026, 12, 11))


def test_a_shipment_nothing_fills_says_so(tmp_path):
    plan = public(PLAN)
    plan = replace(plan, jobs=tuple(one for one in plan.jobs if one.code != "magnets"))
    sheet = book_of(with_part(plan, "magnet", here=Fraction(300)), tmp_path)["Full sets"]
    assert row_of(sheet, "Wave 2")[3] == "not with what is planned"


def test_what_there_is_today_is_said_with_what_is_short(book, tmp_path):
    assert rows(book["Full sets"])[2][0] == "On Tue 24 Nov 2026: parts here for 0. Short: Ring magnets."
    built = with_facts(
        with_part(public(PLAN), "magnet", here=Fraction(61)), fact("made", "build-graphite", TODAY, good=10)
    )
    said = rows(book_of(built, tmp_path)["Full sets"])[2][0]
    assert said.startswith("On Tue 24 Nov 2026: 10 built, parts here for 20 more.")


def test_a_part_without_a_public_name_is_another_part(tmp_path):
    book = book_of(with_part(in_three(public(PLAN)), "magnet", public_name=""), tmp_path)
    texts = [cell.value for cell in written(book) if isinstance(cell.value, str)]
    assert "On Tue 24 Nov 2026: parts here for 0. Short: another part." in texts
    assert not [text for text in texts if re.search(r"\bmagnet\b", text)]


def test_products_are_told_apart_only_where_all_have_public_names(tmp_path):
    heading, lines = evenings(
        book_of(with_part(in_three(public(PLAN)), "unit-natural", public_name=""), tmp_path)["Full sets"]
    )
    assert heading[:5] == ("Evening of", "Full sets", "Wave 1", "Wave 2 and those before", "What arrives")
    assert lines[5][1] == 250


def test_a_change_that_rests_on_a_date_without_news_is_at_best(book):
    _, lines = evenings(book["Full sets"])
    told = {line[0]: line[6] for line in lines}
    assert told[date(2026, 12, 3)] == "AT BEST: Ring magnets"
    assert told[date(2026, 12, 2)] is None


# Counts of progress


def test_progress_has_what_is_needed_has_come_and_is_to_come(book):
    progress = book["Progress"]
    assert [cell.value for cell in progress[1]][8:] == ["Needed", "Come so far", "To come"]
    assert row_of(progress, "Work on boards")[8:] == (228, 191, 81)
    assert row_of(progress, "Work on finish-graphite")[8:] == (146, 149, 13)
    assert progress.auto_filter.ref == f"A1:K{progress.max_row}"


def test_pieces_used_further_on_have_still_come(tmp_path):
    plan = with_facts(
        with_part(public(PLAN), "magnet", here=Fraction(61)), fact("made", "build-graphite", TODAY, good=10)
    )
    assert row_of(book_of(plan, tmp_path)["Progress"], "Work on boards")[8:10] == (228, 191)


def test_pieces_scrapped_later_raise_no_need_that_tells_of_them(tmp_path):
    plan = with_facts(public(PLAN), fact("scrapped", "board", TODAY, scrap=4))
    assert row_of(book_of(plan, tmp_path)["Progress"], "Work on boards")[8:10] == (228, 187)


def test_a_job_that_makes_no_part_has_no_counts(tmp_path):
    plan = with_job(public(PLAN), "boxes", makes=(), takes=(), quantity=None)
    plan = replace(
        with_part(plan, "box", here=Fraction(250)),
        shipments=(replace(plan.shipments[0], after=("boxes",)), *plan.shipments[1:]),
    )
    assert row_of(book_of(plan, tmp_path)["Progress"], "Work on boxes")[8:] == (None, None, None)


def test_a_measured_part_is_counted_in_its_unit(tmp_path):
    plan = public(PLAN)
    plan = with_job(replace(plan, parts=(*plan.parts, Part(code="tape", unit="m"))), "boxes", quantity=None)
    boxes = plan.job_by_code["boxes"]
    plan = with_job(plan, "boxes", makes=(replace(boxes.makes[0], part="tape", quantity=12),))
    assert row_of(book_of(plan, tmp_path)["Progress"], "Work on boxes")[8:] == ("0 m", "0 m", "12 m")


def test_progress_is_as_ever_where_nothing_is_counted(tmp_path):
    progress = book_of(small_plan(), tmp_path)["Progress"]
    assert [cell.value for cell in progress[1]][-1] == "Days late"
    assert progress.auto_filter.ref == "A1:H2"


# Only what is public


def test_no_reject_figure_and_no_inside_name_of_a_part_reaches_the_file(tmp_path):
    """Counts of rework and scrap are odd numbers that nothing else gives; inside names carry a mark."""
    plan = public(PLAN)
    plan = replace(plan, parts=tuple(replace(one, name=f"SECRET {one.code}") for one in plan.parts))
    plan = with_job(with_job(plan, "boards-2", quantity=300_000), "boxes", quantity=400_000)
    plan = with_facts(
        plan,
        fact("in", "boards-2", TODAY, good=90_001, rework=71_113, scrap=71_115, ref="SECRET-ref"),
        fact("in", "boxes", TODAY, good=200_003, scrap=71_117),
        fact("scrapped", "board", TODAY, scrap=11_119, note="SECRET-note"),
    )
    shown = " ".join(str(cell.value) for cell in written(book_of(plan, tmp_path)))
    text = whole_text(tmp_path / "b.xlsx")
    assert "200003" in text
    assert "SECRET" not in text
    assert not re.search("7111[357]|11119", text)
    assert not re.search(r"\b(scrap|rejects?)", shown)


def test_days_of_the_sheet_are_real_dates(book):
    dates = [cell for cell in written(book) if cell.parent.title == "Full sets" and cell.is_date]
    assert {cell.number_format for cell in dates} == {"ddd d mmm yyyy"}
    assert day(dates[0].value) == date(2026, 12, 3)

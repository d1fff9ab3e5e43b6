"""Tables are found whole, wherever they stand on a sheet and whatever stands around them. Sheets are invented."""

from datetime import date
from pathlib import Path

import pytest

from tests.sheet.drawn import drawn
from tracker.cli.spreadsheets import read_grids
from tracker.planfile.grid import Grid
from tracker.sheet.finding import find_tables

FILES = Path(__file__).parent / "files"


def found(text, **more):
    """What each table holds: its headings, and its rows by number."""
    return [
        (table.headings, {row.number: row.cells for row in table.rows})
        for table in find_tables([drawn(text, **more)])
    ]


def only(text, **more):
    (table,) = find_tables([drawn(text, **more)])
    return table


def numbers(table):
    return [row.number for row in table.rows]


PLAIN = """
Item|Supplier|Lead time|Needs
Box|Acme|3 weeks|
Lid|Acme|10 days|Box
"""


def test_a_plain_table_keeps_its_rows_as_the_sheet_numbers_them():
    assert found(PLAIN) == [
        (
            ("Item", "Supplier", "Lead time", "Needs"),
            {2: ("Box", "Acme", "3 weeks", None), 3: ("Lid", "Acme", "10 days", "Box")},
        )
    ]


def test_titles_labels_blank_rows_and_leading_blank_columns_are_passed_over():
    table = only("""
Production plan, spring

||Customer:|Lark|
||Date:|12 May
|
||Bits|Chap|How long|Wants first
||Box|Acme|3 weeks|
||Lid|Acme|10 days|Box
""")
    assert (table.heading_row, table.columns, numbers(table)) == (6, (2, 3, 4, 5), [7, 8])
    assert table.headings == ("Bits", "Chap", "How long", "Wants first")


def test_labels_right_above_a_table_of_two_columns_are_no_headings():
    table = only("Customer:|Lark\nBits|How long\nBox|3 weeks\nLid|2 weeks")
    assert (table.headings, numbers(table)) == (("Bits", "How long"), [3, 4])


def test_headings_that_end_in_colons_are_headings():
    assert only("#|ITEM:|SUPPLIER:|LEAD:\n1|Box|Acme|3 weeks\n2|Lid|Acme|2 weeks").headings[1:] == (
        "ITEM:",
        "SUPPLIER:",
        "LEAD:",
    )


def test_a_title_in_two_cells_is_no_heading_of_a_table_not_much_wider():
    table = only("Spring run|second draft\nBits|Chap|Ends\nBox|Acme|soon\nLid|Brenta|later")
    assert (table.headings, numbers(table)) == (("Bits", "Chap", "Ends"), [3, 4])


def test_a_title_as_wide_as_the_table_gives_way_to_headings_people_use():
    assert (
        only("Spring run|second draft|by Anna\nItem|Supplier|Lead\nBox|Acme|\nLid|Brenta|").heading_row == 2
    )


def test_a_long_list_of_details_above_is_no_table():
    details = "\n".join(f"detail {letter}|said {letter}" for letter in "abcdefghijklmn")
    rows = "\n".join(f"job {at}|Acme|{at} weeks|job|{at}" for at in range(3, 13))
    assert only(f"{details}\nBits|Chap|How long|Wants first|Pcs\n{rows}").heading_row == 15


def test_a_title_merged_over_the_whole_table_is_no_heading():
    table = only("Plan of the spring run|||\n" + PLAIN.strip(), merged=[(0, 0, 0, 3)])
    assert (table.heading_row, numbers(table)) == (2, [3, 4])


def test_blank_rows_inside_do_not_end_a_table_and_notes_below_are_told_apart():
    table = only(PLAIN + "\nFoam|Brenta|2 wks|\n\nPrices without tax\nask Dave")
    assert numbers(table) == [2, 3, 5]
    assert [(row.number, row.cells[0]) for row in table.left_out] == [
        (7, "Prices without tax"),
        (8, "ask Dave"),
    ]


def test_a_line_right_below_that_says_it_is_a_note_is_no_row():
    table = only(PLAIN + "* prices without tax")
    assert (numbers(table), [row.number for row in table.left_out]) == ([2, 3], [4])


def test_a_row_with_a_name_only_right_below_the_others_stays_a_row():
    table = only(PLAIN + "Cables")
    assert numbers(table) == [2, 3, 4]
    assert table.left_out == ()


def test_a_total_breaks_nothing_and_stays_a_row():
    table = only("""
Item|Supplier|Lead|Qty
Box|Acme|3 weeks|100
Sub-total|||100
Lid|Acme|3 weeks|50

Total|||150
""")
    assert numbers(table) == [2, 3, 4, 6]
    assert table.rows[-1].cells == ("Total", None, None, 150)


def test_headings_printed_again_on_each_page_and_their_titles_are_no_rows():
    table = only(
        PLAIN
        + "\nProduction plan, page 2\nITEM|Supplier|Lead time|Needs\nFoam|Brenta|2 wks|\nItem|Supplier|Lead time|Needs\nTray|Brenta|2 wks|"
    )
    assert numbers(table) == [2, 3, 7, 9]
    assert [row.number for row in table.left_out] == [5]


@pytest.mark.parametrize(
    ("text", "merged"),
    [
        pytest.param(
            "Item|Supplier|Lead||Qty\n||days|unit|", [(0, 2, 0, 3), (0, 0, 1, 0), (0, 1, 1, 1), (0, 4, 1, 4)],
            id="merged over two columns and down",
        ),
        pytest.param("||Lead||\nItem|Supplier|days|unit|Qty", [(0, 2, 0, 3)], id="a merged group above"),
        pytest.param("Item|Supplier|Lead||Qty\n||days|unit|", [], id="not merged, the group over its first column"),
    ],
)  # fmt: skip
def test_headings_of_two_rows_are_joined(text, merged):
    table = only(text + "\nBox|Acme|3|wd|4\nLid|Acme|4|wd|4", merged=merged)
    assert table.headings == ("Item", "Supplier", "Lead days", "Lead unit", "Qty")
    assert (table.heading_row, numbers(table)) == (1, [3, 4])


def test_a_second_line_beside_headings_merged_down_belongs_to_them():
    table = only(
        "Item|Supplier|Date\n||promised\nBox|Acme|2026-05-01\nLid|Acme|2026-05-08",
        merged=[(0, 0, 1, 0), (0, 1, 1, 1)],
    )
    assert (table.headings, numbers(table)) == (("Item", "Supplier", "Date promised"), [3, 4])


def test_a_row_of_units_belongs_to_the_headings():
    table = only("Item|Supplier|Lead|Qty\n||(weeks)|pcs\nBox|Acme|3|40\nLid|Acme|4|40")
    assert table.headings == ("Item", "Supplier", "Lead (weeks)", "Qty pcs")
    assert numbers(table) == [3, 4]


def test_the_first_row_is_no_second_line_of_the_headings():
    table = only("Item|Supplier||Remark\nBox|Acme|red|\nLid|Acme|blue|later")
    assert (table.headings, numbers(table)) == (("Item", "Supplier", "", "Remark"), [2, 3])


def test_cells_merged_for_their_looks_make_no_column_of_their_own():
    table = only(
        "Item||Supplier|Lead\nBox||Acme|3 wks\nLid||Brenta|4 wks", merged=[(at, 0, at, 1) for at in range(3)]
    )
    assert (table.headings, table.columns) == (("Item", "Supplier", "Lead"), (0, 2, 3))


def test_a_heading_merged_over_three_columns_for_its_looks_parts_no_table():
    table = only(
        "Item|||Supplier|Lead\nBox\nLid|||Brenta|4 wks\nTray|||Acme|1 wk",
        merged=[(at, 0, at, 2) for at in range(4)],
    )
    assert (table.headings, numbers(table)) == (("Item", "Supplier", "Lead"), [2, 3, 4])


def test_a_title_merged_over_two_tables_does_not_join_them():
    tables = found(
        "Plan\nItem|Lead|||Supplier|Country\nBox|3 weeks|||Acme|GB\nLid|4 weeks|||Brenta|IT",
        merged=[(0, 0, 0, 5)],
    )
    assert [headings for headings, _ in tables] == [("Item", "Lead"), ("Supplier", "Country")]


def test_a_supplier_merged_over_several_rows_counts_for_each():
    table = only("Item|Supplier|Lead\nBox|Acme|3 wks\nLid||4 wks\nFoam|Brenta|2 wks", merged=[(1, 1, 2, 1)])
    assert [row.cells[1] for row in table.rows] == ["Acme", "Acme", "Brenta"]


def test_two_tables_below_each_other_part_at_the_second_headings():
    first, second = found(PLAIN + "\nWhom to call\nSupplier|Contact\nDorn|Mair\nEsk|Paolo")
    assert (list(first[1]), list(second[1])) == ([2, 3], [7, 8])
    assert second[0] == ("Supplier", "Contact")


def test_a_second_table_with_words_of_its_own_is_known_by_what_stands_under_them():
    first, second = found(PLAIN + "\nTill\nBox of|Kept in|Made\nscrews|the shed|400\nfeet|the loft|200")
    assert (list(first[1]), second[0], list(second[1])) == ([2, 3], ("Box of", "Kept in", "Made"), [7, 8])


def test_a_row_without_a_lead_after_a_blank_row_is_not_taken_for_headings():
    assert numbers(only(PLAIN + "\nFoam|Corve|as agreed|\nFeet|Dorn|1 week|\nTray|Dorn|2 weeks|")) == [
        2,
        3,
        5,
        6,
        7,
    ]


@pytest.mark.parametrize("gap", ["|", "||"], ids=["one blank column", "two blank columns"])
def test_two_tables_side_by_side_part_at_the_blank_column(gap):
    first, second = found(f"""
Item|Supplier|Lead{gap}|Supplier|Country
Box|Acme|3 weeks{gap}|Acme|GB
Lid|Brenta|4 weeks{gap}|Brenta|IT
Foam|Acme|1 week
""")
    assert (first[0], list(first[1])) == (("Item", "Supplier", "Lead"), [2, 3, 4])
    assert (second[0], list(second[1])) == (("Supplier", "Country"), [2, 3])


def test_tables_side_by_side_of_one_height_part_where_both_name_the_supplier():
    tables = found("Item|Vendor|Lead||Firm|Country\nBox|Acme|3 weeks||Acme|GB\nLid|Brenta|4 weeks||Brenta|IT")
    assert [headings for headings, _ in tables] == [("Item", "Vendor", "Lead"), ("Firm", "Country")]


def test_tables_side_by_side_may_begin_in_different_rows():
    first, second = found("""
Item|Supplier|Lead
Box|Acme|3 weeks||Supplier|Country
Lid|Brenta|4 weeks||Acme|GB
Foam|Acme|1 week||Brenta|IT
""")
    assert (list(first[1]), list(second[1])) == ([2, 3, 4], [3, 4])


def test_one_blank_column_for_the_looks_does_not_cut_a_table():
    table = only("Item|Supplier||Lead|Qty\nBox|Acme||3 weeks|10\nLid|Acme||4 weeks|10")
    assert (table.headings, table.columns) == (("Item", "Supplier", "Lead", "Qty"), (0, 1, 3, 4))


def test_a_column_without_a_heading_is_kept_without_a_name():
    table = only("|Who|How long\nBox|Acme|3 weeks\nLid|Acme|2 weeks")
    assert (table.headings, table.rows[0].cells) == (("", "Who", "How long"), ("Box", "Acme", "3 weeks"))


def test_a_column_a_week_on_the_right_hides_no_headings():
    weeks = "|".join(f"2026-05-{day:02}" for day in (4, 11, 18, 25))
    table = only(f"Item|Supplier|Lead|{weeks}\nBox|Acme|3 weeks|x|x||\nLid|Acme|1 week|||x|")
    assert table.headings[:4] == ("Item", "Supplier", "Lead", "2026-05-04")


def test_blanks_around_texts_go_and_line_breaks_inside_cells_stay():
    sheet = Grid(
        sheet="Jobs",
        rows=((" Item ", "Lead\ntime"), ("\u00a0Box ", "3 weeks "), ("Lid", "Box,\nFoam"), ("  ", " ")),
    )
    (table,) = find_tables([sheet])
    assert table.headings == ("Item", "Lead time")
    assert [row.cells for row in table.rows] == [("Box", "3 weeks"), ("Lid", "Box,\nFoam")]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "Just a note",
        "Box|Acme|3 weeks\nLid|Acme|2 weeks",
        "Box|Acme\nLid|Acme",
        "Item|Supplier|Lead",
        "1|2\n3|4",
    ],
    ids=[
        "nothing",
        "one cell",
        "rows without headings",
        "rows of words without headings",
        "headings without rows",
        "only numbers",
    ],
)
def test_what_is_no_table_is_not_found(text):
    assert found(text) == []


def test_formulas_never_worked_out_are_kept_by_their_row_and_column_those_outside_the_table_are_not():
    assert only(PLAIN.strip(), formulas=[(1, 2), (2, 2)]).unworked == {(2, 2), (3, 2)}
    one = only("|\n" + PLAIN.strip(), formulas=[(0, 0)])
    assert (numbers(one), one.unworked) == ([3, 4], frozenset())


def test_a_file_of_a_spreadsheet_program_gives_all_its_tables():
    """maker.xlsx: written as OpenDocument text, converted to .ods and then to .xlsx by LibreOffice."""
    tables = find_tables(read_grids(FILES / "maker.xlsx"))
    assert [(table.sheet, table.heading_row, numbers(table)) for table in tables] == [
        ("Jobs", 4, [5, 6, 7, 8, 10, 11]),
        ("Jobs", 15, [16, 17]),
        ("Side by side", 1, [2, 3, 4]),
        ("Side by side", 1, [2, 3]),
        ("Two rows", 1, [3, 4, 5]),
    ]
    jobs, two_rows = tables[0], tables[-1]
    assert jobs.headings == ("Bits", "Chap", "How long", "Wants first", "Pcs", "Wanted by", "Rows so far")
    assert jobs.rows[0].cells == ("Housing", "Ashdown Mill", "3 weeks", None, 124, date(2026, 5, 4), 248)
    assert jobs.rows[2].cells[5:] == ("12 May 2026", None)
    assert two_rows.headings == ("Part", "Made by", "Lead days", "Lead unit", "Lot")
    assert two_rows.rows[1].cells == ("Screws", "Dorn Rubber", 7, "cd", 800)

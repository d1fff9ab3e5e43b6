"""A random table at a random place under random titles is found whole; where it stands is known from making it."""

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.planfile.grid import Grid
from tracker.sheet.finding import find_tables

LEADS = st.builds("{} {}".format, st.integers(1, 60), st.sampled_from(["weeks", "days", "wd", "Wochen"]))
DAYS = st.integers(0, 700).map(lambda ahead: date(2026, 1, 1) + timedelta(days=ahead))
WORDS = st.text("abcdefghij", min_size=3, max_size=8)
COLUMNS = {
    "Supplier": st.sampled_from(["Acme", "Brenta", "Corve"]),
    "Chap": st.sampled_from(["Acme", "Brenta", "Corve"]),
    "How long": LEADS,
    "Lead time": LEADS,
    "Wants first": st.none() | WORDS,
    "Qty": st.none() | st.integers(1, 900),
    "Due": st.none() | DAYS,
    "Remarks": st.none() | WORDS,
}


@st.composite
def sheets(draw):
    """A sheet with one table, and where its headings and rows stand on it."""
    names = draw(st.permutations(sorted(COLUMNS)))[: draw(st.integers(2, 6))]
    names = [
        "How long" if not {"How long", "Lead time"} & set(names) and at == 0 else name
        for at, name in enumerate(names)
    ]
    left, rows, expected = draw(st.integers(0, 4)), [], {}
    for _ in range(draw(st.integers(0, 3))):
        rows.append((*[None] * draw(st.integers(0, 3)), f"Plan {draw(WORDS)}"))
        rows += [()] * draw(st.integers(0, 2))
    headings = (draw(st.sampled_from(["Item", "Bits", "Teil"])), *names)
    heading_row = len(rows) + 1
    rows.append((*[None] * left, *headings))
    for number in range(draw(st.integers(1, 12))):
        rows += [()] * draw(st.sampled_from([0, 0, 0, 0, 1, 2]))
        if number and draw(st.integers(0, 9)) == 0:
            rows.append((*[None] * left, *headings))
        cells = (f"job {number}", *(draw(COLUMNS[name]) for name in names))
        rows.append((*[None] * left, *cells))
        expected[len(rows)] = cells
    if draw(st.booleans()):
        rows += [(), (*[None] * left, "as agreed"), (*[None] * left, "by phone")]
    return Grid(sheet="Jobs", rows=tuple(rows)), heading_row, headings, expected, left


@settings(deadline=None)
@given(sheets())
def test_a_table_anywhere_under_any_titles_is_found_whole(case):
    sheet, heading_row, headings, expected, left = case
    (table,) = find_tables([sheet])
    assert (table.heading_row, table.headings) == (heading_row, headings)
    assert table.columns == tuple(range(left, left + len(headings)))
    assert {row.number: row.cells for row in table.rows} == expected

"""Whatever stands in a sheet's cells, it is drafted or refused in words: no traceback, and no job without its row."""

from datetime import date, time

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sheet.drafts import EMPTY, TODAY
from tracker.cli.plan_files import take_in
from tracker.errors import PlanProblems
from tracker.planfile.grid import Grid
from tracker.planfile.reading import Parsed
from tracker.sheet.answers import read_answers
from tracker.sheet.drafting import draft
from tracker.sheet.finding import find_tables
from tracker.sheet.guessing import guess_columns
from tracker.sheet.model import ROLES

HEADINGS = (
    "Item", "Supplier", "Lead", "Unit", "Needs", "Qty", "Transit", "Not before", "PO date", "Due", "Country", "Phone", "Done?",
    "No", "Note", "Zzz",
)  # fmt: skip
SAID = (
    "#REF!", "#N/A", "Err:502", "TBC", "-", "?", "us", "us + Ann", "Ann or Bob", "Box", "Lid", "1", "row 2", "Box -> Lid", "3 weeks",
    "12wd", "2.5 Wochen", "10 jours ouvrés", "10/6", "4.12.2026", "31 feb", "250 + 10 spare", "~300", "1,600", "weeks", "working",
    "=A1", "all", "GB", "Total", "x" * 3000, "a\nb", "\u00bd", "\U0001f9f2", "0", "-4", "99999 days", "12wd\u0000", "9" * 5000, "row " + "9" * 5000,
)  # fmt: skip
CELLS = st.one_of(
    st.none(),
    st.sampled_from(SAID),
    st.text(max_size=20),
    st.integers(-(10**6), 10**12),
    st.floats(),
    st.booleans(),
    st.dates(date(1900, 1, 1), date(9999, 1, 1)),
    st.datetimes(),
    st.just(time(8, 30)),
)


@st.composite
def grids(draw):
    """A sheet with some of the headings and a few rows of anything below them, some cells never worked out."""
    names = draw(st.lists(st.sampled_from(HEADINGS), min_size=2, max_size=8, unique=True))
    row = st.lists(CELLS, min_size=len(names), max_size=len(names)).map(tuple)
    rows = draw(st.lists(row, min_size=1, max_size=6))
    cell = st.tuples(st.integers(1, len(rows)), st.integers(0, len(names) - 1))
    return Grid(sheet="Jobs", rows=(tuple(names), *rows), formulas=draw(st.frozensets(cell, max_size=1)))


def made_of(table, roles):
    """The draft, and what it would give with the plan; None where that is refused in words."""
    words = read_answers(["leads", "all=wd"])
    made = draft(table, roles, plan=EMPTY, answers=words, source="jobs.xlsx", today=TODAY)
    parsed = Parsed(plan=made.plan, problems=made.problems, unreadable=made.unreadable)
    try:
        return made, take_in(EMPTY, parsed, "jobs.xlsx", "2026-06-20")
    except PlanProblems:
        return made, None


@settings(deadline=None, max_examples=300)
@given(grids(), st.data())
def test_any_cells_in_any_columns_are_drafted_or_refused(grid, data):
    for table in find_tables([grid]):
        roles = dict(guess_columns(table).roles)
        if data.draw(st.booleans()):
            some = data.draw(st.permutations(ROLES))
            roles = dict(zip(range(len(table.headings)), some, strict=False))
        if any(at in roles for _, at in table.unworked):
            continue
        made, intake = made_of(table, roles)
        rows = [row.number for row in table.rows]
        told = {*made.rows.values(), *(one.row for one in made.skipped)}
        assert set(made.rows.values()) <= set(rows)
        assert intake is None or told >= set(rows)
        assert all(isinstance(one, str) and len(one.splitlines()) < 2 for one in made.remarks)


def test_the_strategies_reach_both_ends():
    """Some grids are taken in and some refused, else the property above says little."""
    ends = set()

    @settings(deadline=None, max_examples=200, database=None, derandomize=True)
    @given(
        st.lists(
            st.tuples(st.sampled_from(("Box", "Lid", "Foam")), st.sampled_from(("12wd", "soon"))),
            min_size=1,
            max_size=3,
        )
    )
    def reach(rows):
        grid = Grid(
            sheet="Jobs", rows=(("Item", "Supplier", "Lead"), *((name, "Ann", lead) for name, lead in rows))
        )
        for table in find_tables([grid]):
            made, intake = made_of(table, {0: "item", 1: "supplier", 2: "lead"})
            ends.add((intake is None, bool(made.questions)))

    reach()
    assert ends >= {(False, False), (True, False), (False, True)}

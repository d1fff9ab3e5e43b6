"""Carrying out ``read`` and ``write`` of plans as workbooks."""

from collections.abc import Sequence
from pathlib import Path

from tracker.cli.plan_files import WORKBOOK, bring_in, opened, refuse_there, take_in
from tracker.cli.session import say, status_date
from tracker.errors import PlanProblems, UsageError
from tracker.plan.model import Plan
from tracker.planfile.book import blank_book, book_of, parse_book
from tracker.planfile.book_places import placed
from tracker.planfile.grid import Grid
from tracker.render.plan_book import write_plan_sheets

BLANK_FILE = f"plan-blank{WORKBOOK}"


def write_plan_book(plan: Plan, path: Path) -> None:
    """Write a plan as a workbook that reads back equal, in place of a file that stands there."""
    title = plan.run.product or plan.run.code
    write_plan_sheets(book_of(plan), path, title=title, today=status_date(plan, ""))


def write_blank_book(file: str, *, force: bool) -> None:
    """Write a workbook to fill in, under a name of its own where none is given."""
    path = Path(file or BLANK_FILE)
    if path.suffix.lower() != WORKBOOK:
        raise UsageError(
            f"a blank plan is a workbook, but {path} does not end in {WORKBOOK}",
            hint=f"write: tracker write --blank {BLANK_FILE}",
        )
    refuse_there(path, force=force)
    write_plan_sheets(blank_book(), path, title="", today=status_date(None, ""))
    say(f"{path} written: its sheet Read me says how to fill it in; then: tracker read {path}")


def read_plan_book(path: Path, grids: Sequence[Grid], today: str, *, yes: bool, as_json: bool) -> None:
    """Bring a plan workbook in after showing what it changes; every problem is named by its cell."""
    store, stored = opened()
    parsed = parse_book(grids, source=path.name, today=status_date(stored, today))
    try:
        intake = take_in(stored, parsed, path.name, today)
    except PlanProblems as error:
        raise PlanProblems(placed(error.problems, parsed.rows, path.name), what=path.name) from error
    bring_in(store, intake, path.name, today, yes=yes, as_json=as_json)

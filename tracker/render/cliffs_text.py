"""Last harmless days and the cliffs ahead as a table, the same on every page."""

from collections.abc import Sequence
from datetime import date

from tracker.render.closure_share_text import closure_texts
from tracker.render.near_text import moved_text
from tracker.render.paper import Paper
from tracker.render.words import short_day
from tracker.report.cliffs import LastDays, NextCliff


def write_last_days(rows: Sequence[LastDays], today: date, paper: Paper) -> None:
    """A row a job: its last harmless day, what its next own day costs; below it the first cliff from there on."""
    cells = [
        (
            row.job,
            short_day(row.harmless_until, today) + (" AT BEST" if row.at_best else ""),
            f"{short_day(row.costs[0].day, today)}: {moved_text(row.costs)}" if row.costs else "",
        )
        for row in rows
    ]
    paper.table(("", "", ""), cells, under=[_cliff(row, row.cliff, today) for row in rows])


def _cliff(row: LastDays, cliff: NextCliff | None, today: date) -> str:
    """Where the first cliff is not the next own day, when it falls and what it costs; then the closure behind it."""
    if cliff is None:
        return ""
    closures = closure_texts(cliff.costs, today)
    if cliff.last == row.harmless_until:
        return "; ".join(("a cliff", *closures))
    last, day = short_day(cliff.last, today), short_day(cliff.next_day, today)
    later = f"one own day later ({day}) {moved_text(cliff.costs)}"
    return "; ".join((f"then a cliff: {last} is the last day", later, *closures))

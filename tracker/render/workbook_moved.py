"""Blocks of the sheet *This week* that look back: what moved the shipments and why, and when the next word comes."""

from collections.abc import Iterator, Sequence
from datetime import date

from tracker.render.words import full_day
from tracker.render.workbook_sheet import Value
from tracker.render.workbook_styles import DAY, HEAD, STRONG, TEXT, counted
from tracker.report.backers_moved import BackerMove, BackersMoved
from tracker.report.backers_news import BackersNews

Row = tuple[Sequence[Value], Sequence[str]]
_BESIDE = 3
"""Columns for shipments beside the step and the cause."""
_HEADS = (HEAD,) * (_BESIDE + 2)


def moved_blocks(news: BackersNews | None, today: date) -> Iterator[Iterator[Row]]:
    """What moved, three shipments a block; the last row of each adds its columns up."""
    if news is not None and news.since < today:
        moved = news.moved
        for start in range(0, len(moved.shipments), _BESIDE):
            yield _block(news, moved, slice(start, start + _BESIDE))


def _block(news: BackersNews, moved: BackersMoved, columns: slice) -> Iterator[Row]:
    shipments = moved.shipments[columns]
    names = [f"{one.name}, days later" for one in shipments]
    yield (f"Moved since {full_day(news.since)}, and why", *_filled(names), "Why"), _HEADS
    lines = [line for line in moved.lines if any(line.days[columns])]
    for line in lines:
        days = _filled(line.days[columns])
        yield (line.name, *days, _why(line)), (TEXT, *(_counted(one) for one in days), TEXT)
    if not lines:
        yield ("Nothing has moved", None, None, None, None), (TEXT,) * len(_HEADS)
        return
    totals = _filled([one.days for one in shipments])
    yield ("In all", *totals, None), (STRONG, *(_counted(one) for one in totals), TEXT)


def _filled(cells: Sequence[Value]) -> list[Value]:
    return [*cells, *[None] * (_BESIDE - len(cells))]


def _counted(cell: Value) -> str:
    return counted(cell) if isinstance(cell, int) else TEXT


def _why(line: BackerMove) -> str:
    return "; ".join((line.why, *line.closures))


def next_word(news: BackersNews | None) -> Iterator[Row]:
    """The day by which backers hear from us again."""
    if news is not None:
        words = "You hear from us by then, also if nothing has changed"
        yield ("Next word by", news.again, None, None, words), (STRONG, DAY, TEXT, TEXT, TEXT)

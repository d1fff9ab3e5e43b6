"""What came in and what went wrong, each in one line."""

from collections.abc import Iterator
from datetime import date

from tracker.render.fact_text import fact_text
from tracker.render.words import cannot_hold_text, days_text, passed_text, plural, short_day
from tracker.report.news_rows import CameRow, FailedRow, SlipRow, WentWrong

_DONE = {"in": "here", "made": "made", "finished": "finished", "passed": "passed", "posted": "posted"}


def came_text(row: CameRow) -> str:
    """How many of how many are good, or what was done."""
    if row.kind == "posted":
        return f"{plural(row.good, 'unit')} posted" if row.good else "posted"
    if not row.pieces:
        return _DONE[row.kind] if row.whole else f"{_DONE[row.kind]} in part"
    texts = [f"{row.good} of {row.pieces} good" if row.good != row.pieces else f"{row.good} good"]
    if row.unjudged:
        texts = [f"{row.good} good"] if row.good else []
        texts.append(f"{row.unjudged} of {row.pieces} not judged yet")
    texts += [f"{row.rework} rework"] if row.rework else []
    texts += [f"{row.scrap} scrap"] if row.scrap else []
    return ", ".join(texts) + ("" if row.whole else ", more to come")


def wrong_texts(wrong: WentWrong, today: date) -> Iterator[str]:
    """Failed checks, dates without news, promises that cannot be met or slipped, then rejects."""
    yield from (_failed(row, today) for row in wrong.failed)
    yield from (f"{row.code} {passed_text(row, today)}" for row in wrong.silent)
    yield from (f"{row.code} {cannot_hold_text(row, today)}" for row in wrong.cannot_hold)
    yield from (_slip(row, today) for row in wrong.slips)
    yield from (fact_text(row) for row in wrong.scrapped)
    if wrong.rejects:
        yield "rejects: " + ", ".join(_rejects(row) for row in wrong.rejects)


def _failed(row: FailedRow, today: date) -> str:
    note = f': "{row.note}"' if row.note else ""
    text = f"{row.job} FAILED {short_day(row.on, today)}{note}"
    if row.passed_on:
        return f"{text}; passed {short_day(row.passed_on, today)}"
    return f"{text}; no further try is planned: tracker gates" if row.to_plan else text


def _slip(row: SlipRow, today: date) -> str:
    first, *then = (short_day(day, today) for day in row.days)
    path = ", ".join((f"promised {first}", *(f"then {day}" for day in then[:-1]), f"now {then[-1]}"))
    return f"{row.job} {path}: {days_text(row.slip)} ({row.supplier})"


def _rejects(row: CameRow) -> str:
    return f"{row.job} {row.rework + row.scrap} of {row.pieces}"

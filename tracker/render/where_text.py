"""Pieces of a part by place and state as text: a number, and where they are."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from tracker.render.amounts import amount_text
from tracker.render.paper import Paper
from tracker.render.words import full_day, joined, short_day
from tracker.report.where import PartPlaces, PlaceRow, Where


def write_where(view: Where, paper: Paper) -> None:
    """Each part with a line for every place and state, and their sum."""
    for place, one in enumerate(view.parts):
        if place:
            paper.line()
        _write_part(one, view.today, paper)


def _write_part(one: PartPlaces, today: date, paper: Paper) -> None:
    paper.line(f"{joined(one.part, one.name)}: where the pieces are on {full_day(today)}")
    put_in = [f"{amount_text(one.at_start, one.unit)} in stock at the start"] if one.at_start else []
    makers = ", ".join(f"{job} {pieces}" for job, pieces in one.put_in.items())
    put_in += [f"made by {makers}"] if makers else []
    paper.line("; ".join(put_in) or "none yet", indent=2)
    total = sum((row.pieces for row in one.places), Fraction(0))
    ahead = sum((row.pieces for row in one.ahead), Fraction(0))
    width = max(len(amount_text(number, one.unit)) for number in (total, ahead, one.beyond))
    _write_rows(one.places, one.unit, width, today, paper)
    if len(one.places) > 1:
        paper.line(f"{amount_text(total, one.unit):>{width}}  in all", indent=2)
    if one.ahead:
        paper.line("still to come", indent=2)
        _write_rows(one.ahead, one.unit, width, today, paper)
    if one.again:
        paper.line("to make again for a shortage (tracker need)", indent=2)
        _write_rows(one.again, one.unit, width, today, paper)
    if one.beyond:
        beyond = amount_text(one.beyond, one.unit)
        paper.line(f"{beyond} of those used never came: tracker need says what to do", indent=2)


def _write_rows(rows: Sequence[PlaceRow], unit: str, width: int, today: date, paper: Paper) -> None:
    for row in rows:
        paper.line(f"{amount_text(row.pieces, unit):>{width}}  {_place_text(row, today)}", indent=2)


def _place_text(row: PlaceRow, today: date) -> str:
    due = f", due {short_day(row.due, today)}" if row.due else ""
    texts = {
        "here": "here, good",
        "not judged": f"here, not judged yet ({row.job})",
        "on the way": f"on the way from {row.place} ({row.job}){due}",
        "made": f"made, at the door of {row.place} ({row.job}){due}",
        "in work": f"in work at {row.place} ({row.job}){due}",
        "in rework": f"in rework at {row.place} ({row.job}){due}",
        "drawn": f"at {row.place}, at work in {row.job}",
        "used": f"used in {row.job}",
        "posted": f"posted with {row.shipment}",
        "scrapped": f"scrapped at {row.job}",
        "found bad": "found bad later" + (f", at {row.job}" if row.job else ""),
        "never came": f"never came from {row.place} ({row.job}), closed short",
        "ordered": f"ordered from {row.place} ({row.job}){due}",
        "not ordered": f"not ordered yet from {row.place} ({row.job})",
        "not begun": f"not begun at {row.place} ({row.job}){due}",
        "no inputs": f"not made by {row.job}: what it takes is short",
        "again": f"at {row.place} ({row.job}){due}",
    }
    return texts[row.state]

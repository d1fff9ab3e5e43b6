"""The Friday page: where each shipment was and is, the news, what could still go wrong, and what to do about it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from tracker.plan.model import Told
from tracker.report.answer import FactRow, fact_rows
from tracker.report.calls import Calls, calls
from tracker.report.cliffs import LastDays, explained, last_days
from tracker.report.deciding import OptionRow
from tracker.report.gates import gate_report
from tracker.report.jobs import job_rows
from tracker.report.moved import Moved, ShipmentMoved
from tracker.report.news import News
from tracker.report.news_rows import CameRow, WentWrong, came_rows, went_wrong
from tracker.report.next_word import NextWord, next_word
from tracker.report.owing import OwingRow, owing
from tracker.report.picture import Picture
from tracker.report.shipments import ShipmentRow, shipment_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class FridayShipment:
    """A shipment now (``row``) and as it was: what stood told then, and how the forecast moved since."""

    row: ShipmentRow
    told_then: Told | None
    moved: ShipmentMoved | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Friday:
    """One page; ``since`` is the day backers were last told before today (``since_told``), else a week ago.

    ``risks`` are the holders and near-holders whose turn it is, or with which a chain begins, by their last harmless
    day; ``behind`` counts those that merely follow them. ``owed`` are the clocks that wait for us now, ``options``
    those not decided yet.
    """

    run: str
    product: str
    today: date
    since: date
    since_told: bool
    shipments: tuple[FridayShipment, ...]
    came: tuple[CameRow, ...]
    went_wrong: WentWrong
    moved: Moved
    decided: tuple[FactRow, ...]
    risks: tuple[LastDays, ...]
    behind: int
    calls: Calls
    owed: tuple[OwingRow, ...]
    options: tuple[OptionRow, ...]
    word: NextWord


def friday(picture: Picture, news: News, options: Sequence[OptionRow] = ()) -> Friday:
    """Put the page together from the reports that answer each of its questions; ``options`` are the open ones."""
    shipments = shipment_rows(picture)
    came = came_rows(picture, news)
    close = last_days(picture)
    first = leading(picture, shipments)
    risks = explained(picture, [row for row in close if row.job in first])
    decided = tuple(fact for fact in news.facts if fact.kind == "decided")
    moves = {one.shipment: one for one in news.moved.shipments}
    return Friday(
        run=picture.plan.run.code,
        product=picture.plan.run.product,
        today=picture.today,
        since=news.since,
        since_told=news.told,
        shipments=tuple(
            FridayShipment(row=row, told_then=_told_then(row, picture.today), moved=moves.get(row.code))
            for row in shipments
        ),
        came=came,
        went_wrong=went_wrong(picture, news, came, job_rows(picture), gate_report(picture)),
        moved=news.moved,
        decided=fact_rows(picture.plan, decided),
        risks=risks,
        behind=len(close) - len(risks),
        calls=calls(picture),
        owed=tuple(row for row in owing(picture).rows if row.due),
        options=tuple(options),
        word=next_word(picture.plan, picture.today),
    )


def leading(picture: Picture, shipments: Sequence[ShipmentRow]) -> frozenset[str]:
    """Jobs to look after now: those whose turn it is, and those with which a shipment's chain begins."""
    turn = (code for code, stands in picture.standings.items() if stands.its_turn)
    return frozenset((*turn, *(row.held_by.job for row in shipments if row.held_by)))


def _told_then(row: ShipmentRow, today: date) -> Told | None:
    """What had been told last before today."""
    return next((told for told in reversed(row.told_all) if told.on < today), None)

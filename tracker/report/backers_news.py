"""The week's news for backers: what moved and why, what else slipped, what we decided; public names only."""

from collections.abc import Callable, Container, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tracker.report.backers_moved import BackersMoved, backers_moved
from tracker.report.friday import leading
from tracker.report.jobs import JobRow
from tracker.report.near import near
from tracker.report.news import News
from tracker.report.news_rows import slips
from tracker.report.next_word import next_word
from tracker.report.picture import Picture
from tracker.report.public_discretion import PublicDiscretion, PublicTrouble
from tracker.report.shipments import ShipmentRow


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerSlip:
    """A step expected later than it was, ``days`` calendar days in all, that moved no shipment; the day promised now."""

    name: str
    day: date
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerRisk:
    """A step that moves a shipment by ``days`` calendar days if it is not ready before ``day``."""

    name: str
    shipment: str
    day: date
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A decision kept from backers, and why; for our own eyes, never for theirs."""

    on: date
    text: str
    why: PublicTrouble


@dataclass(frozen=True, slots=True, kw_only=True)
class BackersNews:
    """What is new since ``since``, the day backers were last told (``told``), else a week ago.

    ``failed`` are checks that failed since and have not passed. ``came_unnamed`` tells that something came of a step
    without a public name. ``again`` is the day to announce for the next word.
    """

    since: date
    told: bool
    moved: BackersMoved
    slipped: tuple[BackerSlip, ...]
    failed: tuple[str, ...]
    came_unnamed: bool
    decided: tuple[str, ...]
    risks: tuple[BackerRisk, ...]
    again: date
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PublicNames:
    """What jobs (by code, also ones removed since) and shipments are called outside."""

    job: Callable[[str], str]
    shipments: Mapping[str, str]


def backers_news(
    picture: Picture, news: News, names: PublicNames, rows: Sequence[JobRow], shipments: Sequence[ShipmentRow]
) -> BackersNews:
    """Turn the news into what backers may read; ``rows`` are the jobs that have a public name."""
    moved = backers_moved(picture, news.moved, names.job, names.shipments)
    blamed = {effect.job for line in news.moved.lines for effect in line.effects}
    decided, left_out = _decisions(picture, news)
    return BackersNews(
        since=news.since,
        told=news.told,
        moved=moved,
        slipped=tuple(
            BackerSlip(name=names.job(row.job), day=row.days[-1], days=row.slip)
            for row in slips(picture, news, rows)
            if row.job not in blamed
        ),
        failed=tuple(
            row.public_name for row in rows if row.state == "FAILED" and news.of(row.code, "failed")
        ),
        came_unnamed=_came_unnamed(news, {row.code for row in rows}),
        decided=decided,
        risks=tuple(_risks(picture, names, shipments)),
        again=next_word(picture.plan, picture.today).following,
        left_out=left_out,
    )


def _came_unnamed(news: News, named: Container[str]) -> bool:
    kinds = ("in", "finished", "passed")
    return any(fact.kind in kinds and fact.job not in named for fact in news.facts)


def _decisions(picture: Picture, news: News) -> tuple[tuple[str, ...], tuple[LeftOut, ...]]:
    """Decisions in our own words, those that may not go out set apart; a text is never cut."""
    discretion = PublicDiscretion(picture.plan)
    decided, left_out = [], []
    for fact in news.facts:
        text = " ".join(fact.note.split())
        if fact.kind != "decided" or not text:
            continue
        trouble = discretion.trouble(text)
        if trouble:
            left_out.append(LeftOut(on=fact.on, text=text, why=trouble))
        else:
            decided.append(text)
    return tuple(decided), tuple(left_out)


def _risks(picture: Picture, names: PublicNames, shipments: Sequence[ShipmentRow]) -> Iterator[BackerRisk]:
    view, first = near(picture), leading(picture, shipments)
    for row in view.rows:
        for cost in row.costs if row.job in first and row.spare_days <= view.within else ():
            yield BackerRisk(
                name=names.job(row.job),
                shipment=names.shipments[cost.shipment],
                day=cost.day,
                days=cost.days,
            )

"""What a mail is written from: one supplier's jobs, and the facts that are news to them."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import cached_property
from typing import Literal

from tracker.plan.model import Fact, Job
from tracker.report.discretion import Discretion
from tracker.report.gates import GateRow, gate_report
from tracker.report.logged import Entries
from tracker.report.mail_rows import LeftOutRow
from tracker.report.picture import Picture

Reach = Literal["last mail", "typed day", "present matter"]
PRESENT = 28


@dataclass(frozen=True, slots=True, kw_only=True)
class News:
    """Facts that are news, by the day they happened, and where they begin.

    ``reach`` is ``last mail`` (everything logged after it, whatever its day), ``typed day`` (everything from that day
    on) or, where no mail was ever logged, ``present matter``: all of open jobs, of others the last 28 days.
    ``since`` is the day of that mail, the typed day, or the first of the 28 days. ``corrected`` are those of the
    facts that an earlier mail may have told otherwise.
    """

    facts: tuple[Fact, ...]
    reach: Reach
    since: date
    corrected: tuple[Fact, ...] = ()

    def of(self, job: str) -> list[Fact]:
        """The news of one job."""
        return [fact for fact in self.facts if fact.job == job]

    def corrects(self, fact: Fact) -> bool:
        """Whether an earlier mail may have told this fact otherwise."""
        return any(fact is one for one in self.corrected)


@dataclass(frozen=True, kw_only=True)
class Case:
    """One supplier's jobs, their news, and what may be told them; ``left_out`` fills while rows are made."""

    picture: Picture
    discretion: Discretion
    jobs: tuple[Job, ...]
    news: News
    left_out: list[LeftOutRow] = field(default_factory=list)

    @cached_property
    def gates(self) -> tuple[GateRow, ...]:
        """Every gate of the run as it stands."""
        return gate_report(self.picture).gates

    def name(self, job: Job) -> str:
        """What the job is called to its supplier."""
        return self.discretion.job_name(job)

    def text(self, job: Job, text: str, text_of: str) -> str:
        """The text as it may stand, or nothing; then what it belongs to is noted as left out."""
        trouble = self.discretion.trouble(text)
        if trouble:
            self.left_out.append(LeftOutRow(job=self.name(job), text_of=text_of, why=trouble))
        return self.discretion.allowed(text)

    def open_lot(self, job: Job) -> int | None:
        """The job's lot where there is something left to do."""
        forecast = self.picture.forecast
        lot = forecast.lot_of(job.code)
        return lot if lot is not None and forecast.is_open(lot) else None


def case_of(picture: Picture, supplier: str, since: date | None, entries: Entries) -> Case:
    """Gather the supplier's jobs and news; ``since`` begins the news on that day, whatever was mailed."""
    jobs = tuple(job for job in picture.plan.jobs if job.supplier == supplier)
    return Case(
        picture=picture,
        discretion=Discretion(picture.plan, supplier),
        jobs=jobs,
        news=_news(picture, supplier, since, entries),
    )


def _news(picture: Picture, supplier: str, since: date | None, entries: Entries) -> News:
    known = [(place, fact) for place, fact in enumerate(picture.plan.facts) if fact.on <= picture.today]
    mails = [place for place, fact in known if fact.kind == "mailed" and fact.supplier == supplier]
    if since is not None:
        return _by_day([fact for _, fact in known if fact.on >= since], "typed day", since)
    if mails:
        return _since_mail(picture, known, mails[-1], entries)
    first, forecast = picture.today - timedelta(days=PRESENT), picture.forecast
    is_open = {job.code for lot, job in enumerate(forecast.network.jobs) if forecast.is_open(lot)}
    return _by_day(
        [fact for _, fact in known if fact.job in is_open or fact.on >= first], "present matter", first
    )


def _since_mail(picture: Picture, known: Sequence[tuple[int, Fact]], mail: int, entries: Entries) -> News:
    """What was logged after the mail at place ``mail``, and what was logged before and corrected since."""
    sent = entries.numbers[mail] if entries.numbers else 0
    corrected = [
        fact
        for place, fact in known
        if place < mail and any(number > sent for number, _ in entries.before.get(place, ()))
    ]
    after = [fact for place, fact in known if place > mail]
    news = _by_day([*corrected, *after], "last mail", picture.plan.facts[mail].on)
    return replace(news, corrected=tuple(corrected))


def _by_day(facts: Sequence[Fact], reach: Reach, since: date) -> News:
    return News(facts=tuple(sorted(facts, key=lambda fact: fact.on)), reach=reach, since=since)

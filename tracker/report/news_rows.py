"""The week's news as rows: what came, what failed, which promises slipped, what is without news."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from tracker.plan.model import Fact
from tracker.report.answer import FactRow, fact_rows
from tracker.report.gates import GateReport
from tracker.report.jobs import JobRow
from tracker.report.news import News
from tracker.report.picture import Picture
from tracker.report.promises import promise_rows

_COUNTED = ("in", "sorted")
_CAME = (*_COUNTED, "finished", "passed", "posted")


@dataclass(frozen=True, slots=True, kw_only=True)
class CameRow:
    """What came of a job, or went out of a shipment, added up; ``last`` is the newest day and ``kind`` what it was then.

    ``kind`` is in, made (at our own bench), finished, passed or posted; ``whole`` tells that nothing more is to come.
    ``good`` counts units for what was posted. Pieces ``unjudged`` were counted and nobody has judged them since.
    """

    job: str
    shipment: str
    kind: str
    last: date
    whole: bool
    good: int
    rework: int
    scrap: int
    unjudged: int

    @property
    def pieces(self) -> int:
        """All pieces counted."""
        return self.good + self.rework + self.scrap + self.unjudged

    @property
    def has_rejects(self) -> bool:
        """Whether some of it is not good."""
        return bool(self.rework or self.scrap)


@dataclass(frozen=True, slots=True, kw_only=True)
class FailedRow:
    """A check that failed, and the day it (or a further try) passed since; ``to_plan``: no further try is planned."""

    job: str
    on: date
    note: str
    passed_on: date | None
    to_plan: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipRow:
    """An open job promised anew: ``days`` promised, the one known before first; ``slip`` in calendar days in all."""

    job: str
    supplier: str
    days: tuple[date, ...]
    slip: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WentWrong:
    """Checks that failed, deliveries with rejects, pieces found bad later, promises moved later.

    ``silent`` are jobs whose date passed without news, ``cannot_hold`` those whose promise cannot be met.
    """

    failed: tuple[FailedRow, ...]
    rejects: tuple[CameRow, ...]
    scrapped: tuple[FactRow, ...]
    slips: tuple[SlipRow, ...]
    silent: tuple[JobRow, ...]
    cannot_hold: tuple[JobRow, ...]


def came_rows(picture: Picture, news: News) -> tuple[CameRow, ...]:
    """One row a job or shipment of which something came, the oldest first; a pass that a failure overruled is none."""
    found: dict[tuple[str, str], list[Fact]] = {}
    for fact in news.facts:
        if _came(picture, fact):
            found.setdefault((fact.job, fact.shipment), []).append(fact)
    rows = (_came_row(picture, facts) for facts in found.values())
    return tuple(sorted(rows, key=lambda row: row.last))


def _came(picture: Picture, fact: Fact) -> bool:
    job = picture.plan.job_by_code.get(fact.job)
    if job is None:
        return fact.kind == "posted"
    if fact.kind == "made":
        return picture.plan.supplier_by_code[job.supplier].inhouse
    return fact.kind in _CAME and not (
        fact.kind == "passed" and picture.standings[fact.job].state == "FAILED"
    )


def _came_row(picture: Picture, facts: Sequence[Fact]) -> CameRow:
    last = max(facts, key=lambda fact: fact.on)
    judged = sum(fact.pieces for fact in facts if fact.kind == "sorted")
    return CameRow(
        job=last.job,
        shipment=last.shipment,
        kind="in" if last.kind in _COUNTED else last.kind,
        last=last.on,
        whole=_is_whole(picture, last),
        good=sum(fact.good or 0 for fact in facts),
        rework=sum(fact.rework or 0 for fact in facts),
        scrap=sum(fact.scrap or 0 for fact in facts),
        unjudged=max(0, sum(fact.count or 0 for fact in facts) - judged),
    )


def _is_whole(picture: Picture, fact: Fact) -> bool:
    if fact.job:
        return picture.standings[fact.job].state == "DONE"
    return picture.forecast.network.posted.get(fact.shipment) is not None


def went_wrong(
    picture: Picture, news: News, came: Sequence[CameRow], jobs: Sequence[JobRow], gates: GateReport
) -> WentWrong:
    """Gather it from the news, the jobs and the gates as they stand."""
    scrapped = tuple(fact for fact in news.facts if fact.kind == "scrapped")
    return WentWrong(
        failed=tuple(_failed(news, gates)),
        rejects=tuple(row for row in came if row.has_rejects),
        scrapped=fact_rows(picture.plan, scrapped),
        slips=tuple(slips(picture, news, jobs)),
        silent=tuple(row for row in jobs if "NO NEWS" in row.flags),
        cannot_hold=tuple(row for row in jobs if "CANNOT HOLD" in row.flags),
    )


def _failed(news: News, gates: GateReport) -> Iterator[FailedRow]:
    for fact in news.facts:
        gate = next((one for one in gates.gates if fact.job in one.attempts), None)
        if fact.kind == "failed" and gate is not None:
            passed = gate.passed_on if gate.passed_on and gate.passed_on >= fact.on else None
            yield FailedRow(
                job=fact.job,
                on=fact.on,
                note=fact.note,
                passed_on=passed,
                to_plan=gate.to_plan and not passed,
            )


def slips(picture: Picture, news: News, jobs: Sequence[JobRow]) -> Iterator[SlipRow]:
    """Open jobs whose date is later than the one known before, by the most days first."""
    found = (_slip(picture, news, row) for row in jobs if row.is_open)
    yield from sorted((row for row in found if row is not None), key=lambda row: -row.slip)


def _slip(picture: Picture, news: News, row: JobRow) -> SlipRow | None:
    """Dates for the whole of it only: those for some of the pieces stand beside each other."""
    given = [one for one in promise_rows(picture.plan, row.code, picture.today) if one.good is None]
    new = sum(fact.day is not None and fact.good is None for fact in news.of(row.code, "promised"))
    days = tuple(one.day for one in given[max(0, len(given) - new - 1) :]) if new else ()
    slip = (days[-1] - days[0]).days if days else 0
    return SlipRow(job=row.code, supplier=row.supplier, days=days, slip=slip) if slip > 0 else None

"""What backers see: public names only, in plain words, with every earlier date kept beside the new one.

No supplier code or name, contact, reject count or internal note enters these rows.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import partial

from tracker.plan.day_text import full_day
from tracker.plan.model import Fact, Told
from tracker.report.backer_sets import BackerCount, BackerSets, backer_count, backer_sets
from tracker.report.backers_news import BackersNews, PublicNames, backers_news
from tracker.report.jobs import JobRow, begins, job_rows
from tracker.report.lateness import late_report
from tracker.report.moved import ShipmentMoved
from tracker.report.news import News
from tracker.report.owed import listed
from tracker.report.picture import Picture
from tracker.report.promises import promise_rows
from tracker.report.shipments import HeldBy, ShipmentRow, reason_of, shipment_rows
from tracker.report.weeks import Weeks, weeks

ARRIVED_WITHIN = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerShipment:
    """A shipment: what we told (newest, and all before), the forecast, what holds it, in words, and the steps ``then``.

    ``before`` is the forecast as it stood when backers were last told, ``moved_days`` how many calendar days later
    it is now; both are None where that was not looked at or there was none. ``ready`` tells that all is done for it
    and it only has to be posted: since the day of the forecast.
    """

    name: str
    quantity: int
    told: Told | None
    told_before: tuple[Told, ...]
    forecast: date | None
    posted: date | None
    days_late: int | None
    at_best: tuple[str, ...]
    holds: str
    then: tuple[str, ...] = ()
    before: date | None = None
    moved_days: int | None = None
    ready: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrived:
    """Something that came in, was finished or passed its check; ``count`` is how its parts stand, with the newest only."""

    day: date
    name: str
    what: str
    count: BackerCount | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerLate:
    """A late step: the date first planned, the date now expected, and why."""

    name: str
    planned: date
    expected: date
    at_best: bool
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerJob:
    """One row of progress; ``count`` is None for a job that makes no part."""

    name: str
    state: str
    flag: str
    planned_start: date | None
    planned: date | None
    expected_start: date | None
    expected: date | None
    days_late: int | None
    at_best: bool
    count: BackerCount | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BackersReport:
    """All sheets of the weekly workbook; ``unnamed`` are jobs left out for want of a public name.

    ``sets`` is None where no product is built from parts, ``news`` where the diary was not looked at. What arrived is
    listed for a week at least, and from the day backers were last told.
    """

    product: str
    today: date
    arrived_since: date
    shipments: tuple[BackerShipment, ...]
    arrived: tuple[Arrived, ...]
    late: tuple[BackerLate, ...]
    progress: tuple[BackerJob, ...]
    sets: BackerSets | None
    weeks: Weeks
    unnamed: tuple[str, ...]
    news: BackersNews | None = None

    @property
    def all_posted(self) -> bool:
        """Whether no shipment is left to be told about."""
        return bool(self.shipments) and all(one.posted for one in self.shipments)


def backers_report(picture: Picture, news: News | None = None) -> BackersReport:
    """Put the weekly page together from public names only; ``news`` adds what moved since backers were last told."""
    rows = job_rows(picture)
    named = {row.code: row for row in rows if row.public_name}
    week_ago = picture.today - timedelta(days=ARRIVED_WITHIN)
    since = min(week_ago, news.since) if news else week_ago
    bars = weeks(picture)
    shipments = shipment_rows(picture)
    shipment_names = {row.code: public_shipment_name(row) for row in shipments}
    names = PublicNames(job=partial(_name, picture, named), shipments=shipment_names)
    moves = {one.shipment: one for one in news.moved.shipments} if news else {}
    return BackersReport(
        product=picture.plan.run.product,
        today=picture.today,
        arrived_since=since,
        shipments=tuple(_shipment(picture, one, named, moves.get(one.code)) for one in shipments),
        arrived=_arrived(picture, named, since, news),
        late=_late(picture, named),
        progress=tuple(
            _progress(picture, row) for row in sorted(rows, key=begins) if row.public_name and row.arrives
        ),
        sets=backer_sets(picture, shipment_names),
        weeks=_public_weeks(bars),
        unnamed=tuple(row.code for row in rows if not row.public_name),
        news=backers_news(picture, news, names, tuple(named.values()), shipments) if news else None,
    )


def public_shipment_name(row: ShipmentRow) -> str:
    """The shipment's public name, else its code in plain letters."""
    return row.public_name or row.code.replace("-", " ").capitalize()


def _public_weeks(bars: Weeks) -> Weeks:
    return replace(
        bars, rows=tuple(replace(row, state=_public_state(row.state)) for row in bars.rows if row.public_name)
    )


def _shipment(
    picture: Picture, row: ShipmentRow, named: dict[str, JobRow], moved: ShipmentMoved | None
) -> BackerShipment:
    return BackerShipment(
        name=public_shipment_name(row),
        quantity=row.quantity,
        told=row.told,
        told_before=row.told_all[:-1],
        forecast=row.forecast,
        posted=row.posted,
        days_late=row.days_late,
        at_best=tuple(_name(picture, named, code) for code in row.at_best),
        holds=_holds(picture, row, named),
        then=_then(picture, row, named),
        before=moved.before if moved else None,
        moved_days=moved.days if moved else None,
        ready=_is_ready(picture, row),
    )


def _name(picture: Picture, named: dict[str, JobRow], code: str) -> str:
    if code in named:
        return named[code].public_name
    job = picture.plan.job_by_code.get(code)
    if job is None:
        return "a step no longer planned"
    inhouse = picture.plan.supplier_by_code[job.supplier].inhouse
    return "a step of our own" if inhouse else "a step at a supplier"


def _holds(picture: Picture, row: ShipmentRow, named: dict[str, JobRow]) -> str:
    if row.posted:
        return "posted"
    if row.held_by is None or _is_ready(picture, row):
        return ""
    return f"{_name(picture, named, row.held_by.job)}: {_why(picture, row.held_by)}"


def _is_ready(picture: Picture, row: ShipmentRow) -> bool:
    """Whether every job that sets its date is done, so that it only has to be posted."""
    done = all(picture.standings[code].state == "DONE" for code in row.critical_jobs)
    return row.posted is None and row.held_by is not None and done


def _then(picture: Picture, row: ShipmentRow, named: dict[str, JobRow]) -> tuple[str, ...]:
    """The named steps after the one that holds it."""
    if row.posted or row.held_by is None:
        return ()
    return tuple(_name(picture, named, code) for code in row.path[1:] if code in named)


def _why(picture: Picture, held: HeldBy) -> str:
    """Why a chain begins where it does, in words for people outside."""
    job = picture.plan.job_by_code[held.job]
    supplier = picture.plan.supplier_by_code[job.supplier]
    who = "our own bench" if supplier.inhouse else supplier.public_name or "a supplier"
    told = {
        "promise": f"promised by {who} for {full_day(held.day)}",
        "clock": f"waits for {_conditions(held)} from us",
        "leave": f"{'made; ' if held.made else ''}waits for {_conditions(held)} before it can leave",
        "overdue": f"the date passed without news from {who}",
        "left": f"on its way since {full_day(held.day)}",
        "not before": f"booked for {full_day(held.day)}",
        "second attempt": "a check failed and is tried again",
        "after failure": "put right after a failed check",
        "done": "done",
    }
    if held.reason not in told or (held.reason in ("clock", "leave") and not held.owed_by):
        return _where_it_stands(picture, held.job, who)
    return told[held.reason]


def _where_it_stands(picture: Picture, code: str, who: str) -> str:
    """In plain words, where no promise, failure or debt of ours explains a step."""
    start = picture.forecast.times.start[picture.forecast.network.index[code]]
    return {
        "IN WORK": f"in work at {who} since {full_day(date.fromordinal(start))}",
        "PAUSED": "work is paused",
        "PART IN": f"the rest is still with {who}",
        "MADE": f"made by {who}, to be sent on",
    }.get(picture.standings[code].state, f"next to be done by {who}")


def _conditions(held: HeldBy) -> str:
    return listed(tuple(_condition(what) for what in held.whats))


def _condition(what: str) -> str:
    return {"order": "the order", "payment": "a payment", "balance": "the second payment"}.get(
        what, f"the {what}"
    )


def _arrived(
    picture: Picture, named: dict[str, JobRow], since: date, news: News | None
) -> tuple[Arrived, ...]:
    """What came in, or is only known, since then and still stands: a pass that a later failure overruled is none."""
    words = {"finished": "done", "passed": "check passed"}
    found = []
    for fact in picture.plan.facts:
        is_news = fact.on >= since or (news is not None and news.has(fact))
        if not is_news or fact.on > picture.today:
            continue
        if fact.kind == "in" and fact.job in named:
            what = "arrived" if named[fact.job].state == "DONE" else "part of it arrived"
            newest = fact is _newest_delivery(picture, fact.job)
            found.append(
                Arrived(
                    day=fact.on,
                    name=named[fact.job].public_name,
                    what=what,
                    count=backer_count(picture, fact.job) if newest else None,
                )
            )
        elif fact.kind in words and fact.job in named and named[fact.job].state != "FAILED":
            found.append(Arrived(day=fact.on, name=named[fact.job].public_name, what=words[fact.kind]))
        elif fact.kind == "posted":
            row = next(one for one in shipment_rows(picture) if one.code == fact.shipment)
            found.append(
                Arrived(day=fact.on, name=public_shipment_name(row), what=f"{fact.good or 0} posted")
            )
    return tuple(sorted(found, key=lambda one: one.day, reverse=True))


def _newest_delivery(picture: Picture, job: str) -> Fact:
    """The last delivery up to today of a job that had one."""
    facts = [one for one in picture.plan.facts if one.job == job and one.kind == "in"]
    return max((one for one in reversed(facts) if one.on <= picture.today), key=lambda fact: fact.on)


def _late(picture: Picture, named: dict[str, JobRow]) -> tuple[BackerLate, ...]:
    found = []
    for late in late_report(picture).rows:
        if late.job not in named or late.caused:
            continue
        found.append(
            BackerLate(
                name=named[late.job].public_name,
                planned=late.planned,
                expected=late.arrives,
                at_best=late.at_best,
                why=_late_why(picture, late.job),
            )
        )
    return tuple(found)


def _late_why(picture: Picture, code: str) -> str:
    why = _why(picture, reason_of(picture, code))
    earlier = [f"{row.day.day} {row.day:%b}" for row in promise_rows(picture.plan, code, picture.today)[:-1]]
    return why + (f"; dates given before: {', '.join(earlier)}" if earlier else "")


def _progress(picture: Picture, row: JobRow) -> BackerJob:
    late = (row.arrives - row.first_arrives).days if row.arrives and row.first_arrives else None
    return BackerJob(
        name=row.public_name,
        state=_public_state(row.state),
        flag=_public_flag(row),
        planned_start=row.first_start,
        planned=row.first_arrives,
        expected_start=row.start,
        expected=row.arrives,
        days_late=late,
        at_best=bool(row.at_best),
        count=backer_count(picture, row.code),
    )


def _public_flag(row: JobRow) -> str:
    """The first flag of a job whose turn it is; a failed check that a second one has passed says so."""
    if row.passed_by:
        return "PASSED LATER"
    return row.flags[0] if row.flags and row.its_turn else ""


def _public_state(state: str) -> str:
    return "WAITS ON US" if state == "CLOCK NOT STARTED" else state

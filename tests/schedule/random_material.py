"""Random plans that count pieces, from a seed: three stages, shared stock, rejects, lots, promises, calendars.

Raw parts go into middle parts, those into end parts, and end parts into shipments. What was logged fits together:
nobody uses more pieces than came, except that work may begin before its inputs are all there.
"""

import random
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from fractions import Fraction

from tests.schedule.random_plans import START, WORKDAYS
from tracker.plan.model import Closure, Fact, Job, Link, Plan, Run, Shipment, Supplier
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import DayRate, HourRate, Lead, Span

YIELDS = (Fraction(1), Fraction(1), Fraction(9, 10), Fraction(3, 4), Fraction(1, 2))
FATES = ("none", "none", "none", "ordered", "started", "some in", "some in", "all in", "parcels", "promised")


def random_material(
    seed: int, *, facts: bool = True, rounding: bool = True, counted_lots: bool = True, links: bool = True
) -> tuple[Plan, date]:
    """A plan and the day it is looked at.

    ``rounding`` allows MOQ and multiple, ``counted_lots`` a number of equal lots where the need decides how many
    pieces, ``links`` jobs and shipments that wait for a job whatever its pieces are for.
    """
    rng = random.Random(seed)
    suppliers = tuple(_supplier(rng, n) for n in range(3))
    shipments = tuple(_shipment(rng, n) for n in range(rng.randint(1, 3)))
    draft = _Draft(rng, suppliers, counted_lots=counted_lots, links=links)
    parts = tuple(
        _part(rng, code, rounding=rounding)
        for code in ("raw-a", "raw-b", "tape", "mid-a", "mid-b", "end-a", "end-b")
    )
    for code in ("raw-a", "raw-b", "tape"):
        draft.make(code, [])
    for code, others in (("mid-a", ["raw-a", "tape"]), ("mid-b", ["raw-a", "raw-b"])):
        draft.make(code, others)
    draft.make_ends()
    late = rng.choice(draft.jobs).code
    shipments = tuple(
        replace(one, after=(late,)) if links and rng.random() < 0.1 else one for one in shipments
    )
    now = START + timedelta(days=rng.randint(0, 30))
    plan = Plan(
        run=Run(code="run-1", quantity=20, start=START),
        suppliers=suppliers,
        parts=parts,
        jobs=tuple(draft.jobs),
        shipments=shipments,
    )
    return (_logged(rng, plan, now) if facts else plan), now


def _supplier(rng: random.Random, n: int) -> Supplier:
    closures = []
    for _ in range(rng.randint(0, 2)):
        first = START + timedelta(days=rng.randint(0, 60))
        closures.append(Closure(first=first, last=first + timedelta(days=rng.randint(0, 6))))
    return Supplier(
        code=f"s{n}",
        workdays=rng.choice(WORKDAYS),
        closures=tuple(closures),
        dates_mean=rng.choice(("in hand", "leaves")),
        inhouse=n == 0,
    )


def _shipment(rng: random.Random, n: int) -> Shipment:
    inside = {"end-a": rng.randint(1, 7)}
    if rng.random() < 0.5:
        inside["end-b"] = rng.randint(1, 5)
    if rng.random() < 0.2:
        inside["raw-a"] = rng.randint(1, 3)
    contents = tuple(Content(part=part, quantity=number) for part, number in inside.items())
    return Shipment(code=f"wave-{n + 1}", quantity=sum(inside.values()), contents=contents)


def _part(rng: random.Random, code: str, *, rounding: bool) -> Part:
    rounds = rounding and rng.random() < 0.2
    return Part(
        code=code,
        unit="m" if code == "tape" else "",
        here=Fraction(rng.choice((0, 0, 0, rng.randint(1, 8)))),
        spares=rng.choice((0, 0, rng.randint(1, 3))),
        moq=rng.randint(1, 25) if rounds else None,
        multiple=rng.choice((None, 5, 7)) if rounds else None,
    )


@dataclass
class _Draft:
    """Jobs in the order they feed each other."""

    rng: random.Random
    suppliers: tuple[Supplier, ...]
    counted_lots: bool
    links: bool
    jobs: list[Job] = field(default_factory=list)

    def make(self, part: str, taken: list[str]) -> None:
        """One or two jobs that make a part; the second may serve the first shipment."""
        rng = self.rng
        for n in range(rng.choice((1, 1, 1, 2))):
            quantity = rng.choice((None, None, rng.randint(3, 30)))
            serves = ("wave-1",) if rng.random() < 0.2 else ()
            again = n == 0 and rng.random() < 0.3
            job = self._job(f"{part}-{n + 1}", quantity)
            takes = tuple(self._take(other) for other in taken)
            self.jobs.append(replace(job, makes=(Make(part=part),), takes=takes, serves=serves, rerun=again))

    def make_ends(self) -> None:
        """End parts: one job for each, or one job that makes both, where some parts go into one of them only."""
        rng = self.rng
        if rng.random() < 0.3:
            shares = rng.randint(4, 20), rng.randint(2, 12)
            into = (self._take("mid-a"), replace(self._take("mid-b"), into="end-b"), self._take("raw-b"))
            makes = tuple(
                Make(part=part, quantity=n) for part, n in zip(("end-a", "end-b"), shares, strict=True)
            )
            job = self._job("ends", sum(shares))
            self.jobs.append(replace(job, makes=makes, takes=into, quantity=rng.choice((None, sum(shares)))))
            return
        self.make("end-a", ["mid-a", "raw-b"])
        self.make("end-b", ["mid-a", "mid-b"])

    def _take(self, part: str) -> Take:
        per = (
            self.rng.choice((Fraction(7, 20), Fraction(1, 2)))
            if part == "tape"
            else self.rng.choice((1, 1, 2))
        )
        return Take(part=part, per=Fraction(per))

    def _job(self, code: str, quantity: int | None) -> Job:
        rng = self.rng
        links = tuple(Link(job=job.code) for job in self.jobs if self.links and rng.random() < 0.06)
        return Job(
            code=code,
            supplier=rng.choice(self.suppliers).code,
            lead=_lead(rng),
            quantity=quantity,
            yields=rng.choice(YIELDS),
            lots=self._lots(quantity),
            one_by_one=rng.random() < 0.3,
            travel=Span(rng.choice((0, 0, 1, 3)), rng.choice(("cd", "wd"))),
            not_before=START + timedelta(days=rng.randint(0, 30)) if rng.random() < 0.1 else None,
            after=links,
        )

    def _lots(self, quantity: int | None) -> int | str | tuple[int, ...] | None:
        rng = self.rng
        first = rng.randint(1, quantity - 1) if quantity else 0
        sizes = (first, quantity - first) if quantity else None
        number = rng.randint(1, min(4, quantity or 4)) if self.counted_lots or quantity else None
        return rng.choice((None, None, "shipments", number, sizes))


def _lead(rng: random.Random) -> Lead | DayRate | HourRate:
    if rng.random() < 0.55:
        days = rng.randint(1, 9)
        return Lead(days, days, days, rng.choice(("wd", "wd", "cd")))
    if rng.random() < 0.5:
        return DayRate(
            setup=rng.choice((0, 1)), per_day=Fraction(rng.choice((1, 2, 3, 4, 5)), rng.choice((1, 1, 2)))
        )
    return HourRate(
        setup_h=Fraction(rng.choice((0, 3, 9))),
        minutes_each=Fraction(rng.choice((50, 70, 200))),
        hours_per_day=Fraction(8),
        machines=rng.choice((1, 2)),
    )


def _logged(rng: random.Random, plan: Plan, now: date) -> Plan:
    """The plan with facts, and with rework jobs for some of what came to go back."""
    log = _Log(rng, plan, now)
    jobs: list[Job] = []
    for job in plan.jobs:
        jobs.append(job)
        log.live(job)
        waits = log.in_rework.get(job.code, 0)
        if waits and len(job.makes) == 1 and rng.random() < 0.5:
            jobs.append(_mending(rng, job, rng.randint(1, waits)))
    log.scrap_some()
    log.post_some()
    return replace(plan, jobs=tuple(jobs), facts=tuple(log.facts))


def _mending(rng: random.Random, job: Job, pieces: int) -> Job:
    days = rng.randint(1, 8)
    return Job(
        code=f"mend-{job.code}",
        supplier=rng.choice(("s0", job.supplier)),
        lead=Lead(days, days, days, "wd"),
        quantity=pieces,
        rework_of=job.code,
        makes=rng.choice(((), job.makes)),
        yields=job.yields,
    )


class _Log:
    """What happened up to a day; ``there`` is good stock of each part that nobody has used."""

    def __init__(self, rng: random.Random, plan: Plan, now: date) -> None:
        self.rng, self.plan, self.now = rng, plan, now
        self.facts: list[Fact] = []
        self.there = {part.code: part.here for part in plan.parts}
        self.in_rework: dict[str, int] = {}

    def live(self, job: Job) -> None:
        """Some steps of a job's life in order."""
        past = (self.now - START).days
        fate = self.rng.choice(FATES)
        if fate == "none" or past < 6:
            return
        days = sorted(self.rng.sample(range(past + 1), 6))
        quantity = job.quantity or (sum(make.quantity or 0 for make in job.makes) or None)
        if self.rng.random() < 0.85:
            put_in = (
                {"quantity": self.rng.randint(3, 30)} if quantity is None and self.rng.random() < 0.6 else {}
            )
            quantity = quantity or put_in.get("quantity")
            self._log(job, "ordered", days[0], **put_in)
        if fate not in ("ordered", "promised") and self.rng.random() < 0.6:
            self._log(job, "started", days[1])
        room = quantity or self.rng.randint(1, 10)
        if fate in ("some in", "all in"):
            self._deliver(job, days[2:], room, whole=fate == "all in")
        elif fate == "parcels":
            self._parcels(job, days[2:], room)
        if fate != "parcels" and self.rng.random() < 0.5:
            self._promise(job, days[5], room)

    def _log(self, job: Job, kind: str, on: int, **fields: object) -> None:
        when = START + timedelta(days=on)
        self.facts.append(Fact(on=when, logged=when, kind=kind, job=job.code, **fields))

    def _deliver(self, job: Job, days: list[int], room: int, *, whole: bool) -> None:
        """One to three deliveries, as far as the inputs of their pieces came."""
        home = job.supplier == "s0"
        for number, on in enumerate(days[: self.rng.randint(1, 3)]):
            make = self.rng.choice(job.makes)
            most = min(room, make.quantity or room, self._could_make(job, make.part))
            pieces = most if whole or most < 2 else self.rng.randint(1, most)
            if pieces < 1:
                return
            room -= pieces
            self._use(job, make.part, pieces)
            named = {"part": make.part} if len(job.makes) > 1 else {}
            if home and not job.travel.days and self.rng.random() < 0.5:
                self._log(job, "made", on, good=pieces, **named)
                self.there[make.part] += pieces
                continue
            self._bring(job, make.part, on, pieces, last=number == 2 and self.rng.random() < 0.3)

    def _bring(self, job: Job, part: str, on: int, pieces: int, *, last: bool) -> None:
        rng = self.rng
        named = {"part": part} if len(job.makes) > 1 else {}
        rework = rng.choice((0, 0, rng.randint(0, pieces)))
        scrap = rng.choice((0, 0, rng.randint(0, pieces - rework)))
        good = pieces - rework - scrap
        if good and rng.random() < 0.2:
            self._log(job, "in", on, count=good, rework=rework, scrap=scrap, closes=last, **named)
            sorted_now = rng.randint(0, good)
            if sorted_now:
                self._log(job, "sorted", on, good=sorted_now, **named)
            good = sorted_now
        else:
            self._log(job, "in", on, good=good, rework=rework, scrap=scrap, closes=last, **named)
        self.there[part] += good
        self.in_rework[job.code] = self.in_rework.get(job.code, 0) + rework

    def _parcels(self, job: Job, days: list[int], room: int) -> None:
        """Pieces made or on their way, counted or not."""
        if job.supplier == "s0":
            return
        kind = self.rng.choice(("made", "left", "made some", "left some"))
        counted = {"good": self.rng.randint(1, room)} if kind.endswith("some") else {}
        self._log(job, kind.split()[0], days[0], **counted)
        part = job.makes[0].part
        came = min(counted.get("good", 0), self._could_make(job, part))
        if came and self.rng.random() < 0.5:
            came = self.rng.randint(1, came)
            self._use(job, part, came)
            self._bring(job, part, days[2], came, last=False)

    def _promise(self, job: Job, on: int, room: int) -> None:
        """A promise for all that is open, and perhaps some on a later or the same day that name numbers."""
        rng = self.rng
        means = rng.choice((None, "in hand", "leaves"))
        for _ in range(rng.randint(1, 3)):
            until = START + timedelta(days=on + rng.randint(0, 25))
            number = {"good": rng.randint(1, room)} if rng.random() < 0.5 else {}
            self._log(job, "promised", on, day=until, means=means, **number)

    def _could_make(self, job: Job, part: str) -> int:
        takes = [take for take in job.takes if take.into in ("", part)]
        return min((int(self.there[take.part] // take.per) for take in takes), default=99)

    def _use(self, job: Job, part: str, pieces: int) -> None:
        for take in job.takes:
            if take.into in ("", part):
                self.there[take.part] -= take.per * pieces

    def _some_of(self, part: str) -> int:
        most = int(self.there[part])
        return self.rng.randint(1, most) if most >= 1 and self.rng.random() < 0.3 else 0

    def scrap_some(self) -> None:
        """Pieces found bad after they came in."""
        for part in self.there:
            pieces = self._some_of(part)
            if pieces and part != "tape":
                self.there[part] -= pieces
                self.facts.append(
                    Fact(on=self.now, logged=self.now, kind="scrapped", part=part, scrap=pieces)
                )

    def post_some(self) -> None:
        """Some pieces of the first shipment are gone."""
        content, shipment = self.plan.shipments[0].contents[0], self.plan.shipments[0]
        pieces = min(self._some_of(content.part), content.quantity)
        if pieces:
            self.facts.append(
                Fact(
                    on=self.now,
                    logged=self.now,
                    kind="posted",
                    shipment=shipment.code,
                    part=content.part,
                    good=pieces,
                )
            )

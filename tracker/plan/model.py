"""The plan of one production run as frozen values; the currency between all layers.

Dates are ``datetime.date``; a last day is inclusive everywhere. Optional texts are ``""`` when absent.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from functools import cached_property
from typing import Literal

from tracker.plan.fact_index import by_job
from tracker.plan.options import Option
from tracker.plan.parts import Content, LotRule, Make, Part, Take
from tracker.plan.span import NO_DAYS, NO_WORKING_DAYS, DayRate, HourRate, Lead, Span

DatesMean = Literal["in hand", "leaves"]
DateOrder = Literal["day first", "month first"]
LinkKind = Literal["finish-start", "start-start", "finish-finish"]
Outcome = Literal["pass", "fail"]

CLOCK_CONDITIONS = ("order", "payment", "drawing", "proof", "material")
LEAVE_CONDITIONS = ("balance", "papers")
FACT_KINDS = (
    "ordered", "given", "started", "promised", "made", "left", "in", "sorted", "finished", "passed", "failed",
    "paused", "resumed", "called_off", "posted", "told", "decided", "called", "note", "mailed", "scrapped",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One production run of one product; ``today`` fixes the status date (the demo's), else the clock gives it.

    ``unit`` names the part that is one complete product, before packing, or the parts that are its variants,
    with commas between; full sets are counted for them.
    """

    code: str
    quantity: int
    start: date
    product: str = ""
    currency: str = ""
    today: date | None = None
    dates: DateOrder | None = None
    unit: str = ""

    @property
    def units(self) -> tuple[str, ...]:
        """The parts that are one complete product, each variant apart."""
        return tuple(code for code in (one.strip() for one in self.unit.split(",")) if code)


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """Days on which a supplier is shut, first and last day included."""

    first: date
    last: date
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplier:
    """Who does jobs, and their calendar: working weekdays, public holidays of a country, closures, extra days.

    ``dates_mean`` says what their dates are: ``in hand`` (with us) or ``leaves`` (goes out of their door).
    ``bank`` is the time from a payment sent to it being credited. ``inhouse`` is our own bench.
    """

    code: str
    name: str = ""
    country: str = ""
    subdivision: str = ""
    workdays: str = "mon-fri"
    closures: tuple[Closure, ...] = ()
    opens: tuple[date, ...] = ()
    dates_mean: DatesMean = "in hand"
    bank: Span = NO_WORKING_DAYS
    contact: str = ""
    public_name: str = ""
    inhouse: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """A job waits for ``job``: for its result (finish-start), its start, or to finish not before it.

    ``on`` is ``fail`` when the waiting job runs only after that gate has failed.
    """

    job: str
    kind: LinkKind = "finish-start"
    lag: Span = NO_DAYS
    on: Outcome = "pass"


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One step of work by one supplier.

    ``clock`` lists what must be there before the lead starts (None = the default: an order for outside
    suppliers, nothing in house). ``leave_when`` lists what must be there before a made lot may leave.
    ``travel`` runs from the supplier's door to where the part is used next. ``quantity`` counts pieces put in;
    where it is None and the job makes a part, the need decides.

    ``yields`` is the share of pieces put in that come out good. ``lots`` cuts the quantity: into so many equal
    lots, into lots of these sizes, or one for each shipment; ``one_by_one`` has a lot wait for the one before
    it. ``serves`` names the shipments whose need this job covers before other makers of the same part, and
    ``rerun`` marks the maker that covers a shortage. ``rework_of`` names the job whose rework pieces go in.
    ``unders`` and ``overs`` are how far a printed count may differ, as shares of the quantity.
    """

    code: str
    supplier: str
    lead: Lead | DayRate | HourRate
    name: str = ""
    public_name: str = ""
    process: str = ""
    said: str = ""
    after: tuple[Link, ...] = ()
    quantity: int | None = None
    travel: Span = NO_DAYS
    not_before: date | None = None
    clock: tuple[str, ...] | None = None
    leave_when: tuple[str, ...] = ()
    gate: bool = False
    retry_of: str = ""
    takes: tuple[Take, ...] = ()
    makes: tuple[Make, ...] = ()
    yields: Fraction = Fraction(1)
    lots: LotRule | None = None
    one_by_one: bool = False
    serves: tuple[str, ...] = ()
    rerun: bool = False
    rework_of: str = ""
    unders: Fraction = Fraction(0)
    overs: Fraction = Fraction(0)

    @property
    def counts_pieces(self) -> bool:
        """Whether the job's dates follow from parts, and not only from the jobs it waits for."""
        return bool(self.makes or self.takes or self.rework_of)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What we told backers on day ``on``: one day (``first`` is None), a span, ``last`` included, or words alone."""

    on: date
    last: date | None = None
    first: date | None = None
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shipment:
    """A numbered wave of units to backers; it goes when its contents and all jobs in ``after`` have arrived."""

    code: str
    quantity: int
    name: str = ""
    public_name: str = ""
    after: tuple[str, ...] = ()
    told: tuple[Told, ...] = ()
    contents: tuple[Content, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One thing that happened on day ``on``, entered on day ``logged``.

    ``kind`` is one of ``FACT_KINDS`` and decides which other fields mean something:
    ``day`` is the date spoken of (promised for, paused until, day 1 for, told the last day, call again);
    ``what`` is the condition given; ``words`` are kept as said; ``count`` is pieces counted but not judged;
    ``closes`` closes a delivery short. ``part`` is the part scrapped, or says which of several parts was counted.
    ``option`` is the one that was decided on.
    """

    on: date
    kind: str
    logged: date
    job: str = ""
    shipment: str = ""
    supplier: str = ""
    part: str = ""
    what: str = ""
    day: date | None = None
    first: date | None = None
    worst: date | None = None
    means: DatesMean | None = None
    exactly: bool = False
    words: str = ""
    good: int | None = None
    rework: int | None = None
    scrap: int | None = None
    count: int | None = None
    quantity: int | None = None
    ref: str = ""
    closes: bool = False
    note: str = ""
    option: str = ""

    @property
    def pieces(self) -> int:
        """All pieces the fact speaks of: good, rework, scrap and counted but not judged."""
        return (self.good or 0) + (self.rework or 0) + (self.scrap or 0) + (self.count or 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedJob:
    """A job in the first plan: first and last day worked, and the day its result arrives (evening)."""

    job: str
    start: date
    finish: date
    arrives: date


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedShipment:
    """A shipment's date in the first plan."""

    shipment: str
    date: date


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstPlan:
    """The forecast kept when the run was first complete; what "late" in columns is measured against."""

    jobs: tuple[PlannedJob, ...] = ()
    shipments: tuple[PlannedShipment, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PublicHolidays:
    """The public holidays of one country and subdivision for whole years, resolved once and kept.

    Kept with the run so that a newer holiday library does not move the past.
    """

    country: str
    subdivision: str = ""
    first_year: int
    last_year: int
    days: tuple[date, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Everything known about one run. Facts stand in the order they were logged.

    ``foreseen`` is the last day whose facts count although it lies ahead, as of a try-out; None where only those up
    to the status date do. It is never stored.
    """

    run: Run
    suppliers: tuple[Supplier, ...] = ()
    jobs: tuple[Job, ...] = ()
    shipments: tuple[Shipment, ...] = ()
    facts: tuple[Fact, ...] = ()
    parts: tuple[Part, ...] = ()
    options: tuple[Option, ...] = ()
    first_plan: FirstPlan | None = None
    holidays: tuple[PublicHolidays, ...] = field(default=())
    foreseen: date | None = None

    def known_by(self, today: date) -> date:
        """The last day whose facts are looked at on ``today``: that day, or a later one foreseen."""
        return today if self.foreseen is None else max(today, self.foreseen)

    @cached_property
    def supplier_by_code(self) -> Mapping[str, Supplier]:
        """Suppliers by code, in plan order."""
        return {s.code: s for s in self.suppliers}

    @cached_property
    def job_by_code(self) -> Mapping[str, Job]:
        """Jobs by code, in plan order."""
        return {j.code: j for j in self.jobs}

    @cached_property
    def shipment_by_code(self) -> Mapping[str, Shipment]:
        """Shipments by code, in plan order."""
        return {s.code: s for s in self.shipments}

    @cached_property
    def part_by_code(self) -> Mapping[str, Part]:
        """Parts by code, in plan order."""
        return {p.code: p for p in self.parts}

    @cached_property
    def option_by_code(self) -> Mapping[str, Option]:
        """Options by code, in plan order, those decided on among them."""
        return {o.code: o for o in self.options}

    @cached_property
    def makers_of(self) -> Mapping[str, tuple[Job, ...]]:
        """For each part, the jobs that make it, in plan order."""
        found: dict[str, list[Job]] = {part.code: [] for part in self.parts}
        for job in self.jobs:
            for make in self.makes_of(job):
                found.setdefault(make.part, []).append(job)
        return {part: tuple(jobs) for part, jobs in found.items()}

    def makes_of(self, job: Job) -> tuple[Make, ...]:
        """What a job makes; a rework job that does not say makes what the job it is for makes."""
        seen: set[str] = set()
        while job.rework_of and not job.makes and job.code not in seen:
            seen.add(job.code)
            job = self.job_by_code.get(job.rework_of, job)
        return job.makes

    @cached_property
    def facts_by_job(self) -> Mapping[str, tuple[Fact, ...]]:
        """Each job's facts by the day they happened, then as logged; shared with plans of the same or fewer facts."""
        return by_job(self.facts)

    def clock_of(self, job: Job) -> tuple[str, ...]:
        """What the job's clock waits for, the default filled in."""
        if job.clock is not None:
            return job.clock
        return () if self.supplier_by_code[job.supplier].inhouse else ("order",)

    def told_of(self, shipment: Shipment, today: date) -> tuple[Told, ...]:
        """All told of the shipment up to ``today``, oldest first: what the plan has and what was logged."""
        logged = (
            Told(on=f.on, first=f.first, last=f.day, words=f.words)
            for f in self.facts
            if f.kind == "told" and f.shipment == shipment.code
        )
        told = (one for one in (*shipment.told, *logged) if one.on <= today)
        return tuple(sorted(told, key=lambda one: one.on))

    def days_told(self, shipment: Shipment, today: date) -> tuple[date, ...]:
        """The last day of each date or span told up to ``today``, oldest first; words alone name no day."""
        return tuple(one.last for one in self.told_of(shipment, today) if one.last is not None)

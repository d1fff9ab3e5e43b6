"""A slow second opinion on dates: plain stepping from day to day, sharing only the plan's values with the engine.

Days are integers (``date.toordinal()``); an evening is named by its day.
"""

from datetime import date
from typing import NamedTuple

from tracker.plan.model import Fact, Job, Link, Plan, Supplier
from tracker.plan.span import Lead, Span

WEEK = {
    "mon-fri": {0, 1, 2, 3, 4},
    "mon-sat": {0, 1, 2, 3, 4, 5},
    "sun-thu": {6, 0, 1, 2, 3},
    "mon,wed,fri": {0, 2, 4},
    "all": {0, 1, 2, 3, 4, 5, 6},
}


class Dates(NamedTuple):
    """First and last day worked, and the evening of arrival; ``come`` when it is known to be there."""

    start: int
    finish: int
    arrive: int
    come: bool = False


class Oracle:
    """Dates of one plan on one day, each job worked out from those it waits for."""

    def __init__(self, plan: Plan, today: date) -> None:
        self.plan = plan
        self.today = today.toordinal()
        self.known_by = plan.known_by(today).toordinal()
        self.known: dict[str, Dates] = {}

    def shipment(self, code: str) -> int:
        return max(self.dates(job).arrive for job in self.plan.shipment_by_code[code].after)

    def dates(self, code: str) -> Dates:
        if code not in self.known:
            self.known[code] = self._work_out(self.plan.job_by_code[code])
        return self.known[code]

    def works(self, supplier: Supplier, day: int) -> bool:
        if date.fromordinal(day) in supplier.opens:
            return True
        shut = any(c.first.toordinal() <= day <= c.last.toordinal() for c in supplier.closures)
        return not shut and date.fromordinal(day).weekday() in WEEK[supplier.workdays]

    def own_day(self, job: Job, day: int) -> bool:
        return self._unit(job) == "cd" or self.works(self._supplier(job), day)

    def next_own(self, job: Job, day: int) -> int:
        while not self.own_day(job, day):
            day += 1
        return day

    def after_span(self, supplier: Supplier, evening: int, span: Span) -> int:
        left = span.days
        while left:
            evening += 1
            if span.unit == "cd" or self.works(supplier, evening):
                left -= 1
        return evening

    def work(self, job: Job, start: int, days: int) -> int:
        """The last of so many own days from a start that is an own day."""
        day = start
        while True:
            if self.own_day(job, day):
                days -= 1
                if days == 0:
                    return day
            day += 1

    def _supplier(self, job: Job) -> Supplier:
        return self.plan.supplier_by_code[job.supplier]

    def _unit(self, job: Job) -> str:
        return (
            job.lead.unit
            if isinstance(job.lead, Lead) and job.lead.planned
            else "cd"
            if not self._days(job)
            else "wd"
        )

    def _days(self, job: Job) -> int:
        if isinstance(job.lead, Lead):
            return job.lead.planned
        return job.lead.days(job.quantity or self.plan.run.quantity)

    def _facts(self, job: Job, *kinds: str) -> list[Fact]:
        return [
            f
            for f in self.plan.facts
            if f.job == job.code and f.kind in kinds and f.on.toordinal() <= self.known_by
        ]

    def _on(self, job: Job, kind: str) -> int | None:
        found = self._facts(job, kind)
        return found[-1].on.toordinal() if found else None

    def _travelled(self, job: Job, evening: int) -> int:
        return self.after_span(self._supplier(job), evening, job.travel)

    def _before_travel(self, job: Job, arrive: int) -> int:
        """The latest evening from which the travel still ends by ``arrive``."""
        evening = arrive
        while self._travelled(job, evening) > arrive:
            evening -= 1
        while self._travelled(job, evening + 1) <= arrive:
            evening += 1
        return evening

    def _credited(self, job: Job, what: str, sent: int) -> int:
        supplier = self._supplier(job)
        return self.after_span(supplier, sent, supplier.bank) if what in ("payment", "balance") else sent

    def _given(self, job: Job, what: str) -> int | None:
        if what == "order":
            return self._on(job, "ordered")
        found = [f for f in self._facts(job, "given") if f.what == what]
        return found[-1].on.toordinal() if found else None

    def _promise(self, job: Job) -> Fact | None:
        found = self._facts(job, "promised")
        return max(found, key=lambda f: f.on) if found else None  # ties below: entries are on different days

    def _promised(self, job: Job, promise: Fact) -> tuple[int, int]:
        """The last day worked and the evening of arrival that a promise says (rule 4)."""
        day = max(promise.day.toordinal(), self.today)
        if (promise.means or self._supplier(job).dates_mean) == "in hand":
            return self._before_travel(job, day), day
        if not promise.exactly:
            day = self.next_own(job, day)
        return day, self._travelled(job, day)

    def _door(self, job: Job, evening: int) -> int:
        """When a lot ready on that evening may leave (rule 6)."""
        for what in job.leave_when:
            given = self._given(job, what)
            evening = max(evening, self._credited(job, what, self.today if given is None else given))
        return evening

    def _owed(self, job: Job) -> bool:
        return any(self._given(job, what) is None for what in job.leave_when)

    def _work_out(self, job: Job) -> Dates:
        came, finished, left, made = (self._on(job, kind) for kind in ("in", "finished", "left", "made"))
        started, promise = self._on(job, "started"), self._promise(job)
        if finished is None and self._supplier(job).inhouse and not job.leave_when:
            finished = made  # at our own bench there is no door to leave by
        if came is not None:
            return Dates(
                started or came, min(came, *(d for d in (made, left) if d is not None), came), came, come=True
            )
        if finished is not None:
            gone = finished if left is None else max(finished, left)
            return Dates(started or finished, finished, self._travelled(job, gone), come=True)
        if left is not None:
            arrive = self._travelled(job, left)
            if (
                promise is not None
                and self._means(job, promise) == "in hand"
                and promise.on.toordinal() >= left
            ):
                arrive = promise.day.toordinal()
            arrive = max(arrive, self.today)
            return Dates(started or left, arrive, arrive)  # on its way it is ready when it arrives
        if made is not None:
            arrive = self._travelled(job, self._door(job, max(made, self.today)))
            return Dates(started or made, self._before_travel(job, arrive), arrive)
        if started is not None:
            return self._begun(job, started, promise)
        return self._to_come(job, promise)

    def _means(self, job: Job, promise: Fact) -> str:
        return promise.means or self._supplier(job).dates_mean

    def _begun(self, job: Job, start: int, promise: Fact | None) -> Dates:
        if promise is not None and promise.on.toordinal() >= start:
            return self._by_promise(job, start, promise)
        days = self._days(job)
        finish = self.work(job, start, days) if days else start - 1
        if finish < self.today:
            finish = self.next_own(job, self.today)
        return self._at_least_promised(job, start, finish, promise)

    def _by_promise(self, job: Job, start: int, promise: Fact) -> Dates:
        finish, arrive = self._promised(job, promise)
        held = (
            self._travelled(job, self._door(job, 0))
            if job.leave_when and self._later_door(job, promise)
            else 0
        )
        return Dates(min(start, finish), finish, max(arrive, held))

    def _later_door(self, job: Job, promise: Fact) -> bool:
        """Whether what the lot waits for at the door came after the promise, or is still missing."""
        return self._owed(job) or self._door(job, 0) > promise.on.toordinal()

    def _at_least_promised(self, job: Job, start: int, finish: int, promise: Fact | None) -> Dates:
        arrive = self._travelled(job, self._door(job, finish))
        if promise is not None:
            _, promised = self._promised(job, promise)
            if promised > arrive:
                return Dates(start, self._before_travel(job, promised), promised)
        return Dates(start, finish, arrive)

    def _to_come(self, job: Job, promise: Fact | None) -> Dates:
        clocks = {what: self._given(job, what) for what in self.plan.clock_of(job)}
        if promise is not None and all(given is not None for given in clocks.values()):
            told = promise.on.toordinal()
            conditions = [self._credited(job, what, given) for what, given in clocks.items()]
            inputs = [self._came(link) for link in job.after]
            if all(day is not None and day <= told for day in (*conditions, *inputs)):
                return self._by_promise(job, self._promised(job, promise)[0], promise)
        day = max(self._own_bounds(job, clocks))
        for link in job.after:
            if link.kind != "finish-finish":
                day = max(day, self._bound(link))
        start, finish = self._placed(job, day)
        return self._at_least_promised(job, start, finish, promise)

    def _placed(self, job: Job, day: int) -> tuple[int, int]:
        days = self._days(job)
        start = self.next_own(job, day)
        finish = self.work(job, start, days) if days else day - 1
        wanted = max(
            (self._bound(link) for link in job.after if link.kind == "finish-finish"), default=finish
        )
        if wanted > finish:
            finish = self.next_own(job, wanted)
            start = finish + 1
            for _ in range(days):
                start -= 1
                while not self.own_day(job, start):
                    start -= 1
        if days and finish < self.today:
            finish = self.next_own(job, self.today)
        return start, finish if days else max(finish, self.today - 1)

    def _own_bounds(self, job: Job, clocks: dict[str, int | None]) -> list[int]:
        bounds = [self.plan.run.start.toordinal()]
        if job.not_before is not None:
            bounds.append(job.not_before.toordinal())
        if self._supplier(job).inhouse:
            bounds.append(self.today)
        for what, given in clocks.items():
            bounds.append(self._credited(job, what, self.today if given is None else given) + 1)
        return bounds

    def _came(self, link: Link) -> int | None:
        """The evening on which an input, its lag included, was there; None while it is not."""
        before = self.dates(link.job)
        if not before.come:
            return None
        evening = before.start if link.kind == "start-start" else before.arrive
        return self.after_span(self._supplier(self.plan.job_by_code[link.job]), evening, link.lag)

    def _bound(self, link: Link) -> int:
        """An earliest day 1, or an earliest finish for finish-finish."""
        before = self.dates(link.job)
        sender = self._supplier(self.plan.job_by_code[link.job])
        if link.kind == "start-start":
            return self.after_span(sender, before.start, link.lag)
        evening = self.after_span(sender, before.arrive, link.lag)
        return evening if link.kind == "finish-finish" else evening + 1

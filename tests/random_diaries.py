"""Random diaries in a real database: facts in any order and entered late, edits, corrections, undone entries."""

import random
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from tests.schedule.random_material import random_material
from tests.schedule.random_plans import START, random_plan
from tracker.errors import Refused
from tracker.plan.model import Fact, Job, Link, Plan, Shipment
from tracker.plan.span import Lead
from tracker.schedule.first_plan import first_plan_of
from tracker.store.database import Store, create_store, writing
from tracker.store.edit import Transaction

NOON = datetime(2026, 6, 1, 12, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Diary:
    """A database and the plan as stored after each of its entries."""

    store: Store
    plans: list[Plan]


class _Writer:
    def __init__(self, seed: int, store: Store, *, parts: bool) -> None:
        self.rng = random.Random(seed)
        whole, now = random_material(seed) if parts else random_plan(seed, special=seed % 2 == 0)
        self.facts = list(whole.facts)
        self.rng.shuffle(self.facts)
        self.day = START
        self.last = now
        self.store = store
        self.plan = replace(whole, facts=())
        self.plans: list[Plan] = []
        self.parts = parts

    def write(self, entries: int) -> Diary:
        self.keep(self.plan, "read")
        acts = (
            self.log,
            self.log,
            self.log,
            self.back_dated,
            self.words,
            self.edit,
            self.edit,
            self.undo,
            self.correct,
        )
        for _ in range(entries):
            self.day += timedelta(days=self.rng.choice((0, 0, 1, 1, 2, 4, 9)))
            self.rng.choice(acts)()
        return Diary(self.store, self.plans)

    def entry(self, act) -> None:
        try:
            with writing(self.store) as transaction:
                act(transaction)
                self.plan = transaction.load()
        except Refused:
            return
        self.plans.append(self.plan)

    def keep(self, after: Plan, command: str) -> None:
        def act(transaction: Transaction) -> None:
            transaction.begin_entry(command, self.day, NOON)
            transaction.save(transaction.load(), after)

        self.entry(act)

    def log(self) -> None:
        """Up to three facts of the life of some jobs, on this day or long entered late."""
        many = self.rng.choice((1, 1, 1, 2, 3))
        taken, self.facts = self.facts[:many], self.facts[many:]
        known = [one for one in taken if one.job in self.plan.job_by_code or not one.job]
        late = [replace(one, on=min(one.on, self.day), logged=self.day) for one in known]
        self.keep(replace(self.plan, facts=(*self.plan.facts, *late)), "log")

    def back_dated(self) -> None:
        """A job of those not begun is promised, or done, some days ago."""
        job = self.rng.choice(self.plan.jobs)
        on = max(START, self.day - timedelta(days=self.rng.randint(0, 8)))
        ahead = on + timedelta(days=self.rng.randint(0, 20))
        kinds = (
            (("finished", None), ("promised", ahead), ("started", None))
            if not self.parts
            else (("promised", ahead),)
        )
        kind, day = self.rng.choice(kinds)
        fact = Fact(on=on, logged=self.day, kind=kind, job=job.code, day=day)
        self.keep(replace(self.plan, facts=(*self.plan.facts, fact)), kind)

    def words(self) -> None:
        fact = Fact(on=self.day, logged=self.day, kind="note", note="nothing new")
        self.keep(replace(self.plan, facts=(*self.plan.facts, fact)), "note")

    def edit(self) -> None:
        acts = (self.lead, self.link, self.shipment, self.begin, self.first_plan)
        self.keep(self.rng.choice(acts)(), "set")

    def _with(self, job: Job) -> Plan:
        return replace(self.plan, jobs=tuple(job if one.code == job.code else one for one in self.plan.jobs))

    def lead(self) -> Plan:
        days = self.rng.randint(0, 15)
        return self._with(replace(self.rng.choice(self.plan.jobs), lead=Lead(days, days, days, "wd")))

    def begin(self) -> Plan:
        day = self.rng.choice((None, self.day + timedelta(days=self.rng.randint(0, 30))))
        return self._with(replace(self.rng.choice(self.plan.jobs), not_before=day))

    def link(self) -> Plan:
        """A link more to an earlier job, or all links taken out."""
        place = self.rng.randrange(len(self.plan.jobs))
        job = self.plan.jobs[place]
        if job.after and self.rng.random() < 0.5:
            return self._with(replace(job, after=()))
        if place and not self.parts:
            before = self.plan.jobs[self.rng.randrange(place)].code
            return self._with(replace(job, after=(*job.after, Link(job=before))))
        return self.plan

    def shipment(self) -> Plan:
        """A shipment more, or the last one less."""
        shipments = self.plan.shipments
        if len(shipments) > 1 and self.rng.random() < 0.5:
            return replace(self.plan, shipments=shipments[:-1], first_plan=None)
        job = self.rng.choice(self.plan.jobs).code
        code = next(f"wave-{n}" for n in range(1, 99) if f"wave-{n}" not in self.plan.shipment_by_code)
        return replace(self.plan, shipments=(*shipments, Shipment(code=code, quantity=10, after=(job,))))

    def first_plan(self) -> Plan:
        return replace(self.plan, first_plan=first_plan_of(self.plan))

    def undo(self) -> None:
        number = self.rng.randint(2, len(self.plans) + 1)
        self.entry(lambda transaction: transaction.undo(number, "undo", self.day, NOON))

    def correct(self) -> None:
        if not self.plan.facts:
            return
        place = self.rng.randrange(len(self.plan.facts))
        old = self.plan.facts[place]
        on = max(START, old.on - timedelta(days=self.rng.randint(0, 3)))
        new = replace(old, on=on, note=f"corrected after {len(self.plans)} entries")

        def act(transaction: Transaction) -> None:
            transaction.begin_entry("fix", self.day, NOON)
            transaction.correct(place, new)

        self.entry(act)


def random_diary(seed: int, folder: str, *, entries: int = 20, parts: bool = False) -> Diary:
    """A database in ``folder`` with a random plan and about so many entries of all kinds."""
    store = create_store(f"{folder}/run.sqlite")
    return _Writer(seed, store, parts=parts).write(entries)

"""A slow second opinion on dates from material: a run simulated day by day, pieces moving from bin to bin.

Every evening what arrived goes to the queue of its part, every morning lots whose pieces are all there begin.
Days are integers (``date.toordinal()``); an evening is named by its day. How pieces for spares are set apart, and
which are never made, is assumed, simulated, and assumed anew until both agree.
"""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from tests.schedule.material_bins import Bins
from tests.schedule.material_lots import Cutter, Group, Parcel
from tests.schedule.oracle import Oracle
from tracker.plan.model import Fact, Job, Plan

QUIET = 40  # days without news after which nothing more comes


class MaterialOracle(Oracle):
    """Lots of every job that counts pieces, with their dates, and the dates of shipments."""

    def __init__(self, plan: Plan, today: date) -> None:
        super().__init__(plan, today)
        self.apart: set[tuple[str, int, Group]] = set()
        self.never: set[tuple[str, int, Group]] = set()
        for _ in range(30):
            before = set(self.apart), set(self.never)
            self._run()
            if before == (self.apart, self.never):
                return
        raise AssertionError("the simulation does not settle")

    def shipment(self, code: str) -> int | None:
        """The day a shipment goes, today at the earliest once some of it is gone; None where something never comes."""
        posted = [fact for fact in self.plan.facts if fact.kind == "posted" and fact.shipment == code]
        if sum(fact.good for fact in posted) >= self.plan.shipment_by_code[code].quantity:
            return max(fact.on for fact in posted).toordinal()
        if any(not wish.is_met for wish in self.bins.contents[code]):
            return None
        lots = [lot for wish in self.bins.contents[code] for _, lot in wish.sources if lot is not None]
        lots += [lot for job in self.plan.shipment_by_code[code].after for lot in self._needed(job)]
        days = [lot.arrive for lot in lots]
        return max([*days, self.today] if posted or not days else days)

    # one simulation

    def _run(self) -> None:
        self.cutter = Cutter(self.plan, self.today)
        self.needs = self.cutter.needs
        self.lots = {code: self.cutter.lots(code) for code in self.needs.order}
        self.begins_with = {code: list(lots) for code, lots in self.lots.items()}
        self.bins = Bins(self.plan, self.needs)
        self.wishes = self.bins.inputs
        self.new_apart: set[tuple[str, int, Group]] = set()
        for code, lots in self.lots.items():
            self.bins.ask(code, lots)
            self._set_apart(lots)
            self._expect_good(lots)
        self.bins.ask_beyond_jobs()
        for lot in self._all_lots():
            self._date_by_facts(lot)
        self._live()
        self.never = {
            (lot.job.code, lot.number, group)
            for lots in self.begins_with.values()
            for lot in lots
            for group, wishes in self.wishes[lot.job.code, lot.number].items()
            if group[0] >= self.needs.spare and any(not wish.is_met for wish in wishes) and not lot.holds
        }
        self.apart = self.new_apart - self.never

    def _all_lots(self) -> Iterator[Parcel]:
        return (lot for lots in self.lots.values() for lot in lots)

    def _live(self) -> None:
        closures = [closure.last.toordinal() for one in self.plan.suppliers for closure in one.closures]
        waits = [job.not_before.toordinal() for job in self.plan.jobs if job.not_before]
        day = self.plan.run.start.toordinal()
        last_news = max(day, self.today, *closures, *waits, 0)
        while day < last_news + QUIET:
            for code in self.needs.order:
                for take in self.plan.job_by_code[code].takes:
                    self.bins.hand_out(take.part, day - 1)
                for lot in self.lots[code]:
                    if lot.arrive is None:
                        self._begins(lot, day)
                    last_news = max(last_news, lot.arrive or 0)
            for part in self.plan.parts:
                self.bins.hand_out(part.code, day - 1)
            day += 1

    def _set_apart(self, lots: list[Parcel]) -> None:
        """Take pieces out of lots as assumed: those never made, and those in a lot of their own at the end."""
        for lot in list(lots):
            key = lot.job.code, lot.number
            moved = [piece for piece in lot.pieces if (*key, piece) in self.apart]
            gone = [piece for piece in lot.pieces if (*key, piece) in self.never]
            lot.pieces = [piece for piece in lot.pieces if piece not in moved and piece not in gone]
            if moved:
                number = 1000 + lot.number
                apart = self.cutter.lot_apart(lot, number, moved, lots[-1])
                self.wishes[lot.job.code, number] = {
                    group: wishes for group, wishes in self.wishes[key].items() if group in moved
                }
                lots.append(apart)

    def _expect_good(self, lots: list[Parcel]) -> None:
        """Good pieces: of all put in so far the share that comes out good, rounded down, less what came before."""
        put_in: dict[str, int] = defaultdict(int)
        for lot in lots:
            if lot.kind not in ("received", "rework"):
                for part in {part for _, part in lot.pieces}:
                    before = put_in[part]
                    put_in[part] += sum(one == part for _, one in lot.pieces)
                    share = lot.job.yields
                    lot.good[part] = int(put_in[part] * share) - int(before * share)

    # dates of one lot; the day stepping of one job is that of the oracle for plain jobs

    def _facts(self, _job: Job, *kinds: str) -> list[Fact]:
        return [fact for fact in self.lot.facts if fact.kind in kinds]

    def _promise(self, job: Job) -> Fact | None:
        found = self._facts(job, "promised")
        latest = max((fact.on for fact in found), default=None)
        return next((fact for fact in reversed(found) if fact.on == latest), None)

    def _days(self, _job: Job) -> int:
        return -int(-self.lot.work // 1)

    def _date_by_facts(self, lot: Parcel) -> None:
        """Lots that are here, made, on their way or begun on a day that was logged."""
        self.lot, job = lot, lot.job
        if lot.kind == "received":
            day = lot.came.day
            self._settle_dates(lot, day, day, self._travelled(job, day) if lot.came.at_bench else day)
        elif lot.kind in ("on the way", "made"):
            dates = self._work_out(job)
            self._settle_dates(lot, dates.start, dates.finish, dates.arrive)
        elif lot.since is not None:
            self._go_on(lot, lot.since)

    def _go_on(self, lot: Parcel, start: int) -> None:
        self.lot, job = lot, lot.job
        promise = self._promise(job)
        dates = self._begun(job, start, promise)
        day, used = self._worked(job, start, Fraction(0), lot.work)
        promised = promise is not None and self._promised(job, promise)[1] >= dates.arrive
        lot.used = used if dates.finish == day and not promised else Fraction(1)
        self._settle_dates(lot, dates.start, dates.finish, dates.arrive)

    def _settle_dates(self, lot: Parcel, start: int, finish: int, arrive: int) -> None:
        lot.start, lot.finish, lot.arrive = start, finish, arrive
        self.bins.bring(lot)

    def _worked(self, job: Job, day: int, used: Fraction, work: Fraction) -> tuple[int, Fraction]:
        """The day on which work of a length ends, and how much of that day is gone; a working day has room for 1."""
        if not work:
            return day - 1, Fraction(1)
        day = self.next_own(job, day)
        while True:
            done = min(work, 1 - used)
            work, used = work - done, used + done
            if not work:
                return day, used
            day, used = self.next_own(job, day + 1), Fraction(0)

    def _waits_for(self, lot: Parcel) -> list[Parcel]:
        found = [other for link in lot.job.after for other in self._needed(link.job)]
        if lot.job.rework_of:
            parent = self.lots[lot.job.rework_of]
            found += [other for other in parent if other.came is not None and other.came.rework]
        return found

    def _needed(self, code: str) -> list[Parcel]:
        """The lots a follower waits for: what came and what shipments need, else all."""
        lots = self.begins_with[code]
        found = [lot for lot in lots if lot.kind == "received" or lot.first < self.needs.spare]
        return found or lots

    def _begins(self, lot: Parcel, day: int) -> None:
        """Date a lot that begins on this morning, if it does."""
        self.lot = lot
        if lot.arrive is None and day == self.today + 1:
            self._look_at_facts(lot)
        if lot.goes_on or not (lot.arrive is None or lot.waits_for_day1):
            return
        if day == self.today + 1:  # what was known today may have let it begin before
            first = next((past for past in range(self._floor(lot), day) if self._may_begin(lot, past)), day)
            self._begin_if(lot, first)
        else:
            self._begin_if(lot, day)

    def _may_begin(self, lot: Parcel, day: int) -> bool:
        """Whether bounds, the lot before it and its pieces for shipments let a lot begin on this day."""
        if any(other.arrive is None or other.arrive >= day for other in self._waits_for(lot)):
            return False
        if day < self._floor(lot) or not self.own_day(lot.job, day) or not self._follows(lot, day):
            return False
        firm, loose = self._groups(lot)
        return all(self._met(lot, group, day) for group in (firm if self._holds(lot) else loose))

    def _groups(self, lot: Parcel) -> tuple[list[Group], list[Group]]:
        """Groups of pieces for shipments, and the others that are ever made."""
        key = lot.job.code, lot.number
        firm = [group for group in self.wishes[key] if lot.holds or group[0] < self.needs.spare]
        return firm, [g for g in self.wishes[key] if g not in firm and (*key, g) not in self.never]

    def _holds(self, lot: Parcel) -> bool:
        return lot.holds or any(priority < self.needs.spare for priority, _ in lot.pieces)

    def _met(self, lot: Parcel, group: Group, day: int) -> bool:
        """Whether the inputs of a group are there on the morning of a day."""
        wishes = self.wishes[lot.job.code, lot.number][group]
        return all(wish.is_met_by(day) for wish in wishes)

    def _begin_if(self, lot: Parcel, day: int) -> None:
        if not self._may_begin(lot, day):
            return
        if self._holds(lot):
            _, loose = self._groups(lot)
            late = {group for group in loose if not self._met(lot, group, day)}
            self.new_apart |= {(lot.job.code, lot.number, group) for group in late}
        if lot.arrive is None:
            self._begin(lot, day)
        lot.waits_for_day1 = False

    def _look_at_facts(self, lot: Parcel) -> None:
        """What is known today: work that shows, and a promise that replaces the lead of work that may not begin yet."""
        promise = self._promise(lot.job)
        if lot.goes_on:
            self._take_up(lot)
        if lot.arrive is None and promise is not None and self._all_came_by(lot, promise):
            dates = self._by_promise(lot.job, self.today, promise)
            lot.waits_for_day1 = True
            self._settle_dates(lot, dates.start, dates.finish, dates.arrive)

    def _take_up(self, lot: Parcel) -> None:
        """Work that shows, though nobody logged its start: begun if more than counts shows it, or all is there."""
        lot.goes_on = False
        whole, came = self._inputs(lot)
        if whole or not lot.only_counted:
            self._go_on(lot, lot.counted_from or self._unlogged(lot, came))
            groups = self.wishes[lot.job.code, lot.number]
            waits = {group for group, wishes in groups.items() if any(not wish.is_met for wish in wishes)}
            apart = waits if self._holds(lot) and not lot.holds else ()
            self.new_apart |= {(lot.job.code, lot.number, group) for group in apart}

    def _inputs(self, lot: Parcel) -> tuple[bool, list[int]]:
        """Whether all that goes into a lot has come, and the evenings on which it did."""
        key = lot.job.code, lot.number
        left = {group for group in self.wishes[key] if (*key, group) in self.apart | self.never}
        if self._holds(lot):  # what is for no shipment holds nothing up
            left |= {group for group in self.wishes[key] if group[0] >= self.needs.spare and not lot.holds}
        wishes = [wish for group, wishes in self.wishes[key].items() if group not in left for wish in wishes]
        others = [lot for wish in wishes for _, lot in wish.sources if lot is not None] + self._waits_for(lot)
        whole = all(wish.is_met for wish in wishes) and all(other.kind == "received" for other in others)
        return whole, [other.arrive for other in others if other.kind == "received"]

    def _follows(self, lot: Parcel, day: int) -> bool:
        """Whether the lot worked before this one leaves room on this day."""
        first = lot.after
        return first is None or (
            first.finish is not None and (first.finish < day or (first.finish == day and first.used < 1))
        )

    def _floor(self, lot: Parcel) -> int:
        job = lot.job
        if lot.seen:  # work on it, or on the lot before it, has shown: no order or clock is missing
            clocks = {w: self._given(job, w) for w in self.plan.clock_of(job) if not lot.day1}
            bounds = [day for day in clocks.values() if day is not None]
            bounds = [self.plan.run.start.toordinal(), *(day + 1 for day in bounds), lot.day1 or 0]
            bounds.append(job.not_before.toordinal() if job.not_before else 0)
            return max(*bounds, self.today if lot.day1 and self._supplier(job).inhouse else 0)
        return max(self._own_bounds(job, {what: self._given(job, what) for what in self.plan.clock_of(job)}))

    def _unlogged(self, lot: Parcel, came: list[int]) -> int:
        """A start nobody logged: as soon as bounds and inputs allowed, at the latest when something showed."""
        day = max([self._floor(lot), *(evening + 1 for evening in came)])
        return min(lot.seen, self.next_own(lot.job, day))

    def _begin(self, lot: Parcel, day: int) -> None:
        job, promise = lot.job, self._promise(lot.job)
        first = lot.after
        used = first.used if first is not None and first.finish == day else Fraction(0)
        finish, lot.used = self._worked(job, day, used, lot.work)
        if not lot.work:
            finish = max(finish, self.today - 1)
        elif finish < self.today:
            finish, lot.used = self.next_own(job, self.today), Fraction(1)
        if promise is not None and self._all_came_by(lot, promise):
            dates = self._by_promise(job, day, promise)
        else:
            dates = self._at_least_promised(job, day, finish, promise)
        if promise is not None and (dates.finish != finish or self._all_came_by(lot, promise)):
            lot.used = Fraction(1)
        self._settle_dates(lot, day, dates.finish, dates.arrive)

    def _all_came_by(self, lot: Parcel, promise: Fact) -> bool:
        """Whether order and inputs were all there when a promise was given, so that it replaces the lead."""
        told = promise.on.toordinal()
        conditions = [] if lot.seen else [self._given(lot.job, what) for what in self.plan.clock_of(lot.job)]
        whole, came = self._inputs(lot)
        given = all(day is not None and day <= told for day in conditions)
        return whole and given and all(evening <= told for evening in came)

"""Dates from material: one pass over the jobs in order that shares stock out as it comes and dates every lot.

A part is shared out once all who make it are dated; a lot may begin the day after the arrival that covers its
cumulative draw in every part. What was found becomes plain links between lots, so that floats, chains and
what-ifs read the network as they always do.
"""

from collections.abc import Iterable
from dataclasses import replace

from tracker.plan.balance import amount, good_of, takes_for
from tracker.plan.counts import Counted
from tracker.plan.lots import Lot, expect_good, works_in_sequence
from tracker.plan.model import Job
from tracker.schedule.cutting import follow, has_begun
from tracker.schedule.network import Network
from tracker.schedule.passes import Times, arrays_for, begins, forward_some
from tracker.schedule.placing import note_travel, place_lots, place_posted
from tracker.schedule.stock import Draw, Entry, Stock

COUNTED, HELD = -2, -1  # priorities of what came back, went out or was scrapped; and of lots that have begun


def settle(network: Network, *, as_planned: bool) -> Times:
    """Link every lot to what covers its draws and date it; return the dates found."""
    settling = _Settling(network, as_planned=as_planned)
    order: list[int] = []
    for job in network.job_order:
        lots = network.lots_of.get(job.code)
        if lots:
            settling.date(job, lots)
            order += lots
    network.order = order
    settling.date_shipments()
    if not as_planned:
        place_posted(network)
    _choose_speakers(network, settling.times)
    return settling.times


class _Settling:
    def __init__(self, network: Network, *, as_planned: bool) -> None:
        self.network, self.as_planned = network, as_planned
        self.demand = network.exploded
        self.times = arrays_for(network)
        self.place = {code: n for n, code in enumerate(sorted(network.plan.job_by_code))}  # settles ties
        self.inputs: dict[int, list[tuple[Stock, Draw]]] = {}
        self.contents: dict[str, list[tuple[Stock, Draw]]] = {}
        start = network.plan.run.start.toordinal() - 1
        for part in network.plan.parts:
            stock = Stock(part.code, self.demand.parts[part.code].scale)
            if part.here:
                stock.entries.append(Entry(start, -1, 0, None, int(part.here * stock.scale)))
            network.stocks[part.code] = stock
        for code, counted in self.demand.gone.items():
            self._keep_what_came(network.plan.job_by_code[code], counted)
        for code, lots in network.lots_of.items():
            self._ask_for_inputs(code, lots)
        self._ask_beyond_jobs()

    def _keep_what_came(self, job: Job, counted: Counted) -> None:
        """What came of a job before it was called off stays in stock, without a lot."""
        network, maker = self.network, self.place[job.code]
        for number, one in enumerate(counted.deliveries):
            good = one.good + good_of(one.unjudged, job)
            if one.part and good:
                stock = network.stocks[one.part]
                stock.entries.append(Entry(one.day, maker, number, None, good * stock.scale))
            for take in takes_for(job, one.part):
                stock = network.stocks[take.part]
                drawn = amount(take.per, one.pieces, stock.scale)
                stock.draws.append(Draw(COUNTED, maker, None, job.code, drawn))

    def _ask_for_inputs(self, code: str, lots: Iterable[int]) -> None:
        need = self.demand.jobs.get(code)
        if need is None or not need.job.takes:
            return
        back = dict(need.back)
        for place in lots:
            lot = self.network.lots[place]
            if lot is None or lot.kind == "rework":
                continue
            if lot.kind == "received":
                for part in lot.good:
                    pieces = min(back.get(part, 0), lot.pieces if len(lot.good) == 1 else lot.good[part])
                    back[part] = back.get(part, 0) - pieces
                    self._ask(place, COUNTED, part, pieces)
            else:
                further = lot.kind in ("on the way", "made")
                held = further or has_begun(self.network.plan, lot.job, self.network.progress[place])
                for priority, part, pieces in lot.segments:
                    self._ask(place, HELD if held else priority, part, pieces)

    def _ask(self, place: int, priority: int, part: str, pieces: int) -> None:
        job = self.network.jobs[place]
        for take in takes_for(job, part):
            stock = self.network.stocks[take.part]
            drawn = amount(take.per, pieces, stock.scale)
            if drawn:
                draw = Draw(priority, self.place[job.code], place, part, drawn)
                stock.draws.append(draw)
                self.inputs.setdefault(place, []).append((stock, draw))

    def _ask_beyond_jobs(self) -> None:
        """Draws of shipments, of what was posted or scrapped, and of spares."""
        taker = len(self.place)
        for priority, shipment in enumerate(self.network.plan.shipments):
            gone = self.demand.posted.get(shipment.code, {})
            for content in shipment.contents:
                stock = self.network.stocks[content.part]
                posted = min(content.quantity, gone.get(content.part, 0)) * stock.scale
                still = content.quantity * stock.scale - posted
                for rank, drawn in ((COUNTED, posted), (priority, still)):
                    if drawn:
                        draw = Draw(rank, taker + priority, None, shipment.code, drawn)
                        stock.draws.append(draw)
                        self.contents.setdefault(shipment.code, []).append((stock, draw))
        for part in self.network.plan.parts:
            stock, need = self.network.stocks[part.code], self.demand.parts[part.code]
            if need.scrapped:
                stock.draws.append(Draw(COUNTED, -1, None, "scrapped", need.scrapped))
            if part.spares:
                stock.draws.append(Draw(self.demand.spare, taker, None, "spares", part.spares * stock.scale))
            _leave_out(stock, need.unaccounted)

    def date(self, job: Job, lots: list[int]) -> None:
        """Date the lots of one job, whose inputs are all dated, and put what they bring into stock."""
        network = self.network
        made = {make.part for make in network.plan.makes_of(job)}
        for take in job.takes:
            if take.part not in made:
                network.stocks[take.part].share_out()
        cut = len(lots)
        if any(self._loose(place) for place in lots):
            for place in tuple(lots):
                self._link(place)
                self._place([place])
            self._place(lots[cut:])
            expect_good(job, [lot for place in lots if (lot := network.lots[place]) is not None])
        else:
            for place in lots:
                self._link(place)
            self._place(lots)
        for number, place in enumerate(lots):
            self._put_in_stock(self.place[job.code], number, place)

    def _put_in_stock(self, maker: int, number: int, place: int) -> None:
        lot, arrive = self.network.lots[place], self.times.arrive[place]
        if lot is None:
            return
        for part, good in lot.good.items():
            if part and good:
                stock = self.network.stocks[part]
                goes_round = lot.kind == "rework"
                stock.add(Entry(arrive, maker, number, place, good * stock.scale, goes_round))

    def _place(self, lots: list[int]) -> None:
        if self.as_planned:
            note_travel(self.network, lots)
        else:
            place_lots(self.network, lots)
        forward_some(self.network, self.times, lots)

    def _link(self, place: int) -> None:
        """Have a lot wait for all entries its draws take from; spares that would hold it up go apart."""
        lot = self.network.lots[place]
        if lot is None:
            return
        if lot.job.rework_of:
            self._link_rework(place, lot)
        inputs = self.inputs.get(place, [])
        self._wait_for(place, [one for one in inputs if one[1].priority < self.demand.spare])
        if self._loose(place):
            self._set_apart(place, lot)

    def _link_rework(self, place: int, lot: Lot) -> None:
        """A rework job waits for the deliveries its pieces came with."""
        network = self.network
        for other in network.lots_of.get(lot.job.rework_of, ()):
            came = network.lots[other]
            if came is not None and came.delivery is not None and came.delivery.rework:
                network.plain[place].append(other)

    def _wait_for(self, place: int, inputs: Iterable[tuple[Stock, Draw]]) -> None:
        plain = self.network.plain[place]
        known = set(plain)
        came = self._came(place)
        for stock, draw in inputs:
            for entry in stock.sources(draw):
                other = entry.lot
                if other is None or other in known or (came and not self._came(other)):
                    continue
                known.add(other)
                plain.append(other)

    def _came(self, place: int) -> bool:
        lot = self.network.lots[place]
        return lot is not None and lot.kind == "received"

    def _set_apart(self, place: int, lot: Lot) -> None:
        """Take pieces for spares, and those nobody asked for, out of a lot where their inputs come too late.

        Pieces whose inputs never come are not made. The time booked for the lot stays as it is. Inputs that come
        in time for such pieces hold no lot that shipments need: were they late, the pieces would go apart.
        """
        holds = lot.is_for_shipments(self.demand.spare)
        start = begins(self.network, self.times, place) if holds else 0
        if lot.progress.seen is not None:  # the rest of what our own bench counted so far
            start = max(start, self.network.today + 1)
        late: set[tuple[int, str]] = set()
        never: set[tuple[int, str]] = set()
        for stock, draw in self._loose(place):
            arrive = stock.arrival(draw)
            if arrive is None:
                never.add((draw.priority, draw.name))
            elif holds and arrive >= start:
                late.add((draw.priority, draw.name))
        late -= never
        moved = [one for one in lot.segments if one[:2] in late]
        self.network.unmade += [(lot.job.code, *one) for one in lot.segments if one[:2] in never]
        lot.segments = [one for one in lot.segments if one[:2] not in late and one[:2] not in never]
        lot.pieces = sum(one[2] for one in lot.segments)
        if not holds:
            kept = {one[:2] for one in lot.segments}
            self._wait_for(
                place, [one for one in self._loose(place) if (one[1].priority, one[1].name) in kept]
            )
        if moved:
            self._add_apart(place, lot, moved)

    def _loose(self, place: int) -> list[tuple[Stock, Draw]]:
        """Draws of pieces that are for no shipment."""
        return [one for one in self.inputs.get(place, ()) if one[1].priority >= self.demand.spare]

    def _add_apart(self, place: int, lot: Lot, moved: list[tuple[int, str, int]]) -> None:
        network = self.network
        pieces = sum(one[2] for one in moved)
        apart = Lot(
            job=lot.job,
            kind=lot.kind if lot.kind == "rerun" else "to come",
            pieces=pieces,
            segments=moved,
            progress=replace(lot.progress, promises=[]),
            booked=pieces,
            sets_up=False,
        )
        here = network.add_lot(apart, place)
        self.times.add()
        late = {one[:2] for one in moved}
        self.inputs[here] = [one for one in self._loose(place) if (one[1].priority, one[1].name) in late]
        for _, draw in self.inputs[here]:
            draw.lot = here
        self._wait_for(here, self.inputs[here])
        if works_in_sequence(lot.job):
            last = [one for one in network.lots_of[lot.job.code] if one != here][-1]
            before = network.lots[last]
            assert before is not None  # noqa: S101 - a job that counts pieces has lots
            follow(network.flow, here, apart, last, before)

    def date_shipments(self) -> None:
        """A shipment goes when the arrivals that cover its contents, and the jobs it waits for, are there."""
        network = self.network
        for shipment in network.plan.shipments:
            lots = network.shipments[shipment.code]
            for stock, draw in self.contents.get(shipment.code, ()):
                stock.share_out()
                lots += [entry.lot for entry in stock.sources(draw) if entry.lot is not None]
            network.shipments[shipment.code] = list(dict.fromkeys(lots))
        for stock in network.stocks.values():
            stock.share_out()


def _leave_out(stock: Stock, unaccounted: int) -> None:
    """Pieces used beyond all that ever came are drawn from nothing that comes now."""
    for draw in reversed(stock.draws):
        if draw.priority == COUNTED:
            gone = min(unaccounted, draw.amount)
            draw.amount -= gone
            unaccounted -= gone


def _choose_speakers(network: Network, times: Times) -> None:
    """Have each job spoken for by its last lot to come that a shipment needs, else by its last of all.

    Pieces in rework speak only where a shipment needs them.
    """
    needed = _behind_shipments(network)
    for code, lots in network.lots_of.items():
        if len(lots) > 1:
            network.index[code] = max(
                lots, key=lambda lot: (_rank(network, lot, needed), times.arrive[lot], lot)
            )


def _rank(network: Network, place: int, needed: set[int]) -> int:
    lot = network.lots[place]
    is_open = network.progress[place].done is None
    if is_open and place in needed:
        return 3
    if lot is not None and (lot.kind == "rework" or not lot.pieces):
        return 0
    return 2 if is_open else 1


def _behind_shipments(network: Network) -> set[int]:
    found: set[int] = set()
    to_see = [lot for lots in network.shipments.values() for lot in lots]
    while to_see:
        lot = to_see.pop()
        if lot in found:
            continue
        found.add(lot)
        if network.fixed[lot] is None:
            to_see += network.plain[lot]
            to_see += [link.lot for link in network.special[lot] or ()]
            flow = network.flow.get(lot)
            if flow is not None and flow.before is not None:
                to_see.append(flow.before)
    return found

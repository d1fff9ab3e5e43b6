"""Pairs of late jobs that hide each other: alone each gains less than the two together."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tracker.explain.late import LateJob, planned_arrivals, ship_date_gain
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import Chains, chains_to
from tracker.schedule.what_if import gains_if_arrived, with_arrivals

LAST_PARCEL = ""
"""Stands among the codes of shipments for whichever of them goes last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HiddenPair:
    """Two late jobs that hide each other: together they gain more than the two alone.

    ``gains`` tells for each open shipment how many calendar days earlier it would go with both back on their first-plan
    days; ``hidden`` names those for which that is more than both alone, ``ship_date_hidden`` tells the same of the last
    parcel.
    """

    jobs: tuple[str, str]
    ship_date_gain: int
    ship_date_hidden: bool
    gains: Mapping[str, int]
    hidden: tuple[str, ...]


def hidden_pairs(forecast: Forecast, late: Sequence[LateJob]) -> tuple[HiddenPair, ...]:
    """All pairs among these late jobs that hide each other, those first that do so for the ship date and gain it most.

    To gain more with the second than without, that one must be on every chain that sets the date once the first is
    back; and the other way round. So one of them is on a chain as things stand, and each such job takes one pass to
    name those that may hide behind it.
    """
    places = planned_arrivals(forecast)
    alone = {one.job: one for one in late}
    days = {one.job: (lot, places[lot]) for one in late if (lot := forecast.network.index[one.job]) in places}
    found = []
    for one, other in _may_hide(forecast, days):
        pair = _pair(forecast, alone[one], alone[other], dict((days[one], days[other])))
        if pair is not None:
            found.append(pair)
    return tuple(
        sorted(
            found,
            key=lambda pair: (
                -pair.ship_date_gain if pair.ship_date_hidden else 0,
                -max((pair.gains[code] for code in pair.hidden), default=0),
                pair.jobs,
            ),
        )
    )


def _pair(forecast: Forecast, one: LateJob, other: LateJob, arrivals: Mapping[int, int]) -> HiddenPair | None:
    gained = gains_if_arrived(forecast, arrivals)
    last = ship_date_gain(forecast, gained)
    hidden = tuple(code for code, days in gained.items() if days > one.gains[code] + other.gains[code])
    last_hidden = last > one.ship_date_gain + other.ship_date_gain
    if not (hidden or last_hidden):
        return None
    jobs = (one.job, other.job) if one.job < other.job else (other.job, one.job)
    return HiddenPair(
        jobs=jobs, ship_date_gain=last, ship_date_hidden=last_hidden, gains=gained, hidden=hidden
    )


def _may_hide(forecast: Forecast, days: Mapping[str, tuple[int, int]]) -> Iterator[tuple[str, str]]:
    """Pairs that may gain more together, each once."""
    now = _on_every_chain(forecast, days)
    holders = {
        forecast.network.jobs[lot].code for chains in _chains(forecast).values() for lot in chains.driven
    }
    behind = {
        job: _on_every_chain(Forecast.of_network(with_arrivals(forecast, {lot: day})), days)
        for job, (lot, day) in days.items()
        if job in holders
    }
    seen = set()
    for one, by_shipment in behind.items():
        for code, others in by_shipment.items():
            for other in others - {one}:
                back = behind.get(other, now).get(code, frozenset())
                pair = frozenset((one, other))
                if one in back and pair not in seen:
                    seen.add(pair)
                    yield one, other


def _on_every_chain(forecast: Forecast, jobs: Iterable[str]) -> Mapping[str, frozenset[str]]:
    """For each shipment and the last parcel, those of these jobs that every chain passes which sets its date."""
    found = {}
    for code, chains in _chains(forecast).items():
        on = {forecast.network.jobs[lot].code for lot in chains.driven}
        found[code] = frozenset(
            job
            for job in jobs
            if job in on and chains.all_pass(lot for lot in forecast.lots_of(job) if forecast.is_open(lot))
        )
    return found


def _chains(forecast: Forecast) -> Mapping[str, Chains]:
    """What sets the date of each open shipment, and of the last parcel where all that go last are held by lots."""
    chains = {code: found for code in forecast.open_shipments if (found := chains_to(forecast, code))}
    latest = [code for code, day in forecast.shipment_dates.items() if day == forecast.ship_date]
    if all(code in chains for code in latest):
        chains[LAST_PARCEL] = _together([chains[code] for code in latest])
    return chains


def _together(chains: Sequence[Chains]) -> Chains:
    """The chains to several shipments as one."""
    if len(chains) == 1:
        return chains[0]
    return Chains(
        ends=tuple(dict.fromkeys(lot for one in chains for lot in one.ends)),
        driven={lot: before for one in chains for lot, before in one.driven.items()},
        begins={lot: reasons for one in chains for lot, reasons in one.begins.items()},
    )

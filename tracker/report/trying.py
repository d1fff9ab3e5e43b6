"""What a try-out would do: how it was read, what moves with its closures, what stays, how long jobs stay harmless."""

from dataclasses import dataclass
from datetime import date

from tracker.explain.closure_share import ClosureShare, share_of_move
from tracker.plan.model import Fact
from tracker.report.answer import Answer, HarmlessRow, answer, harmless_rows
from tracker.report.picture import Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedShare:
    """What a closure makes of one shipment's move to a later day, in calendar days."""

    shipment: str
    days: int
    closure: ClosureShare


@dataclass(frozen=True, slots=True, kw_only=True)
class Stays:
    """An open shipment that does not move, and its date."""

    shipment: str
    date: date


@dataclass(frozen=True, slots=True, kw_only=True)
class TryView:
    """A try-out answered; nothing of it is stored.

    ``answer`` is what the log would say: edits and remarks together, and no entry. ``as_it_stands`` is how long the
    jobs whose end is tried on a day ahead may take as things are.
    """

    answer: Answer
    stays: tuple[Stays, ...]
    shares: tuple[TriedShare, ...]
    as_it_stands: tuple[HarmlessRow, ...]


def try_report(
    before: Picture,
    after: Picture,
    facts: tuple[Fact, ...],
    edits: tuple[str, ...] = (),
    touched: tuple[str, ...] = (),
) -> TryView:
    """Compare the forecasts before and after; ``edits`` are read back first among the remarks."""
    view = answer(before, after, facts, edits, None, touched)
    shares = (
        TriedShare(shipment=row.shipment, days=row.days, closure=share)
        for row in view.moves or ()
        if row.days and (share := share_of_move(before.forecast, after.forecast, row.shipment)) is not None
    )
    ahead = dict.fromkeys(fact.job for fact in facts if fact.job and fact.on > after.today)
    ended = [job for job in ahead if not harmless_rows(after, job)]
    return TryView(
        answer=view,
        stays=tuple(_stays(before, after)),
        shares=tuple(shares),
        as_it_stands=tuple(row for job in ended for row in harmless_rows(before, job)),
    )


def _stays(before: Picture, after: Picture) -> list[Stays]:
    then = after.forecast.shipment_dates
    return [
        Stays(shipment=code, date=date.fromordinal(day))
        for code in before.forecast.open_shipments
        if (day := before.forecast.shipment_dates[code]) is not None and then.get(code) == day
    ]

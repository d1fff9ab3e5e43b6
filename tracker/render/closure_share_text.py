"""What closures make of moves, as a remark beside the sum."""

from collections.abc import Iterable
from datetime import date

from tracker.render.words import plural, short_day
from tracker.report.alike import alike
from tracker.report.owed import listed
from tracker.report.shared import Shared


def closure_texts(moves: Iterable[Shared], today: date) -> tuple[str, ...]:
    """One text a closure: how many of each shipment's days it makes, who is shut, from when to when and why.

    Shipments with equal days are told together.
    """
    found: dict[str, list[tuple[str, tuple[int, int]]]] = {}
    for one in moves:
        if one.closure is not None and one.days is not None:
            share = one.closure
            why = f", {', '.join(share.why)}" if share.why else ""
            shut = f"{share.supplier} shut {short_day(share.first, today)} to {short_day(share.last, today)}{why}"
            found.setdefault(shut, []).append((one.shipment, (share.days, one.days)))
    return tuple(
        f"{' and '.join(_of(*days, codes) for codes, days in alike(shares))} by a closure: {shut}"
        for shut, shares in found.items()
    )


def _of(share: int, days: int, codes: tuple[str, ...]) -> str:
    """Where the shipment would even come earlier without the closure, it makes all of its days."""
    is_all = share >= days
    if len(codes) == 1:
        return f"{'all' if is_all else share} of {codes[0]}'s {plural(days, 'day')}"
    return f"{'all' if is_all else f'{share} of'} {plural(days, 'day')} of {listed(codes)}"

"""What closures make of moves, as a remark beside the sum."""

from collections.abc import Iterable
from datetime import date

from tracker.render.words import plural, short_day
from tracker.report.shared import Shared


def closure_texts(moves: Iterable[Shared], today: date) -> tuple[str, ...]:
    """One text a closure: how many of each shipment's days it makes, who is shut, from when to when and why.

    Where the shipment would even come earlier without it, it makes all of them.
    """
    found: dict[str, list[str]] = {}
    for one in moves:
        if one.closure is not None and one.days is not None:
            share = one.closure
            why = f", {', '.join(share.why)}" if share.why else ""
            shut = f"{share.supplier} shut {short_day(share.first, today)} to {short_day(share.last, today)}{why}"
            whole = "all" if share.days >= one.days else str(share.days)
            found.setdefault(shut, []).append(f"{whole} of {one.shipment}'s {plural(one.days, 'day')}")
    return tuple(f"{' and '.join(parts)} by a closure: {shut}" for shut, parts in found.items())

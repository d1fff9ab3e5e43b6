"""What one change does to the shipments: before and after, and who holds them then."""

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import Holding, holding


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One shipment's date before and after a change, as day numbers (None: no date), and its new holders."""

    shipment: str
    before: int | None
    after: int | None
    holding: Holding | None

    @property
    def days(self) -> int | None:
        """Calendar days later (negative: earlier); None where a date is missing at one end."""
        return None if self.before is None or self.after is None else self.after - self.before


def moves(before: Forecast | None, after: Forecast) -> tuple[Move, ...]:
    """Shipments whose date differs, in plan order; a shipment new or gone has no date at that end."""
    old: Mapping[str, int | None] = {} if before is None else before.shipment_dates
    new = after.shipment_dates
    codes = dict.fromkeys((*old, *new))
    return tuple(
        Move(shipment=code, before=old.get(code), after=new.get(code), holding=holding(after, code))
        for code in codes
        if old.get(code) != new.get(code)
    )

"""The forecast of every job and shipment as one view."""

from dataclasses import dataclass
from datetime import date

from tracker.report.board import overdue_codes
from tracker.report.jobs import JobRow, job_rows
from tracker.report.picture import Picture, day_or_none
from tracker.report.shipments import ShipmentRow, shipment_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastView:
    """All rows; ``ship_date`` is the day the last shipment goes, ``at_best`` jobs whose date passed without news."""

    run: str
    today: date
    ship_date: date | None
    at_best: tuple[str, ...]
    shipments: tuple[ShipmentRow, ...]
    jobs: tuple[JobRow, ...]


def forecast_view(picture: Picture, *, detail: bool = False) -> ForecastView:
    """Put the view together; ``detail`` adds drag and per-shipment floats."""
    return ForecastView(
        run=picture.plan.run.code,
        today=picture.today,
        ship_date=day_or_none(picture.forecast.ship_date),
        at_best=overdue_codes(picture),
        shipments=shipment_rows(picture),
        jobs=job_rows(picture, detail=detail),
    )

"""Views as JSON: dates in ISO form, absent values null, tuples as lists."""

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from tracker.report.forecast import ForecastView
from tracker.report.jobs import JobRow
from tracker.report.shipments import HeldBy, ShipmentRow


def json_text(view: object) -> str:
    """One JSON document of a view, its fields by name."""
    return _dumped(plain(view))


def forecast_json(view: ForecastView) -> str:
    """The forecast document, whose shape is fixed for other programs (see the README)."""
    return _dumped(
        {
            "run": view.run,
            "today": view.today.isoformat(),
            "ship_date": plain(view.ship_date),
            "at_best": list(view.at_best),
            "shipments": [_shipment(row) for row in view.shipments],
            "jobs": [_job(row) for row in view.jobs],
        }
    )


def plain(value: object) -> Any:
    """A value as JSON knows it."""
    match value:
        case date():
            found: Any = value.isoformat()
        case Fraction():
            found = int(value) if value.denominator == 1 else float(value)
        case Mapping():
            found = {str(key): plain(one) for key, one in value.items()}
        case list() | tuple():
            found = [plain(one) for one in value]
        case _ if is_dataclass(value) and not isinstance(value, type):
            worded = type(value).__str__ is not object.__str__
            found = (
                str(value)
                if worded
                else {field.name: plain(getattr(value, field.name)) for field in fields(value)}
            )
        case _:
            found = value
    return found


def _dumped(document: object) -> str:
    return json.dumps(document, ensure_ascii=False, indent=1)


def _shipment(row: ShipmentRow) -> dict[str, Any]:
    return {
        "code": row.code,
        "quantity": row.quantity,
        "told_first": plain(row.told_first),
        "told": plain(row.told_day),
        "first_plan": plain(row.first_plan),
        "forecast": plain(row.forecast),
        "posted": plain(row.posted),
        "days_late": row.days_late,
        "days_after_first": row.days_after_first,
        "at_best": list(row.at_best),
        "critical_path": list(row.path),
        "critical_jobs": list(row.critical_jobs),
        "held_by": _held_by(row.held_by),
    }


def _held_by(held: HeldBy | None) -> dict[str, Any] | None:
    if held is None:
        return None
    return {
        "job": held.job,
        "reason": held.reason,
        "what": held.what or None,
        "owed_by": held.owed_by or None,
    }


def _job(row: JobRow) -> dict[str, Any]:
    first = None
    if row.first_start is not None:
        first = {
            "start": plain(row.first_start),
            "finish": plain(row.first_finish),
            "arrives": plain(row.first_arrives),
        }
    same = (
        "code", "supplier", "state", "flags", "missing", "promise", "overdue_days", "start", "finish", "arrives",
        "late_start", "late_finish", "harmless_until", "total_float", "spare_days", "free_float", "drag", "room",
        "give_by", "holds", "waits_for", "driven_by", "by_shipment", "lots",
    )  # fmt: skip
    found = {name: plain(getattr(row, name)) for name in same}
    found["first_plan"] = first
    found["at_best"] = list(row.at_best)
    return found

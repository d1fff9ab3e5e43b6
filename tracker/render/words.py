"""Dates, reasons and counts as words; the same everywhere a person reads them."""

from datetime import date

from tracker.report.shipments import HeldBy

HALF_A_YEAR = 182
_PLAIN_REASONS = {"today": "can start", "run start": "run start", "overdue": "date passed, no news"}


def full_day(day: date) -> str:
    """Weekday and whole date, such as ``Fri 4 Dec 2026``."""
    return f"{day:%a} {day.day} {day:%b %Y}"


def short_day(day: date | None, today: date) -> str:
    """Weekday, day and month; the year too when more than half a year away; ``-`` for no date."""
    if day is None:
        return "-"
    near = abs((day - today).days) <= HALF_A_YEAR
    return f"{day:%a} {day.day} {day:%b}" if near else full_day(day)


def days_text(count: int) -> str:
    """A signed count of calendar days: ``+1 day``, ``-6 days``."""
    return f"{count:+d} day" + ("" if abs(count) == 1 else "s")


def plural(count: int, one: str, many: str = "") -> str:
    """``1 job``, ``2 jobs``."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def reason_text(held: HeldBy, today: date) -> str:
    """Why a chain begins where it does, in the words shown in brackets before it."""
    day = short_day(held.day, today)
    if held.reason == "clock" and held.owed_by:
        return condition_text(held.whats) + " not given"
    texts = {
        "clock": f"{held.what} given {short_day(date.fromordinal(held.day.toordinal() - 1), today)}",
        "promise": f"promised {day}",
        "started": f"in work since {day}",
        "not before": f"not before {day}",
        "day 1": f"their day 1 {day}",
        "paused": f"paused until {day}",
        "after failure": f"{held.what} failed",
        "second attempt": "failed, tried again at best",
        "left": f"on its way since {day}",
        "made": f"made {day}, at their door",
        "leave": f"{held.what} not given, waits at their door",
        "done": f"done {day}",
    }
    return _PLAIN_REASONS.get(held.reason) or texts[held.reason]


def condition_text(whats: tuple[str, ...]) -> str:
    """Missing conditions joined in words."""
    return " and ".join(whats)


def chain_text(held: HeldBy | None, path: tuple[str, ...], today: date) -> str:
    """``[reason] job > job > job``; nothing for a shipment that nothing holds."""
    if held is None:
        return ""
    return f"[{reason_text(held, today)}] {' > '.join(path)}"


def at_best_text(names: tuple[str, ...]) -> str:
    """How many jobs without news a date rests on, and which."""
    return f"AT BEST: no news from {plural(len(names), 'job')} ({', '.join(names)})" if names else ""

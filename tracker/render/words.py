"""Dates, reasons and counts as words; the same everywhere a person reads them."""

from datetime import date

from tracker.report.jobs import JobRow
from tracker.report.owed import listed
from tracker.report.shipments import HeldBy

HALF_A_YEAR = 182
_PLAIN_REASONS = {"today": "can start", "run start": "run start"}


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


def state_text(state: str) -> str:
    """The state word, and where a made lot waits."""
    return "MADE, AT THEIR DOOR" if state == "MADE" else state


def reason_text(held: HeldBy, today: date) -> str:
    """Why a chain begins where it does, in the words shown in brackets before it."""
    day = short_day(held.day, today)
    if held.owed_by:
        return f"{listed(held.whats)} not given{_to_leave(held)}"
    counted = "credited" if held.what in ("payment", "balance") else "given"
    texts = {
        "clock": f"{held.what} {counted} {short_day(date.fromordinal(held.day.toordinal() - 1), today)}",
        "after": f"follows {held.what}" if held.here else f"waits for {held.what} (arrives {day})",
        "after start": f"starts after the start of {held.what} ({day})",
        "overdue": f"expected {day}, no news",
        "promise": f"promised {day}",
        "started": f"begins {day}" if held.day > today else f"in work since {day}",
        "not before": f"not before {day}",
        "day 1": f"their day 1 {day}",
        "paused": f"paused until {day}",
        "after failure": f"{held.what} failed",
        "second attempt": "failed, tried again at best",
        "left": f"leaves {day}" if held.day > today else f"on its way since {day}",
        "made": f"made {day}, at their door",
        "leave": f"{held.what} {counted} {day}",
        "done": f"done {day}",
    }
    return _PLAIN_REASONS.get(held.reason) or texts[held.reason]


def _to_leave(held: HeldBy) -> str:
    """What a missing condition to leave does; nothing for one of the clock."""
    if held.reason != "leave":
        return ""
    return ", waits at their door" if held.made else ": may not leave"


def ready_text(row: JobRow, today: date) -> str:
    """When a job is ready beside how long that is harmless, and when it is here where travel follows."""
    if row.left:
        return on_its_way_text(row, today)
    until = f"harmless until {short_day(row.harmless_until, today)}" if row.harmless_until else ""
    ready = f"ready {short_day(row.ready, today)}" if row.ready != row.promise or not until else ""
    here = f"here {short_day(row.arrives, today)}" if row.arrives not in (row.ready, row.promise) else ""
    return ", ".join(text for text in (ready, until, here) if text)


def on_its_way_text(row: JobRow, today: date) -> str:
    """When a lot left, when it is here, and how long that is harmless."""
    day = short_day(row.arrives, today)
    pieces = [f"left {short_day(row.left, today)}"]
    pieces.append(f"here {day} at best" if row.overdue_days else f"due here {day}")
    if row.harmless_until:
        pieces.append(f"harmless to arrive until {short_day(row.harmless_until, today)}")
    return ", ".join(pieces)


def passed_text(row: JobRow, today: date) -> str:
    """Which date passed without news and how long ago, or what is still to come without a date; else nothing."""
    if row.undated is not None:
        return f"{row.undated} {'in rework' if row.undated_in else 'to come'}, no date given"
    if row.date_passed is None:
        return ""
    kind = "promised" if row.promise == row.date_passed else "due here" if row.left else "expected"
    return (
        f"{kind} {short_day(row.date_passed, today)}, passed {plural(row.overdue_days, 'day')} ago, no news"
    )


def cannot_hold_text(row: JobRow, today: date) -> str:
    """Why a promise cannot be met and the earliest day instead; nothing for one that can."""
    if "CANNOT HOLD" not in row.flags:
        return ""
    owed = next((one.what for one in row.owes if not one.to_leave), ())
    cause = f"{listed(owed)} not given" if owed else "by its own lead time"
    cause = f"waits for {listed(row.driven_by)}" if row.driven_by else cause
    leaving = f"ready {short_day(row.ready, today)}, " if row.ready != row.arrives else ""
    here = short_day(row.arrives, today)
    return f"cannot hold {short_day(row.promise, today)}: {cause}, {leaving}here {here} at the earliest"


def room_text(row: JobRow) -> str:
    """How many own days, calendar days for what is on its way, it has to the dates told."""
    own = "calendar day" if row.left else "own day"
    return plural(abs(row.room or 0), own)


def too_late_text(row: JobRow) -> str:
    """How many own days past the date told a job is ready, and for which shipment; nothing for one in time."""
    return f"{room_text(row)} too late for the date told for {row.room_of}" if (row.room or 0) < 0 else ""


def later_pass_text(row: JobRow, today: date) -> str:
    """For a gate that failed and that a later attempt passed, both days; else nothing."""
    if not row.passed_by:
        return ""
    passed = f"passed by {row.passed_by} {short_day(row.passed_on, today)}"
    return f"failed {short_day(row.failed_on, today)}, {passed}"


def joined(*words: str) -> str:
    """Words two blanks apart, empty ones left out."""
    return "  ".join(word for word in words if word)


def chain_text(held: HeldBy | None, path: tuple[str, ...], today: date) -> str:
    """``[reason] job > job > job``; nothing for a shipment that nothing holds."""
    if held is None:
        return ""
    return f"[{reason_text(held, today)}] {' > '.join(path)}"


def at_best_text(names: tuple[str, ...]) -> str:
    """How many jobs without news a date rests on, and which."""
    return f"AT BEST: no news from {plural(len(names), 'job')} ({', '.join(names)})" if names else ""

"""When a supplier is shut: whole stretches without work, closures joined with the weekends and holidays beside them."""

from collections.abc import Iterator
from dataclasses import dataclass

from tracker.plan.calendars import closure_on
from tracker.plan.model import Supplier
from tracker.plan.workdays import Calendar

LONG = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Days without work, first and last included, and why where that is noted.

    ``lost`` are the days among them that would be worked in an ordinary week. ``is_cliff`` tells closures that
    lose two such days or more, and anything of five calendar days or more; a single day off is none.
    """

    first: int
    last: int
    lost: tuple[int, ...]
    why: tuple[str, ...]
    is_cliff: bool

    @property
    def days(self) -> int:
        """Calendar days it lasts."""
        return self.last - self.first + 1


def stretches(supplier: Supplier, calendar: Calendar, today: int, until: int) -> Iterator[Stretch]:
    """Stretches that begin by ``until`` and are not over before ``today``; ordinary weekends are none."""
    day = today
    while day <= until:
        if calendar.is_working(day):
            day += 1
            continue
        first, after = calendar.snap_back(day) + 1, calendar.snap(day)
        lost = tuple(one for one in range(first, after) if calendar.weekdays[(one - 1) % 7])
        closures = [closure for one in lost if (closure := closure_on(supplier, one))]
        if lost:
            yield Stretch(
                first=first,
                last=after - 1,
                lost=lost,
                why=tuple(dict.fromkeys(closure.why for closure in closures if closure.why)),
                is_cliff=after - first >= LONG or (len(lost) > 1 and bool(closures)),
            )
        day = after + 1

"""Working-day arithmetic in constant time from prepared arrays, for any day from 1990 to 2100.

Days are integers, ``date.toordinal()``. All answers count the working days of one calendar: a set of weekdays,
less days off, plus extra days.
"""

from collections.abc import Iterable
from datetime import date
from itertools import accumulate, compress

from tracker.errors import Refused

FIRST_DAY = date(1990, 1, 1).toordinal()
LAST_DAY = date(2100, 12, 31).toordinal()
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_WEEK = 7
_MARGIN = 400


def out_of_years() -> Refused:
    """The refusal of a day that no calendar reaches."""
    return Refused(
        "a date runs out of the years 1990 to 2100",
        hint="look for a lead, a closure or a date that is far too long",
    )


class Calendar:
    """The working days of one supplier.

    Parameters
    ----------
    weekdays : sequence of bool
        Seven values from Monday; True where that weekday is worked.
    off : iterable of int
        Days not worked although their weekday is (holidays, closures).
    extra : iterable of int
        Days worked in any case (make-up Saturdays); they win over ``off``.
    near : int
        A day around which the arrays are prepared first; they widen by themselves when asked for others.

    Examples
    --------
    >>> monday = date(2026, 11, 23).toordinal()
    >>> week = Calendar((True,) * 5 + (False,) * 2)
    >>> date.fromordinal(week.finish(monday, 6)).isoformat()  # six days' work from Monday end next Monday
    '2026-11-30'
    """

    def __init__(
        self,
        weekdays: Iterable[bool],
        off: Iterable[int] = (),
        extra: Iterable[int] = (),
        near: int = date(2026, 1, 1).toordinal(),
    ) -> None:
        self.weekdays = tuple(bool(w) for w in weekdays)
        self.off = frozenset(off)
        self.extra = frozenset(extra)
        self._prepare(max(FIRST_DAY, near - _MARGIN), min(LAST_DAY, near + 6 * _MARGIN))

    def _prepare(self, first: int, last: int) -> None:
        """Fill ``before`` (working days in [first, day)) and ``days`` (the working days themselves)."""
        length = last - first + 1
        shift = (first - 1) % _WEEK  # ordinal 1 was a Monday
        pattern = [int(w) for w in self.weekdays]
        worked = ((pattern[shift:] + pattern[:shift]) * (length // _WEEK + 1))[:length]
        for day in self.off:
            if first <= day <= last:
                worked[day - first] = 0
        for day in self.extra:
            if first <= day <= last:
                worked[day - first] = 1
        self.first = first
        self.last = last
        self.before = [0, *accumulate(worked)]
        self.days = list(compress(range(first, last + 1), worked))

    @property
    def is_whole(self) -> bool:
        """Whether all days from 1990 to 2100 are prepared."""
        return self.first == FIRST_DAY and self.last == LAST_DAY

    def widen(self) -> None:
        """Prepare all days from 1990 to 2100; refuse if that was already done and still not enough."""
        if self.is_whole:
            raise out_of_years()
        self._prepare(FIRST_DAY, LAST_DAY)

    def index(self, day: int) -> int:
        """Working days before ``day``, counted from the first day prepared; changes when more are prepared."""
        return self._index(day)

    def at(self, place: int) -> int:
        """The working day with so many before it; only for an ``index`` of this moment."""
        if not 0 <= place < len(self.days):
            first = self.first
            self.widen()
            place += self.before[first - self.first]
            if not 0 <= place < len(self.days):
                raise out_of_years()
        return self.days[place]

    def _index(self, day: int) -> int:
        """Working days before ``day`` in the prepared arrays, which are widened to hold it."""
        if not self.first <= day <= self.last + 1:
            self.widen()
            if not self.first <= day <= self.last + 1:
                self.widen()
        return self.before[day - self.first]

    def is_working(self, day: int) -> bool:
        """Whether ``day`` is worked."""
        return self._index(day + 1) > self._index(day)

    def snap(self, day: int) -> int:
        """The first working day on or after ``day``."""
        return self._at(day, 0)

    def snap_back(self, day: int) -> int:
        """The last working day on or before ``day``."""
        return self._at(day + 1, -1)

    def finish(self, day: int, length: int) -> int:
        """The last of ``length`` working days (1 or more) that begin on the first working day from ``day``."""
        return self._at(day, length - 1)

    def latest_start(self, day: int, length: int) -> int:
        """The latest working day on which ``length`` working days can begin and still end by ``day``."""
        return self._at(day + 1, -length)

    def add(self, day: int, count: int) -> int:
        """The ``count``-th working day after ``day``; ``day`` itself, worked or not, for 0."""
        return day if count == 0 else self._at(day + 1, count - 1)

    def subtract(self, day: int, count: int) -> int:
        """The ``count``-th working day before ``day``; ``day`` itself, worked or not, for 0."""
        return day if count == 0 else self._at(day, -count)

    def latest_before_adding(self, day: int, count: int) -> int:
        """The latest day, worked or not, from which ``add`` of ``count`` does not pass ``day``."""
        return day if count == 0 else self._at(day + 1, -count) - 1

    def count(self, first: int, end: int) -> int:
        """Working days from ``first`` to before ``end`` (half-open); negative when ``end`` comes first."""
        self._index(first)
        self._index(end)
        return self._index(end) - self._index(first)

    def _at(self, day: int, places: int) -> int:
        """The working day ``places`` after the first one on or after ``day``."""
        if self.first <= day <= self.last:
            index = self.before[day - self.first] + places
        else:
            index = self._index(day) + places
        while not 0 <= index < len(self.days):
            self.widen()
            index = self._index(day) + places
        return self.days[index]


def parse_workdays(text: str) -> tuple[bool, ...]:
    """Read working weekdays: ``mon-fri``, ``mon,tue,thu``, ``sun-thu`` or ``all``.

    Raises
    ------
    ValueError
        If a word is not a weekday or none is named.

    Examples
    --------
    >>> parse_workdays("mon-wed,sat")
    (True, True, True, False, False, True, False)
    """
    worked = [False] * _WEEK
    if text.strip().lower() == "all":
        return (True,) * _WEEK
    for piece in text.lower().split(","):
        first, _, last = (part.strip() for part in piece.partition("-"))
        for word in (first, last or first):
            if word not in WEEKDAYS:
                raise ValueError(f"'{word}' is not a weekday: write mon-fri, mon-sat, mon,tue,thu or all")
        day = WEEKDAYS.index(first)
        while True:
            worked[day] = True
            if day == WEEKDAYS.index(last or first):
                break
            day = (day + 1) % _WEEK
    return tuple(worked)

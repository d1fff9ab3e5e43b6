"""Words that the backers' workbook and text share."""

from collections.abc import Sequence

from tracker.render.amounts import amount_text
from tracker.render.words import plural
from tracker.report.backer_sets import BackerCount


def moved_text(days: int) -> str:
    """A move in words.

    Examples
    --------
    >>> moved_text(6), moved_text(-1)
    ('6 days later', '1 day earlier')
    """
    return f"{plural(abs(days), 'day')} {'later' if days > 0 else 'earlier'}"


def count_text(count: BackerCount | None) -> str:
    """How many good pieces of those needed are here; nothing where nothing is counted."""
    if count is None or not count.needed:
        return ""
    here, needed = (amount_text(number, count.measure) for number in (count.here, count.needed))
    return f"{here} here, {needed} needed"


def held_text(holds: str, then: Sequence[str]) -> str:
    """What holds a shipment, and the steps after it.

    Examples
    --------
    >>> held_text("Magnets: promised for Fri 4 Dec 2026", ("Assembly", "Packing"))
    'Magnets: promised for Fri 4 Dec 2026. Then: Assembly; Packing'
    """
    return holds + (f". Then: {'; '.join(then)}" if then else "")

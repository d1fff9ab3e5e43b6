"""Every promise of a job, in the order given, with how far each moved the date before it."""

from dataclasses import dataclass
from datetime import date

from tracker.plan.model import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseRow:
    """A date given on a day; ``slip`` counts calendar days after the promise before it (None: the first).

    ``good`` is the number of pieces it is for, where one was named.
    """

    given: date
    day: date
    means: str
    worst: date | None
    exactly: bool
    good: int | None
    words: str
    slip: int | None


def promise_rows(plan: Plan, code: str, today: date) -> tuple[PromiseRow, ...]:
    """All promises of the job given up to ``today``, oldest first; none is ever dropped."""
    means = plan.supplier_by_code[plan.job_by_code[code].supplier].dates_mean
    found: list[PromiseRow] = []
    for fact in plan.facts_by_job.get(code, ()):
        if fact.kind != "promised" or fact.day is None or fact.on > today:
            continue
        slip = (fact.day - found[-1].day).days if found else None
        found.append(
            PromiseRow(
                given=fact.on,
                day=fact.day,
                means=fact.means or means,
                worst=fact.worst,
                exactly=fact.exactly,
                good=fact.good,
                words=fact.words,
                slip=slip,
            )
        )
    return tuple(found)

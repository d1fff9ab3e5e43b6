"""Facts by job: worked out once for plans that share their facts, and carried over to plans with a few more."""

from collections import deque
from collections.abc import Mapping
from operator import is_
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tracker.plan.model import Fact

    _Facts = tuple[Fact, ...]
    _ByJob = Mapping[str, _Facts]

_RECENT: "deque[tuple[_Facts, _ByJob]]" = deque(maxlen=4)


def by_job(facts: "_Facts") -> "_ByJob":
    """Each job's facts by the day they happened, then as logged; what a job has stays one object as long as it can."""
    for known, index in _RECENT:
        if known is facts:
            return index
    begun = next(((known, index) for known, index in _RECENT if _goes_on(known, facts)), None)
    index = _with_more(begun[1], facts[len(begun[0]) :]) if begun else _with_more({}, facts)
    _RECENT.appendleft((facts, index))
    return index


def _goes_on(known: "_Facts", facts: "_Facts") -> bool:
    """Whether the facts are these very ones and more; equal ones of another plan are others."""
    return 0 < len(known) < len(facts) and all(map(is_, known, facts))


def _with_more(index: "_ByJob", more: "_Facts") -> "_ByJob":
    found: dict[str, list[Fact]] = {}
    for fact in more:
        if fact.job:
            found.setdefault(fact.job, []).append(fact)
    added = {
        code: tuple(sorted((*index.get(code, ()), *facts), key=lambda f: f.on))
        for code, facts in found.items()
    }
    return {**index, **added}

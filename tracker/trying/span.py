"""A span of days tried one by one: ``promised licence 11jan..26feb`` stands for as many try-outs as it has days."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from tracker.errors import UsageError
from tracker.plan.model import Plan
from tracker.trying.steps import steps_of
from tracker.words.dates import DateReader, reader_for
from tracker.words.verbs import TEXT_CLAUSES, VERBS

MOST_DAYS = 200
_EXAMPLE = "for example: tracker try promised licence 11jan..26feb"


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedSpan:
    """Days from ``first`` to ``last``, both included, that ``words`` are tried for.

    ``place`` is that of the span among the words.
    """

    first: date
    last: date
    words: tuple[str, ...]
    place: int

    @property
    def days(self) -> Iterator[date]:
        """Each day, the first and the last included."""
        return (self.first + timedelta(days=n) for n in range((self.last - self.first).days + 1))

    def on(self, day: date) -> tuple[str, ...]:
        """The words with one day in place of the span."""
        return (*self.words[: self.place], day.isoformat(), *self.words[self.place + 1 :])


def span_of(words: Sequence[str], plan: Plan, today: date) -> TriedSpan | None:
    """The one ``A..B`` among the words that names the day of a step about a job; None where there is none.

    Days of facts are read as ``read_try`` reads them, days of promises ahead of ``today``.

    Raises
    ------
    UsageError
        If there are several spans, or one runs backwards or has more than 200 days.
    """
    typed = tuple(word for word in words if word.strip())
    reader = reader_for(plan, today, facts_look="near")
    found = [
        TriedSpan(first=ends[0], last=ends[1], words=typed, place=place)
        for place in _places(typed)
        if (ends := _ends(typed, place, reader)) is not None
    ]
    if len(found) > 1:
        both = " and ".join(typed[one.place] for one in found)
        raise UsageError(f"a try takes one span of days, found {both}", hint=_EXAMPLE)
    for one in found:
        _refuse_length(one)
    return found[0] if found else None


def _places(words: Sequence[str]) -> Iterator[int]:
    """Places of words with two dots in steps about a job, texts left out."""
    place = 0
    for step in steps_of(words):
        texts = False
        for offset, word in enumerate(step.words, start=place + 1):
            texts = texts or word.lower() in TEXT_CLAUSES
            about_job = step.verb in VERBS and VERBS[step.verb].about == "job"
            if about_job and not texts and ".." in word and " " not in word.strip():
                yield offset
        place += len(step.words) + 2


def _ends(words: Sequence[str], place: int, reader: DateReader) -> tuple[date, date] | None:
    first, _, last = words[place].partition("..")
    looking = reader.facts_look if place and words[place - 1].lower() == "on" else "forward"
    days = [found for one in (first, last) if one and (found := reader.read([one], 0, looking))]
    return (days[0][0], days[1][0]) if len(days) == 2 else None  # noqa: PLR2004 - a first and a last day


def _refuse_length(span: TriedSpan) -> None:
    count = (span.last - span.first).days + 1
    typed = span.words[span.place]
    if count < 1:
        raise UsageError(f"the span runs backwards: {span.first} to {span.last}", hint=_EXAMPLE)
    if count > MOST_DAYS:
        raise UsageError(
            f"{typed} has {count} days, more than the {MOST_DAYS} a try tabulates", hint="try a shorter span"
        )

"""Try-outs kept as options: the words of ``option``, and days in them written out so that they stay the same days."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from tracker.errors import Refused, UsageError
from tracker.plan.model import Plan
from tracker.trying.edits import iso_dates
from tracker.trying.model import TryOut
from tracker.trying.reading import read_try
from tracker.trying.steps import TRIED, Step, steps_of
from tracker.words.dates import DateReader, reader_for
from tracker.words.lines import as_quotes, words_of
from tracker.words.verbs import TEXT_CLAUSES, VERBS

EXAMPLE = 'for example: tracker option quick-boxes "set boxes lead=12wd" cost GBP 240'
_DATED = ("on", "for", "until", "worst", "rest", "again")
_NAMED = ("ref", "of", "found-at")
_KEY = re.compile(r"[^\s\"=]+=")
_SINGLE = re.compile(r"(?<![^\s=])'([^']*)'(?!\S)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What ``option`` was typed with: a name, the words to try, the cost; words empty and cost None where left out."""

    code: str
    words: tuple[str, ...] = ()
    cost: str | None = None


def read_wish(words: Sequence[str]) -> Wish:
    """Read ``NAME TRY-WORDS [cost COST]``.

    The words to try stand unquoted up to ``cost``, or each step in quotes; a leading ``try`` is dropped.

    Raises
    ------
    UsageError
        If there is no name, or nothing stands after ``cost``.
    """
    typed = [word for word in words if word.strip()]
    if not typed or typed[0].lower() in (*TRIED, "try", "cost"):
        found = f", and '{typed[0]}' is a word of the command line" if typed else ""
        raise UsageError(f"an option has a name of its own first{found}", hint=EXAMPLE)
    code, *rest = typed
    place = next((at for at, word in enumerate(rest) if word.lower() == "cost"), len(rest))
    if place == len(rest) - 1:
        raise UsageError("cost needs a few words after it", hint=EXAMPLE)
    tried = _whole(rest[:place])
    if tried and tried[0].lower() == "try":
        tried = tried[1:]
    cost = " ".join(word.strip() for word in rest[place + 1 :])
    return Wish(code=code, words=tuple(tried), cost=cost or None)


def _whole(words: Sequence[str]) -> list[str]:
    """The words, where a step stands in quotes its own, with texts in single or double quotes kept whole."""
    found: list[str] = []
    for word in words:
        begins = not found or found[-1].lower() == "and"
        found += words_of(_SINGLE.sub(_as_double, word)) if begins and " " in word.strip() else [word]
    return found


def _as_double(found: re.Match[str]) -> str:
    """A text in single quotes in double ones, where it holds none of these."""
    return found[0] if '"' in as_quotes(found[1]) else f'"{found[1]}"'


def kept_words(words: Sequence[str], plan: Plan, today: date) -> str:
    """The words of a try-out as one text that reads the same on any later day.

    Verbs are spelled out, and days written as 2026-12-04.

    Raises
    ------
    TrackerError
        As ``read_try`` does.
    UsageError
        If a text in them holds double quotes.
    Refused
        If they could not be read later as they are today.
    """
    meant = read_try(words, plan, today)
    steps = [(step.verb, *_written_out(step, plan, today)) for step in steps_of(words)]
    text = " and ".join(" ".join(map(_quoted, step)) for step in steps)
    if read_kept(text, plan, today).plan != meant.plan:
        raise Refused(
            "these words would be read otherwise on another day, so they cannot be kept",
            hint="write each day as 2026-12-04, and texts in quotes",
        )
    return text


def read_kept(text: str, plan: Plan, today: date, *, begins: date | None = None) -> TryOut:
    """The try-out that a kept text stands for; ``begins`` is the day it is decided on.

    Raises
    ------
    TrackerError
        As ``read_try`` does: what was kept can become impossible.
    """
    return read_try(words_of(text), plan, today, begins=begins)


def _quoted(word: str) -> str:
    if '"' in as_quotes(word):
        raise UsageError(
            f"'{word}' holds double quotes, which a kept text cannot", hint="use ' in it instead"
        )
    if len(word.split()) < 2:  # noqa: PLR2004 - a word alone needs no quotes
        return word.strip()
    key = _KEY.match(word)
    return f'{key[0]}"{word[key.end() :]}"' if key else f'"{word}"'


def _written_out(step: Step, plan: Plan, today: date) -> list[str]:
    """The words of a step with its days written out, those in texts left as they are."""
    if step.verb in ("set", "add"):
        return iso_dates(step.words, plan, today)
    if step.verb not in VERBS:
        return list(step.words)
    reader = reader_for(plan, today, facts_look="near")
    found: list[str] = []
    place, text = 0, False
    while place < len(step.words):
        before = step.words[place - 1].lower() if place else ""
        may_be_day = before in _DATED if text else before not in _NAMED
        day = _day(step.words, place, reader, before) if may_be_day else None
        text = (text or step.words[place].lower() in TEXT_CLAUSES) and day is None
        found.append(day[0] if day else step.words[place])
        place += day[1] if day else 1
    return found


def _day(words: Sequence[str], place: int, reader: DateReader, before: str) -> tuple[str, int] | None:
    """The day or span of days that stands here, written out, and how many words it takes."""
    looking = reader.facts_look if before == "on" else "forward"
    first, dots, last = words[place].partition("..")
    try:
        if dots:
            ends = [reader.whole(end, looking).isoformat() for end in (first, last)]
            return dots.join(ends), 1
        found = reader.read(words, place, looking)
    except UsageError:
        return None
    return (found[0].isoformat(), found[1]) if found else None

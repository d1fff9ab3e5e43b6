"""Correcting what an entry logged: the words of its verb name what changes, all else stays as it was."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from tracker.errors import Refused, UsageError
from tracker.plan.model import Fact
from tracker.words.dates import DateReader
from tracker.words.statement import Statement, read_statement
from tracker.words.verbs import VERBS, Verb

_JUDGED = ("good", "rework", "scrap")


def read_fix(number: int, facts: Sequence[Fact], words: Sequence[str], reader: DateReader) -> dict[int, Fact]:
    """The facts of entry ``number`` that ``words`` correct, by their place among ``facts``.

    An entry about several jobs needs the code of one as the first word. A ``rest`` date corrects the promise
    that the delivery's own entry made.

    Raises
    ------
    UsageError
        If the words cannot be read, or it is not clear which fact they correct.
    Refused
        If they speak of what the entry did not log.
    """
    about, words = _about(number, facts, words)
    chosen = [place for place, fact in enumerate(facts) if not about or _subject(fact) == about]
    kind = facts[chosen[0]].kind
    meant = [place for place in chosen if facts[place].kind == kind]
    old = facts[meant[0]]
    statement = read_statement(_verb(old), words, reader, fixing=True)
    if "again" in statement.flags:
        raise UsageError("again has no place in 'fix'", hint="log a second one like it by its own verb")
    if len(meant) > 1:
        names = ", ".join(_subject(facts[place]) for place in meant)
        raise UsageError(
            f"entry {number} is about {names}: which one?",
            hint=f"name it: tracker fix {number} {_subject(old)} ...",
        )
    found = {meant[0]: _corrected(old, statement)}
    if statement.rest is not None:
        rest = next((place for place in chosen if kind == "in" and facts[place].kind == "promised"), None)
        if rest is None:
            raise Refused(
                f"entry {number} named no day for the rest",
                hint=f"log it: tracker promised {_subject(old)} {statement.rest.isoformat()}",
            )
        found[rest] = replace(facts[rest], day=statement.rest)
    return {place: fact for place, fact in found.items() if fact != facts[place]}


def fixing_statement(fact: Fact) -> Statement:
    """A statement of the fact's own verb, as if it were logged now."""
    return Statement(_verb(fact))


def _about(number: int, facts: Sequence[Fact], words: Sequence[str]) -> tuple[str, Sequence[str]]:
    """The code among the entry's own that the first word names, and the words after it."""
    if not words:
        raise UsageError(f"fix what of entry {number}?", hint=f"for example: tracker fix {number} good 91")
    codes = dict.fromkeys(_subject(fact) for fact in facts if _subject(fact))
    found = [code for code in codes if code.lower() == words[0].lower()]
    return (found[0], words[1:]) if found else ("", words)


def _subject(fact: Fact) -> str:
    return fact.job or fact.shipment or fact.supplier


def _verb(fact: Fact) -> Verb:
    """The verb that logs such facts; a bare number corrects the count the fact has."""
    verb = VERBS["gave"] if fact.kind == "given" else next(v for v in VERBS.values() if v.kind == fact.kind)
    counted = fact.count is not None and fact.good is None
    return replace(verb, number="count" if counted else verb.number, alone="")


def _corrected(fact: Fact, said: Statement) -> Fact:
    changes: dict[str, object] = {
        name: value
        for name, value in (
            ("on", said.on),
            ("worst", said.worst),
            ("words", said.said),
            ("ref", said.ref),
            ("note", said.note),
            ("what", said.what),
        )
        if value
    }
    changes |= _days(said)
    changes |= _pieces(fact, said)
    flags = said.flags
    if flags & {"leaves", "hand"}:
        changes["means"] = "leaves" if "leaves" in flags else "in hand"
    changes |= {name: True for flag, name in (("exactly", "exactly"), ("last", "closes")) if flag in flags}
    return replace(fact, **changes)  # type: ignore[arg-type]


def _days(said: Statement) -> dict[str, date | None]:
    """A day or span in place of the one that stood there."""
    return {} if said.day is None else {"day": said.day, "first": said.first}


def _pieces(fact: Fact, said: Statement) -> dict[str, int | None]:
    """Judged pieces take the place of a bare count, and the reverse."""
    changes: dict[str, int | None] = dict(said.numbers)
    if "count" in said.numbers:
        changes |= {name: None for name in _JUDGED if name not in said.numbers}
    elif fact.count is not None and said.numbers:
        changes["count"] = None
    return changes

"""Correcting what an entry logged: the words of its verb name what changes, all else stays as it was."""

from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import date

from tracker.errors import Refused, UsageError
from tracker.plan.model import Fact, Plan
from tracker.words.dates import DateReader
from tracker.words.facts import job_found_at
from tracker.words.parts import part_counted, part_found_bad
from tracker.words.statement import Statement, read_statement
from tracker.words.verbs import VERBS, Verb

_JUDGED = ("good", "rework", "scrap")


def read_fix(
    number: int, facts: Sequence[Fact], words: Sequence[str], plan: Plan, reader: DateReader
) -> dict[int, Fact]:
    """The facts of entry ``number`` that ``words`` correct, by their place among ``facts``.

    An entry about several jobs needs the code of one as the first word; where it logged several kinds of facts
    that the words could correct, a verb after it says which. A ``rest`` date corrects the promise that the
    delivery's own entry made; where that promise has a number of pieces, it follows those of the delivery.

    Raises
    ------
    UsageError
        If the words cannot be read, or it is not clear which fact they correct.
    Refused
        If they speak of what the entry did not log.
    """
    about, words = _about(number, facts, words)
    chosen = [place for place, fact in enumerate(facts) if not about or subject_of(fact) == about]
    kind, statement = _read(number, [facts[place] for place in chosen], words, reader)
    if "again" in statement.flags:
        raise UsageError("again has no place in 'fix'", hint="log a second one like it by its own verb")
    meant = _only_one(number, facts, [place for place in chosen if facts[place].kind == kind])
    old = facts[meant]
    found = {meant: _named(_corrected(old, statement), statement, plan, reader.today)}
    if kind == "scrapped" and not found[meant].scrap:
        raise Refused(f"entry {number} would scrap no pieces", hint=f"take it back: tracker undo {number}")
    rest = next((place for place in chosen if kind == "in" and facts[place].kind == "promised"), None)
    if rest is not None:
        found[rest] = _with_rest(facts[rest], statement, old.pieces - found[meant].pieces)
    elif statement.rest is not None:
        raise Refused(
            f"entry {number} named no day for the rest",
            hint=f"log it: tracker promised {subject_of(old)} {statement.rest.isoformat()}",
        )
    return {place: fact for place, fact in found.items() if fact != facts[place]}


def _read(
    number: int, facts: Sequence[Fact], words: Sequence[str], reader: DateReader
) -> tuple[str, Statement]:
    """The kind of fact that the words correct, and what they say; the kind's verb may stand first.

    What stands beside a delivery, such as the promise of the rest, is corrected only where it is named.
    """
    by_kind = {fact.kind: fact for fact in reversed(facts)}
    verbs = {_verb(by_kind[fact.kind]).name: fact.kind for fact in facts}
    named = verbs.get(words[0].lower()) if len(verbs) > 1 and len(words) > 1 else None
    if named is not None:
        words = words[1:]
    kinds = [named] if named else ["in"] if facts[0].kind == "in" else list(verbs.values())
    read: dict[str, Statement] = {}
    troubles: list[str] = []
    for kind in kinds:
        verb = _verb(by_kind[kind])
        if len(kinds) > 1 and verb.text and words[0].lower() not in ("on", "note", *verb.clauses):
            continue
        try:
            read[kind] = read_statement(verb, words, reader, fixing=True)
        except UsageError as error:
            troubles.append(error.message)
    if len(read) == 1:
        return next(iter(read.items()))
    names = list(dict.fromkeys(subject_of(fact) or "run" for fact in facts))
    if read and len(names) > 1:
        raise _which(number, names)
    what = f"entry {number} logged {', '.join(verbs)}: which one?" if read else ""
    trouble = what or next(iter(troubles), f"'{words[0]}' says nothing of what entry {number} logged")
    raise UsageError(trouble, hint=_such_as(number, by_kind[kinds[0]], verbs))


def _only_one(number: int, facts: Sequence[Fact], places: Sequence[int]) -> int:
    if len(places) == 1:
        return places[0]
    names = list(dict.fromkeys(subject_of(facts[place]) for place in places))
    if len(names) > 1:
        raise _which(number, names)
    raise Refused(
        f"entry {number} logged {len(places)} things of one kind about {names[0] or 'the run'}, and fix cannot tell them apart",
        hint=f"take the entry back and log it anew: tracker undo {number}",
    )


def _which(number: int, names: Sequence[str]) -> UsageError:
    return UsageError(
        f"entry {number} is about {', '.join(names)}: which one?",
        hint=f"name it: tracker fix {number} {names[0]} ...",
    )


def _named(fact: Fact, said: Statement, plan: Plan, today: date) -> Fact:
    """The fact with the part and the job that the words name in place of its own."""
    if said.of and fact.kind == "scrapped":
        fact = replace(fact, part=part_found_bad("", said.of, plan))
    elif said.of:
        fact = replace(fact, part=part_counted(said.of, plan, job=fact.job, shipment=fact.shipment))
    return replace(fact, job=job_found_at(said.found_at, plan, today)) if said.found_at else fact


def _with_rest(promise: Fact, said: Statement, more: int) -> Fact:
    """The promise of the rest after its delivery was corrected to so many pieces fewer."""
    good = None if promise.good is None else max(0, promise.good + more) or None
    return replace(promise, day=said.rest or promise.day, good=good)


def fixing_statement(fact: Fact) -> Statement:
    """A statement of the fact's own verb, as if it were logged now."""
    return Statement(_verb(fact))


def _about(number: int, facts: Sequence[Fact], words: Sequence[str]) -> tuple[str, Sequence[str]]:
    """The code among the entry's own that the first word names, and the words after it, of which there is one."""
    codes = dict.fromkeys(subject_of(fact) for fact in facts if subject_of(fact))
    found = next((code for code in codes if words and code.lower() == words[0].lower()), "")
    rest = words[1:] if found else words
    if not rest:
        first = next(fact for fact in facts if not found or subject_of(fact) == found)
        raise UsageError(f"fix what of entry {number}?", hint=_such_as(number, first))
    return found, rest


def _such_as(number: int, fact: Fact, verbs: Collection[str] = ()) -> str:
    """Words that could correct such a fact, with its verb where the entry logged several."""
    verb = _verb(fact)
    words = "4dec" if verb.date and fact.kind != "given" else "on mon"
    if verb.kind in ("made", "in", "sorted", "scrapped"):
        words = "scrap 2" if verb.kind == "scrapped" else "good 91"
    name = f"{verb.name} " if len(verbs) > 1 else ""
    about = f"{subject_of(fact)} " if name and subject_of(fact) else ""
    logged = ", ".join(verbs or (verb.name,))
    return f"it logged {logged} of {subject_of(fact) or 'the run'}; for example: tracker fix {number} {about}{name}{words}"


def subject_of(fact: Fact) -> str:
    """The code that a fact is about: the part for pieces found bad; ``""`` for the run."""
    about = fact.part if fact.kind == "scrapped" else fact.job
    return about or fact.shipment or fact.supplier or fact.option


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
    if said.on and said.on > fact.logged:
        changes["logged"] = said.on
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

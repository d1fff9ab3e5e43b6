"""Cutting the words of a try-out into steps at the word ``and``, where a verb follows it."""

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.errors import UsageError
from tracker.plan.reserved import OTHER_VERBS
from tracker.words.codes import unknown
from tracker.words.verbs import VERBS

EDITS = ("set", "add", "remove", "rework", "instead")
TRIED = (*VERBS, *EDITS)
_NEVER = ("undo", "fix", "log", "read", "try")
EXAMPLE = "for example: tracker try promised licence 15jan and set boxes lead=12wd"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing tried: a verb, spelled out, and the words after it."""

    verb: str
    words: tuple[str, ...]


def steps_of(words: Sequence[str]) -> tuple[Step, ...]:
    """Cut the words into steps.

    The first verb may be a beginning that fits only one; after ``and`` a verb is written whole, since texts hold
    that word, too. ``and`` inside quotes never parts steps.

    Raises
    ------
    UsageError
        If there are no words, or a step begins with no verb that can be tried.
    """
    typed = [word for word in words if word.strip()]
    if not typed:
        raise UsageError("try what? it takes what is logged, set, added or removed", hint=EXAMPLE)
    parts: list[list[str]] = [[]]
    for place, word in enumerate(typed):
        if word.lower() == "and" and place and _begins_step(typed, place + 1):
            parts.append([])
        else:
            parts[-1].append(word)
    return tuple(Step(verb=_verb(part[0]), words=tuple(part[1:])) for part in parts)


def about_and(step: Step, error: UsageError) -> UsageError:
    """The error, or where it is an ``and`` that has no place one that says what may follow it."""
    if "'and'" not in error.message:
        return error
    place = next(place for place, word in enumerate(step.words) if word.lower() == "and")
    after = step.words[place + 1 : place + 2]
    follows = f"'{after[0]}' is none" if after else "nothing follows"
    return UsageError(
        f"after 'and' a step begins with a verb, but {follows}",
        hint=f"{EXAMPLE}; a text that holds 'and' goes into quotes",
    )


def _begins_step(words: Sequence[str], place: int) -> bool:
    return place < len(words) and words[place].lower() in (*TRIED, *_NEVER)


def _verb(word: str) -> str:
    lower = word.lower()
    if lower in _NEVER or (lower in OTHER_VERBS and lower not in TRIED):
        raise UsageError(
            f"'{lower}' cannot be tried: a try takes the logging verbs, {', '.join(EDITS[:-1])} and {EDITS[-1]}",
            hint=EXAMPLE,
        )
    if lower in TRIED:
        return lower
    begun = [verb for verb in TRIED if verb.startswith(lower)]
    if len(begun) == 1:
        return begun[0]
    if begun:
        raise UsageError(f"'{word}' begins several verbs: {', '.join(begun)}", hint="type a little more")
    raise unknown(word, TRIED, "verb to try")

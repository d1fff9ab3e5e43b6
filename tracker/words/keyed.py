"""Words with keys among them, such as ``natural 9 by varne lead 8wd``: subjects first, then each key's own words."""

from collections.abc import Callable, Collection, Sequence
from typing import TypeVar

from tracker.errors import UsageError
from tracker.plan.span import UnclearDaysError

_T = TypeVar("_T")


def parted(words: Sequence[str], keys: Collection[str], example: str) -> tuple[list[str], dict[str, str]]:
    """The words before the first key, and each key's words up to the next key; ``of`` takes one word.

    Raises
    ------
    UsageError
        If a key comes twice or has no word after it.
    """
    subjects: list[str] = []
    values: dict[str, list[str]] = {}
    current = subjects
    for word in words:
        key = word.lower()
        if key in keys and current is not values.get("said"):
            if key in values:
                raise UsageError(f"{key} comes a second time in one command", hint=example)
            current = values[key] = []
        elif word.strip():
            current.append(word.strip())
            if current is values.get("of"):
                current = subjects
    empty = next((key for key, found in values.items() if not found), None)
    if empty is not None:
        raise UsageError(f"{empty} needs a word after it", hint=example)
    return subjects, {key: " ".join(found) for key, found in values.items()}


def days_of(key: str, text: str, parse: Callable[[str], _T], example: str) -> _T:
    """A key's text as days with their unit, by ``parse``; days without one are refused with their two readings."""
    try:
        return parse(text)
    except UnclearDaysError as error:
        raise UsageError(f"{key}: {error}", hint=example) from None


def named_and_days(text: str) -> tuple[str, str]:
    """A text such as ``lark 2wd`` as who and how long; days alone name nobody."""
    who, _, length = text.partition(" ")
    return ("", text) if not length or who[0].isdigit() else (who, length)

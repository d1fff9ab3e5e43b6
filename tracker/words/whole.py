"""What is wrong with a command as a whole, once all its words are read; an empty text where nothing is."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tracker.words.statement import Statement


def missing(said: "Statement") -> str:
    """What the verb needs and the command does not say."""
    verb = said.verb
    named = said.subjects or (verb.about == "part" and said.of)
    if not named and verb.about != "anything":
        return f"{verb.name} which {verb.about}?"
    if verb.date == "must" and said.day is None:
        return f"{verb.name} needs a date"
    if verb.kind == "told" and said.day is None and not said.said and len(said.subjects) == 1:
        return "told needs a date, a span of dates, or words in quotes"
    if verb.kind in ("decided", "note") and not (said.note or len(said.subjects) == 1):
        return f"{verb.name} needs a text"
    return ""


def undated(said: "Statement") -> str:
    """What to log where they gave no date: words alone are no promise."""
    if said.verb.kind != "promised" or said.day is not None:
        return ""
    return f"write one, such as {said.verb.example}; where they gave none, log the call: tracker called SUPPLIER WORDS"


def order_trouble(said: "Statement") -> str:
    """Which two days run backwards."""
    if said.first and said.day and said.first > said.day:
        return f"the span runs backwards: {said.first} to {said.day}"
    if said.worst and said.day and said.worst < said.day:
        return f"the worst day, {said.worst}, comes before the day promised, {said.day}"
    return ""


def count_trouble(said: "Statement") -> str:
    """What is wrong with its numbers of pieces."""
    verb, pieces = said.verb, sum(said.numbers.values())
    if verb.kind in ("posted", "sorted", "scrapped") and not pieces:
        return f"{verb.name} needs a number of {'units' if verb.kind == 'posted' else 'pieces'}"
    if said.numbers and not pieces and "last" not in said.flags:
        return f"{verb.name} of no pieces says nothing"
    if said.rest and not pieces:
        return "rest names when the others come, but no pieces came: how many are in?"
    return ""

"""Commands written down away from the machine: one a line, in the verbs' own words, under ``on DATE`` headings."""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date

from tracker.errors import Problem, TrackerError, UsageError
from tracker.plan.day_text import full_day
from tracker.plan.nearest import nearest
from tracker.words.dates import DateReader

_WORD = re.compile(r'([^\s"=]+=)?"([^"]*)"(?!\S)|"([^"]*)"|(\S+)')
_QUOTES = str.maketrans("\u201c\u201d\u201e\u00ab\u00bb", '"' * 5)
_BULLET = re.compile(r"[-*\u2022\u2013\u2014>]\s+")
_PROGRAM = ("tracker", "trk")
_SHOWN = 40

LineProblem = tuple[int, Problem]
"""The number of a line and what is wrong with it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One command: ``number`` counts the text's lines from 1, ``on`` is the day of the heading above it, if any."""

    number: int
    text: str
    verb: str
    words: tuple[str, ...]
    on: date | None


def read_lines(
    text: str, *, source: str, verbs: Collection[str], reader: DateReader
) -> tuple[tuple[Line, ...], tuple[LineProblem, ...]]:
    r"""The commands of a text, and the problems of lines that are none.

    Blank lines and those that begin with ``#`` say nothing. A verb may be shortened as on the command line, a dash
    or ``tracker`` before it is left out. A heading ``on DATE`` holds for the lines below it; its date looks back.

    Examples
    --------
    >>> reader = DateReader(today=date(2026, 11, 24))
    >>> lines, _ = read_lines("on mon\n- paid boxes", source="notes.txt", verbs=("paid",), reader=reader)
    >>> lines[0].verb, lines[0].words, lines[0].on.isoformat()
    ('paid', ('boxes',), '2026-11-23')
    """
    found: list[Line] = []
    problems: list[LineProblem] = []
    on: date | None = None
    for number, said in _said(text):
        try:
            words = words_of(said)
            if words[0].lower() == "on":
                on = _heading(words[1:], reader)
            else:
                verb = _verb(words[0], verbs)
                found.append(Line(number=number, text=said, verb=verb, words=tuple(words[1:]), on=on))
        except TrackerError as error:
            problems.append(line_problem(source, number, said, error))
    return tuple(found), tuple(problems)


def line_problem(source: str, number: int, text: str, error: TrackerError) -> LineProblem:
    """What is wrong with one line, with its number and its own words."""
    short = text if len(text) <= _SHOWN else f"{text[:_SHOWN]}..."
    place = f"{source}, line {number}, '{short}'"
    return number, Problem(place=place, found=error.message, remedy=error.hint)


def _said(text: str) -> Iterator[tuple[int, str]]:
    """Lines that say something, without bullets."""
    for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), start=1):
        said = _BULLET.sub("", line.strip(), count=1)
        if said and not said.startswith("#"):
            yield number, said


def words_of(line: str) -> list[str]:
    """The line's words, a quoted text as one, also behind ``key=``; curly quotes count, an odd one is refused.

    Examples
    --------
    >>> words_of('tracker promised licence 4dec said "Friday for sure"')
    ['promised', 'licence', '4dec', 'said', 'Friday for sure']
    """
    plain = as_quotes(line)
    if plain.count('"') % 2:
        raise UsageError("a quote is opened and never closed", hint='put " at both ends of the text')
    words = ["".join(found) for found in _WORD.findall(plain)]
    if words[0].lower() in _PROGRAM and len(words) > 1:
        return words[1:]
    return words


def as_quotes(text: str) -> str:
    """The text with every kind of double quote as the plain one."""
    return text.translate(_QUOTES)


def _heading(words: list[str], reader: DateReader) -> date:
    day = reader.whole(" ".join(words).rstrip(":"), "back") if words else None
    if day is None:
        raise UsageError("the heading names no day", hint="write: on mon, or on 23nov")
    if day > reader.today:
        raise UsageError(
            f"{full_day(day)} is after today, {full_day(reader.today)}",
            hint="facts lie at or before today: correct the heading",
        )
    return day


def _verb(word: str, verbs: Collection[str]) -> str:
    if word.lower() in verbs:
        return word.lower()
    found = [verb for verb in verbs if verb.startswith(word.lower())]
    if len(found) == 1:
        return found[0]
    if found:
        raise UsageError(f"'{word}' begins several verbs: {', '.join(found)}", hint="write a little more")
    close = nearest(word, tuple(verbs))
    remedy = f"did you mean {close}?" if close else "begin the line with one, such as paid, in or promised"
    raise UsageError(f"'{word}' is no logging verb", hint=remedy)

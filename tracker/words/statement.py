"""One grammar for all logging verbs: words in, a statement with its subjects, dates and counts out."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from tracker.errors import UsageError
from tracker.words.dates import DateReader
from tracker.words.verbs import COUNT_WORDS, TEXT_CLAUSES, Verb
from tracker.words.whole import count_trouble, missing, order_trouble, undated

_EVERYWHERE = frozenset(("on", "note"))
_FLAGS = frozenset(("last", "again", "exactly", "leaves", "hand"))
_MEANS = frozenset(("leaves", "hand"))
_PIECES = re.compile(r"[0-9]{1,9}")
_NUMBER_LIKE = re.compile(r"[-+]?[\d.,]*\d")
_NAMED = {
    "ref": ("ref", "a delivery-note number"),
    "of": ("of", "a part"),
    "found-at": ("found_at", "a job"),
}
_FORWARD = {"for": "day", "until": "day", "worst": "worst", "rest": "rest"}


@dataclass(slots=True)
class Statement:
    """What a command says, as read: nothing in it is looked up in the plan yet.

    ``subjects`` are words for codes as typed, ``of`` one for the part counted, ``found_at`` one for the job at
    which pieces were found bad. ``day`` is the date spoken of, ``first`` the first day of a span, ``rest`` when
    the remaining pieces are promised.
    """

    verb: Verb
    subjects: list[str] = field(default_factory=list)
    on: date | None = None
    day: date | None = None
    first: date | None = None
    worst: date | None = None
    rest: date | None = None
    numbers: dict[str, int] = field(default_factory=dict)
    of: str = ""
    found_at: str = ""
    what: str = ""
    ref: str = ""
    note: str = ""
    said: str = ""
    flags: set[str] = field(default_factory=set)


def read_statement(
    verb: Verb, words: Sequence[str], reader: DateReader, *, fixing: bool = False
) -> Statement:
    """Read the words after a verb.

    Subjects come first, then clauses in any order. Quotes are needed only around a text that holds clause
    words itself: an unquoted text runs to the next clause. ``fixing`` reads what is to change in a fact that is
    known already: there are no subjects, and nothing is needed.

    Raises
    ------
    UsageError
        If a word has no place, a value is missing, or a date cannot be read.
    """
    return _Reading(verb, list(words), reader, fixing=fixing).run()


class _Reading:
    def __init__(self, verb: Verb, words: list[str], reader: DateReader, *, fixing: bool) -> None:
        self.verb = verb
        self.fixing = fixing
        self.words = words
        self.reader = reader
        self.ahead = _from_its_own_day(words, reader)
        self.place = 0
        self.statement = Statement(verb)
        self.bare_number = False

    def run(self) -> Statement:
        while self.place < len(self.words):
            word = self.words[self.place]
            if not word.strip():
                self.place += 1
            elif self._is_clause(word.lower()):
                self.place += 1
                self._clause(word.lower())
            elif not self._bare(word):
                self._subject(word)
        self._complete()
        return self.statement

    def _is_clause(self, word: str) -> bool:
        if word == "in":
            return "hand" in self.verb.clauses and self._peek(1) == "hand"
        if word == "found":
            return "found-at" in self.verb.clauses and self._peek(1) == "at"
        return word in _EVERYWHERE or word in self.verb.clauses

    def _peek(self, ahead: int) -> str:
        place = self.place + ahead
        return self.words[place].lower() if place < len(self.words) else ""

    def _clause(self, word: str) -> None:
        if word == "in":
            return
        if word == "found":
            self.place += 1
            word = "found-at"
        if word == "on":
            self._put("on", word, self._date("on", "back"))
        elif word in TEXT_CLAUSES:
            self._put(TEXT_CLAUSES[word], word, self._text(word))
        elif word in _NAMED:
            name, what = _NAMED[word]
            self._put(name, word, _plain_text(word, self._next(word, what)))
        elif word in COUNT_WORDS:
            self._count(word, self._next(word, "a number of pieces"))
        elif word == "again" and self.verb.about == "supplier":
            self._put("day", word, self._date("again", "forward"))
        elif word in _FLAGS:
            self._flag(word)
        else:
            self._forward(word)

    def _forward(self, word: str) -> None:
        self._put(_FORWARD[word], word, self._date(word, "forward"))

    def _flag(self, word: str) -> None:
        flags = self.statement.flags
        if word in flags:
            raise UsageError(f"{word} comes a second time in one command", hint=self._example())
        flags.add(word)
        if flags >= _MEANS:
            raise UsageError(
                "a date is either the day it leaves or the day it is in hand", hint="keep one of the two"
            )

    def _put(self, name: str, clause: str, value: object) -> None:
        """Keep a clause's value; a second one would hide the first."""
        if getattr(self.statement, name):
            raise UsageError(f"{clause} comes a second time in one command", hint=self._example())
        setattr(self.statement, name, value)

    def _bare(self, word: str) -> bool:
        """A date, a number, a condition or a text that stands without a clause word."""
        said, verb = self.statement, self.verb
        lower = word.lower()
        if lower in verb.what and not said.what:
            said.what = lower
            self.place += 1
            return True
        if verb.date and said.day is None and self._bare_date(word):
            return True
        if self._bare_text(word):
            return True
        if _PIECES.fullmatch(word):
            self._bare_number(word)
            return True
        if verb.number and _NUMBER_LIKE.fullmatch(word):
            raise UsageError(
                f"pieces are whole numbers of at most nine digits, found '{word}'", hint=self._example()
            )
        return False

    def _bare_text(self, word: str) -> bool:
        """A note runs on from the first word that is nothing else; words as said, without a clause, stand in quotes."""
        kept = self.verb.text
        quoted = " " in word.strip()
        if not kept or getattr(self.statement, kept):
            return False
        runs_on = kept == "note" and (self.fixing or self.statement.subjects)
        if not (quoted or runs_on):
            return False
        setattr(self.statement, kept, self._text(kept))
        return True

    def _bare_date(self, word: str) -> bool:
        first, dots, last = word.partition("..")
        if dots:
            if self.verb.about != "shipment":
                raise UsageError(f"'{word}' is a span; {self.verb.name} takes one date", hint=self._example())
            self.statement.first = self.ahead.whole(first, "forward")
            self.statement.day = self.ahead.whole(last, "forward")
            self.place += 1
            return True
        found = self.ahead.read(self.words, self.place, "forward")
        if found is None:
            return False
        self.statement.day = found[0]
        self.place += found[1]
        return True

    def _bare_number(self, word: str) -> None:
        if not self.verb.number:
            raise UsageError(f"{self.verb.name} takes no number: '{word}'", hint=self._example())
        self._count(self.verb.number, word)
        self.bare_number = True
        self.place += 1

    def _subject(self, word: str) -> None:
        if self.statement.day is not None:
            self._refuse_second_date()
        found = self.reader.read(self.words, self.place, self.reader.facts_look)
        if found is not None:
            typed = " ".join(self.words[self.place : self.place + found[1]])
            raise UsageError(
                f"'{typed}' is a date, but {self.verb.name} takes none here", hint=f"write: on {typed}"
            )
        if word.startswith("-"):
            raise UsageError(
                f"there is no option '{word}'", hint=f"'tracker {self.verb.name} --help' lists them"
            )
        said = self.statement
        texts = said.of or said.found_at or said.note or said.ref or said.what
        started = said.numbers or said.day or said.on or said.flags or texts
        if self.fixing or started or " " in word.strip():
            raise UsageError(f"'{word}' has no place in '{self.verb.name}'", hint=self._example())
        said.subjects.append(word)
        self.place += 1

    def _refuse_second_date(self) -> None:
        """A date that looks forward after one has been read: two ends of a span, or one too many."""
        try:
            found = self.reader.read(self.words, self.place, "forward")
        except UsageError:
            return
        if found is not None:
            typed = " ".join(self.words[self.place : self.place + found[1]])
            spans = self.verb.about == "shipment"
            hint = "write a span as one word: 10jan..20jan" if spans else self._example()
            raise UsageError(f"'{typed}' is a second date", hint=hint)

    def _text(self, clause: str) -> str:
        if self.place >= len(self.words):
            raise UsageError(f"{clause} needs a text after it", hint=self._example())
        word = self.words[self.place]
        self.place += 1
        if " " in word.strip():
            return _plain_text(clause, word)
        pieces = [word]
        while self.place < len(self.words) and not self._ends_text():
            pieces.append(self.words[self.place])
            self.place += 1
        doubtful = [piece for piece in pieces[1:] if piece.lower() in _FLAGS & self.verb.clauses]
        if doubtful:
            raise UsageError(
                f"is '{doubtful[0]}' part of the {clause} or a clause of {self.verb.name}?",
                hint=f"put the whole {clause} in quotes, or '{doubtful[0]}' before it",
            )
        return _plain_text(clause, " ".join(pieces))

    def _ends_text(self) -> bool:
        """An unquoted text ends before another text, a ref, a count, or a clause that a date follows."""
        word = self.words[self.place].lower()
        if word in TEXT_CLAUSES and (word == "note" or word in self.verb.clauses):
            return True
        if word not in self.verb.clauses and word != "on":
            return False
        if word in ("ref", "found-at") or (word in COUNT_WORDS and _PIECES.fullmatch(self._peek(1))):
            return True
        dated = word == "on" or word in _FORWARD
        try:
            return dated and self.reader.read(self.words, self.place + 1, self.reader.facts_look) is not None
        except UsageError:
            return True

    def _date(self, clause: str, looking: str) -> date:
        if self.place >= len(self.words):
            raise UsageError(f"{clause} needs a date after it", hint=self._example())
        back = looking == "back"
        reader = self.reader if back else self.ahead
        found = reader.read(self.words, self.place, reader.facts_look if back else "forward")
        if found is None:
            word = self.words[self.place]
            raise UsageError(
                f"{clause} needs a date after it, found '{word}'",
                hint="write 2026-12-04, 4dec, fri, today or +3",
            )
        self.place += found[1]
        return found[0]

    def _next(self, clause: str, what: str) -> str:
        if not self._peek(0).strip():
            raise UsageError(f"{clause} needs {what} after it", hint=self._example())
        self.place += 1
        return self.words[self.place - 1]

    def _count(self, name: str, word: str) -> None:
        if not _PIECES.fullmatch(word):
            raise UsageError(f"{name} needs a whole number of pieces, found '{word}'", hint=self._example())
        if name in self.statement.numbers:
            raise UsageError(
                f"{name} is given twice: {self.statement.numbers[name]} and {word}", hint=self._example()
            )
        self.statement.numbers[name] = int(word)

    def _complete(self) -> None:
        said, verb = self.statement, self.verb
        if self.bare_number and verb.alone and len(said.numbers) == 1:
            said.numbers = {verb.alone: said.numbers[verb.number]}
        trouble = "" if self.fixing else missing(said) or count_trouble(said)
        trouble = trouble or order_trouble(said)
        if trouble:
            raise UsageError(trouble, hint=undated(said) or self._example())

    def _example(self) -> str:
        return f"for example: tracker {self.verb.example}"


def _from_its_own_day(words: Sequence[str], reader: DateReader) -> DateReader:
    """Reads dates ahead from the day the words were said, where an ``on DATE`` among them names it."""
    for place, word in enumerate(words):
        if word.lower() == "on":
            found = reader.read(words, place + 1, reader.facts_look)
            if found is not None:
                return replace(reader, today=min(found[0], reader.today))
    return reader


def _plain_text(clause: str, text: str) -> str:
    """The text without blanks around it; characters that no file could hold are refused."""
    if not text.isprintable():
        raise UsageError(
            f"the {clause} holds characters that cannot be printed", hint="type it again as plain text"
        )
    return text.strip()

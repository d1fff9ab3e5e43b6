"""The words after ``read FILE`` for a maker's own sheet: which sheet, what columns hold, how leads are meant."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from tracker.errors import UsageError
from tracker.plan.span import Lead, UnclearDaysError, Unit, parse_lead
from tracker.planfile.faults import in_quotes
from tracker.sheet.codes import GROUPS

Word = Unit | Lead
SECTIONS = ("sheet", "columns", "leads", "countries")
_GROUPS = {**{group: group for group in GROUPS}, "day": "days", "week": "weeks", "number": "numbers"}
_FORM = "write: tracker read jobs.xlsx columns item=name vendor=supplier leads days=wd boxes=20wd countries varne=GB"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What was said about a sheet beforehand or when asked.

    ``groups`` gives a unit to all lengths counted in ``days``, ``weeks`` or ``numbers``, to ``travel``, or to
    ``all``; ``numbers_are`` says what bare numbers count (``days`` or ``weeks``). ``named`` gives a unit or a lead
    to a job or a supplier, ``travel`` a unit to one job's travel by its code, ``countries`` a country to a supplier.
    """

    sheet: str = ""
    columns: tuple[str, ...] = ()
    groups: Mapping[str, Unit] = field(default_factory=dict)
    numbers_are: str = ""
    named: Mapping[str, Word] = field(default_factory=dict)
    travel: Mapping[str, Word] = field(default_factory=dict)
    countries: Mapping[str, str] = field(default_factory=dict)

    def also(self, leads: "Answers") -> "Answers":
        """The same with what more was said about leads, which wins."""
        return replace(
            self,
            groups={**self.groups, **leads.groups},
            numbers_are=leads.numbers_are or self.numbers_are,
            named={**self.named, **leads.named},
        )

    def with_group(self, group: str, unit: Unit) -> "Answers":
        """The same with a unit for a whole group."""
        return replace(self, groups={**self.groups, group: unit})

    def with_word(self, job: str, word: Word, *, travel: bool) -> "Answers":
        """The same with a word for one job's lead, or its travel."""
        if travel:
            return replace(self, travel={**self.travel, job: word})
        return replace(self, named={**self.named, job: word})


def read_answers(words: Sequence[str]) -> Answers:
    """Read the words after the file's name.

    Raises
    ------
    UsageError
        If they begin with none of ``sheet``, ``columns``, ``leads``, ``countries``, or a pair cannot be read.

    Examples
    --------
    >>> read_answers(["leads", "days=wd", "boxes=20wd"]).groups
    {'days': 'wd'}
    """
    sections = _sections(words)
    answers = Answers(sheet=" ".join(sections["sheet"]), columns=_joined(sections["columns"]))
    for key, value in _pairs(sections["leads"], "leads"):
        answers = _with_lead(answers, key, value)
    countries = dict(_pairs(sections["countries"], "countries"))
    return replace(answers, countries=countries)


def read_word(text: str) -> Word:
    """``wd``, ``cd``, or a lead such as ``20wd``.

    Raises
    ------
    UsageError
        If it is neither.
    """
    word = text.strip().lower()
    if word == "wd":
        return "wd"
    if word == "cd":
        return "cd"
    try:
        return parse_lead(word)
    except UnclearDaysError as error:
        raise UsageError(
            str(error), hint="say wd (their working days), cd (calendar days) or a lead such as 20wd"
        ) from None


def _sections(words: Sequence[str]) -> dict[str, list[str]]:
    sections: dict[str, list[str]] = {name: [] for name in SECTIONS}
    current = ""
    for word in words:
        if word.lower() in SECTIONS:
            current = word.lower()
        elif not current:
            raise UsageError(f"{in_quotes(word)} says nothing about the sheet", hint=_FORM)
        else:
            sections[current].append(word)
    return sections


def _joined(words: Sequence[str]) -> tuple[str, ...]:
    """Pairs whose headings were typed with blanks and without quotes, put together: ``How long=lead``."""
    pairs: list[str] = []
    begun = ""
    for word in words:
        begun = f"{begun} {word}".strip()
        if "=" in word:
            pairs.append(begun)
            begun = ""
    return (*pairs, begun) if begun else tuple(pairs)


def _pairs(words: Sequence[str], section: str) -> list[tuple[str, str]]:
    """``key=value`` pairs; a word without ``=`` belongs to what stands before it, or begins the next key."""
    pairs: list[tuple[str, str]] = []
    begun = ""
    for word in words:
        key, equals, value = word.partition("=")
        if equals:
            pairs.append((f"{begun} {key}".strip(), value.strip()))
            begun = ""
        elif pairs and (not pairs[-1][1] or word.lower() in ("wd", "cd")):
            pairs[-1] = (pairs[-1][0], f"{pairs[-1][1]} {word}".strip())
        else:
            begun = f"{begun} {word}".strip()
    if begun or any(not key or not value for key, value in pairs):
        raise UsageError(f"{in_quotes(begun or section)} is not a pair such as boxes=wd", hint=_FORM)
    return pairs


def _with_lead(answers: Answers, key: str, value: str) -> Answers:
    group = _GROUPS.get(key.lower(), "")
    if group == "numbers" and value.lower() in ("days", "weeks"):
        return replace(answers, numbers_are=value.lower())
    word = read_word(value)
    if not group:
        return replace(answers, named={**answers.named, key: word})
    if isinstance(word, Lead):
        raise UsageError(
            f"{group}={value}: one lead cannot stand for many jobs", hint=f"write {group}=wd or {group}=cd"
        )
    return answers.with_group(group, word)

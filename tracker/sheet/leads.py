"""What a maker's sheet says of a length of days: a clear reading, one that needs a word, or none.

Days and weeks alone can be working or calendar days; a week is 5 working days or 7 calendar days. Parts of a day
count as a whole one.
"""

import re
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from math import ceil
from typing import Literal

from tracker.plan.day_text import full_day
from tracker.plan.span import Lead, UnclearDaysError, Unit, parse_lead
from tracker.planfile.faults import in_quotes
from tracker.planfile.grid import Value
from tracker.sheet.day_words import (
    AFTER_LEAST,
    BEFORE_LEAST,
    EACH,
    KINDS,
    TO,
    UNIT,
    UNITS,
    folded,
    in_digits,
    unit_named,
)

Kind = Literal["days", "weeks", "numbers"]
"""What a length that needs a word is counted in; ``numbers`` have no unit at all."""

_FACTORS: dict[str, dict[Unit, int]] = {
    "working weeks": {"wd": 5},
    "calendar weeks": {"cd": 7},
    "wd": {"wd": 1},
    "cd": {"cd": 1},
    "days": {"wd": 1, "cd": 1},
    "weeks": {"wd": 5, "cd": 7},
    "numbers": {"wd": 1, "cd": 1},
}
_CLEAR = {
    "days": {"wd": "wd", "cd": "cd"},
    "weeks": {"wd": "working weeks", "cd": "calendar weeks"},
}
_NUMBER = r"(?<![\d.,])\d{1,5}(?:[.,]\d{1,2})?(?![\d.,]*\d)"
_MORE = rf"(?: *(?:{UNIT})?{TO}{_NUMBER})?(?: */ *{_NUMBER})?"
_WITH_UNIT = re.compile(rf"{_NUMBER}{_MORE} *-?(?P<unit>{UNIT})(?![a-z])")
_BARE = re.compile(
    rf"(?:(?:~|≈|ca\.?|circa|approx\.?|about|etwa|environ|max\.?) *)?{_NUMBER}{_MORE}(?: *(?:aro|max\.?|\([^\d)]*\)))?"
)
_IN_HEADING = {name: re.compile(rf"(?<![a-z])(?:{form})(?![a-z])") for name, form in UNITS.items()}
_UNCLEAR_IN_HEADING = ("d", "w", "h", "j", "mo", "bd", "at", "ora", "ore", "mes")
_KINDS = {kind: re.compile(rf"^[ ,(]*(?:{form})(?![a-z])") for kind, form in KINDS.items()}
_FIRST_DAY = re.compile(r"\bday (?:1|one)\b")
_BEFORE_LEAST, _AFTER_LEAST = (
    re.compile(rf"[>≥]|\b{BEFORE_LEAST} *$"),
    re.compile(rf"^ *\+ *$|\b{AFTER_LEAST}\b"),
)
_A_RATE = re.compile(rf"\b{EACH}\b|/ *[a-z]|[a-z] */")
_PLAIN = re.compile(rf"\d+ *(?:{UNITS['wd']}|{UNITS['cd']})")
_SIX_DAYS = re.compile(r"werktag|ouvrable")
_FORMS = "write 12wd (their working days), 45cd (calendar days) or 8..12wd"


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """A cell that speaks of a length of days.

    ``said`` are its words, ``""`` for an empty cell; ``exact`` tells that they are the form plan files have.
    One of three: ``lead`` is the clear reading; or ``kind``, ``working`` and ``calendar`` are the two readings it
    can have; or ``trouble`` and ``remedy`` say why it has none.
    """

    said: str = ""
    exact: bool = False
    lead: Lead | None = None
    kind: Kind | None = None
    working: Lead | None = None
    calendar: Lead | None = None
    trouble: str = ""
    remedy: str = ""

    @property
    def is_plain(self) -> bool:
        """Whether the words are no more than one number of working or of calendar days: nothing was chosen.

        Words that by law or habit can count Saturdays, such as Werktage, are a choice.
        """
        words = folded(self.said)
        return self.exact or (_PLAIN.fullmatch(words) is not None and not _SIX_DAYS.search(words))

    def read_as(self, unit: Unit) -> Lead | None:
        """The reading in working (``wd``) or calendar days (``cd``) of a length that needs a word."""
        return self.working if unit == "wd" else self.calendar


def read_days(value: Value, heading: str = "", unit: str = "") -> Heard:
    """Read a cell as a length of days.

    A number without a unit has the one of the ``unit`` cell beside it, else the one its ``heading`` names.

    Examples
    --------
    >>> str(read_days("10-15 working days ARO").lead), read_days("10-15 working days ARO").said
    ('10..15wd', '10-15 working days ARO')
    >>> heard = read_days("3 weeks")
    >>> heard.kind, str(heard.working), str(heard.calendar)
    ('weeks', '15wd', '21cd')
    >>> str(read_days(4, unit="Arbeitstage").lead)
    '4wd'
    """
    if value is None or (isinstance(value, str) and not value.strip()):
        return Heard()
    if isinstance(value, bool | date | time):
        return _no_length(value)
    said = f"{value:g}" if isinstance(value, float) else " ".join(str(value).split())
    text = folded(said)
    try:
        return Heard(said=said, exact=True, lead=parse_lead(text))
    except UnclearDaysError:
        return _of_words(said, in_digits(text), _beside(unit, heading))


def unit_of_heading(heading: str) -> tuple[str, str]:
    """The unit a heading names and its words there; ``numbers`` and no words where it names none.

    Examples
    --------
    >>> unit_of_heading("Lead (wks)"), unit_of_heading("How long")
    (('weeks', 'wks'), ('numbers', ''))
    """
    text = folded(heading)
    for name, form in _IN_HEADING.items():
        found = form.search(text)
        if found and (found[0] not in _UNCLEAR_IN_HEADING or f"({found[0]})" in text):
            return name, found[0]
    return "numbers", ""


def _beside(unit: str, heading: str) -> tuple[str, str]:
    """The unit that the cell for it or the heading names, and its words; ``""`` for a cell that names none."""
    headed, words = unit_of_heading(heading)
    cell = folded(unit).strip("()[] ")
    if not cell:
        return headed, words
    kind = next((kind for kind, form in KINDS.items() if re.fullmatch(form, cell)), "")
    if kind:
        counted = "days" if headed == "numbers" else headed
        return _CLEAR.get(counted, {}).get(kind, headed), f"{unit} {words or 'days'}"
    return unit_named(cell), unit


def _of_words(said: str, text: str, beside: tuple[str, str]) -> Heard:
    unit, words = beside
    if _BARE.fullmatch(text):
        said = f"{said} {words}".rstrip()
        if not unit:
            return Heard(said=said, trouble=f"{in_quotes(said)} names no unit of days", remedy=_FORMS)
        return _counted(said, _numbers(text), unit)
    if re.fullmatch(r"-\d[\d.,]*", text):
        return Heard(said=said, trouble=f"'{said}' is negative", remedy=_FORMS)
    found = _WITH_UNIT.search(text)
    if not found:
        return _no_days(said)
    trouble, remedy = _trouble_around(text[: found.start()], found[0], text[found.end() :])
    if trouble:
        return Heard(said=said, trouble=f"'{said}' {trouble}", remedy=remedy)
    kind = next((kind for kind, form in _KINDS.items() if form.search(text[found.end() :])), "")
    return _counted(said, _numbers(found[0]), _clarified(unit_named(found["unit"]), kind or unit))


def _clarified(own: str, beside: str) -> str:
    """Days and weeks are working or calendar ones where what stands beside them says so."""
    kind = {"working weeks": "wd", "calendar weeks": "cd"}.get(beside, beside)
    return _CLEAR.get(own, {}).get(kind, own)


def _trouble_around(before: str, counted: str, after: str) -> tuple[str, str]:
    """What in the words around a count makes it no plain length, and the remedy; two empty texts for nothing."""
    units = {unit_named(one[0]) for one in re.finditer(rf"(?:{UNIT})(?![a-z])", counted)}
    if re.search(r"\d", before + _FIRST_DAY.sub("", after)) or len(units) > 1 or re.match(r" *\+ *\w", after):
        return "holds more than one length", f"add them up, or move the road into a travel column: {_FORMS}"
    if before.rstrip().endswith("-"):
        return "is negative", _FORMS
    if _BEFORE_LEAST.search(before) or _AFTER_LEAST.search(after):
        return "says only the least", "give the longest you would plan with, such as 12wd or 45cd"
    if _A_RATE.search(f"{before} {after}"):
        return (
            "is a rate",
            f"{_FORMS} for the whole quantity; a rate can be set later: tracker set JOB per_day=12",
        )
    return "", ""


def _numbers(text: str) -> list[Fraction]:
    return [Fraction(one.replace(",", ".")) for one in re.findall(r"\d+(?:[.,]\d+)?", text)]


def _counted(said: str, numbers: list[Fraction], unit: str) -> Heard:
    """A count in one unit: clear where the unit has one reading only; a day begun counts."""
    if unit not in _FACTORS:
        return _in_coarse_unit(said, ceil(numbers[-1] * 30), ceil(numbers[-1] * 21), unit)
    if numbers != sorted(numbers):
        return Heard(said=said, trouble=f"'{said}' falls", remedy="write the smallest number first")
    readings = {name: _lead([ceil(one * by) for one in numbers], name) for name, by in _FACTORS[unit].items()}
    try:
        for reading in readings.values():
            parse_lead(str(reading))
    except UnclearDaysError as error:
        return Heard(said=said, trouble=str(error), remedy="correct the number")
    if len(readings) == 1 or not any(numbers):
        return Heard(said=said, lead=next(iter(readings.values())))
    kind: Kind = "days" if unit == "days" else "weeks" if unit == "weeks" else "numbers"
    return Heard(said=said, kind=kind, working=readings["wd"], calendar=readings["cd"])


def _lead(days: list[int], unit: Unit) -> Lead:
    match days:
        case [low, likely, high]:
            return Lead(low, likely, high, unit)
        case [low, high] if low < high:
            return Lead(low, None, high, unit)
        case _:
            return Lead(days[0], days[0], days[0], unit)


def _in_coarse_unit(said: str, calendar: int, working: int, unit: str) -> Heard:
    if unit == "hours":
        return Heard(said=said, trouble=f"'{said}' counts hours", remedy="write the days begun, such as 1wd")
    remedy = f"ask for days: a month is near 30cd or 21wd, so perhaps {calendar}cd or {working}wd"
    return Heard(said=said, trouble=f"'{said}' counts months, which differ in length", remedy=remedy)


def _no_days(said: str) -> Heard:
    return Heard(
        said=said, trouble=f"{in_quotes(said)} is not a number of days", remedy=f"ask them, then {_FORMS}"
    )


def _no_length(value: date | time | bool) -> Heard:
    """A cell of another type; spreadsheets turn a typed 8-12 into a date."""
    if isinstance(value, date):
        said, why = full_day(value), "is a date; spreadsheets turn a typed 8-12 into one"
    else:
        said, why = str(value), "is not a number of days"
    return Heard(said=said, trouble=f"{said} {why}", remedy=_FORMS)

"""What a maker's sheet says of a length of days: a clear reading, one that needs a word, or none.

Days and weeks alone can be working or calendar days; a week is 5 working days or 7 calendar days.
"""

import re
from dataclasses import dataclass
from datetime import date, time
from typing import Literal

from tracker.plan.day_text import full_day
from tracker.plan.span import Lead, UnclearDaysError, Unit, parse_lead
from tracker.planfile.grid import Value

Kind = Literal["days", "weeks", "numbers"]
"""What a length that needs a word is counted in; ``numbers`` have no unit at all."""

_UNITS: dict[str, str] = {
    "working weeks": r"(?:working|business) *(?:weeks?|wks?)",
    "calendar weeks": r"(?:calendar|cal\.?) *(?:weeks?|wks?)",
    "wd": r"w\.?d\.?|wds|work(?:ing)?[ -]*days?|business *days?|bus\.? *days?|bds?|weekdays?",
    "cd": r"c\.?d\.?|cds|(?:calendar|cal\.?|consecutive) *days?",
    "months": r"months?|mths?|mos?",
    "hours": r"hours?|hrs?|h",
    "days": r"days?|d",
    "weeks": r"weeks?|wks?|w",
}
_FACTORS: dict[str, dict[Unit, int]] = {
    "working weeks": {"wd": 5},
    "calendar weeks": {"cd": 7},
    "wd": {"wd": 1},
    "cd": {"cd": 1},
    "days": {"wd": 1, "cd": 1},
    "weeks": {"wd": 5, "cd": 7},
    "numbers": {"wd": 1, "cd": 1},
}
_UNIT = "|".join(_UNITS.values())
_NUMBER = r"(?<!\d)(?<!\d[.,])\d{1,5}(?!\d)(?![.,]\d)"
_TO = r" *(?:\.\.+|-|/|to|or) *"
_MORE = rf"(?: *(?:{_UNIT})?{_TO}{_NUMBER})?(?: */ *{_NUMBER})?"
_WITH_UNIT = re.compile(rf"{_NUMBER}{_MORE} *-?(?P<unit>{_UNIT})(?![a-z])")
_BARE = re.compile(rf"(?:(?:~|≈|ca\.?|approx\.?|about|max\.?) *)?{_NUMBER}{_MORE}(?: *(?:aro|max\.?))?")
_IN_HEADING = {name: re.compile(rf"(?<![a-z])(?:{form})(?![a-z])") for name, form in _UNITS.items()}
_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_SPELLED = re.compile(rf"\b({'|'.join(_WORDS)}|an?)(?= (?:{_UNIT})\b)")
_AT_LEAST = re.compile(r"[>≥+]|\b(?:at least|or more|min(?:imum)?|more than|over|from)\b")
_A_RATE = re.compile(r"\b(?:per|each|every|a piece)\b|/ *[a-z]|[a-z] */")
_DASHES = str.maketrans(
    {**dict.fromkeys("\u2010\u2011\u2013\u2014\u2212", "-"), "\u00a0": " ", "\u2026": ".."}
)
_PLAIN = re.compile(rf"\d+ *(?:{_UNITS['wd']}|{_UNITS['cd']})")
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
        """Whether the words are no more than one number of working or of calendar days: nothing was chosen."""
        return self.exact or _PLAIN.fullmatch(self.said.lower()) is not None

    def read_as(self, unit: Unit) -> Lead | None:
        """The reading in working (``wd``) or calendar days (``cd``) of a length that needs a word."""
        return self.working if unit == "wd" else self.calendar


def read_days(value: Value, heading: str = "") -> Heard:
    """Read a cell as a length of days; a number without a unit has the one its ``heading`` names.

    Examples
    --------
    >>> str(read_days("10-15 working days ARO").lead), read_days("10-15 working days ARO").said
    ('10..15wd', '10-15 working days ARO')
    >>> heard = read_days("3 weeks")
    >>> heard.kind, str(heard.working), str(heard.calendar)
    ('weeks', '15wd', '21cd')
    """
    if value is None or (isinstance(value, str) and not value.strip()):
        return Heard()
    if isinstance(value, bool | date | time):
        return _no_length(value)
    if not isinstance(value, str):
        if not float(value).is_integer():
            return _part_of_a_day(f"{value:g}")
        return _of_number(str(int(value)), heading)
    said = " ".join(value.split())
    text = said.lower().translate(_DASHES)
    try:
        return Heard(said=said, exact=True, lead=parse_lead(text))
    except UnclearDaysError:
        return _of_words(said, text, heading)


def unit_of_heading(heading: str) -> tuple[str, str]:
    """The unit a heading names and its words there; ``numbers`` and no words where it names none.

    Examples
    --------
    >>> unit_of_heading("Lead (wks)"), unit_of_heading("How long")
    (('weeks', 'wks'), ('numbers', ''))
    """
    text = heading.lower()
    for name, form in _IN_HEADING.items():
        found = form.search(text)
        if found and found[0] not in ("d", "w", "h", "mo", "bd"):
            return name, found[0]
    return "numbers", ""


def _of_number(digits: str, heading: str) -> Heard:
    unit, words = unit_of_heading(heading)
    said = f"{digits} {words}".rstrip()
    if digits.startswith("-"):
        return Heard(said=said, trouble=f"'{said}' is negative", remedy=_FORMS)
    return _counted(said, [int(digits)], unit)


def _of_words(said: str, text: str, heading: str) -> Heard:
    text = _SPELLED.sub(lambda found: str(_WORDS.index(found[1]) + 1 if found[1] in _WORDS else 1), text)
    if re.search(r"\d[.,]\d", text):
        return _part_of_a_day(said)
    bare = _BARE.fullmatch(text)
    if bare:
        unit, words = unit_of_heading(heading)
        return _counted(f"{said} {words}".rstrip(), _numbers(bare), unit)
    found = list(_WITH_UNIT.finditer(text))
    if not found:
        return _no_days(said)
    counted = found[0]
    rest = f"{text[: counted.start()]} {text[counted.end() :]}".strip()
    trouble, remedy = _trouble_of_rest(rest, counted[0])
    if trouble:
        return Heard(said=said, trouble=f"'{said}' {trouble}", remedy=remedy)
    return _counted(said, _numbers(counted), _clarified(_unit_named(counted["unit"]), heading))


def _clarified(unit: str, heading: str) -> str:
    """Days and weeks are working or calendar ones where the heading says so."""
    kind = {"wd": "working", "cd": "calendar"}.get(unit_of_heading(heading)[0])
    clear = {
        "days": {"working": "wd", "calendar": "cd"},
        "weeks": {"working": "working weeks", "calendar": "calendar weeks"},
    }
    return clear[unit][kind] if kind and unit in clear else unit


def _trouble_of_rest(rest: str, counted: str) -> tuple[str, str]:
    """What in the words around a count makes it no plain length, and the remedy; two empty texts for nothing."""
    if (
        re.search(r"\d", rest)
        or len({_unit_named(one) for one in re.findall(rf"(?:{_UNIT})(?![a-z])", counted)}) > 1
    ):
        return "holds more than one length", f"add them up, or move the road into a travel column: {_FORMS}"
    if rest.startswith("-"):
        return "is negative", _FORMS
    if _AT_LEAST.search(rest):
        return "says only the least", "give the longest you would plan with, such as 12wd or 45cd"
    if _A_RATE.search(rest):
        return (
            "is a rate",
            f"{_FORMS} for the whole quantity; a rate can be set later: tracker set JOB per_day=12",
        )
    return "", ""


def _unit_named(words: str) -> str:
    return next(name for name, form in _UNITS.items() if re.fullmatch(form, words))


def _numbers(found: re.Match[str]) -> list[int]:
    return [int(one) for one in re.findall(r"\d+", found[0])]


def _counted(said: str, numbers: list[int], unit: str) -> Heard:
    """A count in one unit: clear where the unit has one reading only."""
    if unit not in _FACTORS:
        return _in_coarse_unit(said, numbers, unit)
    if numbers != sorted(numbers):
        return Heard(said=said, trouble=f"'{said}' falls", remedy="write the smallest number first")
    readings = {name: _lead([one * by for one in numbers], name) for name, by in _FACTORS[unit].items()}
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


def _in_coarse_unit(said: str, numbers: list[int], unit: str) -> Heard:
    if unit == "hours":
        return Heard(said=said, trouble=f"'{said}' counts hours", remedy="write the days begun, such as 1wd")
    days = numbers[-1]
    remedy = f"ask for days: a month is near 30cd or 21wd, so perhaps {days * 30}cd or {days * 21}wd"
    return Heard(said=said, trouble=f"'{said}' counts months, which differ in length", remedy=remedy)


def _part_of_a_day(said: str) -> Heard:
    return Heard(said=said, trouble=f"'{said}' is not a whole number", remedy=f"round it up: {_FORMS}")


def _no_days(said: str) -> Heard:
    from tracker.planfile.faults import in_quotes

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

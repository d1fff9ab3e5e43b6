"""What single cells of a maker's sheet look like: a lead time, a date, a number, plain words."""

import re
from datetime import date, time
from functools import lru_cache
from typing import Literal

from tracker.planfile.grid import Value
from tracker.sheet.day_words import TO, UNIT, folded, is_unit_of_days

CellKind = Literal["text", "lead", "range", "unit", "date", "whole", "number", "money", "contact", "unknown"]

_AMOUNT = rf"\d+(?:[.,]\d+)?(?:(?:{TO}|\s*/\s*)\d+(?:[.,]\d+)?)*"
_AROUND = r"(?:\s*(?:aro|after|from|ex|max|min|approx|about|ab|nach|apres|dopo|despues|na|once|incl?|with|or)\b.*|\s*[,;(/+?].*)?"
_LEAD = re.compile(
    rf"(?:ca\.?|circa|approx\.?|about|etwa|environ|max\.?|up to|bis|~|<)?\s*{_AMOUNT}\s*-?(?:{UNIT})(?![a-z])\.?{_AROUND}"
)
_RANGE = re.compile(rf"\d+(?:[.,]\d+)?{TO}\d+(?:[.,]\d+)?(?:\s*\(.*\))?|\d+\s*\(.*\)")
_MONTHS = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|mai|okt|dez)[a-z]*"
_DATE = re.compile(
    r"\d{4}-\d{1,2}-\d{1,2}(?:[t ]\d{1,2}:.*)?|\d{1,2}[./-]\d{1,2}[./-](?:\d{4}|\d{2})|\d{1,2}[./]\d{1,2}\.?"
    rf"|(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*,?\s+)?\d{{1,2}}(?:st|nd|rd|th|\.)?[\s-]*{_MONTHS}\.?,?[\s-]*(?:\d{{4}}|\d{{2}})?"
    rf"|{_MONTHS}\.?\s+\d{{1,2}}(?:st|nd|rd|th)?(?:,?\s+\d{{4}})?"
)
_PIECES = r"(?:\s*(?:pcs?\.?|pieces?|off|ea|sets?|units?|st\.?|stk\.?|stuck|x|pz|uds?|stuks?))?"
_WHOLE = re.compile(rf"\d+(?:[ .,']\d{{3}})*{_PIECES}")
_NUMBER = re.compile(r"[-+]?\d+(?:[ .,']\d+)*\s*%?")
_CURRENCY = r"(?:[€£$¥]|eur|gbp|usd|chf|pln|czk|sek|cny|rmb|jpy)"
_MONEY = re.compile(rf"{_CURRENCY}\s*[-+]?\d[\d .,']*|[-+]?\d[\d .,']*\s*{_CURRENCY}")
_CONTACT = re.compile(r".*\S@\S+\.\S.*|.*(?:\+|\b0)[\d\s()/-]{6,}\d.*")
_UNKNOWN = frozenset((
    "?", "-", "--", "/", "tbc", "tba", "tbd", "n/a", "na", "none", "x", "ok", "yes", "no", "asap", "open", "in stock",
))  # fmt: skip


def tidy(value: Value) -> Value:
    """A cell's text without blanks around it, its line breaks kept; None when it is only blanks."""
    return value.strip() or None if isinstance(value, str) else value


def kind_of(value: Value) -> CellKind:
    """What a filled, tidy cell looks like by itself; ``unknown`` stands for marks such as ``tbc`` or ``?``.

    Examples
    --------
    >>> [kind_of(text) for text in ("3 weeks", "12wd", "4 Dec 2026", "250 pcs", "EUR 704", "Base")]
    ['lead', 'lead', 'date', 'whole', 'money', 'text']
    """
    if isinstance(value, bool):
        return "unknown"
    if isinstance(value, date):
        return "date"
    if isinstance(value, int | float):
        return "whole" if float(value).is_integer() else "number"
    if value is None or isinstance(value, time):
        return "unknown"
    return _kind_of_text(value)


@lru_cache(maxsize=4096)
def _kind_of_text(text: str) -> CellKind:
    text = folded(text)
    if text in _UNKNOWN:
        return "unknown"
    if is_unit_of_days(text):
        return "unit"
    kinds: tuple[tuple[CellKind, re.Pattern[str]], ...] = (
        ("lead", _LEAD), ("date", _DATE), ("whole", _WHOLE), ("range", _RANGE), ("number", _NUMBER), ("money", _MONEY),
        ("contact", _CONTACT),
    )  # fmt: skip
    return next((kind for kind, pattern in kinds if pattern.fullmatch(text)), "text")

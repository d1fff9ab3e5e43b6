"""How each kind of single value is read from TOML, written to it, typed as a word, and shown.

``read`` takes what the TOML parser gives, ``typed`` the text after ``key=``; both raise
:class:`~tracker.planfile.faults.BadValue`. ``typed`` takes back what ``show`` gives, bar quotes around text.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any, Literal

from tracker.plan.nearest import nearest
from tracker.plan.span import Lead, Span, UnclearDaysError, parse_lead, parse_span
from tracker.planfile import toml_text
from tracker.planfile.faults import BadValue, Fault, bad, describe, in_quotes, not_a

_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_WHOLE = re.compile(r"-?[0-9]{1,18}")
_NUMBER = re.compile(r"-?[0-9]{1,12}(\.[0-9]{1,12})?|[0-9]{1,12}/0*[1-9][0-9]{0,11}")
_PLACES = 12
_LARGEST = 10**12
_YES_NO = {"yes": True, "true": True, "no": False, "false": False}

Kind = Literal["text", "whole", "number", "date", "flag", "days", "parts"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """The four ways of one kind of value; ``listed`` ones are lists that can be added to.

    ``kind`` says what it is made of, ``parts`` being lists and tables; ``words`` are all it can be, if few.
    """

    read: Callable[[Any], Any]
    write: Callable[[Any], str]
    typed: Callable[[str], Any]
    show: Callable[[Any], str] = str
    listed: bool = False
    kind: Kind = "parts"
    words: tuple[str, ...] = ()


def _read_text(value: Any) -> str:
    if not isinstance(value, str):
        raise not_a("text", value, "put it in double quotes")
    return value


def _typed_text(text: str) -> str:
    try:
        text.encode()
    except UnicodeEncodeError:
        raise bad(f"{in_quotes(text)} holds bytes that are no text", "type it again") from None
    return text


def _read_code(value: Any) -> str:
    code = _read_text(value)
    if not code.strip():
        raise bad("is empty", "write a short name, such as boxes")
    return code


def _read_whole(value: Any) -> int:
    if not isinstance(value, int) or isinstance(value, bool):
        raise not_a("a whole number", value, "write it without quotes and without a point, such as 240")
    return value


def _typed_whole(text: str) -> int:
    if not _WHOLE.fullmatch(text):
        raise bad(f"{in_quotes(text)} is not a whole number", "write digits only, such as 240")
    return int(text)


def _read_number(value: Any) -> Fraction:
    if isinstance(value, str):
        return _typed_number(value)
    if not isinstance(value, int | Decimal) or isinstance(value, bool):
        raise not_a("a number", value, "write it such as 12 or 7.5")
    if isinstance(value, Decimal):
        exponent = value.as_tuple().exponent
        if not isinstance(exponent, int) or not -_PLACES <= exponent <= _PLACES:
            raise not_a(f"a number of at most {_PLACES} places", value, "write it such as 12 or 7.5")
    number = Fraction(value)
    if abs(number) > _LARGEST:
        raise bad(f"{describe(value)}, too large to be meant", "correct it")
    return number


def _typed_number(text: str) -> Fraction:
    if not _NUMBER.fullmatch(text):
        raise bad(f"{in_quotes(text)} is not a number", "write it such as 12, 7.5 or 25/3")
    return Fraction(text)


def _show_number(value: Fraction) -> str:
    """An exact decimal where there is one, else numerator and denominator."""
    scaled = value * 10**_PLACES
    if scaled.denominator != 1:
        return f"{value.numerator}/{value.denominator}"
    whole, places = divmod(abs(scaled.numerator), 10**_PLACES)
    sign = "-" if value < 0 else ""
    return f"{sign}{whole}.{places:0{_PLACES}d}".rstrip("0").rstrip(".")


def _write_number(value: Fraction) -> str:
    shown = _show_number(value)
    return toml_text.string(shown) if "/" in shown else shown


def _read_date(value: Any) -> date:
    if isinstance(value, datetime):
        raise not_a("a date", value, "leave the time out")
    if isinstance(value, str):
        raise not_a("a date", value, "write it without quotes, such as 2026-06-15")
    if not isinstance(value, date):
        raise not_a("a date", value, "write it such as 2026-06-15")
    return value


def _typed_date(text: str) -> date:
    try:
        if _DATE.fullmatch(text):
            return date.fromisoformat(text)
    except ValueError:
        raise bad(f"{in_quotes(text)} is no day of the calendar", "correct the month or the day") from None
    raise bad(f"{in_quotes(text)} is not a date", "write year-month-day, such as 2026-06-15")


def _read_flag(value: Any) -> bool:
    if not isinstance(value, bool):
        raise not_a("true or false", value, "write true or false without quotes")
    return value


def _typed_flag(text: str) -> bool:
    if text.lower() not in _YES_NO:
        raise bad(f"{in_quotes(text)} is neither yes nor no", "write yes or no")
    return _YES_NO[text.lower()]


def _days(parse: Callable[[str], Any]) -> Callable[[Any], Any]:
    """Read days with their unit; a number without one is refused with both readings."""

    def read(value: Any) -> Any:
        if isinstance(value, bool) or not isinstance(value, str | int):
            raise not_a(
                "days with their unit", value, 'write "12wd" (their working days) or "12cd" (calendar days)'
            )
        text = str(value)
        if not text.isprintable():
            raise bad(f"{in_quotes(text)} is not a number of days", "write it such as 12wd or 12cd")
        try:
            return parse(text)
        except UnclearDaysError as error:
            found, _, remedy = str(error).rpartition(": ")
            raise bad(found or str(error), remedy if found else "") from None

    return read


def _parse_setup(text: str) -> int:
    span = parse_span(text)
    if span.unit != "wd" and span.days:
        raise UnclearDaysError(f"'{text}' counts calendar days: set-up is given in working days, such as 1wd")
    return span.days


def choice(*words: str) -> Form:
    """One of a few fixed words."""

    def read(value: Any) -> str:
        text = _read_text(value)
        if text not in words:
            listed = ", ".join(f"'{word}'" for word in words)
            close = nearest(text, words)
            remedy = f"did you mean '{close}'?" if close else "use one of these words"
            raise bad(f"{in_quotes(text)} is not one of {listed}", remedy)
        return text

    return Form(read=read, write=toml_text.string, typed=read, kind="text", words=words)


def list_of(form: Form) -> Form:
    """A list of values of one form; typed with commas between."""

    def gather(values: Sequence[Any], read: Callable[[Any], Any]) -> tuple[Any, ...]:
        found: list[Any] = []
        faults: list[Fault] = []
        for number, value in enumerate(values, start=1):
            try:
                found.append(read(value))
            except BadValue as error:
                faults.extend(fault.under(f"item {number}") for fault in error.faults)
        if faults:
            raise BadValue(*faults)
        return tuple(found)

    def read(value: Any) -> tuple[Any, ...]:
        if not isinstance(value, list):
            raise not_a("a list", value, "put it in square brackets")
        return gather(value, form.read)

    def typed(text: str) -> tuple[Any, ...]:
        return gather([piece.strip() for piece in text.split(",")], form.typed)

    return Form(
        read=read,
        write=lambda items: toml_text.array([form.write(item) for item in items]),
        typed=typed,
        show=lambda items: ", ".join(form.show(item) for item in items) or "none",
        listed=True,
    )


def _quoted(value: Any) -> str:
    return toml_text.string(str(value))


def _show_span(span: Span | Lead) -> str:
    return str(span)


TEXT = Form(read=_read_text, write=toml_text.string, typed=_typed_text, show=_quoted, kind="text")
CODE = Form(
    read=_read_code,
    write=toml_text.string,
    typed=lambda text: _read_code(_typed_text(text)),
    kind="text",
)
WORD = Form(
    read=_read_text,
    write=toml_text.string,
    typed=_typed_text,
    show=lambda word: word or "none",
    kind="text",
)
WHOLE = Form(read=_read_whole, write=str, typed=_typed_whole, kind="whole")
NUMBER = Form(read=_read_number, write=_write_number, typed=_typed_number, show=_show_number, kind="number")
DATE = Form(read=_read_date, write=date.isoformat, typed=_typed_date, kind="date")
FLAG = Form(
    read=_read_flag,
    write=lambda flag: str(flag).lower(),
    typed=_typed_flag,
    show=lambda flag: "yes" if flag else "no",
    kind="flag",
)
SPAN = Form(read=_days(parse_span), write=_quoted, typed=_days(parse_span), show=_show_span, kind="days")
LEAD = Form(read=_days(parse_lead), write=_quoted, typed=_days(parse_lead), show=_show_span, kind="days")
SETUP = Form(
    read=_days(_parse_setup),
    write=lambda days: f'"{days}wd"',
    typed=_days(_parse_setup),
    show=lambda days: f"{days}wd",
    kind="days",
)

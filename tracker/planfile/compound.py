"""Values made of several parts: closures, links between jobs, dates told, and rates.

Typed forms, with commas between the items of a list:

- a closure is ``2026-12-21..2027-01-04 works shutdown``; a single day is ``2026-12-24``;
- a link is ``fit-c``, with a lag ``fit-c lag 2cd``, after a failure ``fit-c on fail``, or both
  ``fit-c on fail lag 2cd``;
- a date told is the day it was told and the day, or first and last day, told:
  ``2026-06-30:2026-12-18`` or ``2026-10-16:2027-01-10..2027-01-20 mid-January``;
- a rate, which is no list, is ``per_day=12 setup=1wd``.
"""

import re
from collections.abc import Collection, Mapping
from datetime import date
from typing import Any

from tracker.plan.model import Closure, Link, Told
from tracker.plan.span import NO_DAYS, DayRate, HourRate
from tracker.planfile import toml_text
from tracker.planfile.faults import BadValue, bad, in_quotes, not_a
from tracker.planfile.forms import CODE, DATE, NUMBER, SETUP, SPAN, TEXT, WHOLE, Form, choice
from tracker.planfile.tables import AS_TOML, TYPED, Field, Table, Way, read_fields, table_form

_LINK = re.compile(r"(\S+)(?:\s+on\s+(fail|pass))?(?:\s+lag\s+(.+))?")
_UNTIL = re.compile(r"(?:to|until|till|-|\u2013)\s*\S*\s*\d", re.IGNORECASE)
_PAIR = re.compile(r"(\w+)\s*=\s*([^\s=,]+(?:\s+[wc]d\b)?)")

CLOSURE = Table(
    "closure",
    Closure,
    (
        Field("first", DATE, example="2026-12-21"),
        Field("last", DATE, example="2027-01-04"),
        Field("why", TEXT),
    ),
)
LINK = Table(
    "link",
    Link,
    (
        Field("job", CODE, example='"boxes"'),
        Field("kind", choice("finish-start", "start-start", "finish-finish")),
        Field("lag", SPAN),
        Field("on", choice("pass", "fail")),
    ),
)
TOLD_ON = Field("on", DATE, example="2026-10-16")
TOLD_DAY = Table(
    "told date",
    Told,
    (TOLD_ON, Field("for", DATE, "last", "2026-12-18"), Field("words", TEXT)),
    also_needs=("last",),
)
TOLD_SPAN = Table(
    "told date",
    Told,
    (
        TOLD_ON,
        Field("first", DATE, example="2027-01-10"),
        Field("last", DATE, example="2027-01-20"),
        Field("words", TEXT),
    ),
    also_needs=("first", "last"),
)
DAY_RATE = Table("rate", DayRate, (Field("setup", SETUP), Field("per_day", NUMBER, example="12")))
HOUR_RATE = Table(
    "rate",
    HourRate,
    (
        Field("setup_h", NUMBER),
        Field("minutes_each", NUMBER, example="35"),
        Field("hours_per_day", NUMBER, example="14"),
        Field("machines", WHOLE),
    ),
)
_RATES = {DayRate: DAY_RATE, HourRate: HOUR_RATE}


def tells_span(keys: Collection[str]) -> bool:
    """Whether a told date with these keys is a span of days, first and last, and not one day."""
    return "for" not in keys and ("first" in keys or "last" in keys)


def _typed_days(text: str) -> tuple[date, date]:
    first, dots, last = text.partition("..")
    return DATE.typed(first), DATE.typed(last if dots else first)


def _show_days(first: date | None, last: date) -> str:
    return str(last) if first in (None, last) else f"{first}..{last}"


def _typed_closure(text: str) -> Closure:
    days, _, why = text.partition(" ")
    first, last = _typed_days(days)
    if _UNTIL.match(why.strip()):
        raise bad(
            f"the reason '{why.strip()}' reads like the last day of a span",
            f"write the span in one word, with two dots between its days: {days}..2027-01-04",
        )
    return Closure(first=first, last=last, why=TEXT.typed(why.strip()))


def _show_closure(closure: Closure) -> str:
    return f"{_show_days(closure.first, closure.last)} {closure.why}".rstrip()


def _read_link(value: Any) -> Link:
    if isinstance(value, dict):
        return _LINK_TABLE.read(value)  # type: ignore[no-any-return]
    if not isinstance(value, str):
        raise not_a("the code of a job", value, 'write "CODE" or { job = "CODE", lag = "2cd" }')
    return Link(job=CODE.read(value))


def _write_link(link: Link) -> str:
    return toml_text.string(link.job) if link == Link(job=link.job) else _LINK_TABLE.write(link)


def _typed_link(text: str) -> Link:
    found = _LINK.fullmatch(text)
    if found is None:
        raise bad(f"{in_quotes(text)} is not a link", "write CODE, CODE lag 2cd or CODE on fail")
    lag = SPAN.typed(found[3]) if found[3] else NO_DAYS
    return Link(job=CODE.typed(found[1]), on="fail" if found[2] == "fail" else "pass", lag=lag)


def _show_link(link: Link) -> str:
    fail = " on fail" if link.on == "fail" else ""
    lag = f" lag {link.lag}" if link.lag != NO_DAYS else ""
    kind = f" ({link.kind})" if link.kind != "finish-start" else ""
    return f"{link.job}{fail}{lag}{kind}"


def _read_told(value: Any) -> Told:
    if not isinstance(value, dict):
        raise not_a("a told date", value, "write it as { on = 2026-10-16, for = 2027-01-20 }")
    values, faults = read_fields(value, TOLD_SPAN if tells_span(value) else TOLD_DAY, AS_TOML)
    if faults:
        raise BadValue(*faults)
    return Told(**values)


def _write_told(told: Told) -> str:
    return toml_text.inline((TOLD_DAY if told.first is None else TOLD_SPAN).pairs(told))


def _typed_told(text: str) -> Told:
    days, _, words = text.partition(" ")
    on, colon, day = days.partition(":")
    if not colon:
        raise bad(
            f"{in_quotes(text)} is not a told date",
            "write the day it was told and the day told: 2026-06-30:2026-12-18",
        )
    first, last = _typed_days(day)
    return Told(
        on=DATE.typed(on), first=first if ".." in day else None, last=last, words=TEXT.typed(words.strip())
    )


def _show_told(told: Told) -> str:
    span = f"{told.last}" if told.first is None else f"{told.first}..{told.last}"
    return f"{told.on}:{span} {told.words}".rstrip()


def rate_table(keys: Collection[str]) -> Table:
    """The rate whose keys these are: by the hour as soon as one of its own keys is among them."""
    return HOUR_RATE if any(key in HOUR_RATE.by_name for key in keys) else DAY_RATE


def _read_rate(value: Any) -> DayRate | HourRate:
    if not isinstance(value, dict):
        raise not_a("a rate", value, 'write { setup = "1wd", per_day = 12 }')
    return _rate_of(value, AS_TOML)


def _rate_of(parts: Mapping[str, Any], way: Way) -> DayRate | HourRate:
    table = rate_table(parts)
    values, faults = read_fields(parts, table, way)
    if faults:
        raise BadValue(*faults)
    rate: DayRate | HourRate = table.makes(**values)
    return rate


def _write_rate(rate: DayRate | HourRate) -> str:
    return toml_text.inline(_RATES[type(rate)].pairs(rate))


def _typed_rate(text: str) -> DayRate | HourRate:
    pairs = [(found[1], found[2]) for found in _PAIR.finditer(text)]
    if _PAIR.sub("", text).strip(" ,") or len(dict(pairs)) < len(pairs):
        raise bad(
            f"{in_quotes(text)} cannot be read as a rate",
            "write per_day=12 setup=1wd, or minutes_each=35 hours_per_day=14 setup_h=6 machines=1",
        )
    return _rate_of(dict(pairs), TYPED)


def _show_rate(rate: DayRate | HourRate) -> str:
    return " ".join(
        f"{field.name}={field.form.show(value)}" for field, value in _RATES[type(rate)].parts(rate)
    )


_LINK_TABLE = table_form(LINK, typed=_typed_link, show=_show_link)
CLOSURE_FORM = table_form(CLOSURE, typed=_typed_closure, show=_show_closure)
LINK_FORM = Form(read=_read_link, write=_write_link, typed=_typed_link, show=_show_link)
TOLD_FORM = Form(read=_read_told, write=_write_told, typed=_typed_told, show=_show_told)
RATE_FORM = Form(read=_read_rate, write=_write_rate, typed=_typed_rate, show=_show_rate)

"""Parts and how many of each: what a job takes and makes, and what goes with a shipment.

Typed forms, with commas between the parts:

- taken: ``board, magnet 2, housing-graphite 1 into unit-graphite``; without a number one of it;
- made: ``bezel``, or several parts with their shares, ``unit-graphite 74, unit-natural 86``;
- in a shipment: ``unit-graphite 66, unit-natural 82``.

In a plan file the same are tables, such as ``{ board = 1, magnet = 2 }``.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from tracker.plan.nearest import nearest
from tracker.plan.parts import Content, Make, Take
from tracker.planfile import toml_text
from tracker.planfile.faults import BadValue, Fault, bad, describe, in_quotes, not_a
from tracker.planfile.forms import CODE, NUMBER, WHOLE, WORD, Form, list_of
from tracker.planfile.tables import AS_TOML, Field, Table, read_fields

_ITEM = re.compile(r"([^\s=]+)(?:\s+(?!into\s)(\S+))?(?:\s+into\s+(\S+))?")
_BEGINS_A_NUMBER = re.compile(r"[-+.]?[0-9]")

TAKE = Table("use of a part", Take, (Field("per", NUMBER), Field("into", CODE)))


def _typed_item(text: str, remedy: str) -> tuple[str, str, str]:
    """The part, its number as typed and what it goes into, of ``PART``, ``PART N`` or ``PART N into OTHER``."""
    if _BEGINS_A_NUMBER.match(text):
        number, _, code = text.partition(" ")
        if code and _BEGINS_A_NUMBER.match(code) is None:
            raise bad(f"{in_quotes(text)} has the number first", f"write {code.strip()} {number}")
        raise bad(
            f"{in_quotes(text)} is a number; expected a part",
            "write the part and then its number, such as magnet 2; a decimal has a point, no comma",
        )
    found = _ITEM.fullmatch(text)
    if text and found is None:
        plain = " ".join(text.replace("=", " ").split())
        example = f"write {plain}" if "=" in text else remedy
        raise bad(f"{in_quotes(text)} is not a part and how many of it", example)
    part, number, into = found.groups("") if found else ("", "", "")
    return CODE.typed(part), number, into


def _typed_take(text: str) -> Take:
    part, number, into = _typed_item(text, "write PART, PART 2 or PART 1 into OTHER")
    return Take(part=part, per=NUMBER.typed(number or "1"), into=into)


def _show_take(take: Take) -> str:
    number = "" if take.per == 1 and not take.into else f" {NUMBER.show(take.per)}"
    return f"{take.part}{number}{f' into {take.into}' if take.into else ''}"


def _typed_make(text: str) -> Make:
    part, number, into = _typed_item(text, "write PART, or PART 74 for its share")
    if into:
        raise bad(f"{in_quotes(text)} has 'into', which says where a part taken goes", f"write {part}")
    return Make(part=part, quantity=WHOLE.typed(number) if number else None)


def _show_make(make: Make) -> str:
    return make.part if make.quantity is None else f"{make.part} {make.quantity}"


def _typed_content(text: str) -> Content:
    part, number, into = _typed_item(text, "write PART 66")
    if into:
        raise bad(f"{in_quotes(text)} has 'into', which says where a part taken goes", f"write {part} 66")
    if not number:
        raise bad(
            f"{in_quotes(text)} does not say how many",
            f"write {part} 66, or part={part} where it is all of the shipment",
        )
    return Content(part=part, quantity=WHOLE.typed(number))


def _show_content(content: Content) -> str:
    return f"{content.part} {content.quantity}"


def _read_take(part: str, value: Any) -> Take:
    if not isinstance(value, dict) or (value and not any(nearest(key, TAKE.by_name) for key in value)):
        return Take(part=part, per=_number(part, value, NUMBER))
    values, faults = read_fields(value, TAKE, AS_TOML)
    if faults:
        raise BadValue(*faults)
    return Take(part=part, **values)


def _write_take(take: Take) -> str:
    per = NUMBER.write(take.per)
    return toml_text.inline([("per", per), ("into", CODE.write(take.into))]) if take.into else per


def _number(part: str, value: Any, form: Form) -> Any:
    """How many of a part; a code with a dot that stands without quotes is told apart from a table."""
    if isinstance(value, dict) and value:
        remedy = f'a code with a dot stands in double quotes, such as "{part}.{next(iter(value))}" = 1'
        raise bad(f"{describe(value)}; expected how many of {part}", remedy)
    return form.read(value)


def _table_of(
    read: Callable[[str, Any], Any], expected: str, remedy: str
) -> Callable[[Any], tuple[Any, ...]]:
    """Read a table of parts, with all faults of its values."""

    def read_table(value: Any) -> tuple[Any, ...]:
        if not isinstance(value, dict):
            raise not_a(expected, value, remedy)
        found: list[Any] = []
        faults: list[Fault] = []
        for part, one in value.items():
            try:
                found.append(read(CODE.read(part), one))
            except BadValue as error:
                faults.extend(fault.under(part) for fault in error.faults)
        if faults:
            raise BadValue(*faults)
        return tuple(found)

    return read_table


def _write_table(pairs: Mapping[str, str]) -> str:
    return toml_text.inline((toml_text.key(part), number) for part, number in pairs.items())


def _read_makes(value: Any) -> tuple[Make, ...]:
    if isinstance(value, str):
        return (Make(part=CODE.read(value)),)
    return _read_shares(value)


def _write_makes(makes: tuple[Make, ...]) -> str:
    if len(makes) == 1 and makes[0].quantity is None:
        return toml_text.string(makes[0].part)
    return _write_table({make.part: str(make.quantity) for make in makes})


def _listed(
    typed: Callable[[str], Any],
    show: Callable[[Any], str],
    read: Callable[[Any], tuple[Any, ...]],
    write: Callable[[Any], str],
) -> Form:
    """The form of several parts: typed and shown as a list, a table in a plan file."""
    items = list_of(Form(read=read, write=write, typed=typed, show=show))
    return Form(read=read, write=write, typed=items.typed, show=items.show, listed=True)


def _evenly_spaced(text: str) -> str:
    """Part codes with a comma and a space between, as the store gives them back."""
    return ", ".join(code for code in (one.strip() for one in text.split(",")) if code)


UNITS = replace(
    WORD,
    read=lambda value: _evenly_spaced(WORD.read(value)),
    typed=lambda text: _evenly_spaced(WORD.typed(text)),
)
_read_shares = _table_of(
    lambda part, value: Make(part=part, quantity=_number(part, value, WHOLE)),
    "the part it makes",
    'write "PART", or { PART = 74, OTHER = 86 } with the share of each',
)
TAKES = _listed(
    _typed_take,
    _show_take,
    _table_of(_read_take, "parts and how many of each", "write { PART = 1, OTHER = 2 }"),
    lambda takes: _write_table({take.part: _write_take(take) for take in takes}),
)
MAKES = _listed(_typed_make, _show_make, _read_makes, _write_makes)
CONTENTS = _listed(
    _typed_content,
    _show_content,
    _table_of(
        lambda part, value: Content(part=part, quantity=_number(part, value, WHOLE)),
        "parts and how many of each",
        'write { PART = 66, OTHER = 82 }, or part = "PART" where it is all of the shipment',
    ),
    lambda contents: _write_table({content.part: str(content.quantity) for content in contents}),
)

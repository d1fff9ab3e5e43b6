"""A table of fields: one description that reading, writing, editing and comparing all go by."""

from collections.abc import Iterator, Mapping
from dataclasses import MISSING, dataclass, field, fields
from functools import cached_property
from typing import Any

from tracker.plan.nearest import nearest
from tracker.planfile import toml_text
from tracker.planfile.faults import BadValue, Fault, in_quotes, not_a
from tracker.planfile.forms import Form


@dataclass(frozen=True, slots=True)
class Field:
    """One key: its form, the attribute it fills (of the same name unless said), and an example for messages.

    ``holds`` limits the key to values of these types, where two keys share one attribute. A field that
    ``is_fixed`` tells what a table is about; it is neither edited nor listed among changes.
    """

    name: str
    form: Form
    attr: str = ""
    example: str = ""
    holds: type | tuple[type, ...] = object
    is_fixed: bool = False

    @property
    def fills(self) -> str:
        """The attribute this key fills."""
        return self.attr or self.name


@dataclass(frozen=True)
class Table:
    """The keys of one table in the order they are written, and the dataclass they make.

    ``also_needs`` are attributes that this table cannot leave out although the dataclass could; ``follows``
    pairs an attribute that may be left out with the one it then equals.
    """

    name: str
    makes: type
    fields: tuple[Field, ...]
    also_needs: tuple[str, ...] = ()
    follows: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def by_name(self) -> Mapping[str, Field]:
        """Fields by the key in the file."""
        return {key.name: key for key in self.fields}

    @cached_property
    def defaults(self) -> Mapping[str, Any]:
        """Default by attribute, for attributes that have one and may be left out of this table."""
        return {
            made.name: made.default
            for made in fields(self.makes)
            if made.default is not MISSING and made.name not in self.also_needs
        }

    def parts(self, item: Any) -> Iterator[tuple[Field, Any]]:
        """The fields of ``item`` that need to be written, with their values."""
        for key in self.fields:
            attr = key.fills
            value = getattr(item, attr)
            default = (
                getattr(item, self.follows[attr])
                if attr in self.follows
                else self.defaults.get(attr, MISSING)
            )
            if isinstance(value, key.holds) and value != default:
                yield key, value

    def pairs(self, item: Any) -> list[tuple[str, str]]:
        """Keys and values of ``item`` as TOML, defaults left out."""
        return [(key.name, key.form.write(value)) for key, value in self.parts(item)]


def read_fields(raw: Mapping[str, Any], table: Table) -> tuple[dict[str, Any], list[Fault]]:
    """Read every known key; values by attribute, and all faults: wrong values, unknown and missing keys."""
    values: dict[str, Any] = {}
    faults: list[Fault] = []
    excused: set[str] = set()
    for name, value in raw.items():
        key = table.by_name.get(name)
        if key is None:
            close = nearest(name, table.by_name)
            excused.add(close)
            faults.append(unknown_key(name, close, table))
            continue
        excused.add(name)
        if key.fills in values:
            faults.append(_both(table, key))
        try:
            values[key.fills] = key.form.read(value)
        except BadValue as error:
            faults.extend(fault.under(name) for fault in error.faults)
    faults.extend(_missing(table, values, excused))
    for attr, other in table.follows.items():
        if other in values:
            values.setdefault(attr, values[other])
    return values, faults


def unknown_key(name: str, close: str, table: Table) -> Fault:
    """A key that the table does not have, with the nearest it has."""
    keys = ", ".join(table.by_name)
    remedy = f"did you mean {close}?" if close else f"a {table.name} has {keys}"
    return Fault(found=f"there is no key {in_quotes(name)}", remedy=remedy)


def _both(table: Table, key: Field) -> Fault:
    names = [other.name for other in table.fields if other.fills == key.fills]
    return Fault(found=f"has both {' and '.join(names)}", remedy="keep one of the two")


def _missing(table: Table, values: Mapping[str, Any], excused: set[str]) -> Iterator[Fault]:
    """Needed attributes that no key filled, unless a key meant for them has its own fault already."""
    told: set[str] = set()
    for key in table.fields:
        attr = key.fills
        if attr in values or attr in table.defaults or attr in table.follows or attr in told:
            continue
        told.add(attr)
        names = [other.name for other in table.fields if other.fills == attr]
        if not excused.intersection(names):
            remedy = f"write {key.name} = {key.example}" if key.example else f"write {key.name}"
            yield Fault(found=f"has no {' or '.join(names)}", remedy=remedy)


def table_form(table: Table, *, typed: Any, show: Any) -> Form:
    """The form of an inline table."""

    def read(value: Any) -> Any:
        if not isinstance(value, dict):
            raise not_a(f"a {table.name}", value, "write it as { key = value, ... }")
        values, faults = read_fields(value, table)
        if faults:
            raise BadValue(*faults)
        return table.makes(**values)

    return Form(read=read, write=lambda item: toml_text.inline(table.pairs(item)), typed=typed, show=show)

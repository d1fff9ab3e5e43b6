"""A table of fields: one description that reading, writing, editing and comparing all go by."""

from collections.abc import Callable, Iterator, Mapping, Sequence
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
    pairs an attribute that may be left out with the one it then equals. ``settle`` works out, among values by
    attribute, what follows from others; ``instead`` pairs an attribute with a key it can follow from.
    ``views`` give the value that stands for an attribute under its keys, where it is another.
    """

    name: str
    makes: type
    fields: tuple[Field, ...]
    also_needs: tuple[str, ...] = ()
    follows: Mapping[str, str] = field(default_factory=dict)
    settle: Callable[[dict[str, Any]], None] | None = None
    instead: Mapping[str, str] = field(default_factory=dict)
    views: Mapping[str, Callable[[Any], Any]] = field(default_factory=dict)

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

    def value(self, item: Any, attr: str) -> Any:
        """The value of an attribute as its keys have it."""
        view = self.views.get(attr)
        return getattr(item, attr) if view is None else view(item)

    def parts(self, item: Any) -> Iterator[tuple[Field, Any]]:
        """The fields of ``item`` that need to be written, with their values."""
        for key in self.fields:
            attr = key.fills
            value = self.value(item, attr)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How one kind of source gives the value of a key, and what its messages say of unknown and missing keys.

    ``read`` raises :class:`~tracker.planfile.faults.BadValue`; ``unknown`` is given the key, the nearest known
    one and the table, ``missing`` the key to write and the names of all keys that would do.
    """

    read: Callable[[Field, Any], Any]
    unknown: Callable[[str, str, Table], Fault]
    missing: Callable[[Field, Sequence[str]], Fault]


def read_fields(raw: Mapping[str, Any], table: Table, way: Way) -> tuple[dict[str, Any], list[Fault]]:
    """Read every known key; values by attribute, and all faults: wrong values, unknown and missing keys."""
    values: dict[str, Any] = {}
    faults: list[Fault] = []
    spoken_of: set[str] = set()
    for name, value in raw.items():
        key = table.by_name.get(name)
        if key is None:
            close = nearest(name, table.by_name)
            spoken_of.add(close)
            faults.append(way.unknown(name, close, table))
            continue
        spoken_of.add(name)
        if key.fills in values:
            faults.append(_both(table, key))
        try:
            values[key.fills] = way.read(key, value)
        except BadValue as error:
            faults.extend(fault.under(name) for fault in error.faults)
    if table.settle is not None:
        table.settle(values)
    faults.extend(way.missing(*lacks) for lacks in _missing(table, values, spoken_of))
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


def missing_key(key: Field, names: Sequence[str]) -> Fault:
    """A needed key that is not there, with an example of it."""
    remedy = f"write {key.name} = {key.example}" if key.example else f"write {key.name}"
    return Fault(found=f"has no {' or '.join(names)}", remedy=remedy)


AS_TOML = Way(read=lambda key, value: key.form.read(value), unknown=unknown_key, missing=missing_key)
TYPED = Way(read=lambda key, text: key.form.typed(text), unknown=unknown_key, missing=missing_key)


def _missing(
    table: Table, values: Mapping[str, Any], spoken_of: set[str]
) -> Iterator[tuple[Field, list[str]]]:
    """The key to write, and all that would do, of needed attributes that none filled or tried to fill."""
    told: set[str] = set()
    for key in table.fields:
        attr = key.fills
        if attr in values or attr in table.defaults or attr in table.follows or attr in told:
            continue
        told.add(attr)
        names = [other.name for other in table.fields if other.fills == attr]
        if not spoken_of.intersection((*names, table.instead.get(attr))):
            yield key, names


def table_form(table: Table, *, typed: Any, show: Any) -> Form:
    """The form of an inline table."""

    def read(value: Any) -> Any:
        if not isinstance(value, dict):
            raise not_a(f"a {table.name}", value, "write it as { key = value, ... }")
        values, faults = read_fields(value, table, AS_TOML)
        if faults:
            raise BadValue(*faults)
        return table.makes(**values)

    return Form(read=read, write=lambda item: toml_text.inline(table.pairs(item)), typed=typed, show=show)

"""Lots, and shares of a count: how a job's pieces are cut up, and how many come out.

- lots are a number of equal ones (``4``), ``shipments``, or sizes (``100,100,75``; a single one ``[100]``);
- a share is a number or a percentage: ``0.95`` or ``95%``.
"""

from collections.abc import Callable
from fractions import Fraction
from typing import Any, Literal

from tracker.plan.nearest import nearest
from tracker.plan.parts import LotRule
from tracker.planfile import toml_text
from tracker.planfile.faults import BadValue, bad, describe, in_quotes
from tracker.planfile.forms import NUMBER, WHOLE, Form, list_of

_BY_SHIPMENT: Literal["shipments"] = "shipments"
_PER_CENT = 100
_SIZES = list_of(WHOLE)


def _read_lots(value: Any) -> LotRule:
    match value:
        case bool():
            pass
        case int() | "shipments":
            return value
        case list():
            sizes: tuple[int, ...] = _SIZES.read(value)
            return sizes
        case str() if nearest(value, [_BY_SHIPMENT]):
            raise bad(f"{in_quotes(value)} says nothing of lots", f'did you mean "{_BY_SHIPMENT}"?')
    raise bad(
        f"{describe(value)}; expected a number of lots, their sizes or {_BY_SHIPMENT}",
        f'write 4, [100, 75] or "{_BY_SHIPMENT}"',
    )


def _write_lots(lots: LotRule) -> str:
    if isinstance(lots, tuple):
        return _SIZES.write(lots)
    return toml_text.string(lots) if isinstance(lots, str) else str(lots)


def _typed_lots(text: str) -> LotRule:
    plain = text.strip()
    if plain.lower() == _BY_SHIPMENT:
        return _BY_SHIPMENT
    if nearest(plain, [_BY_SHIPMENT]):
        raise bad(f"{in_quotes(plain)} says nothing of lots", f"did you mean {_BY_SHIPMENT}?")
    in_brackets = plain.startswith("[") and plain.endswith("]")
    sizes: tuple[int, ...] = ()
    try:
        sizes = _SIZES.typed(plain[1:-1] if in_brackets else plain)
    except BadValue:
        if "," in plain:
            raise
        remedy = f"write 4, {_BY_SHIPMENT}, or sizes such as 100,100,75"
        raise bad(f"{in_quotes(text)} is no number of lots", remedy) from None
    return sizes if in_brackets or len(sizes) > 1 else sizes[0]


def _show_lots(lots: LotRule) -> str:
    if not isinstance(lots, tuple):
        return str(lots)
    return _SIZES.show(lots) if len(lots) > 1 else _SIZES.write(lots)


def _read_share(value: Any) -> Fraction:
    if isinstance(value, str):
        return _typed_share(value)
    share: Fraction = NUMBER.read(value)
    return share


def _typed_share(text: str) -> Fraction:
    number, sign, rest = text.partition("%")
    try:
        share: Fraction = NUMBER.typed(number.strip())
    except BadValue:
        rest = "unread"
    if rest.strip():
        raise bad(f"{in_quotes(text)} is not a share", "write it such as 0.95 or 95%") from None
    return share / _PER_CENT if sign else share


def _per_cent(share: Fraction) -> str:
    return f"{NUMBER.show(share * _PER_CENT)}%"


def _share(write: Callable[[Fraction], str]) -> Form:
    return Form(read=_read_share, write=write, typed=_typed_share, show=_per_cent)


LOTS = Form(read=_read_lots, write=_write_lots, typed=_typed_lots, show=_show_lots)
YIELD = _share(NUMBER.write)
TOLERANCE = _share(lambda share: toml_text.string(_per_cent(share)))

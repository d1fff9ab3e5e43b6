"""What goes with a shipment, and its quantity: each can follow from the other.

All of a shipment may be one part (``part = "packed-unit"``), then its quantity counts it; several parts have
their own numbers, and the quantity may be left out, as it is their sum.
"""

from collections.abc import Collection
from typing import Any

from tracker.plan.model import Shipment
from tracker.plan.parts import Content


def held(shipment: Shipment) -> str | tuple[Content, ...]:
    """The code of the part that is all of the shipment, else what it contains."""
    if len(shipment.contents) == 1 and shipment.contents[0].quantity == shipment.quantity:
        return shipment.contents[0].part
    return shipment.contents


def settle(values: dict[str, Any]) -> None:
    """Work out the quantity from the contents, or the contents from the part that is all of the shipment.

    Where both stand, both are kept, though they differ; a part without a quantity stands for one piece.
    """
    contents = values.get("contents", ())
    if isinstance(contents, str):
        values["contents"] = (Content(part=contents, quantity=values.get("quantity", 1)),)
    elif contents:
        values.setdefault("quantity", _pieces(contents))


def follow(values: dict[str, Any], old: Shipment, typed: Collection[str]) -> None:
    """Make the quantity or the contents, where one of them is typed alone, follow it as they did in ``old``."""
    alone = {"quantity", "part", "contents"}.intersection(typed)
    if alone == {"quantity"}:
        values["contents"] = held(old)
    elif alone == {"contents"} and values["contents"] and old.quantity == _pieces(old.contents):
        del values["quantity"]


def _pieces(contents: tuple[Content, ...]) -> int:
    return sum(content.quantity for content in contents)

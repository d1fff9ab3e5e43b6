"""A move that a closure shares in, whichever page it stands on."""

from typing import Protocol

from tracker.explain.closure_share import ClosureShare


class Shared(Protocol):
    """A shipment's move, and the closure that makes most of it; its days are part of the move's."""

    @property
    def shipment(self) -> str:
        """The shipment's code."""

    @property
    def days(self) -> int | None:
        """Calendar days later (negative: earlier); None where a date is missing at one end."""

    @property
    def closure(self) -> ClosureShare | None:
        """None where no closure makes a day of it."""

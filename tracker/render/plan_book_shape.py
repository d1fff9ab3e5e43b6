"""What a plan workbook is written from: sheets, their columns and rows, whoever made them."""

from collections.abc import Sequence
from datetime import date
from typing import Literal, Protocol

Holds = Literal["text", "date", "whole", "number", "flag", "date or flag", "choice"]


class Column(Protocol):
    """One column of a sheet; ``names`` is the sheet whose code its cells take, ``needed`` all that would do."""

    @property
    def key(self) -> str:
        """The heading."""

    @property
    def holds(self) -> Holds:
        """What its cells hold."""

    @property
    def words(self) -> Sequence[str]:
        """All words of a choice."""

    @property
    def least(self) -> int:
        """The smallest number."""

    @property
    def names(self) -> str:
        """The sheet whose codes it takes, or nothing."""

    @property
    def needed(self) -> Sequence[str]:
        """The columns of which every row needs one."""

    @property
    def meaning(self) -> str:
        """One or two sentences."""

    @property
    def example(self) -> str:
        """A cell as typed."""


class Sheet(Protocol):
    """One sheet; ``kinds`` are the kinds its rows can be of, each with the columns it needs and may have."""

    @property
    def name(self) -> str:
        """Its title."""

    @property
    def about(self) -> str:
        """What it is for."""

    @property
    def columns(self) -> Sequence[Column]:
        """From column A on."""

    @property
    def rows(self) -> Sequence[Sequence[str | float | date | None]]:
        """Below the headings, along the columns."""

    @property
    def kinds(self) -> Sequence[tuple[str, Sequence[str], Sequence[str]]]:
        """Kinds of rows, if there are several."""

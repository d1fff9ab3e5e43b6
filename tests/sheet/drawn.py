"""Sheets drawn as text: a line a row, bars between cells."""

from datetime import date

from tracker.planfile.grid import Grid


def drawn(text, merged=(), formulas=()):
    """A sheet called Jobs; cells of digits are numbers, ISO dates dates, empty ones None."""
    lines = text.strip("\n").split("\n")
    rows = tuple(tuple(_value(cell.strip()) for cell in line.split("|")) for line in lines)
    return Grid(sheet="Jobs", rows=rows, merged=tuple(merged), formulas=frozenset(formulas))


def _value(text):
    if text.isdigit():
        return int(text)
    return date.fromisoformat(text) if text[:4].isdigit() and text.count("-") == 2 else text or None

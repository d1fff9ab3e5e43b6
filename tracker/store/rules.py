"""CHECK constraints for tables: each is named by the sentence a refused row is reported with."""

from collections.abc import Iterable, Mapping

from sqlalchemy import CheckConstraint

_SPAN = "{0} GLOB '[0-9]*[cw]d' AND substr({0}, 1, length({0}) - 2) NOT GLOB '*[^0-9]*'"
_FRACTION = (
    "{0} NOT GLOB '*[^0-9/]*' AND {0} GLOB '[0-9]*' AND {0} NOT LIKE '%/%/%'"
    " AND ({0} NOT LIKE '%/%' OR {0} GLOB '*/[1-9]*')"
)
MORE_THAN_NOTHING = "CAST({0} AS INTEGER) > 0"
"""The SQL condition that a fraction kept as text is above 0; its numerator stands first."""
_UNDER = "CAST(substr({0}, instr({0}, '/') + 1) AS INTEGER)"
AT_MOST_ALL = (
    f"CASE WHEN {{0}} LIKE '%/%' THEN CAST({{0}} AS INTEGER) <= {_UNDER} ELSE {{0}} IN ('0', '1') END"
)
"""The SQL condition that a fraction kept as text is 1 at most."""


def rules(
    table: str,
    *,
    days: Iterable[str] = (),
    counts: Iterable[str] = (),
    flags: Iterable[str] = (),
    spans: Iterable[str] = (),
    filled: Iterable[str] = (),
    more: Mapping[str, str] | None = None,
) -> tuple[CheckConstraint, ...]:
    """The CHECKs of one table.

    ``days`` are real calendar days in ISO form, ``counts`` whole numbers from 0, ``flags`` 0 or 1, ``spans``
    such as ``4cd``, ``filled`` texts that cannot be empty; an absent value passes where the column allows it.
    ``more`` maps a sentence to an SQL condition.
    """
    found = {f"{table} {name} is a date": f'date("{name}", \'+0 days\') IS "{name}"' for name in days}
    for name in counts:
        found[f"{table} {name} is 0 or more"] = _unless_absent(name, "typeof({0}) = 'integer' AND {0} >= 0")
    for name in flags:
        found[f"{table} {name} is yes or no"] = _unless_absent(name, "{0} IN (0, 1)")
    for name in spans:
        found[f"{table} {name} is a number of days"] = _unless_absent(name, _SPAN)
    for name in filled:
        found[f"{table} {name} is not empty"] = f"\"{name}\" <> ''"
    found.update({f"{table}: {sentence}": condition for sentence, condition in (more or {}).items()})
    return tuple(CheckConstraint(condition, name=sentence) for sentence, condition in found.items())


def fractions(*names: str) -> dict[str, str]:
    """The SQL conditions that columns hold exact numbers from 0 as texts such as ``19/20``, by their sentences."""
    return {f"{name} is a fraction": _FRACTION.format(f'"{name}"') for name in names}


def one_of(name: str, values: Iterable[str]) -> str:
    """The SQL condition that column ``name`` holds one of ``values`` or nothing."""
    listed = ", ".join(f"'{value}'" for value in values)
    return f'"{name}" IS NULL OR "{name}" IN ({listed})'


def _unless_absent(name: str, condition: str) -> str:
    quoted = f'"{name}"'
    return f"{quoted} IS NULL OR ({condition.format(quoted)})"

"""A plan file's text to a plan, with every problem found on the way."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from tracker.errors import Problem
from tracker.plan.model import Plan
from tracker.plan.nearest import nearest
from tracker.planfile.faults import Fault, describe, in_quotes
from tracker.planfile.gathering import LISTS, Findings, Row, gather, stand_in_run
from tracker.planfile.tables import AS_TOML

_POSITION = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class Parsed:
    """What a plan file says.

    With problems, ``plan`` holds what could be read, with stand-ins for the rest, so that it can be checked
    further; it is not to be stored. ``unreadable`` are the codes of entries with problems, and ``""`` for
    references (and a run's code) that could not be read. ``rows`` finds the rows of a workbook by the place
    that problems of meaning name (``job boxes``); it is empty for a text.
    """

    plan: Plan
    problems: tuple[Problem, ...]
    unreadable: frozenset[str]
    rows: Mapping[str, tuple[Row, ...]] = field(default_factory=dict)


def parse_plan(text: str, *, source: str, today: date) -> Parsed:
    r"""Read a plan from TOML.

    Parameters
    ----------
    text : str
        The file's text.
    source : str
        The file's name, which begins the place of every problem.
    today : date
        Stands in for the start of a run whose own start cannot be read.

    Returns
    -------
    Parsed
        The plan and all problems of form: syntax, unknown keys, wrong types, missing and doubled entries.
        What the entries mean together is for ``check_plan``.

    Examples
    --------
    >>> parsed = parse_plan('[run]\ncode = "dial-1"\nquantity = "12"\n', source="plan.toml", today=date(2026, 6, 1))
    >>> print(*parsed.problems, sep="\n")
    plan.toml, run dial-1, quantity: '12' is text; expected a whole number; write it without quotes and without a point, such as 240
    plan.toml, run dial-1: has no start; write start = 2026-06-15
    """
    findings = Findings(source)
    raw = _parse(text.removeprefix("\ufeff"), findings)
    if raw is None:
        plan = Plan(run=stand_in_run(today, {}))
        return Parsed(plan=plan, problems=tuple(findings.problems), unreadable=frozenset(("",)))
    _unknown_tables(raw, findings)
    plan = gather(_run(raw.get("run"), findings), _lists(raw, findings), AS_TOML, today, findings)
    return Parsed(plan=plan, problems=tuple(findings.problems), unreadable=frozenset(findings.unreadable))


def _parse(text: str, findings: Findings) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except RecursionError:
        findings.add("", [Fault(found="brackets stand in brackets without end", remedy="close them")])
    except ValueError as error:
        findings.add(*_syntax(str(error), text))
    return None


def _syntax(message: str, text: str) -> tuple[str, list[Fault]]:
    """Place and fault of a TOML error, with the line it is in."""
    found = _POSITION.fullmatch(message)
    said = (found[1] if found else message).strip().rstrip(".")
    said = said[:1].lower() + said[1:]
    if found is None or found[2] is None:
        return "end of the file" if found else "", [
            Fault(found=said, remedy="close what is still open: a quote, a bracket or a brace")
        ]
    line = text.splitlines()[int(found[2]) - 1 :][:1]
    shown = f" in {in_quotes(line[0].strip())}" if line and line[0].strip() else ""
    remedy = (
        "each key and each [table] stands once; several suppliers, jobs or shipments are written [[job]]"
        if "overwrite" in said or "twice" in said or "declare" in said
        else 'text and days such as "12wd" stand in double quotes, dates such as 2026-06-15 in none'
    )
    return f"line {found[2]}, column {found[3]}", [Fault(found=f"{said}{shown}", remedy=remedy)]


def _unknown_tables(raw: Mapping[str, Any], findings: Findings) -> None:
    known = ("run", *LISTS)
    for name in raw:
        if name not in known:
            close = nearest(name, known)
            form = f"[{close}]" if close == "run" else f"[[{close}]]"
            remedy = (
                f"did you mean {form}?" if close else f"a plan file has [run] and [[{']], [['.join(LISTS)}]]"
            )
            findings.add("", [Fault(found=f"there is no table {in_quotes(name)}", remedy=remedy)])


def _run(raw: Any, findings: Findings) -> Row | None:
    if isinstance(raw, dict):
        return Row(number=1, values=raw)
    if raw is None:
        findings.add("", [Fault(found="has no [run]", remedy="write [run] with code, quantity and start")])
    else:
        fault = Fault(found=f"{describe(raw)}; expected one table", remedy="write [run] in single brackets")
        findings.add("run", [fault])
    return None


def _lists(raw: Mapping[str, Any], findings: Findings) -> Mapping[str, Iterator[Row]]:
    """The lists of tables the file has; each is looked at when its turn comes, so that problems keep order."""
    return {name: _rows(raw[name], name, findings) for name in LISTS if name in raw}


def _rows(rows: Any, name: str, findings: Findings) -> Iterator[Row]:
    """The rows of a list of tables, numbered from 1."""
    if not isinstance(rows, list):
        remedy = f"write [[{name}]] in double brackets"
        findings.add(name, [Fault(found=f"{describe(rows)}; expected a list of tables", remedy=remedy)])
        return
    for number, row in enumerate(rows, start=1):
        if isinstance(row, dict):
            yield Row(number=number, values=row)
        else:
            fault = Fault(
                found=f"{describe(row)}; expected a table", remedy=f"write [[{name}]] and its keys below"
            )
            findings.add(f"{name} {number}", [fault])

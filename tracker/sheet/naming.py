"""The codes of a sheet's jobs: the stored ones, those of a code column, or made of the items' names."""

from collections.abc import Iterator, Mapping, Sequence

from tracker.plan.model import Job, Plan
from tracker.plan.reserved import code_trouble
from tracker.sheet.codes import GROUPS, job_codes, words_of
from tracker.sheet.draft_model import Chosen
from tracker.sheet.items import Item
from tracker.sheet.rows import Row

Coded = Mapping[str, tuple[Row, Job | None]]
"""Rows by the code of their job, each with the stored job it is, in the order of the sheet."""


def code_rows(rows: Sequence[tuple[Row, Job | None]], plan: Plan) -> tuple[Coded, tuple[Chosen, ...]]:
    """Give each row a code of its own; what a code column holds and cannot be a code is told as chosen."""
    others = (plan.run.code, *plan.supplier_by_code, *plan.job_by_code, *plan.shipment_by_code)
    given: list[str] = []
    chosen: list[Chosen] = []
    taken = {code.lower() for code in others}
    for row, job in rows:
        code = job.code if job else _own_code(row, taken)
        given.append(code)
        taken.add(code.lower())
        written = row.text("code")
        if job is None and code not in ("", written):
            chosen.append(Chosen(row=row.number, job=code, said=written, read_as=code, why="as a code"))
    unnamed = [row.name for (row, _), code in zip(rows, given, strict=True) if not code]
    made = iter(job_codes(unnamed, taken))
    return {code or next(made): pair for code, pair in zip(given, rows, strict=True)}, tuple(chosen)


def _own_code(row: Row, taken: set[str]) -> str:
    """What the code column holds, tidied where that cannot be a code; ``""`` for numbers, which only number rows."""
    written = row.text("code")
    ways = (written, "-".join(words_of(written)))
    return next(
        (code for code in ways if not code_trouble(code) and code.lower() not in {*GROUPS, *taken}), ""
    )


def items_of(coded: Coded, plan: Plan) -> Iterator[Item]:
    """What the sheet's jobs are called, then the stored jobs it does not mention."""
    for code, (row, _) in coded.items():
        yield Item(name=row.name, code=code, ident=row.text("code"), row=row.number)
    for job in plan.jobs:
        if job.code not in coded:
            yield Item(name=job.name or job.code, code=job.code)

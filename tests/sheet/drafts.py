"""Maker's tables from plain rows, and what is drafted of them."""

from datetime import date

from tracker.plan.model import Plan, Run
from tracker.planfile.merging import merge
from tracker.sheet.answers import read_answers
from tracker.sheet.drafting import draft
from tracker.sheet.model import SheetRow, SheetTable

TODAY = date(2026, 6, 20)
EMPTY = Plan(run=Run(code="lamp-1", quantity=240, start=date(2026, 6, 15)))
HEADINGS = {
    "item": "Item",
    "code": "No",
    "supplier": "Vendor",
    "country": "Where",
    "lead": "How long",
    "unit": "Unit",
    "status": "Done?",
    "after": "Needs",
    "quantity": "Pcs",
    "travel": "On the road",
    "not-before": "Earliest",
    "ordered": "PO date",
    "promised": "Due",
    "contact": "Phone",
    "process": "Process",
    "said": "As quoted",
    "note": "Remarks",
}


def table(*rows, roles=("item", "supplier", "lead", "after"), headings=None, sheet="Jobs"):
    """A table whose headings stand in row 3, so that the first row below is row 4."""
    names = headings or tuple(HEADINGS[role] for role in roles)
    return SheetTable(
        sheet=sheet,
        heading_row=3,
        headings=tuple(names),
        columns=tuple(range(len(names))),
        rows=tuple(SheetRow(number=at, cells=tuple(row)) for at, row in enumerate(rows, start=4)),
    )


def drafted(
    *rows, roles=("item", "supplier", "lead", "after"), plan=EMPTY, words="", today=TODAY, headings=None
):
    """The draft of rows whose columns hold ``roles``; ``words`` are typed after the file's name."""
    return draft(
        table(*rows, roles=roles, headings=headings),
        dict(enumerate(roles)),
        plan=plan,
        answers=read_answers(words.split()),
        source="jobs.xlsx",
        today=today,
    )


def job(made, code):
    """One drafted job."""
    return made.plan.job_by_code[code]


def waits(made, code):
    """The codes one drafted job waits for."""
    return [link.job for link in job(made, code).after]


def problems(made):
    """All problems of a draft as people read them."""
    return [str(problem) for problem in made.problems]


def stored(made, plan=EMPTY):
    """The plan with a draft brought in."""
    assert not made.problems, problems(made)
    assert not made.questions
    return merge(plan, made.plan)

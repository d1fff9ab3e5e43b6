"""Problems of options: that they say what would be tried, and since when."""

from collections.abc import Iterator

from tracker.errors import Problem
from tracker.plan.known import Known, date_problem
from tracker.plan.options import Option


def option_problems(option: Option, known: Known) -> Iterator[Problem]:
    """Problems of one option; whether its words can still be read is for whoever tries them."""
    if known.is_unread(option.code):
        return
    place = f"option {option.code}"
    if not option.words.strip():
        yield Problem(
            place=f"{place}, words",
            found="say nothing",
            remedy="write what would be tried, such as words = 'set boxes lead=12wd'",
        )
    yield from date_problem(f"{place}, on", option.on)
    if option.on > known.today:
        yield Problem(
            place=f"{place}, on",
            found=f"is {option.on}, which comes after today ({known.today})",
            remedy="on is the day the option was kept: correct it",
        )

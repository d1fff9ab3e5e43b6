"""Carrying out ``sets``: which part is asked for, on which day, and printing the view."""

from collections.abc import Sequence
from datetime import date

from tracker.cli.loading import load
from tracker.cli.session import put_view
from tracker.errors import UsageError
from tracker.plan.day_text import full_day
from tracker.plan.model import Plan
from tracker.render.sets_text import write_sets
from tracker.report.full_sets import full_sets
from tracker.words.codes import find_code
from tracker.words.dates import DateReader

_ON, _PART = "on", "part"


def show_sets(words: Sequence[str], today: str, *, as_json: bool) -> None:
    """Print the full sets of the parts named first, or of the run's unit; ``on DATE`` may follow."""
    loaded = load(today)
    lowered = [word.lower() for word in words]
    place = lowered.index(_ON) if _ON in lowered else len(words)
    on = _day(words[place + 1 :], loaded.plan, loaded.picture.today) if place < len(words) else None
    named = words[1:place] if lowered[:1] == [_PART] else words[:place]
    units = tuple(find_code(word, loaded.plan.part_by_code, "part") for word in named)
    view = full_sets(loaded.picture, units, on)
    if units and view.unknown:
        raise _not_built(view.unknown[0], loaded.plan)
    put_view(view, lambda paper: write_sets(view, paper), as_json=as_json)


def _day(words: Sequence[str], plan: Plan, today: date) -> date:
    if not words:
        raise UsageError("'on' needs a day after it", hint="for example: tracker sets on 4dec")
    reader = DateReader(today=today, order=plan.run.dates, earliest=plan.run.start)
    day = reader.whole(" ".join(words), "forward")
    if day < today:
        raise UsageError(
            f"{full_day(day)} has passed; 'on' looks ahead from {full_day(today)}",
            hint=f"what was possible then: tracker sets --today {day}",
        )
    return day


def _not_built(part: str, plan: Plan) -> UsageError:
    """The error for a part with nothing in it; it names those that have something."""
    takers = {make.part for job in plan.jobs if job.takes for make in plan.makes_of(job)}
    built = ", ".join(code for code in plan.part_by_code if code in takers)
    return UsageError(
        f"{part} is not built from other parts: no job that makes it takes any",
        hint=f"ask for one that is: {built}"
        if built
        else f"say what goes into it: tracker set JOB takes=PART makes={part}",
    )

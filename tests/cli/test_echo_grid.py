"""Every verb reads its dates back with weekday and full date: a grid of status date, typed form and verb.

The expected day is found by walking the calendar day by day, as a person with a wall calendar would.
"""

from datetime import date, timedelta
from itertools import product

import pytest

from tracker.plan.model import Job, Plan, Run, Shipment, Supplier
from tracker.plan.parts import Part
from tracker.plan.span import Lead
from tracker.render.fact_text import fact_text
from tracker.report.answer import fact_rows
from tracker.words.dates import DateReader
from tracker.words.facts import read_facts
from tracker.words.statement import read_statement
from tracker.words.verbs import VERBS

DAY = timedelta(days=1)
TODAYS = (
    date(2026, 11, 24),  # a Tuesday
    date(2026, 11, 27),  # a Friday
    date(2026, 11, 29),  # a Sunday
    date(2026, 12, 31),
    date(2027, 1, 1),
    date(2028, 2, 29),
)
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
PLAN = Plan(
    run=Run(code="dial", quantity=100, start=date(2025, 6, 1), dates="day first"),
    suppliers=(Supplier(code="varne"),),
    jobs=(
        Job(code="boxes", supplier="varne", lead=Lead(5, 5, 5, "wd"), clock=("order", "payment", "proof", "material")),
        Job(code="fit-check", supplier="varne", lead=Lead(1, 1, 1, "wd"), gate=True),
    ),
    shipments=(Shipment(code="wave-1", quantity=100, after=("boxes",)),),
    parts=(Part(code="foam"),),
)  # fmt: skip
WORDS = {
    "ordered": "boxes 250", "paid": "boxes", "approved": "boxes proof", "gave": "boxes material", "started": "boxes",
    "made": "boxes 40", "left": "boxes", "in": "boxes 52 rework 5", "sorted": "boxes 52", "finished": "boxes",
    "passed": "fit-check", "failed": "fit-check", "paused": "boxes", "resumed": "boxes", "called-off": "boxes",
    "posted": "wave-1 24", "told": "wave-1 said soon", "decided": "boxes", "called": "varne", "mailed": "varne",
    "scrap": "foam 3 found-at boxes", "note": "boxes", "promised": "boxes 31dec 2026",
}  # fmt: skip
FORWARD = {
    "promised": "boxes {}", "paused": "boxes until {}", "told": "wave-1 {}", "called": "varne again {}",
    "gave": "boxes day1 {}", "in": "boxes 40 rest {}",
}  # fmt: skip


def walk(today, step, fits, *, today_too):
    """The first day from ``today`` on, going ``step``, that fits."""
    day = today if today_too else today + step
    while not fits(day):
        day += step
    return day


def forms(today, step):
    """Typed forms that need a reading, and the day each must mean when looking ``step``."""
    back = step < timedelta(0)
    for number, name in enumerate(WEEKDAYS):
        yield name, walk(today, step, lambda day, n=number: day.weekday() == n, today_too=back)
    for month, days in ((1, 4), (6, 30), (11, 9), (12, 24)):
        wanted = walk(
            today, step, lambda day, m=month, d=days: (day.month, day.day) == (m, d), today_too=True
        )
        if abs((wanted - today).days) <= 300:
            yield f"{days}{MONTHS[month - 1]}", wanted
            yield f"{days} {MONTHS[month - 1]}", wanted
            yield f"{days}/{month}", wanted
    for near in (0, 1, 10):
        wanted = today + near * step
        yield wanted.isoformat(), wanted
        yield f"{wanted.day} {MONTHS[wanted.month - 1]} {wanted.year}", wanted
        if not back:
            yield f"+{near}", wanted
    yield "today", today
    yield ("yesterday", today - DAY) if back else ("tomorrow", today + DAY)


def echo(verb, words, today):
    reader = DateReader(today=today, order=PLAN.run.dates, earliest=PLAN.run.start)
    reading = read_facts(read_statement(VERBS[verb], words.split(), reader), PLAN, today, today)
    return " | ".join(fact_text(row) for row in fact_rows(PLAN, reading.facts))


def shown(day):
    return f"{('Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun')[day.weekday()]} {day.day} {MONTHS[day.month - 1].title()} {day.year}"


def test_the_grid_has_every_verb():
    assert WORDS.keys() == VERBS.keys()
    assert {name for name, verb in VERBS.items() if verb.date} == FORWARD.keys() - {"in"}


@pytest.mark.parametrize(("verb", "today"), [*product(WORDS, TODAYS)], ids=str)
def test_the_day_of_a_fact_is_read_back(verb, today):
    for typed, day in forms(today, -DAY):
        words = WORDS[verb] if verb != "promised" else f"boxes {(today + 30 * DAY).isoformat()}"
        note = " note well" if verb in ("note", "decided") else ""
        assert shown(day) in echo(verb, f"{words} on {typed}{note}", today), (verb, typed)


@pytest.mark.parametrize(("verb", "today"), [*product(FORWARD, TODAYS)], ids=str)
def test_the_day_spoken_of_is_read_back(verb, today):
    for typed, day in forms(today, DAY):
        said = echo(verb, FORWARD[verb].format(typed), today)
        assert shown(day) in said, (verb, typed)
        assert shown(today) in said, (verb, typed)


@pytest.mark.parametrize(
    ("today", "words", "said"),
    [
        (
            "2026-11-24",
            "promised licence fri",
            "licence promised for Fri 27 Nov 2026, leaves (given Tue 24 Nov 2026)",
        ),
        (
            "2026-11-27",
            "promised licence fri",
            "licence promised for Fri 4 Dec 2026, leaves (given Fri 27 Nov 2026)",
        ),
        ("2026-11-27", "called marlgate on fri", "marlgate called Fri 27 Nov 2026"),
        ("2026-11-30", "left boxes on fri", "boxes left Fri 27 Nov 2026"),
        (
            "2026-12-31",
            "promised licence 4jan",
            "licence promised for Mon 4 Jan 2027, leaves (given Thu 31 Dec 2026)",
        ),
        ("2027-01-04", "paid boxes on 24dec", "boxes payment sent Thu 24 Dec 2026"),
        ("2027-01-04", "paid boxes on yesterday", "boxes payment sent Sun 3 Jan 2027"),
    ],
)
def test_the_program_reads_typed_days_from_the_status_date(program, today, words, said):
    assert program.out(*words.split(), "--today", today, width=200).startswith(said)

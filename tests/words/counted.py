"""A run whose parts are counted: two finishes of a housing, a build of two units, and jobs that count nothing."""

import shlex
from dataclasses import replace
from datetime import date, timedelta

from tests.build import plan
from tracker.plan.model import Fact, Plan, Shipment
from tracker.plan.parts import Content, Make, Part, Take
from tracker.words.dates import DateReader
from tracker.words.facts import read_facts
from tracker.words.misfits import refuse_misfits
from tracker.words.statement import read_statement
from tracker.words.verbs import VERBS

TODAY = date(2026, 6, 30)  # a Tuesday
PARTS = ("housing-graphite", "housing-natural", "foam", "unit-graphite", "unit-natural")
_MADE = (Make(part="unit-graphite", quantity=74), Make(part="unit-natural", quantity=86))
COUNTED: Plan = replace(
    plan(
        "finish-graphite:10wd@shop finish-natural:8wd@shop foam:5wd@shop labels:3wd@shop build:9@bench photos:2@bench",
        jobs={
            "finish-graphite": {"makes": (Make(part="housing-graphite"),), "quantity": 170},
            "finish-natural": {"makes": (Make(part="housing-natural"),), "quantity": 96},
            "foam": {"makes": (Make(part="foam"),)},
            "labels": {"quantity": 250},
            "build": {"takes": (Take(part="housing-graphite"),), "makes": _MADE},
        },
        shipments=(
            Shipment(code="wave-1", quantity=40, contents=(Content(part="unit-graphite", quantity=40),)),
            Shipment(
                code="wave-2",
                quantity=100,
                contents=(
                    Content(part="unit-graphite", quantity=30),
                    Content(part="unit-natural", quantity=70),
                ),
            ),
        ),
    ),
    parts=tuple(Part(code=code) for code in PARTS),
)


def read(words: str, stored: Plan = COUNTED) -> tuple[Fact, ...]:
    """The facts of a typed command, refused where they cannot be."""
    verb, *rest = shlex.split(words)
    statement = read_statement(VERBS[verb], rest, DateReader(today=TODAY, earliest=stored.run.start))
    facts = read_facts(statement, stored, TODAY, TODAY).facts
    refuse_misfits(statement, stored, facts, TODAY)
    return facts


def after(*lines: str) -> Plan:
    """The run after so many commands, one a day from the run's start on."""
    stored = COUNTED
    for place, line in enumerate(lines):
        on = stored.run.start + timedelta(days=place)
        stored = replace(stored, facts=(*stored.facts, *read(f"{line} on {on.isoformat()}", stored)))
    return stored

"""Published networks from a plan file to the forecast's document; sources stand beside the data."""

import json
from datetime import timedelta

import pytest

from tests.build import MONDAY
from tests.schedule.published import NETWORKS
from tests.schedule.published_drags import DRAGS

TYPED = (
    "A01-reliable", "A02-prototype", "A06-taylor7", "A11-pinto", "A14-paper", "A18-twocritical", "A19-pdm14", "A21-navy"
)  # fmt: skip
HEAD = f"""
[run]
code = "run-1"
quantity = 10
start = {MONDAY}
today = {MONDAY}
[[supplier]]
code = "bench"
workdays = "all"
inhouse = true
"""


def job(code, length, before):
    """A job's entry: calendar days on our own bench, its links as plan files write them."""
    links = [link(word) for word in before.split()]
    return (
        f'[[job]]\ncode = "{code}"\nsupplier = "bench"\nlead = "{length}cd"\nafter = [{", ".join(links)}]\n'
    )


def link(word):
    """``A``, ``>>A`` (start to start) or ``A+3cd`` (with a lag)."""
    code, _, lag = word.removeprefix(">>").partition("+")
    keys = [f'job = "{code}"']
    keys += ['kind = "start-start"'] if word.startswith(">>") else []
    keys += [f'lag = "{lag}"'] if lag else []
    return f"{{ {', '.join(keys)} }}" if len(keys) > 1 else json.dumps(code)


def plan_file(rows):
    """All jobs of a network, and one shipment that waits for those no other waits for."""
    followed = {word.removeprefix(">>").partition("+")[0] for row in rows for word in row[2].split()}
    last = json.dumps([row[0] for row in rows if row[0] not in followed])
    entries = "".join(job(*row[:3]) for row in rows)
    return f'{HEAD}{entries}[[shipment]]\ncode = "wave-1"\nquantity = 10\nafter = {last}\n'


@pytest.fixture
def forecast(empty, tmp_path):
    """Types a network in and asks for its forecast: the document and its jobs by code."""

    def typed(rows):
        (tmp_path / "plan.toml").write_text(plan_file(rows), encoding="utf-8")
        empty("new")
        empty("read", "plan.toml")
        document = empty.json("forecast")
        return document, {one["code"]: one for one in document["jobs"]}

    return typed


def day(count):
    """The ``count``-th day as the document has it; instants of the tables begin at 0."""
    return (MONDAY + timedelta(days=count)).isoformat()


def published(name):
    return next(network for network in NETWORKS if network.name == name)


def test_a_start_to_start_link_and_a_lag_are_among_those_typed():
    befores = [row[2] for name in TYPED for row in published(name).rows]
    assert any(">>" in before for before in befores)
    assert any("+" in before for before in befores)


@pytest.mark.parametrize("name", TYPED)
def test_dates_floats_and_the_critical_path_of_a_plan_file_are_the_published_ones(forecast, name):
    """A job ready at instant 16 is worked on until the evening of the day before: its last day is the 15th."""
    network = published(name)
    document, jobs = forecast(network.rows)
    keys = ("start", "finish", "late_start", "late_finish", "total_float", "free_float")
    assert document["ship_date"] == day(network.duration - 1)
    assert {code: tuple(jobs[code][key] for key in keys) for code in jobs} == {
        code: (day(early), day(ready - 1), day(late), day(late_ready - 1), total, free)
        for code, _, _, early, ready, late, late_ready, total, free in network.rows
    }
    (shipment,) = document["shipments"]
    assert set(shipment["critical_jobs"]) == set(network.critical.split())
    if network.chains:
        assert " ".join(shipment["critical_path"]) in network.chains
    assert {code for code, one in jobs.items() if one["holds"]} == set(network.critical.split())


@pytest.mark.parametrize("case", [pytest.param(case, id=case.name) for case in DRAGS])
def test_what_each_job_of_a_plan_file_costs_is_as_published(forecast, case):
    _, jobs = forecast(case.jobs)
    assert {code: one["drag"] for code, one in jobs.items()} == {
        code: case.drag.get(code, 0) for code, _, _ in case.jobs
    }
    assert {code: jobs[code]["total_float"] for code in case.total_float} == case.total_float


def test_a_job_shortened_by_its_drag_brings_the_whole_forward_by_it_and_by_no_more(empty, tmp_path):
    """Devaux's eight jobs: without B, which costs 15 of its 20 days, the 65 days become 50."""
    rows = next(case for case in DRAGS if case.name == "D01-drag-wiki").jobs
    (tmp_path / "plan.toml").write_text(plan_file(rows), encoding="utf-8")
    empty("new")
    empty("read", "plan.toml")
    assert empty.dates() == {"wave-1": day(64)}
    empty("set", "B", "lead=0cd")
    assert empty.dates() == {"wave-1": day(49)}
    assert empty.job("B")["drag"] == 0

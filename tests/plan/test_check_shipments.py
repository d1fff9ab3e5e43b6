import pytest

from tests.plan.dial import lines
from tests.plan.kit import only, with_wave
from tracker.plan.parts import Content


def contents(**pieces):
    return tuple(Content(part=part, quantity=number) for part, number in pieces.items())


@pytest.mark.parametrize(
    ("plan", "line"),
    [
        pytest.param(
            with_wave(contents=contents(packd=80)),
            "shipment wave-1, contents: there is no part 'packd'; did you mean packed?",
            id="contents misspelt",
        ),
        pytest.param(
            with_wave(contents=contents(pack=80)),
            "shipment wave-1, contents: 'pack' is a job; expected a part; name a part here",
            id="a job for contents",
        ),
        pytest.param(
            with_wave(contents=contents(packed=66, unit=82), quantity=150),
            "shipment wave-1, contents: come to 148 pieces (66 + 82), but quantity is 150;"
            " correct one of the two, or leave quantity out",
            id="contents that do not add up",
        ),
        pytest.param(
            with_wave(contents=contents(packed=66)),
            "shipment wave-1, contents: come to 66 pieces, but quantity is 80;"
            " correct one of the two, or leave quantity out",
            id="fewer contents than pieces",
        ),
        pytest.param(
            with_wave(contents=contents(packed=80, unit=0)),
            "shipment wave-1, contents unit: is 0; expected 1 or more; correct the number",
            id="none of a part",
        ),
        pytest.param(
            with_wave(contents=contents(packed=40) * 2),
            "shipment wave-1, contents: names packed twice; keep one of the two",
            id="a part twice",
        ),
        pytest.param(
            with_wave(contents=()),
            "shipment wave-1: has no contents and waits for no job, so it has no date;"
            " write part = what is in it, or name in after the jobs it waits for, such as after = ['pack-1']",
            id="neither contents nor jobs",
        ),
    ],
)
def test_each_problem_of_contents_names_place_finding_and_remedy(plan, line):
    assert only(plan) == line


@pytest.mark.parametrize(
    "changes",
    [
        {"contents": contents(packed=66, unit=14)},
        {"contents": (), "after": ("pack",)},
        {"after": ("pack",)},
    ],
)
def test_contents_that_add_up_and_jobs_to_wait_for_are_taken(changes):
    assert lines(with_wave(**changes)) == []


def test_nothing_is_missed_in_a_shipment_that_could_not_be_read():
    assert lines(with_wave(contents=contents(packed=66)), frozenset({"wave-1"})) == []
    assert lines(with_wave(contents=()), frozenset({"wave-1"})) == []

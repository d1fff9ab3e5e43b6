"""Part counts ahead: the rest needs a day; day 0 is Monday 1 June 2026."""

from dataclasses import replace

import pytest

from tests.build import day, fact, plan
from tracker.errors import Refused
from tracker.plan.model import Shipment
from tracker.plan.parts import Content, Make, Part
from tracker.trying.reading import read_try

NINETY = {"a": {"quantity": 90}, "b": {"quantity": 90}}


def tried(words, facts=(), jobs=NINETY):
    known = plan("a:5wd@shop b:9 | a>b", jobs=jobs, facts=facts)
    return read_try(words.split(), known, day(0))


@pytest.mark.parametrize(
    "words",
    [
        "in a 30 on 2026-06-09",
        "made a 30 on 2026-06-09",
        "made b 30 on 2026-06-09",
        "in a 30 on 2026-06-09 and promised a 2026-06-08",
        "in a 30 on 2026-06-04 and in a 30 on 2026-06-09 and promised a 2026-06-08",
    ],
)
def test_a_rest_without_a_day_is_refused(words):
    with pytest.raises(Refused, match=r"nothing says when the [36]0 still to come after Tue 9 Jun 2026"):
        tried(words)


@pytest.mark.parametrize(
    "words",
    [
        "in a 30 on 2026-06-09 rest 2026-06-09",
        "in a 30 on 2026-06-09 and promised a 2026-06-09",
        "promised a 2026-06-12 and in a 30 on 2026-06-09",
        "in a 90 on 2026-06-09",
        "in a 30 on 2026-06-04 and in a 60 on 2026-06-09",
        "in a on 2026-06-09",
        "in a 30",
        "in a 30 on 2026-06-01",
    ],
)
def test_a_rest_with_a_day_or_no_rest_is_tried(words):
    assert tried(words).facts[0].job == "a"


def test_a_promise_that_stands_says_when_the_rest_comes_until_it_has_passed():
    stands = [fact("promised", "a", 0, day=8)]
    assert tried("in a 30 on 2026-06-09", stands)
    with pytest.raises(Refused, match="the 60 still to come"):
        tried("in a 30 on 2026-06-10", stands)


def test_where_the_need_decides_our_own_bench_goes_on_and_a_supplier_has_brought_all():
    made = {"a": {"makes": (Make(part="ring"),)}, "b": {"makes": (Make(part="unit"),)}}
    sent = Shipment(code="wave-1", quantity=90, contents=(Content(part="unit", quantity=90),))
    known = plan("a:5wd@shop b:9 | a>b", jobs=made, shipments=(sent,))
    known = replace(known, parts=(Part(code="ring"), Part(code="unit")))
    for verb in ("in", "made", "left"):
        assert read_try([verb, "a", "30", "on", "2026-06-09"], known, day(0))
    with pytest.raises(Refused, match="when the rest still to come"):
        read_try(["made", "b", "30", "on", "2026-06-09"], known, day(0))

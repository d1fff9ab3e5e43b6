"""A span of days folded into rows, and the cliffs in it; day 0 is Monday 1 June 2026."""

from dataclasses import replace

import pytest

from tests.build import BENCH, SHOP, day, plan
from tests.report.asking import printed
from tracker.plan.model import Closure, Shipment
from tracker.render.try_text import write_span
from tracker.report.picture import Picture
from tracker.report.span import span_report
from tracker.schedule.forecast import Forecast
from tracker.trying.reading import read_try

SHUT = replace(SHOP, closures=(Closure(first=day(15), last=day(26), why="summer"),))
MAKER = replace(SHOP, code="maker", dates_mean="in hand")


def seen(first, last, waves=1, closure=SHUT):
    """Job b at a shop that shuts for a fortnight, tried for each day on which a, in hand, may come."""
    shipments = tuple(Shipment(code=f"wave-{n}", quantity=9, after=("b",)) for n in range(1, waves + 1))
    known = plan("a:5wd@maker b:3wd@shop | a>b", suppliers=(MAKER, closure), shipments=shipments)
    days = [day(n) for n in range(first, last + 2)]
    tried = [read_try(["promised", "a", one.isoformat()], known, day(0)) for one in days]
    forecasts = [Forecast(one.plan, day(0)) for one in tried]
    before = Picture(Forecast(known, day(0)))
    return span_report(before, list(zip(days, forecasts, strict=True))[:-1], forecasts[-1], tried[0].facts)


def with_still(moving, still):
    """As ``seen``, with shipments that wait for b and others that wait for c, which no day tried moves."""
    waits = [(f"wave-{n}", "b") for n in range(1, moving + 1)] + [
        (f"still-{n}", "c") for n in range(1, still + 1)
    ]
    shipments = tuple(Shipment(code=code, quantity=9, after=(job,)) for code, job in waits)
    known = plan("a:5wd@maker b:3wd@shop c:40 | a>b", suppliers=(BENCH, MAKER, SHUT), shipments=shipments)
    days = [day(n) for n in range(7, 14)]
    tried = [read_try(["promised", "a", one.isoformat()], known, day(0)) for one in days]
    forecasts = [Forecast(one.plan, day(0)) for one in tried]
    return span_report(
        Picture(Forecast(known, day(0))), list(zip(days, forecasts, strict=True)), None, tried[0].facts
    )


@pytest.mark.parametrize("width", [80, 100, 120])
@pytest.mark.parametrize(("moving", "still"), [(8, 0), (4, 4), (3, 1), (1, 7)])
def test_no_line_of_a_span_is_wider_than_the_page_and_every_date_is_there(width, moving, still):
    view = with_still(moving, still)
    out = printed(write_span, view, width=width)
    assert max(map(len, out.splitlines())) <= width
    headings = [word for line in out.splitlines() if line.startswith("  day ") for word in line.split()[1:]]
    assert headings == [f"wave-{n}" for n in range(1, moving + 1)]
    tables = out.count("  day ")
    assert out.count("Mon 29 Jun") == moving
    assert out.count("  Fri 12 Jun to Sun 14 Jun  ") == tables
    assert out.count("  Wed 10 Jun") == out.count("cliff 1\n") == tables


def test_shipments_that_no_day_moves_are_named_in_one_line_and_have_no_column():
    out = printed(write_span, with_still(1, 2))
    assert "no day tried moves still-1 and still-2" in out
    assert [line.split() for line in out.splitlines() if line.startswith("  day ")] == [["day", "wave-1"]]


def test_a_span_that_moves_nothing_has_no_table():
    lines = printed(write_span, with_still(0, 1)).splitlines()
    assert lines[1:] == [
        "as things stand: still-1 Fri 10 Jul", "no day tried moves still-1", "nothing was stored",
    ]  # fmt: skip


def rows(view):
    zero = day(0)
    return [
        ((one.first - zero).days, (one.last - zero).days, (one.dates["wave-1"] - zero).days)
        for one in view.rows
    ]


def test_neighbouring_days_that_give_the_same_dates_are_one_row():
    """In on day 9, a Wednesday, three days are 10, 11 and 14; in on 10 they are 11, 14 and, the shop shut from 15, 28."""
    assert rows(seen(7, 12)) == [(7, 7, 10), (8, 8, 11), (9, 9, 14), (10, 10, 28), (11, 12, 29)]


def test_a_cliff_stands_at_the_last_day_before_it_with_its_closure():
    """Were the shop at work, in on day 10 would end on 15, a day after 14: 13 of the 14 days are the closure's."""
    (cliff,) = seen(7, 12).cliffs
    (fall,) = cliff.costs
    assert (cliff.last, fall.days, fall.closure.days) == (day(9), 14, 13)
    assert (fall.closure.supplier, fall.closure.first, fall.closure.last) == ("shop", day(15), day(27))


def test_the_day_after_the_span_shows_a_cliff_at_its_end():
    assert [one.last for one in seen(7, 9).cliffs] == [day(9)]
    assert seen(7, 8).cliffs == ()


def test_without_a_closure_there_is_no_cliff():
    assert seen(5, 30, closure=SHOP).cliffs == ()


def test_six_days_are_no_cliff_and_seven_are():
    def shut(last):
        return replace(SHOP, workdays="all", closures=(Closure(first=day(11), last=day(last)),))

    assert [one.costs[0].days for one in seen(5, 12, closure=shut(16)).cliffs] == [7]
    assert seen(5, 12, closure=shut(15)).cliffs == ()


def test_days_count_from_how_things_stand_now():
    view = seen(7, 8)
    assert view.now["wave-1"] == day(10)
    assert [row.days["wave-1"] for row in view.rows] == [0, 1]


def test_many_shipments_keep_within_the_width():
    view = seen(7, 12, waves=4)
    text = printed(write_span, view, width=80)
    assert max(map(len, text.splitlines())) <= 80
    assert "+" not in text.split("day  ")[1].split("cliff 1:")[0]
    assert "Tue 9 Jun" in text

"""Published quantities, from a plan file to the documents of ``need`` and ``forecast``.

Weeks are counted as the tables do: a job that starts in week n with a lead of 1 is there for week n + 1. Week 1
begins on Monday 1 June 2026; every lead is in calendar days, and outside jobs are ordered the day before they begin.
"""

from datetime import date, timedelta

import pytest

from tests.build import MONDAY

SUNDAY = MONDAY - timedelta(days=1)
HEAD = f"""
[run]
code = "run-1"
quantity = 50
start = {MONDAY}
today = {SUNDAY}
[[supplier]]
code = "shop"
workdays = "all"
[[supplier]]
code = "bench"
workdays = "all"
inhouse = true
"""


def week(day):
    """The week an ISO day begins."""
    days = (date.fromisoformat(day) - MONDAY).days
    assert days % 7 == 0, day
    return days // 7 + 1


def begin(number):
    """The first day of a week."""
    return MONDAY + timedelta(weeks=number - 1)


def starts(order):
    """For each lot of an order, the week it begins at the latest: ordered the day before."""
    return {
        week((date.fromisoformat(lot["by"]) + timedelta(days=1)).isoformat()): lot["pieces"]
        for lot in order["lots"]
    }


@pytest.fixture
def asked(empty, tmp_path):
    """Reads a plan in and asks what is needed."""

    def read(plan):
        (tmp_path / "plan.toml").write_text(HEAD + plan, encoding="utf-8")
        empty("new")
        empty("read", "plan.toml")
        document = empty.json("need")
        parts = {one["part"]: one for one in document["parts"]}
        return empty, parts, {one["job"]: one for one in document["orders"]}

    return read


# H01: Heizer & Render, Operations Management, ch. 14, examples 1-3 (speaker kits): two-level product of 50 units.
# Evidence: from memory; status: matches memory. Totals also by a separate recursion over all paths.
SPEAKERS = """
[[part]]
code = "A"
[[part]]
code = "B"
[[part]]
code = "C"
[[part]]
code = "D"
[[part]]
code = "E"
[[part]]
code = "F"
[[part]]
code = "G"
[[job]]
code = "make-g"
supplier = "shop"
lead = "14cd"
makes = "G"
[[job]]
code = "make-d"
supplier = "shop"
lead = "7cd"
makes = "D"
lots = [200, 600]
[[job]]
code = "make-f"
supplier = "shop"
lead = "21cd"
takes = { G = 1, D = 2 }
makes = "F"
[[job]]
code = "make-e"
supplier = "shop"
lead = "14cd"
makes = "E"
lots = [200, 300]
[[job]]
code = "make-b"
supplier = "shop"
lead = "14cd"
takes = { D = 2, E = 2 }
makes = "B"
[[job]]
code = "make-c"
supplier = "shop"
lead = "7cd"
takes = { E = 2, F = 2 }
makes = "C"
[[job]]
code = "make-a"
supplier = "shop"
lead = "7cd"
takes = { B = 2, C = 3 }
makes = "A"
[[shipment]]
code = "week-8"
quantity = 50
part = "A"
"""


def test_a_two_level_product_has_the_published_totals(asked):
    _, parts, orders = asked(SPEAKERS)
    assert {code: one["needed"] for code, one in parts.items()} == {
        "A": 50, "B": 100, "C": 150, "D": 800, "E": 500, "F": 300, "G": 300,
    }  # fmt: skip
    assert {code.removeprefix("make-").upper(): one["pieces"] for code, one in orders.items()} == {
        code: one["to_order"] for code, one in parts.items()
    }


def test_a_two_level_product_starts_in_the_published_weeks(asked):
    program, _, orders = asked(SPEAKERS)
    assert {code: starts(one) for code, one in orders.items()} == {
        "make-a": {7: 50},
        "make-b": {5: 100},
        "make-c": {6: 150},
        "make-e": {3: 200, 4: 300},
        "make-f": {3: 300},
        "make-g": {1: 300},
        "make-d": {2: 600, 4: 200},
    }
    assert program.dates() == {"week-8": (begin(8) - timedelta(days=1)).isoformat()}
    late = {code: week(program.job(f"make-{code}")["late_start"]) for code in "abcfg"}
    assert late == {"a": 7, "b": 5, "c": 6, "f": 3, "g": 1}


def wanted(weeks):
    """A shipment of so many in each week, made on our own bench in that week and no sooner."""
    text = ""
    for number, pieces in weeks.items():
        text += f"""
[[part]]
code = "out-{number}"
[[job]]
code = "use-{number}"
supplier = "bench"
lead = "1cd"
not_before = {begin(number)}
takes = {{ item = 1 }}
makes = "out-{number}"
[[shipment]]
code = "gross-{number}"
quantity = {pieces}
part = "out-{number}"
"""
    return text


def item(lead, here=0):
    """The item, ordered for each week's demand apart."""
    return f"""
[[part]]
code = "item"
here = {here}
[[job]]
code = "buy"
supplier = "shop"
lead = "{7 * lead}cd"
makes = "item"
lots = "shipments"
"""


def test_without_stock_each_demand_starts_its_lead_before(asked):
    # H03: Principles of Operations Management (Heizer & Render), ch. 14, problem 12, item A.
    # Evidence: part read in a stored text, part from memory; status: confirmed.
    gross = {8: 100, 10: 50, 12: 150}
    _, parts, orders = asked(item(lead=1) + wanted(gross))
    assert (parts["item"]["needed"], parts["item"]["to_order"], parts["item"]["left"]) == (300, 300, 0)
    assert starts(orders["buy"]) == {7: 100, 9: 50, 11: 150}


def test_stock_and_an_open_receipt_are_netted_before_anything_is_ordered(asked):
    # H03, second case: constructed with the case, status confirmed by hand: 50 + 25 - 60 = 15 left; 90 - 15 = 75 net.
    receipt = f"""
[[job]]
code = "receipt"
supplier = "shop"
lead = "7cd"
quantity = 25
makes = "item"
[[fact]]
on = {SUNDAY}
job = "receipt"
kind = "ordered"
"""
    program, parts, orders = asked(item(lead=2, here=50) + receipt + wanted({3: 60, 6: 90}))
    balance = parts["item"]
    assert (balance["needed"], balance["here"], balance["in_process"]) == (150, 50, 25)
    assert (balance["to_order"], balance["left"]) == (75, 0)
    assert starts(orders["buy"]) == {4: 75}
    enough = {row["shipment"]: row["day"] for row in program.json("item")["enough"]}
    assert enough["gross-3"] == (begin(2) - timedelta(days=1)).isoformat()

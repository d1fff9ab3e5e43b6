"""Full sets of the demo: an invented scenario, its answers computed by plain day counting apart from this code."""

import pytest


def test_no_set_is_full_today_and_149_graphite_ones_without_magnets_and_glass(program):
    together = program.json("sets")["together"]
    assert (together["sets"], set(together["short"])) == (0, {"magnet", "glass-dial"})
    assert (together["without"], together["without_by"]) == (149, {"unit-graphite": 149, "unit-natural": 0})
    assert program.out("sets").startswith(
        "full sets on Tue 24 Nov 2026: 0\n"
        "short for the next set: 2 magnet and 1 glass-dial\n"
        "not counting magnet and glass-dial: 149, all unit-graphite\n"
    )


def test_253_sets_are_possible_once_the_magnets_are_here(program):
    curve = program.json("sets")["curve"]
    assert [(one["day"], one["total"]) for one in curve] == [("2026-11-24", 0), ("2026-12-16", 253)]
    assert curve[1]["came"] == ["magnet"]
    days = {one["shipment"]: one["possible_on"] for one in program.json("sets")["shipments"]}
    assert days == {"wave-1": "2026-12-16", "wave-2": "2026-12-16"}


@pytest.mark.parametrize(("day", "sets"), [("15dec", 0), ("16dec", 253)])
def test_a_day_ahead_counts_what_is_here_by_its_evening(program, day, sets):
    assert program.json("sets", "on", day)["together"]["sets"] == sets


def test_a_delivery_changes_what_is_short(program):
    program("in", "glass-sea", "268", "scrap", "2")
    assert program.json("sets")["together"]["short"] == ["magnet"]
    assert "short for the next set: 2 magnet\n" in program.out("sets")


def test_an_order_of_magnets_from_the_shelf_brings_sets_forward(program):
    program("set", "magnet", "here=100")
    program("in", "glass-sea", "268", "scrap", "2")
    assert program.json("sets")["together"]["sets"] == 50

"""What the demo counts: deliveries, what a unit takes, what is here and to come, and its events about counts.

Invented scenario, computed by plain day counting apart from this program; no published source.
"""

import pytest

from tests.cli.typed import type_all, typed

WAVES = {"wave-1": "2027-01-14", "wave-2": "2027-02-05"}
PER_UNIT = {"board": 1, "magnet": 2, "glass-dial": 1, "gasket": 1, "screw": 6}


def part(program, code, *extra):
    """A part's balance as ``need --json`` has it."""
    return next(one for one in program.json("need", *extra)["parts"] if one["part"] == code)


def job(program, code, makes, *extra):
    """A job's pieces of one part as ``need --json`` has them."""
    rows = program.json("need", *extra)["jobs"]
    return next(one for one in rows if (one["job"], one["part"]) == (code, makes))


def taken(program, code):
    """Pieces of each part that a job takes for one piece, from the plan as it would be written."""
    page = typed(program, f"tracker {code}")
    line = next(one for one in page.splitlines() if one.startswith("  takes"))
    pairs = (one.split() for one in line.split(maxsplit=1)[1].split(", "))
    return {words[0]: int(words[1]) for words in pairs}


@pytest.mark.parametrize(
    ("code", "makes", "put_in", "good", "rework", "scrap"),
    [
        ("bases", "base", 275, 266, 0, 9),
        ("bezels", "bezel", 275, 269, 0, 6),
        ("finish-graphite", "housing-graphite", 170, 149, 15, 6),
        ("bare-boards", "board-bare", 290, 290, 0, 0),
        ("smt-first", "board-assembled", 200, 191, 6, 3),
        ("test-first", "board", 200, 191, 0, 0),
        ("magnets", "magnet-made", 520, 520, 0, 0),
        ("air-freight", "magnet", 520, 0, 0, 0),
        ("glass", "glass-dial-made", 270, 270, 0, 0),
        ("glass-sea", "glass-dial", 270, 0, 0, 0),
        ("gaskets", "gasket", 300, 300, 0, 0),
        ("screws", "screw", 1600, 1600, 0, 0),
        ("boxes", "box", 250, 0, 0, 0),
    ],
)
def test_each_job_has_brought_what_was_delivered(program, code, makes, put_in, good, rework, scrap):
    row = job(program, code, makes)
    assert (row["put_in"], row["good"], row["rework"], row["scrap"]) == (put_in, good, rework, scrap)


@pytest.mark.parametrize(
    ("code", "lots"),
    [
        ("bases", [(100, 97), (100, 96), (75, 73)]),
        ("bezels", [(150, 146), (125, 123)]),
        ("finish-graphite", [(170, 149)]),
    ],
)
def test_each_delivery_is_a_lot_of_its_own(program, code, lots):
    assert [(one["quantity"], one["good"]) for one in program.job(code)["lots"]] == lots


def test_the_glass_that_came_is_at_our_door_and_two_are_lost(program):
    typed(program, "tracker in glass-sea 268 scrap 2 ref MF-2291")
    row = job(program, "glass-sea", "glass-dial")
    assert (row["good"], row["scrap"], part(program, "glass-dial")["here"]) == (268, 2, 268)


@pytest.mark.parametrize(
    ("code", "last_day", "here"),
    [("gaskets", "2026-09-15", "2026-09-21"), ("screws", "2026-08-28", "2026-08-31")],
)
def test_what_was_seen_to_leave_was_worked_up_to_that_day(program, code, last_day, here):
    (lot,) = program.job(code)["lots"]
    assert (lot["finish"], lot["arrives"]) == (last_day, here)


def test_what_came_without_a_count_is_taken_as_all_good(program):
    out = typed(program, "tracker in air-freight --today 2026-12-16")
    assert out.startswith(
        "air-freight in Wed 16 Dec 2026; not counted, done [entry 54]\nneed 480: covered, 40 to spare"
    )
    assert part(program, "magnet")["here"] == 520


def test_a_unit_takes_what_was_counted_for_it(program):
    for build in ("trial", "wave-1-build"):
        assert taken(program, build) == {"housing-graphite": 1, **PER_UNIT}
    assert taken(program, "pack-1") == {"unit-graphite": 1, "box": 1}
    assert taken(program, "finish-natural") == {"base": 1, "bezel": 1}


def test_240_units_are_built_154_graphite_and_86_natural_12_of_them_spares(program):
    builds = [("trial", 10), ("wave-1-build", 70), ("wave-2-build", 74)]
    assert sum(job(program, code, "unit-graphite")["put_in"] for code, _ in builds) == 154
    assert job(program, "wave-2-build", "unit-natural")["put_in"] == 86
    graphite, natural = part(program, "unit-graphite"), part(program, "unit-natural")
    assert [(one["needed"], one["spares"]) for one in (graphite, natural)] == [(146, 8), (82, 4)]
    sizes = {one["code"]: one["quantity"] for one in program.json("forecast")["shipments"]}
    assert sizes == {"wave-1": 80, "wave-2": 148}


def test_266_housing_sets_are_machined_and_253_expected_good_13_over_need(program):
    assert min(job(program, "bases", "base")["good"], job(program, "bezels", "bezel")["good"]) == 266
    graphite, natural = part(program, "housing-graphite"), part(program, "housing-natural")
    assert (graphite["here"], graphite["in_process"]) == (149, 13)  # 13 of the 15 to be redone
    assert (natural["here"], natural["in_process"]) == (0, 91)  # of 96
    assert (graphite["left"], natural["left"]) == (8, 5)


def test_191_boards_are_good_and_80_more_to_be_tested_of_which_76_are_expected(program):
    assert part(program, "board")["here"] == 191
    assert part(program, "board")["in_process"] == 76
    assert job(program, "test-last", "board")["put_in"] == 80
    assert job(program, "smt-first", "board-assembled")["in_rework"] == 6


def test_boards_in_rework_hold_nobody_up_since_enough_others_come(program):
    """191 and 76 against 240: the six that were sent back are not needed."""
    assert program.job("smt-first")["state"] == "DONE"
    typed(program, "tracker promised smt-first 26feb")
    assert program.dates() == WAVES
    assert "smt-first" not in typed(program, "tracker calls --today 2026-12-08")
    assert "smt-first" not in program.json("forecast", "--today", "2026-12-08")["at_best"]


def test_natural_ones_short_of_the_spares_are_said_and_wave_2_does_not_move(program):
    out = typed(program, "tracker in natural 82 rework 9 scrap 5")
    assert "82 good, 9 rework, 5 scrap; 96 of 96 in, done" in out
    assert "need 86: orders covered, 4 spares short until the redo is back Fri 4 Dec" in out
    assert "no shipment moves" in out
    assert program.dates() == WAVES
    natural = part(program, "housing-natural")
    assert (natural["needed"], natural["spares"], natural["here"], natural["in_process"]) == (
        82,
        4,
        82,
        8,
    )
    need = typed(program, "tracker need")
    assert "4 spares of housing-natural short until the redo is back Fri 4 Dec (finish-natural)" in need
    assert "no shipment waits for them" in need


def test_the_redo_for_spares_may_come_at_any_time(program):
    typed(program, "tracker in natural 82 rework 9 scrap 5")
    redo = program.job("finish-natural")["lots"][-1]
    assert (redo["kind"], redo["arrives"], redo["spare_days"]) == ("rework", "2026-12-04", None)
    assert "no shipment moves" in typed(program, "tracker promised finish-natural 26feb")
    assert program.dates() == WAVES


def test_orders_wait_for_the_redo_where_the_good_ones_do_not_cover_them(program):
    """78 good of 82 ordered: 4 of the 9 redone go into wave 2, whose build could begin on Fri 8 Jan."""
    typed(program, "tracker in natural 78 rework 9 scrap 9")
    assert program.dates() == WAVES  # back on Fri 4 Dec
    typed(program, "tracker promised finish-natural 7jan")
    assert program.dates() == WAVES
    typed(program, "tracker promised finish-natural 8jan")
    assert program.dates() == {"wave-1": "2027-01-14", "wave-2": "2027-02-08"}


def test_a_print_run_that_may_come_short_of_the_orders_says_what_to_order(program):
    (boxes,) = program.json("need")["printed"]
    assert (boxes["job"], boxes["quantity"], boxes["least"], boxes["most"]) == ("boxes", 250, 225, 275)
    assert (boxes["needed"], boxes["spares"], boxes["short"]) == (228, 12, 3)
    assert (boxes["order"], boxes["order_least"]) == (270, 243)
    assert "225 is 3 below the 228 orders need: ask for no unders, or order 270 (at worst 243)" in typed(
        program, "tracker need"
    )


@pytest.mark.parametrize(
    ("line", "least", "short"),
    [("tracker set boxes quantity=270", 243, 0), ("tracker set boxes unders=0%", 250, 0)],
)
def test_270_boxes_or_no_unders_cover_the_orders(program, line, least, short):
    typed(program, line)
    (boxes,) = program.json("need")["printed"]
    assert (boxes["least"], boxes["short"], boxes["order"]) == (least, short, None)
    assert program.dates() == WAVES


def test_four_bases_with_a_clamp_mark_leave_266_sets(program):
    """The second delivery: 96 good, 4 scrap. On its day 72 more were expected of the 75 to come."""
    lots = program.job("bases")["lots"]
    assert (lots[1]["arrives"], lots[1]["quantity"], lots[1]["good"]) == ("2026-09-21", 100, 96)
    assert part(program, "base")["used"] == 266
    assert '4 scrap; ref TP-2310; note "all four have the same clamp mark"' in typed(program, "tracker bases")
    then = part(program, "base", "--today", "2026-09-21")
    assert (then["here"], then["in_process"]) == (193, 72)


def test_five_backers_may_swap_graphite_for_natural_and_no_sixth(program):
    """91 natural expected against 86 needed, spares included: 5 swaps leave 87 ordered, 4 spares and none over."""
    assert part(program, "housing-natural")["left"] == 5
    swap(program, 5)
    natural = part(program, "housing-natural")
    assert (natural["needed"], natural["spares"], natural["left"], natural["short"]) == (87, 4, 0, 0)
    assert program.dates() == WAVES
    swap(program, 6)
    assert part(program, "housing-natural")["left"] == -1
    assert program.dates() == WAVES  # a spare is missing, no order


def swap(program, number):
    """So many of wave 2 natural instead of graphite."""
    graphite, natural = 66 - number, 82 + number
    type_all(
        program,
        f"""
tracker set wave-2 contents="packed-graphite {graphite}, packed-natural {natural}"
tracker set pack-2 makes="packed-graphite {graphite}, packed-natural {natural}"
tracker set wave-2-build makes="unit-graphite {graphite + 8}, unit-natural {natural + 4}"
""",
    )


def test_a_hundred_boxes_ahead_of_the_rest_bring_the_first_wave_forward_by_a_day(program):
    """100 in 12 of their days from Wed 25 Nov, here on Sat 19 Dec: wave 1 then waits for its build, up to Thu 7 Jan."""
    typed(program, "tracker paid boxes")
    type_all(
        program,
        """
tracker set boxes quantity=150
tracker add job boxes-ahead supplier=moinho lead=12wd travel=5cd after=box-artwork makes=box quantity=100
tracker ordered boxes-ahead
""",
    )
    assert program.job("boxes-ahead")["arrives"] == "2026-12-19"
    assert program.dates() == {"wave-1": "2027-01-13", "wave-2": "2027-02-05"}

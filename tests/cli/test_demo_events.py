"""What a maker's week brings, logged in the verbs' own words, and what each thing moves.

Invented scenario; the expected answers were computed beforehand by plain day counting, apart from this program.
"""

import pytest


def moves(program, *words):
    """Shipments that the command moves, by code: (before, after)."""
    return {row["shipment"]: (row["before"], row["after"]) for row in program.json(*words)["moves"]}


@pytest.fixture
def paid(program):
    """The demo with the deposit for the boxes paid on Tue 24 Nov."""
    program("paid", "boxes")
    assert program.dates() == {"wave-1": "2027-01-14", "wave-2": "2027-02-05"}
    return program


def test_a_licence_a_week_later_moves_both_shipments(paid):
    assert moves(paid, "promised", "licence", "11dec", "said", "licence 11 Dec") == {
        "wave-1": ("2027-01-14", "2027-01-20"),
        "wave-2": ("2027-02-05", "2027-02-12"),
    }


def test_every_earlier_date_for_the_licence_stays_visible_with_its_slip(paid):
    paid("promised", "licence", "11dec")
    page = paid.json("licence")["promises"]
    assert [(row["given"], row["day"], row["slip"]) for row in page] == [
        ("2026-09-08", "2026-10-16", None),
        ("2026-10-15", "2026-11-06", 21),
        ("2026-11-05", "2026-11-20", 14),
        ("2026-11-19", "2026-12-04", 14),
        ("2026-11-24", "2026-12-11", 7),
    ]


def test_a_deposit_forgotten_for_a_week_costs_the_first_shipment_only(program):
    program("paid", "boxes", "--today", "2026-12-01")
    assert program.dates("--today", "2026-12-01") == {"wave-1": "2027-01-19", "wave-2": "2027-02-05"}


@pytest.mark.parametrize(
    ("day", "wave_1"),
    [("2026-11-25", "2027-01-14"), ("2026-11-26", "2027-01-15"), ("2026-11-27", "2027-01-18"), ("2026-11-30", "2027-01-19")],
)  # fmt: skip
def test_each_working_day_after_the_day_to_pay_by_costs_the_first_shipment_a_working_day(
    program, day, wave_1
):
    assert program.job("boxes")["give_by"] == "2026-11-25"
    program("paid", "boxes", "on", day, "--today", day)
    assert program.dates("--today", day)["wave-1"] == wave_1


def test_a_finisher_nine_days_late_moves_nothing(paid):
    out = paid.out("promised", "natural", "4dec", width=200)
    assert "no shipment moves; finish-natural ready Fri 4 Dec, harmless until Tue 5 Jan" in out
    assert paid.job("finish-natural", "--today", "2026-11-24")["spare_days"] == 32  # 41 from Wed 25 Nov


def test_a_delivery_with_redo_and_scrap_moves_nothing(paid):
    answer = paid.json("in", "natural", "82", "rework", "9", "scrap", "5")
    assert answer["moves"] == []
    (counts,) = answer["counts"]
    assert (counts["good"], counts["rework"], counts["scrap"], counts["closed"]) == (82, 9, 5, True)


def test_the_last_boards_may_slip_a_fortnight_and_no_more_than_the_month(paid):
    assert moves(paid, "promised", "smt-last", "18dec") == {}
    assert moves(paid, "promised", "smt-last", "8jan") == {"wave-2": ("2027-02-05", "2027-02-11")}


def test_customs_holding_the_glass_moves_the_last_parcel_and_then_the_first(paid):
    assert moves(paid, "promised", "glass-sea", "17dec") == {"wave-2": ("2027-02-05", "2027-02-08")}
    assert moves(paid, "promised", "glass-sea", "23dec") == {
        "wave-1": ("2027-01-14", "2027-01-20"),
        "wave-2": ("2027-02-08", "2027-02-12"),
    }


def test_a_drop_test_that_asks_for_new_foam_is_a_job_behind_the_trial(paid):
    paid("add", "job", "foam", "supplier=lark", "lead=5wd", "after=trial")
    assert moves(paid, "set", "wave-1-build", "after+=foam") == {
        "wave-1": ("2027-01-14", "2027-01-20"),
        "wave-2": ("2027-02-05", "2027-02-12"),
    }


def test_a_count_tolerance_of_the_boxes_is_kept_in_their_words_and_answered_by_an_order(paid):
    out = paid.out("note", "boxes", "count", "may", "be", "225", "to", "275", "of", "250", width=200)
    assert out.startswith('boxes note Tue 24 Nov 2026; note "count may be 225 to 275 of 250"')
    paid("called", "moinho", "asked", "for", "no", "unders")
    assert "quantity 250 -> 270" in paid.out("set", "boxes", "quantity=270", width=200)
    assert paid.dates() == {"wave-1": "2027-01-14", "wave-2": "2027-02-05"}


def set_leads(program, first, second):
    program("set", "wave-1-build", f"lead={first}")
    program("set", "wave-2-build", f"lead={second}")
    return program.dates()


def test_a_helper_who_is_ill_makes_eight_a_day_of_twelve(paid):
    assert set_leads(paid, "9wd", "20wd") == {"wave-1": "2027-01-18", "wave-2": "2027-02-18"}


def test_a_second_helper_makes_sixteen_a_day(paid):
    assert set_leads(paid, "5wd", "10wd")["wave-2"] == "2027-01-29"

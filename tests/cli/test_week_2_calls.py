"""Week 2: a Monday of calls. Who is called, what they say, what it moves, and what all the promises have come to.

Invented scenario, as it stood on Mon 23 Nov and Tue 24 Nov 2026; its answers were computed by plain day counting,
apart from this program.
"""

import re

import pytest

from tests.cli.typed import typed, words_of

FULL_DAY = re.compile(r"(Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d{1,2} [A-Z][a-z]{2} 202[67]")
CHAIN = ("air-freight", "trial", "wave-1-build", "wave-2-build", "pack-2")


def called(program, *extra):
    """The suppliers to call, by code, in the order they are named."""
    return {row["supplier"]: row for row in program.json("calls", *extra)["rows"]}


def to_accept(row):
    """The latest date to accept for each job of a supplier, and what such a date means."""
    return {one["row"]["code"]: (one["accept_by"], one["accept_means"]) for one in row["jobs"]}


def slips(program):
    """Every date given for the licence, with the days by which it moved the one before."""
    (supplier,) = program.json("promises", "qingsha")["suppliers"]
    (job,) = supplier["jobs"]
    return [(one["promise"]["day"], one["promise"]["slip"]) for one in job["promises"]]


def test_monday_begins_with_the_one_who_holds_the_last_parcel(program):
    calls = called(program, "--today", "2026-11-23")
    assert list(calls) == ["qingsha", "moinho", "marlgate", "varne"]
    out = typed(program, "tracker calls --today 2026-11-23")
    assert out.startswith("calls on Mon 23 Nov 2026\n")
    assert "Lan, 0-555-0105" in out
    assert 'promised Fri 4 Dec leaves (+14 days), given Thu 19 Nov "4 December, the officer says' in out


def test_each_call_knows_the_latest_date_to_accept_and_what_a_later_one_costs(program):
    """Spare days, counted: licence 2 (a weekend), glass 20, both lots at the finisher 41."""
    calls = called(program)
    assert to_accept(calls["qingsha"]) == {"licence": ("2026-12-04", "leaves")}
    assert to_accept(calls["marlgate"]) == {"glass-sea": ("2026-12-16", "in hand")}
    assert to_accept(calls["varne"]) == {
        "finish-natural": ("2027-01-05", "in hand"), "rework-graphite": ("2027-01-05", "in hand"),
    }  # fmt: skip
    one, five = calls["qingsha"]["jobs"][0]["later"]
    assert (one["day"], one["costs"]) == ("2026-12-07", {"wave-2": 3})
    assert (five["day"], five["costs"]) == ("2026-12-11", {"wave-1": 6, "wave-2": 7})
    one, _ = calls["marlgate"]["jobs"][0]["later"]
    assert (one["day"], one["costs"]) == ("2026-12-17", {"wave-2": 3})


def test_a_supplier_who_waits_for_our_money_is_called_about_that(program):
    assert called(program)["moinho"]["jobs"][0]["why"] == ["late", "waits on us"]
    assert "waits for payment from us, by Wed 25 Nov to keep wave-1" in typed(program, "tracker calls")


def test_a_call_to_be_made_again_comes_back_on_its_day_and_goes_once_made(program):
    out = typed(program, "tracker called marlgate again thu")
    assert out.startswith("marlgate called Tue 24 Nov 2026, again on Thu 26 Nov 2026")
    assert called(program, "--today", "2026-11-25")["marlgate"]["again_due"] is False
    thursday = typed(program, "tracker calls --today 2026-11-26")
    assert thursday.index("call again today") < thursday.index("marlgate  ") < thursday.index("also to call")
    assert "to be called again today; last called Tue 24 Nov" in thursday
    typed(program, 'tracker called marlgate "cleared, with us by noon" --today 2026-11-26')
    row = called(program)["marlgate"]
    assert (row["again_due"], row["last_called"], row["last_note"]) == (
        False, "2026-11-26", "cleared, with us by noon",
    )  # fmt: skip


def test_a_call_put_off_that_was_not_made_stays_due(program):
    typed(program, "tracker called marlgate again thu")
    assert called(program, "--today", "2026-11-30")["marlgate"]["again_due"] is True


def test_one_date_for_two_lots_is_logged_in_one_line_with_the_words_said(program):
    out = typed(program, 'tracker promised natural rework-graphite wed said "Wednesday for sure"')
    for code in ("finish-natural", "rework-graphite"):
        assert (
            f'{code} promised for Wed 25 Nov 2026, in hand (given Tue 24 Nov 2026); said "Wednesday for sure"'
            in out
        )
        assert program.json(code)["promises"][-1]["words"] == "Wednesday for sure"
    assert "no shipment moves" in out
    assert len(program.json("diary")) == 53


def test_a_worst_date_is_kept_beside_the_one_to_plan_with(program):
    out = typed(program, "tracker promised licence 4dec worst 18dec")
    assert "licence promised for Fri 4 Dec 2026, leaves, worst Fri 18 Dec 2026 (given Tue 24 Nov 2026)" in out
    assert "no shipment moves; licence ready Fri 4 Dec, harmless until Fri 4 Dec (2 spare days)" in out
    assert program.json("licence")["promises"][-1]["worst"] == "2026-12-18"
    assert program.dates() == {"wave-1": "2027-01-14", "wave-2": "2027-02-05"}


def test_a_fifth_date_moves_both_waves_and_leaves_the_four_before_it_in_view(program):
    out = typed(program, 'tracker promised licence 11dec said "licence 11 Dec"')
    assert "licence promised for Fri 11 Dec 2026, leaves (given Tue 24 Nov 2026)" in out
    assert "wave-1 moves Thu 14 Jan -> Wed 20 Jan (+6 days), held by" in out
    assert "wave-2 moves Fri 5 Feb -> Fri 12 Feb (+7 days), held by" in out
    assert slips(program) == [
        ("2026-10-16", None), ("2026-11-06", 21), ("2026-11-20", 14), ("2026-12-04", 14), ("2026-12-11", 7),
    ]  # fmt: skip
    assert "5 promises, none kept, 1 open; moved later 4 times, 56 days in all" in typed(
        program, "tracker promises qingsha"
    )


def test_every_promise_says_what_became_of_it_by_supplier(program):
    out = typed(program, "tracker promises")
    for supplier, record in (
        ("varne", "3 promises, none kept, 2 open; moved later once, 5 days in all"),
        ("orlice", "2 promises, none kept, 1 open; moved later once, 14 days in all"),
        ("qingsha", "4 promises, none kept, 1 open; moved later 3 times, 49 days in all"),
        ("marlgate", "2 promises, none kept, 1 open; moved later once, 20 days in all"),
    ):
        page = out[out.index(f"\n{supplier}  ") :]
        assert page.index(record) < page.index("promised ")
    program("in", "glass-sea", "268", "scrap", "2", "on", "2026-11-24")
    (marlgate,) = program.json("promises", "marlgate")["suppliers"]
    assert (marlgate["kept"], marlgate["still_open"], marlgate["came_late"]) == (1, 0, 0)


def test_what_we_owe_names_the_day_and_what_each_day_after_it_costs(program):
    """Paid on 25 Nov wave 1 goes Thu 14 Jan; on 26 Nov Fri 15, on 27 Nov Mon 18, on 30 Nov Tue 19 Jan."""
    out = typed(program, "tracker owed")
    assert "boxes (moinho): payment by Wed 25 Nov, frees wave-1" in out
    assert "waits since Thu 19 Nov, 5 days" in out
    for line in ("Thu 26 Nov  wave-1 +1 day", "Fri 27 Nov  wave-1 +4 days", "Mon 30 Nov  wave-1 +5 days"):
        assert line in out
    typed(program, "tracker paid boxes")
    assert typed(program, "tracker owed") == "we owe nothing on Tue 24 Nov 2026: no clock waits for us\n"


def test_the_next_to_hold_us_up_are_listed_by_spare_days(program):
    rows = {row["job"]: row["spare_days"] for row in program.json("near")["rows"]}
    assert {code: rows[code] for code in (*CHAIN, "pack-1", "boxes", "licence", "glass-sea")} == {
        **dict.fromkeys((*CHAIN, "pack-1"), 0), "boxes": 1, "licence": 2, "glass-sea": 20,
    }  # fmt: skip
    assert list(rows.values()) == sorted(rows.values())
    out = typed(program, "tracker near")
    assert out.index("\n  boxes ") < out.index("\n  licence ") < out.index("\n  glass-sea ")
    assert "5 more jobs with 29 to 41 spare days: smt-last, test-last, finish-natural, look-over" in out


def test_both_gates_show_how_they_were_opened(program):
    out = typed(program, "tracker gates")
    assert "fit-check-c  passed Fri 7 Aug by fit-check-d, had failed Mon 20 Jul" in out
    assert re.search(r"emc +passed Tue 17 Nov, had failed Thu 20 Aug", out)


def test_a_gate_that_fails_again_names_who_must_be_told_to_hold(program):
    typed(program, 'tracker failed fit-check-d "bezel bore tight"')
    out = typed(program, "tracker gates")
    assert "stays shut" in out
    for code in ("varne", "orlice", "qingsha", "marlgate", "moinho"):
        assert code in out


def test_a_closure_is_a_cliff_with_a_last_day_before_it(program):
    """The licence on Wed 27 Jan gives 22 Mar, one day later it waits for 22 Feb and gives 19 Apr."""
    out = typed(program, "tracker closures")
    assert out.startswith("closures from Tue 24 Nov 2026 to Mon 22 Feb 2027\n")
    part = out[out.index("qingsha shut Thu 28 Jan to Sun 21 Feb") :]
    assert "before they shut if ready by Wed 27 Jan" in part
    assert "a day later: ready Mon 22 Feb, 26 days on" in part
    assert "wave-2 Mon 22 Mar becomes Mon 19 Apr (+28 days)" in part
    assert "moinho shut Thu 24 Dec to Sun 3 Jan, 11 days: year-end break" in out


def test_closures_look_as_far_ahead_as_asked(program):
    assert typed(program, "tracker closures 120").startswith(
        "closures from Tue 24 Nov 2026 to Wed 24 Mar 2027"
    )
    near = typed(program, "tracker closures 30")
    assert near.startswith("closures from Tue 24 Nov 2026 to Thu 24 Dec 2026")
    assert "\nqingsha shut" not in near


@pytest.mark.parametrize(
    ("line", "moves"),
    [
        ("tracker promised natural 4dec", {}),
        ("tracker promised smt-last 18dec", {}),
        ("tracker promised smt-last 8jan", {"wave-2": "2027-02-11"}),
        ("tracker promised glass-sea 17dec", {"wave-2": "2027-02-08"}),
        ("tracker promised glass-sea 23dec", {"wave-1": "2027-01-20", "wave-2": "2027-02-12"}),
        ("tracker promised licence 24dec", {"wave-1": "2027-01-27", "wave-2": "2027-02-19"}),
    ],
)
def test_news_by_telephone_moves_what_it_must_and_nothing_else(program, line, moves):
    """The licence on 24 Dec: air freight 29 Dec to 8 Jan, trial 11-13, built Thu 21, packed Wed 27 Jan."""
    rows = program.json(*words_of(line))["moves"]
    assert {row["shipment"]: row["after"] for row in rows} == moves


@pytest.mark.parametrize(
    "line",
    [
        "tracker called marlgate again thu",
        'tracker promised natural rework-graphite wed said "Wednesday for sure"',
        "tracker promised licence 4dec worst 18dec",
        "tracker promised glass-sea +2",
        "tracker promised smt-last 4 dec",
        "tracker promised licence 4/12",
        "tracker called moinho on mon",
    ],
)
def test_every_day_typed_is_read_back_with_weekday_and_full_date_in_six_lines(program, line):
    out = typed(program, line, width=80)
    assert len(out.splitlines()) <= 6
    assert FULL_DAY.search(out)
    assert not re.search(r"\d{4}-\d{2}-\d{2}", out)


def test_a_monday_of_calls_takes_six_lines_and_moves_what_the_licence_moves(program):
    for line in (
        'trk prom lic 11dec said "licence 11 Dec"',
        "trk prom natural 4dec",
        "trk prom smt-last 18dec",
        "trk called marlgate again thu",
        "trk paid boxes",
        'trk decided "price the second source of magnets"',
    ):
        typed(program, line)
    assert program.dates() == {"wave-1": "2027-01-20", "wave-2": "2027-02-12"}
    assert len(program.json("diary")) == 58

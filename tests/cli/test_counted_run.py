"""A run whose parts are counted, typed command by command: deliveries in parts, a shortage, a rework loop, scrap.

Invented run; sums and dates by hand. 86 natural and 64 graphite housings are needed, of 96 and 70 sent to be
finished at a yield of 95%; today is Tue 24 Nov 2026.
"""

import pytest

from tracker.render.answer_text import MOST_LINES

PLAN = """
[run]
code = "dial-1"
quantity = 150
start = 2026-09-01
today = 2026-11-24
[[supplier]]
code = "varne"
[[supplier]]
code = "bench"
inhouse = true
[[part]]
code = "base"
here = 180
[[part]]
code = "housing-graphite"
[[part]]
code = "housing-natural"
[[part]]
code = "unit-graphite"
[[part]]
code = "unit-natural"
spares = 4
[[job]]
code = "graphite"
supplier = "varne"
lead = "10wd"
takes = { base = 1 }
makes = "housing-graphite"
quantity = 70
yield = 0.95
[[job]]
code = "natural"
supplier = "varne"
lead = "8wd"
takes = { base = 1 }
makes = "housing-natural"
quantity = 96
yield = 0.95
[[job]]
code = "build-graphite"
supplier = "bench"
lead = "4wd"
takes = { housing-graphite = 1 }
makes = "unit-graphite"
quantity = 64
[[job]]
code = "build-natural"
supplier = "bench"
lead = "6wd"
takes = { housing-natural = 1 }
makes = "unit-natural"
quantity = 86
[[shipment]]
code = "wave-1"
contents = { unit-graphite = 64 }
[[shipment]]
code = "wave-2"
contents = { unit-natural = 82 }
"""


@pytest.fixture
def run(empty, tmp_path):
    """Graphite came whole on Mon 16 Nov; natural has been in work since Wed 11 Nov."""
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    empty("new")
    empty("read", "plan.toml", "--yes")
    empty("ordered", "graphite", "natural", "on", "2026-10-30")
    empty("in", "graphite", "66", "good", "scrap", "4", "on", "2026-11-16", exit_code=2)
    empty("in", "graphite", "good", "66", "scrap", "4", "on", "2026-11-16")
    empty("started", "natural", "on", "2026-11-11")
    return empty


def words(program, line, **options):
    return program.out(*line.split(), **options)


def test_a_delivery_in_part_with_the_rest_for_thursday(run):
    out = words(run, "in natural 52 rework 5 scrap 3 rest thu ref 4471", width=200)
    assert out.splitlines()[0].startswith(
        "natural in Tue 24 Nov 2026: 52 good, 5 rework, 3 scrap; ref 4471; 60 of 96 in, 36 to come, "
        "Thu 26 Nov 2026, in hand [entry "
    )
    assert out.splitlines()[1] == "need 86: covered, 4 to spare"
    assert "as a job: tracker rework natural 5" in out
    narrow = words(run, "undo", width=80)
    assert "taken back" in narrow
    narrow = words(run, "in natural 52 rework 5 scrap 3 rest thu ref 4471", width=80)
    assert len(narrow.splitlines()) <= MOST_LINES
    assert "60 of" in narrow
    assert "need 86: covered, 4 to spare" in narrow


def test_a_delivery_split_on_one_day_leaves_date_and_need_as_whole(run):
    words(run, "in natural good 60")
    words(run, "in natural good 36 ref 2")
    split = run.dates(), words(run, "natural").count("need 86: covered, 10 to spare")
    words(run, "undo")
    words(run, "undo")
    words(run, "in natural good 96")
    assert (
        (run.dates(), words(run, "natural").count("need 86: covered, 10 to spare"))
        == split
        == (
            {"wave-1": "2026-11-27", "wave-2": "2026-12-02"},
            1,
        )
    )


def test_a_shortage_makes_a_re_run_that_moves_the_shipment_and_rework_brings_it_back(run):
    """76 good of 82 wanted: 6 short, 7 to put in; ordered Tue 24 Nov, worked Wed 25 Nov to Fri 4 Dec, built by Mon 14 Dec."""
    before = run.dates()["wave-2"]
    out = words(run, "in natural good 76 rework 0 scrap 20", width=200)
    assert "need 86: 6 short for wave-2, re-run of 7 in the forecast, order today" in out
    assert "held by [order not given] natural > build-natural" in out
    assert (before, run.dates()["wave-2"]) == ("2026-12-02", "2026-12-14")
    assert run.job("natural")["state"] == "CLOCK NOT STARTED"
    board = run.out(width=120)
    assert "order for 7 more not given (owed by us)" in board
    words(run, "undo")
    out = words(run, "in natural good 76 rework 12 scrap 8", width=200)
    assert "need 86: covered once the redo is back Fri 4 Dec (natural), 1 to spare" in out
    out = words(run, "rework natural 12 by varne lead 3wd", width=200)
    assert (
        "need 86 of housing-natural: covered once the redo is back Fri 27 Nov (rework-natural), 1 to spare"
        in out
    )
    assert run.dates()["wave-2"] < "2026-12-14"
    words(run, "ordered rework-natural")
    out = words(run, "in rework-natural good 12", width=200)
    assert "need 86: covered, 2 to spare" in out
    assert run.job("natural")["state"] == "DONE"


def test_pieces_found_bad_answer_with_the_balance_of_their_part(run):
    words(run, "in natural good 86 scrap 10")
    out = words(run, "scrap housing-natural 6 found-at build-natural", width=200)
    lines = out.splitlines()
    assert lines[0].startswith(
        "6 of housing-natural scrapped Tue 24 Nov 2026, found at build-natural [entry "
    )
    assert lines[1] == (
        "need 92 (6 scrapped among it): 2 short for wave-2, re-run of 3 by natural in the forecast, order today"
    )
    assert any(line.startswith("wave-2 moves ") for line in lines)
    assert "6 of housing-natural scrapped" in run.out(
        "diary", width=200
    ) or "scrap housing-natural 6" in run.out("diary", width=200)


def test_a_part_nobody_makes_any_more_is_named_on_the_board_until_it_is_put_right(run):
    assert "does not add up" not in run.out()
    out = words(run, "called-off natural", width=200)
    assert "82 of housing-natural short, natural called off; wave-2 goes short first" in out
    board = run.out()
    assert "does not add up (what to do: tracker need)" in board
    assert "82 of housing-natural short, natural called off; wave-2 goes short first" in board
    assert run.json()["problems"][0]["part"] == "housing-natural"
    words(run, "undo")
    assert "does not add up" not in run.out()


def test_lots_are_in_the_json_of_the_forecast_and_on_the_page(run):
    words(run, "in natural 52 rework 5 scrap 3 rest thu")
    found = run.job("natural")
    assert [(one["lot"], one["kind"], one["quantity"], one["good"]) for one in found["lots"]] == [
        (1, "received", 60, 52),
        (2, "rework", 5, 0),
        (3, "promised", 36, 0),
    ]
    assert found["waits_for"] == []
    assert run.job("build-natural")["waits_for"] == ["natural"]
    page = run.out("natural")
    assert "    36  promised" in page
    assert "  takes            base 1" in page


def test_notes_of_a_day_answer_with_the_need_once_for_each_part(run):
    text = "in natural good 50 scrap 10\nin natural good 30 scrap 6 ref 7\nscrap housing-graphite 3\n"
    out = run.out("log", "-", text=text, width=200)
    needs = [line for line in out.splitlines() if line.startswith("need ")]
    assert [line.split(":")[0] for line in needs] == [
        "need 86 of housing-natural",
        "need 67 of housing-graphite (3 scrapped among it)",
    ]


def test_a_run_without_parts_answers_as_it_always_did(empty, tmp_path):
    plain = PLAN.replace("takes = { base = 1 }\n", "").replace('makes = "housing-natural"\n', "")
    plain = "\n".join(
        line
        for line in plain.splitlines()
        if not line.startswith(("takes", "makes", "yield", "contents", "spares", "here"))
    )
    blocks = [block for block in plain.split("[[") if not block.startswith("part]]")]
    plain = "[[".join(blocks).replace(
        'code = "wave-1"', 'code = "wave-1"\nquantity = 64\nafter = ["graphite"]'
    )
    plain = plain.replace('code = "wave-2"', 'code = "wave-2"\nquantity = 82\nafter = ["natural"]')
    (tmp_path / "plain.toml").write_text(plain, encoding="utf-8")
    empty("new")
    empty("read", "plain.toml", "--yes")
    out = words(empty, "in natural good 52 rework 5 scrap 3 ref 4471", width=200)
    assert out.splitlines()[0].startswith(
        "natural in Tue 24 Nov 2026: 52 good, 5 rework, 3 scrap; ref 4471; 60 of 96 in, 36 to come [entry "
    )
    assert "need " not in out
    assert "does not add up" not in empty.out()
    (lot,) = empty.job("natural")["lots"]
    assert set(lot) == {"lot", "quantity", "good", "start", "finish", "arrives"}
    assert "lots" not in empty.out("natural").split()


class TestDemo:
    """Events of the demo's scenario, computed by plain day counting."""

    def test_82_good_cover_the_orders_and_leave_4_spares_short_until_the_redo(self, program):
        before = program.dates()
        out = program.out("in", "finish-natural", "82", "rework", "9", "scrap", "5")
        assert "need 86: orders covered, 4 spares short until the redo is back" in out
        assert "no shipment moves" in out
        assert program.dates() == before
        assert len(out.splitlines()) <= MOST_LINES

    def test_four_swaps_leave_one_to_spare_and_six_are_too_many(self, program):
        """91 good are expected of 96 at 95%, 86 needed: at most 5 units may change colour."""
        assert "need 86: covered, 5 to spare" in program.out("finish-natural")

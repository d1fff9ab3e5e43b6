"""How much is typed while the telephone is at the ear: whole lines with ``trk``, the Enter key among them.

The most each may take is this project's own measure. Each line is also run on the demo and must log what it says.
"""

from importlib.metadata import entry_points

import pytest

from tests.cli.typed import typed

A_DATE, PAID, HOW_DO_WE_STAND, PART_WITH_REJECTS = 24, 16, 8, 46
GIVEN = "(given Tue 24 Nov 2026)"
LINES = (
    (A_DATE, "trk prom lic 4dec", f"licence promised for Fri 4 Dec 2026, leaves {GIVEN}"),
    (A_DATE, "trk prom licence 11dec", f"licence promised for Fri 11 Dec 2026, leaves {GIVEN}"),
    (A_DATE, "trk prom natural thu", f"finish-natural promised for Thu 26 Nov 2026, in hand {GIVEN}"),
    (A_DATE, "trk prom rework-g +2", f"rework-graphite promised for Thu 26 Nov 2026, in hand {GIVEN}"),
    (A_DATE, "trk prom glass-s 17dec", f"glass-sea promised for Thu 17 Dec 2026, in hand {GIVEN}"),
    (A_DATE, "trk prom smt-last 18dec", f"smt-last promised for Fri 18 Dec 2026, leaves {GIVEN}"),
    (A_DATE, "trk prom orlice 8jan", f"smt-last promised for Fri 8 Jan 2027, leaves {GIVEN}"),
    (A_DATE, "trk prom boxes 12jan", f"boxes promised for Tue 12 Jan 2027, in hand {GIVEN}"),
    (PART_WITH_REJECTS, "trk in natural 52 rework 5 scrap 3 rest thu",
     "finish-natural in Tue 24 Nov 2026: 52 good, 5 rework, 3 scrap; 60 of 96 in, 36 to come"),
    (PART_WITH_REJECTS, "trk in smt-l 60 rework 4 scrap 2 rest 4dec",
     "smt-last in Tue 24 Nov 2026: 60 good, 4 rework, 2 scrap; 66 of 80 in, 14 to come"),
    (PART_WITH_REJECTS, "trk in glass-sea 200 scrap 12 rest 30nov",
     "glass-sea in Tue 24 Nov 2026: 200 good, 12 scrap; 212 of 270 in, 58 to come"),
    (PAID, "trk paid boxes", "boxes payment sent Tue 24 Nov 2026"),
    (PAID, "trk paid moinho", "boxes payment sent Tue 24 Nov 2026"),
)  # fmt: skip


def keys(line):
    """Keys pressed: every character, and Enter."""
    return len(line) + 1


@pytest.mark.parametrize(("most", "line", "said"), LINES, ids=[line for _, line, _ in LINES])
def test_a_line_for_the_telephone_is_short_and_logs_what_it_says(program, most, line, said):
    assert keys(line) <= most
    first = typed(program, line).splitlines()[0]
    assert first.startswith(said)
    assert "[entry 53" in first
    verb, *words = program.json("diary")[0]["command"].split()
    assert (words, verb.startswith(line.split()[1])) == (line.split()[2:], True)


def test_the_rest_of_a_part_delivery_is_a_promise_of_its_own(program):
    typed(program, "trk in natural 52 rework 5 scrap 3 rest thu")
    row = program.job("finish-natural")
    assert (row["state"], row["promise"]) == ("PART IN", "2026-11-26")


def test_how_we_stand_is_one_word_and_names_both_waves_with_what_holds_them(program):
    assert keys("trk") <= HOW_DO_WE_STAND
    before = program.rows()
    out = typed(program, "trk")
    assert "wave-1 held by [payment not given] boxes > pack-1" in out
    assert "wave-2 held by [promised Fri 4 Dec] licence > air-freight > trial" in out
    assert "Thu 14 Jan" in out
    assert "Fri 5 Feb" in out
    assert typed(program, "tracker") == out
    assert program.rows() == before


def test_trk_is_the_same_program_under_a_shorter_name():
    whole, short = (entry_points(group="console_scripts", name=name) for name in ("tracker", "trk"))
    assert [one.value for one in short] == [one.value for one in whole] != []

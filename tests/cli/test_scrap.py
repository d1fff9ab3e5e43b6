"""Counts of parts as typed: pieces found bad later, which part was made, what left, what is promised for the rest.

Invented run; dates counted by hand.
"""

import pytest

from tests.cli.test_logging import facts, kept

PLAN = """\
[run]
code = "dial"
quantity = 160
start = 2026-06-15
today = 2026-07-21

[[supplier]]
code = "coat"
[[supplier]]
code = "bench"
inhouse = true

[[part]]
code = "housing"
[[part]]
code = "unit-black"
[[part]]
code = "unit-silver"

[[job]]
code = "coating"
supplier = "coat"
lead = "8wd"
makes = "housing"
quantity = 174
[[job]]
code = "build"
supplier = "bench"
lead = "10wd"
takes = { housing = 1 }
makes = { unit-black = 74, unit-silver = 86 }
[[shipment]]
code = "wave-1"
contents = { unit-black = 74, unit-silver = 80 }
"""


@pytest.fixture
def counted(empty, tmp_path):
    """Of 174 housings 170 are here, good, since Mon 13 Jul 2026; today is Tue 21 Jul."""
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    empty("new")
    empty("read", "plan.toml")
    empty("ordered", "coating", "on", "2026-07-01")
    empty("in", "coating", "good", "170", "on", "2026-07-13")
    return empty


def newest(program):
    """The number of the newest entry."""
    return program.json("diary")[0]["number"]


def test_pieces_found_bad_later_are_read_back_with_day_and_place_and_stored(counted):
    out = counted.out(
        "scrap", "housing", "3", "found-at", "build", "on", "mon", "note", "clamp mark", width=200
    )
    assert out.startswith('3 of housing scrapped Mon 20 Jul 2026, found at build; note "clamp mark" [entry ')
    (fact,) = facts(counted)
    assert kept(fact) == {
        "kind": "scrapped", "part": "housing", "scrap": 3, "job": "build", "note": "clamp mark",
    }  # fmt: skip


def test_pieces_found_bad_may_be_named_by_the_job_that_made_them(counted):
    assert counted.out("scrap", "coat", "3").startswith("3 of housing scrapped Tue 21 Jul 2026 [entry ")
    refused = counted.refuses("scrap", "build", "3", exit_code=2)
    assert "build makes unit-black and unit-silver: which one?" in refused
    assert "name it: tracker scrap unit-black 3" in refused


def test_a_scrap_told_twice_is_refused_unless_it_is_another_one(counted):
    counted("scrap", "housing", "3", "found-at", "build")
    number = newest(counted)
    refused = counted.refuses("scrap", "housing", "3", "found-at", "build", exit_code=1)
    assert f"this scrap of housing is in the diary already, as entry {number}" in refused
    assert "add the word 'again'" in refused
    counted("scrap", "housing", "3", "found-at", "build", "again")
    counted("scrap", "housing", "4", "found-at", "build")
    assert [one.scrap for one in facts(counted, 3)] == [3, 3, 4]


def test_a_scrap_is_corrected_and_what_it_said_is_told(counted):
    counted("scrap", "housing", "3", "found-at", "build")
    number = newest(counted)
    out = counted.out("fix", str(number), "scrap", "2", width=200)
    assert out.startswith("2 of housing scrapped Tue 21 Jul 2026, found at build [entry ")
    assert f"entry {number} said: 3 of housing scrapped Tue 21 Jul 2026, found at build" in out
    counted("fix", str(number), "of", "unit-black")
    assert (facts(counted)[0].part, facts(counted)[0].scrap) == ("unit-black", 2)
    refused = counted.refuses("fix", str(number), "scrap", "0", exit_code=1)
    assert f"take it back: tracker undo {number}" in refused


def test_a_scrap_is_taken_back(counted):
    before = counted.out("write", "-")
    counted("scrap", "housing", "30", "found-at", "build")
    assert counted.out("write", "-") != before
    counted("undo")
    assert counted.out("write", "-") == before


def test_lines_of_notes_take_parts_scrap_and_rework(counted):
    notes = (
        "on mon\n- scrap housing 3 found at build\n- made build 20 of unit-black\n"
        "- in coating rework 4\n- rework coating 4 lead 3wd\n"
    )
    out = counted.out("log", "-", text=notes, width=200)
    assert "3 of housing scrapped Mon 20 Jul 2026, found at build [entry " in out
    assert "build made Mon 20 Jul 2026, unit-black: 20 good" in out
    assert "job rework-coating added: coat, 4 of housing, lead 3wd" in out
    refused = counted.refuses("log", "-", text="scrap housing 2\nscrap hosing 1\n", exit_code=1)
    assert "there is no part 'hosing'" in refused


def test_a_scrap_is_written_and_read_again_as_it_was(counted, tmp_path):
    counted("scrap", "housing", "3", "found-at", "build", "note", "clamp mark")
    written = counted.out("write", "-")
    (tmp_path / "again.toml").write_text(written, encoding="utf-8")
    out = counted.out("read", "again.toml", "--yes")
    assert counted.out("write", "-") == written, out


@pytest.mark.parametrize(
    ("words", "exit_code", "says"),
    [
        ("scrap housing 0", 2, "scrap needs a number of pieces"),
        ("scrap housing", 2, "scrap needs a number of pieces"),
        ("scrap hosing 1", 2, "there is no part 'hosing'"),
        ("scrap unit 1", 2, "'unit' begins several codes: unit-black, unit-silver"),
        ("scrap housing 1 found-at nowhere", 2, "there is no job 'nowhere'"),
        ("scrap housing 1 on 2026-08-01", 2, "is after today"),
        ("made build 5 of housing", 2, "build makes unit-black and unit-silver, no 'housing'"),
        ("posted wave-1 5 of housing", 2, "wave-1 holds unit-black and unit-silver, no 'housing'"),
    ],
)
def test_a_count_that_cannot_be_changes_nothing(counted, words, exit_code, says):
    assert says in counted.refuses(*words.split(), exit_code=exit_code)


@pytest.mark.parametrize(
    ("words", "echo", "stored"),
    [
        ("made build 24 of unit-silver", "build made Tue 21 Jul 2026, unit-silver: 24 good",
         {"kind": "made", "job": "build", "good": 24, "part": "unit-silver"}),
        ("in build of black good 20 scrap 2", "build in Tue 21 Jul 2026, unit-black: 20 good, 2 scrap",
         {"kind": "in", "job": "build", "good": 20, "scrap": 2, "part": "unit-black"}),
        ("posted wave-1 1 of unit-silver", "wave-1 posted Tue 21 Jul 2026, unit-silver: 1 unit",
         {"kind": "posted", "shipment": "wave-1", "good": 1, "part": "unit-silver"}),
        ("left build 60", "build left Tue 21 Jul 2026: 60 pieces", {"kind": "left", "job": "build", "good": 60}),
        ("left build 1", "build left Tue 21 Jul 2026: 1 piece", {"kind": "left", "job": "build", "good": 1}),
        ("promised build 36 thu", "build promised for Thu 23 Jul 2026, in hand, 36 pieces (given Tue 21 Jul 2026)",
         {"kind": "promised", "job": "build", "good": 36}),
    ],
)  # fmt: skip
def test_counts_of_a_part_are_read_back_and_stored(counted, words, echo, stored):
    out = counted.out(*words.split(), width=200)
    assert out.startswith(echo)
    found = kept(facts(counted)[0])
    found.pop("day", None)
    assert found == stored


def test_the_rest_is_promised_with_the_pieces_still_to_come(counted):
    out = counted.out("in", "build", "60", "rest", "thu", width=200)
    assert "100 to come, Thu 23 Jul 2026, in hand" in out
    number = newest(counted)
    counted("fix", str(number), "61")
    came, rest = facts(counted, 2)
    assert (came.count, rest.good) == (61, 99)

"""Week 3: a Tuesday of vans. Part deliveries, rejects, miscounts, money and papers, and what our own bench makes.

Invented scenario, as it stood on Tue 24 Nov 2026; its answers were computed by plain day counting, apart from this
program.
"""

import re

import pytest

from tests.cli.typed import refused, type_all, typed

WAVES = {"wave-1": "2027-01-14", "wave-2": "2027-02-05"}
FOUR_ENTRIES = """
tracker in glass-sea 268 scrap 2 ref MF-2291
tracker paid boxes
tracker called marlgate "the glass is here"
tracker note boxes ask for no unders
"""
TO_THE_BENCH = """
tracker paid boxes
tracker in glass-sea 268 scrap 2
tracker in natural 91 rework 3 scrap 2 --today 2026-11-25
tracker in rework-graphite 13 scrap 2
tracker finished look-over --today 2026-11-27
tracker in licence --today 2026-12-04
tracker in smt-last 78 scrap 2 --today 2026-12-07
tracker finished test-last --today 2026-12-09
tracker in air-freight 520 --today 2026-12-16
tracker finished trial --today 2026-12-21
"""


def pieces(program, code):
    """Good, to be reworked, lost, and counted but not judged."""
    counts = program.json(code)["counts"]
    return counts and (counts["good"], counts["rework"], counts["scrap"], counts["unjudged"])


def test_a_part_delivery_with_rejects_keeps_the_day_of_the_rest(program):
    out = typed(program, "tracker in natural 52 rework 5 scrap 3 rest thu ref 4471").splitlines()
    assert out == [
        "finish-natural in Tue 24 Nov 2026: 52 good, 5 rework, 3 scrap; ref 4471; 60 of 96 in, 36 to come, Thu 26 Nov 2026, in hand [entry 53]",
        "need 86: covered, 4 to spare",
        "5 in rework, back Fri 4 Dec at best; as a job: tracker rework finish-natural 5",
        "no shipment moves; finish-natural ready Thu 26 Nov, harmless until Tue 5 Jan (40 spare days)",
        "today is Tue 24 Nov 2026, kept with this run",
    ]
    row = program.job("finish-natural")
    assert (row["state"], row["promise"], row["finish"]) == ("PART IN", "2026-11-26", "2026-11-26")


def test_a_box_counted_at_the_door_is_judged_at_the_bench(program):
    out = typed(program, "tracker in natural 60")
    assert out.startswith(
        "finish-natural in Tue 24 Nov 2026: 60 counted, not judged; 60 of 96 in, 36 to come"
    )
    assert pieces(program, "natural") == (0, 0, 0, 60)
    out = typed(program, "tracker sorted natural 52 rework 5 scrap 3")
    assert out.startswith("finish-natural sorted Tue 24 Nov 2026: 52 good, 5 rework, 3 scrap; 60 of 96 in")
    assert pieces(program, "natural") == (52, 5, 3, 0)
    assert program.dates() == WAVES


def test_more_cannot_be_judged_than_was_counted(program):
    typed(program, "tracker in natural 60")
    message = refused(program, "tracker sorted natural 53 rework 5 scrap 3")
    assert "60 pieces counted but not judged, fewer than the 61 sorted" in message


def test_a_miscount_is_put_right_and_the_first_count_stays_visible(program):
    type_all(program, FOUR_ENTRIES)
    out = typed(program, "tracker in natural 90 rework 3 scrap 2 ref 4471")
    assert "95 of 96 in, 1 to come Wed 25 Nov [entry 57]" in out
    out = typed(program, "tracker fix 57 good 91")
    assert "finish-natural in Tue 24 Nov 2026: 91 good, 3 rework, 2 scrap; ref 4471; 96 of 96 in, done" in out
    assert "entry 57 said: finish-natural in Tue 24 Nov 2026: 90 good, 3 rework, 2 scrap" in out
    assert pieces(program, "natural") == (91, 3, 2, 0)
    page = typed(program, "tracker natural")
    assert "until entry 58: finish-natural in Tue 24 Nov 2026: 90 good, 3 rework, 2 scrap; ref 4471" in page


def test_a_delivery_on_the_wrong_job_is_taken_back_by_its_number(program):
    type_all(program, f"{FOUR_ENTRIES}tracker in natural 13 scrap 2\ntracker decided order 270 boxes")
    assert pieces(program, "natural") == (13, 0, 2, 0)
    assert typed(program, "tracker undo 57").startswith(
        "entry 57 taken back: in natural 13 scrap 2 [entry 59]"
    )
    assert "rework-graphite in Tue 24 Nov 2026: 13 good, 2 scrap; 15 of 15 in, done [entry 60]" in typed(
        program, "tracker in rework-graphite 13 scrap 2"
    )
    assert pieces(program, "natural") == (0, 0, 0, 0)
    assert "in natural 13 scrap 2 (undone by entry 59)" in typed(program, "tracker diary")


def test_the_last_of_a_delivery_closes_the_job_short(program):
    out = typed(program, "tracker in natural 82 scrap 5 last")
    assert "82 good, 5 scrap, the last of it; 87 of 96 in, done" in out
    assert program.job("finish-natural")["state"] == "DONE"
    assert "has been done since Tue 24 Nov 2026" in refused(program, "tracker in natural 9")


def test_a_delivery_with_redo_covers_the_orders_and_moves_nothing(program):
    out = typed(program, "tracker in natural 82 rework 9 scrap 5")
    assert "82 good, 9 rework, 5 scrap; 96 of 96 in, done" in out
    assert "no shipment moves" in out
    assert program.dates() == WAVES


def test_money_an_approval_and_a_written_day_one_start_the_clock_of_the_boxes(program):
    """Day 1 on Thu 26 Nov: 20 days past 1 and 8 Dec and the break to Tue 5 Jan, five more on the road."""
    assert program.job("boxes")["missing"] == ["payment"]
    assert typed(program, "tracker paid boxes").startswith("boxes payment sent Tue 24 Nov 2026 [entry 53]")
    row = program.job("boxes")
    assert (row["missing"], row["start"], row["finish"], row["arrives"]) == (
        [], "2026-11-25", "2027-01-04", "2027-01-09",
    )  # fmt: skip
    out = typed(program, "tracker gave boxes day1 26nov")
    assert out.startswith(
        "boxes day 1 in their own words Thu 26 Nov 2026 (given Tue 24 Nov 2026) [entry 54]\n"
        "no shipment moves; boxes ready Tue 5 Jan, harmless until Tue 5 Jan (0 spare days); here Sun 10 Jan"
    )


def test_an_approval_counts_from_its_first_day(program):
    message = refused(program, "tracker approved boxes proof")
    assert "boxes: proof given is logged already, for Fri 20 Nov 2026" in message


def test_what_a_job_does_not_wait_for_is_kept_and_said(program):
    out = typed(program, "tracker gave boxes papers")
    assert out.startswith("boxes papers given Tue 24 Nov 2026")
    assert "boxes does not wait for papers, so no date rests on this" in out


def test_made_boxes_stand_at_their_door_until_balance_and_papers_are_there(program):
    """Made Tue 22 Dec, the last day but one before they shut; the last of the two is given on Wed 6 Jan, and the road
    takes five days: wave 1 is built Thu 7 Jan and could be packed Wed 13 Jan, from Mon 11 Jan on only by Fri 15 Jan.
    """
    type_all(program, "tracker set boxes leave_when=balance,papers\n" + TO_THE_BENCH)
    out = typed(program, "tracker made boxes 250 --today 2026-12-22")
    assert out.startswith("boxes made Tue 22 Dec 2026: 250 good; 250 of 250 made")
    typed(program, "tracker started wave-1-build")
    page = typed(program, "tracker boxes")
    assert "MADE, AT THEIR DOOR" in page
    assert "because          balance and papers not given, waits at their door" in page
    assert "pieces           250 of 250 made" in page
    owed = typed(program, "tracker owed")
    assert "boxes (moinho): balance and papers to leave by Wed 23 Dec, frees wave-1" in owed
    assert "Wed 6 Jan  wave-1 +2 days" in owed
    assert program.dates() == {"wave-1": "2027-01-13", "wave-2": "2027-02-05"}
    typed(program, "tracker paid boxes balance --today 2027-01-05")
    assert "papers to leave" in typed(program, "tracker owed")
    assert "balance" not in typed(program, "tracker owed").partition("once given")[0]
    typed(program, "tracker gave boxes papers --today 2027-01-06")
    assert typed(program, "tracker owed").startswith("we owe nothing")
    assert program.job("boxes")["arrives"] == "2027-01-11"
    assert program.dates()["wave-1"] == "2027-01-15"
    typed(program, "tracker left boxes --today 2027-01-07")
    assert (program.job("boxes")["state"], program.job("boxes")["arrives"]) == ("ON THE WAY", "2027-01-12")
    assert "250 of 250 in, done" in typed(program, "tracker in boxes 250 --today 2027-01-08")


def test_what_the_bench_makes_day_by_day_is_in_work_until_the_quantity_is_there(program):
    """70 at 12 a day from Tue 22 Dec, shut 24 Dec to 3 Jan: 12, 12, then 12, 12, 12 and 10 on Thu 7 Jan."""
    type_all(program, TO_THE_BENCH)
    made = 0
    for day in ("2026-12-22", "2026-12-23", "2027-01-04"):
        made += 12
        out = typed(program, f"tracker made wave-1-build 12 --today {day}")
        assert f"{made} of 70 made, {70 - made} to go" in out
        assert "no shipment moves" in out
        row = program.job("wave-1-build")
        assert (row["state"], row["start"], row["finish"]) == ("IN WORK", "2026-12-22", "2027-01-07")
        assert program.dates() == WAVES
    assert "pieces           36 of 70 made, 34 to go" in typed(program, "tracker wave-1-build")
    type_all(program, "tracker in boxes 250\n")
    type_all(program, "tracker made wave-1-build 12 --today 2027-01-05\n")
    type_all(program, "tracker made wave-1-build 12 --today 2027-01-06\n")
    out = typed(program, "tracker made wave-1-build 10 --today 2027-01-07")
    assert out.startswith("wave-1-build made Thu 7 Jan 2027: 10 good; 70 of 70 made [entry ")
    assert "no shipment moves" in out
    row = program.job("wave-1-build")
    assert (row["state"], row["start"], row["finish"]) == ("DONE", "2026-12-22", "2027-01-07")
    assert "pieces           70 of 70 made" in typed(program, "tracker wave-1-build")
    # packing 4 days from Fri 8 Jan, since the boxes came early; the last parcel waits for the second build
    assert program.dates() == {"wave-1": "2027-01-13", "wave-2": "2027-02-05"}


def test_the_first_count_of_a_build_begun_late_is_its_start(program):
    """First counted on Tue 5 Jan, a fortnight after it could have begun: six days to Tue 12 Jan."""
    type_all(program, TO_THE_BENCH + "tracker made wave-1-build 12 --today 2027-01-05")
    program("made", "wave-1-build", "12", "--today", "2027-01-06")
    row = program.job("wave-1-build")
    assert (row["start"], row["finish"]) == ("2027-01-05", "2027-01-12")


def test_the_same_count_twice_on_one_day_is_stored_once_unless_it_is_a_second_one(program):
    type_all(program, TO_THE_BENCH + "tracker made wave-1-build 12 --today 2026-12-22")
    out = typed(program, "tracker made wave-1-build 12")
    assert "already logged as entry" in out
    assert "nothing was stored again" in out
    assert "24 of 70 made" in typed(program, "tracker made wave-1-build 12 again")


NOTES = """\
# van and phone, Tuesday
- in natural 52 rework 5 scrap 3 rest thu ref 4471
- called varne again thu
* paid boxes
gave boxes day1 26nov
on mon
called marlgate "customs ask for the invoice"
"""


def test_notes_of_the_day_are_pulled_in_from_a_file_or_a_pipe_and_answered_once(program, tmp_path):
    (tmp_path / "notes.txt").write_text(NOTES, encoding="utf-8")
    out = typed(program, "tracker log notes.txt")
    assert re.findall(r"\[entry (\d+)\]", out) == ["53", "54", "55", "56", "57"]
    for line in (
        "marlgate called Mon 23 Nov 2026; note",
        (
            "finish-natural in Tue 24 Nov 2026: 52 good, 5 rework, 3 scrap; ref 4471; 60 of 96 in, 36 to come, "
            "Thu 26 Nov 2026, in hand"
        ),
        "varne called Tue 24 Nov 2026, again on Thu 26 Nov 2026",
        "boxes payment sent Tue 24 Nov 2026",
        "boxes day 1 in their own words Thu 26 Nov 2026",
    ):
        assert line in out
    assert out.count("no shipment moves") == 1
    assert program.job("boxes")["finish"] == "2027-01-05"


def test_notes_with_one_line_that_cannot_be_are_refused_whole(program):
    message = program.refuses(
        "log", "-", exit_code=1, text=NOTES.replace("paid boxes", "paid bxoes nextweek")
    )
    assert "standard input has 1 problem; nothing was written" in message
    assert "line 4" in message


def test_each_line_of_the_notes_can_be_taken_back_by_its_own_number(program):
    typed(program, "tracker log -", text=NOTES)
    assert program.job("finish-natural")["promise"] == "2026-11-26"
    out = typed(program, "tracker undo 53")
    assert out.startswith("entry 53 taken back: in natural 52 rework 5 scrap 3 rest thu ref 4471 [entry 58]")
    row = program.job("finish-natural")
    assert (row["state"], row["promise"], pieces(program, "natural")) == (
        "IN WORK", "2026-11-25", (0, 0, 0, 0),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("tracker in natural 60 on mon", "finish-natural in Mon 23 Nov 2026: 60 counted, not judged"),
        ("tracker in natural 52 rework 5 scrap 3 rest 4dec", "36 to come, Fri 4 Dec 2026, in hand"),
        ("tracker paid boxes on mon", "boxes payment sent Mon 23 Nov 2026"),
        ("tracker gave boxes day1 fri", "boxes day 1 in their own words Fri 27 Nov 2026"),
        ("tracker made natural 96", "finish-natural made Tue 24 Nov 2026: 96 good; 96 of 96 made"),
        ("tracker left natural on 23 nov", "finish-natural left Mon 23 Nov 2026"),
    ],
)
def test_every_van_is_read_back_with_weekday_and_full_date(program, line, said):
    assert said in typed(program, line)

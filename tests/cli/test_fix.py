"""``fix N``: a new entry corrects an old one, and both stay visible."""

import pytest


@pytest.fixture
def delivered(program):
    """The demo with a part delivery of 60, 5 and 3, the rest promised for Thursday, as entry 53."""
    program("in", "natural", "60", "rework", "5", "scrap", "3", "rest", "thu", "ref", "4471")
    return program


def counts(program):
    row = program.json("natural")["counts"]
    return row["good"], row["rework"], row["scrap"], row["unjudged"]


def test_only_what_the_words_name_changes_and_what_it_said_is_told(delivered):
    out = delivered.out("fix", "53", "good", "59", "-v", width=200)
    assert (
        "finish-natural in Tue 24 Nov 2026: 59 good, 5 rework, 3 scrap; ref 4471; 67 of 96 in, 29 to come, Thu 26 Nov 2026, in hand [entry 54"
        in out
    )
    assert "entry 53 said: finish-natural in Tue 24 Nov 2026: 60 good, 5 rework, 3 scrap; ref 4471" in out
    assert counts(delivered) == (59, 5, 3, 0)


def test_both_stay_visible_in_the_diary_and_on_the_page(delivered):
    delivered("fix", "53", "good", "59")
    assert [row["command"] for row in delivered.json("diary")[:2]] == [
        "fix 53 good 59",
        "in natural 60 rework 5 scrap 3 rest thu ref 4471",
    ]
    page = delivered.out("natural", width=200)
    assert "53  finish-natural in Tue 24 Nov 2026: 59 good" in page
    assert "until entry 54: finish-natural in Tue 24 Nov 2026: 60 good, 5 rework, 3 scrap; ref 4471" in page


def test_the_rest_of_a_delivery_is_corrected_with_it(delivered):
    out = delivered.out("fix", "53", "rest", "fri", width=200)
    assert out.startswith("finish-natural promised for Fri 27 Nov 2026, in hand")
    assert delivered.job("finish-natural")["promise"] == "2026-11-27"
    assert counts(delivered) == (60, 5, 3, 0)


def test_a_day_a_text_and_a_flag_can_be_corrected(delivered):
    delivered("fix", "53", "on", "mon", "ref", "4472", "last", "note", "van", "came", "late")
    fact = delivered.json("natural")["facts"][-2]["row"]["fact"]
    assert (fact["on"], fact["ref"], fact["note"], fact["closes"]) == (
        "2026-11-23",
        "4472",
        "van came late",
        True,
    )


def test_a_promise_is_corrected_and_moves_the_shipments(program):
    program("promised", "licence", "24dec")
    assert program.dates()["wave-2"] == "2027-02-19"
    out = program.out("fix", "53", "11dec", "leaves", "said", "the 11th", width=200)
    assert "wave-2 moves Fri 19 Feb -> Fri 12 Feb (-7 days)" in out
    assert program.dates()["wave-2"] == "2027-02-12"


def test_a_bare_count_becomes_judged_pieces_and_the_reverse(program):
    program("in", "natural", "60")
    program("fix", "53", "61")
    assert counts(program) == (0, 0, 0, 61)
    program("fix", "53", "good", "52", "rework", "5", "scrap", "3")
    assert counts(program) == (52, 5, 3, 0)
    program("fix", "53", "count", "60")
    assert counts(program) == (0, 0, 0, 60)


def test_a_fix_can_be_undone_and_the_fixed_entry_only_after_it(delivered):
    delivered("fix", "53", "good", "59")
    message = delivered.refuses("undo", "53", exit_code=1)
    assert "entry 54 (fix 53 good 59) rests on it" in message
    delivered("undo", "54")
    assert counts(delivered) == (60, 5, 3, 0)
    assert "until entry" not in delivered.out("natural")
    delivered("undo", "53")
    assert counts(delivered) == (0, 0, 0, 0)


def test_a_fix_of_a_fix_keeps_every_earlier_saying(delivered):
    delivered("fix", "53", "good", "59")
    delivered("fix", "53", "good", "58")
    page = delivered.out("natural", width=200)
    assert page.index("until entry 54: finish-natural in Tue 24 Nov 2026: 60 good") < page.index(
        "until entry 55: finish-natural in Tue 24 Nov 2026: 59 good"
    )


def test_words_that_change_nothing_store_nothing(delivered):
    before = delivered.rows()
    assert delivered.out("fix", "53", "good", "60").startswith("entry 53 says so already; nothing was stored")
    assert delivered.rows() == before


def test_an_entry_about_several_jobs_needs_the_code_of_one(program):
    program("promised", "natural", "rework-graphite", "2dec")
    message = program.refuses("fix", "53", "3dec", exit_code=2)
    assert "entry 53 is about finish-natural, rework-graphite: which one?" in message
    program("fix", "53", "rework-graphite", "3dec")
    assert (program.job("rework-graphite")["promise"], program.job("finish-natural")["promise"]) == (
        "2026-12-03",
        "2026-12-02",
    )


@pytest.mark.parametrize(
    ("logged", "words", "said"),
    [
        (("told", "wave-1", "10feb..20feb"), "25feb", "wave-1 told Thu 25 Feb 2027"),
        (("called", "varne", "again", "thu"), "again fri", "varne called Tue 24 Nov 2026, again on Fri 27 Nov 2026"),
        (("note", "boxes", "ask", "for", "no", "unders"), "ask for no overs", 'boxes note Tue 24 Nov 2026; note "ask for no overs"'),
        (("paid", "boxes"), "on mon", "boxes payment sent Mon 23 Nov 2026"),
        (("gave", "boxes", "day1", "26nov"), "27nov", "boxes day 1 in their own words Fri 27 Nov 2026"),
        (("posted", "wave-1", "24"), "26", "wave-1 posted Tue 24 Nov 2026: 26 units"),
        (("paused", "licence", "until", "7dec"), "until 8dec", "licence paused Tue 24 Nov 2026, until Tue 8 Dec 2026"),
        (("started", "look-over"), "on mon", "look-over started Mon 23 Nov 2026"),
        (("decided", "buy", "the", "rings"), "buy no rings", 'run decided Tue 24 Nov 2026; note "buy no rings"'),
    ],
)  # fmt: skip
def test_every_kind_of_entry_can_be_corrected_in_its_own_words(program, logged, words, said):
    program(*logged)
    assert program.out("fix", "53", *words.split(), width=200).startswith(said)


@pytest.mark.parametrize(
    ("words", "exit_code", "said"),
    [
        ("53", 2, "fix what of entry 53?"),
        ("53 good", 2, "good needs a number of pieces after it"),
        ("53 thu", 2, "'thu' is a date, but in takes none here"),
        ("53 glass-sea 5", 2, "'glass-sea' has no place in 'in'"),
        ("53 again", 2, "again has no place in 'fix'"),
        ("53 on 25nov 2026", 1, "on is 2026-11-25, which comes after today"),
        ("53 good 0 rework 0 scrap 0", 1, "brings no pieces"),
        ("1 good 3", 1, "1-june.toml) logged nothing that could be fixed"),
        ("99 good 3", 1, "there is no entry 99; entries run from 1 to 53"),
        ("the last", 2, "fix takes the number of an entry, found 'the'"),
    ],
)
def test_a_fix_that_cannot_be_read_or_cannot_be_changes_nothing(delivered, words, exit_code, said):
    assert said in delivered.refuses("fix", *words.split(), exit_code=exit_code)


def test_a_count_cannot_be_fixed_below_what_was_sorted_of_it(program):
    program("in", "natural", "60")
    program("sorted", "natural", "52", "rework", "5", "scrap", "3")
    message = program.refuses("fix", "53", "50", exit_code=1)
    assert "finish-natural would have 10 more pieces sorted than were counted" in message
    message = program.refuses("fix", "54", "good", "53", exit_code=1)
    assert "60 pieces counted but not judged, fewer than the 61 sorted" in message


def test_an_undone_entry_is_not_fixed(delivered):
    delivered("undo")
    assert (
        "entry 53 (in natural 60 rework 5 scrap 3 rest thu ref 4471) is already undone by entry 54"
        in delivered.refuses("fix", "53", "good", "3", exit_code=1)
    )


def test_a_day_can_be_moved_past_the_day_it_was_entered(program):
    """Logged on Friday, but it happened on Monday: the day it was entered moves along, so that the plan stays whole."""
    program("set", "run", "today=2026-11-20")
    program("paid", "boxes", "on", "2026-11-20")
    program("set", "run", "today=2026-11-24")
    out = program.out("fix", "54", "on", "mon", width=200)
    assert out.startswith("boxes payment sent Mon 23 Nov 2026 [entry 56")
    assert program.json("boxes")["facts"][-1]["row"]["fact"]["logged"] == "2026-11-23"
    program("write", "again.toml")
    assert "nothing new" in program.out("read", "again.toml")


def test_a_kept_today_moves_on_with_a_fix(program):
    """The answer speaks of the later day, so the board must stand on it, too."""
    program("paid", "boxes")
    out = program.out("fix", "53", "on", "30nov", "--today", "2026-12-01", "-v", width=200)
    assert "this run's own today moves on to Tue 1 Dec 2026" in out
    assert program.json("forecast")["today"] == "2026-12-01"
    program("undo")
    assert program.json("forecast")["today"] == "2026-12-01"


def test_any_kind_of_a_day_read_from_a_file_can_be_fixed_and_the_verb_tells_which(program):
    """Entry 48 of the demo, Mon 16 Nov: the graphite rework was started and promised on one day."""
    before = program.rows()
    assert "logged started, promised: which one?" in program.refuses("fix", "48", "on", "13nov", exit_code=2)
    assert program.rows() == before
    assert "promised for Thu 26 Nov 2026" in program.out("fix", "48", "26nov", width=200)
    out = program.out("fix", "48", "rework-graphite", "started", "on", "13nov", width=200)
    assert out.startswith("rework-graphite started Fri 13 Nov 2026")


def test_words_about_another_job_are_not_taken_for_a_note(program):
    """Entry 51 of the demo has a note among its facts, which would take any words."""
    message = program.refuses("fix", "51", "boxes", "on", "18nov", exit_code=2)
    assert "'boxes' has no place in" in message


@pytest.mark.parametrize(
    ("logged", "example"),
    [
        ("paid boxes", "tracker fix 53 on mon"),
        ("posted wave-1 10", "tracker fix 53 on mon"),
        ("promised licence 11dec", "tracker fix 53 4dec"),
        ("in natural 60 scrap 2", "tracker fix 53 good 91"),
        ("in natural 60 rest thu", "tracker fix 53 finish-natural in good 91"),
    ],
)
def test_the_remedy_for_a_fix_that_cannot_be_read_works_when_typed(program, logged, example):
    program(*logged.split())
    hint = program.refuses("fix", "53", "nonsense", exit_code=2).splitlines()[-1]
    assert hint.endswith(f"for example: {example}")
    program(*example.split()[1:])


def test_a_fix_is_not_fixed_itself_but_what_it_corrected(program):
    program("paid", "boxes")
    program("fix", "53", "on", "mon")
    assert "hint: fix the entry it corrected: tracker fix 53 ..." in program.refuses(
        "fix", "54", "on", "fri", exit_code=1
    )

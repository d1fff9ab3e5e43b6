"""``log``: a day's notes in one go, all of them or none."""

import pytest

NOTES = """\
# van and phone
on mon
- called varne again wed
on tue
paid boxes
in natural 60 rework 5 scrap 3 rest thu ref 4471
note boxes don't forget the leaflets
"""


def test_each_line_is_read_back_with_its_own_entry_and_the_answer_comes_once(program):
    out = program.out("log", "-", text=NOTES, width=200).splitlines()
    assert out == [
        "varne called Mon 23 Nov 2026, again on Wed 25 Nov 2026 [entry 53]",
        "boxes payment sent Tue 24 Nov 2026 [entry 54]",
        "finish-natural in Tue 24 Nov 2026: 60 good, 5 rework, 3 scrap; ref 4471; 68 of 96 in, 28 to come, Thu 26 Nov 2026, in hand [entry 55]",
        'boxes note Tue 24 Nov 2026; note "don\'t forget the leaflets" [entry 56]',
        "need 86 of housing-natural: covered, 4 to spare",
        "5 in rework, back Fri 4 Dec at best; as a job: tracker rework finish-natural 5",
        "no shipment moves",
        "boxes ready Mon 4 Jan, harmless until Tue 5 Jan (1 spare day); here Sat 9 Jan",
        "finish-natural ready Thu 26 Nov, harmless until Tue 5 Jan (40 spare days)",
        "today is Tue 24 Nov 2026, kept with this run",
    ]


def test_lines_stand_in_the_diary_as_if_typed_one_by_one(program):
    program(
        "log", "-", text="on mon\ntrk called varne again wed\nmailed varne \u201csent the drawing\u201d\n"
    )
    assert [row["command"] for row in program.json("diary")[:2]] == [
        "mailed varne 'sent the drawing'",
        "called varne again wed",
    ]
    program("undo", "53")
    assert "undone by entry 55" in program.out("diary")


def test_a_file_is_read_like_standard_input(program, tmp_path):
    (tmp_path / "monday.txt").write_text(NOTES, encoding="utf-8")
    program("log", "monday.txt")
    assert program.json("diary")[0]["command"] == "note boxes 'don'\"'\"'t' forget the leaflets"


def test_words_under_a_heading_are_read_from_that_day_on(program):
    """A weekday promised in Monday's notes is the one after that Monday, whatever day they are logged."""
    out = program.out(
        "log", "-", text="on mon 16nov\npromised natural thu\n".replace("mon 16nov", "16nov"), width=200
    )
    assert "finish-natural promised for Thu 19 Nov 2026, in hand (given Mon 16 Nov 2026)" in out


def test_one_bad_line_leaves_everything_as_it_was_and_all_bad_lines_are_named(program):
    text = "paid boxes\nfoo\npromised licence\nin glass-sea 5 rework x\ncalled varne\nsorted natural 4\n"
    message = program.refuses("log", "-", exit_code=1, text=text)
    assert message.splitlines()[0] == "error: standard input has 4 problems; nothing was written"
    assert [line.split(",")[1].strip() for line in message.splitlines()[1:]] == [
        "line 2",
        "line 3",
        "line 4",
        "line 6",
    ]
    assert "promised needs a date" in message
    assert "finish-natural has 0 pieces counted but not judged" in message


def test_a_line_sees_what_the_lines_before_it_logged(program):
    out = program.out(
        "log", "-", text="in natural 60\nsorted natural 52 rework 5 scrap 3\nfix 53 70\n", width=200
    )
    assert "finish-natural sorted Tue 24 Nov 2026: 52 good, 5 rework, 3 scrap" in out
    assert program.json("natural")["counts"]["unjudged"] == 10


def test_notes_pulled_in_twice_are_refused_the_second_time(program):
    program("log", "-", text=NOTES)
    message = program.refuses("log", "-", exit_code=1, text=NOTES)
    assert "this delivery of finish-natural is in the diary already, as entry 55" in message


@pytest.mark.parametrize("text", ["", "# nothing today\n", "\n\n"])
def test_a_text_without_lines_is_refused(program, text):
    assert "standard input holds no line to log" in program.refuses("log", "-", exit_code=1, text=text)


def test_a_missing_file_and_one_that_is_no_text_are_refused(program, tmp_path):
    (tmp_path / "photo.txt").write_bytes(b"\xff\xd8\xff\xe0")
    assert "there is no file notes.txt" in program.refuses("log", "notes.txt", exit_code=1)
    assert "is not UTF-8 text" in program.refuses("log", "photo.txt", exit_code=1)
    assert "cannot be read" in program.refuses("log", str(tmp_path), exit_code=1)


def test_the_forecast_after_a_log_is_the_one_after_typing_each_line(
    program, november_database, monkeypatch, tmp_path
):
    import shutil

    from tests.conftest import Program

    twin_file = tmp_path / "twin.sqlite"
    shutil.copy(november_database, twin_file)
    twin = Program(twin_file, monkeypatch)
    program(
        "log",
        "-",
        text="promised licence 11dec\nrework fit-check-d by tolmark lead 12wd\npaid boxes\n".replace(
            "rework fit-check-d by tolmark lead 12wd\n",
            "failed fit-check-d tight\nrework fit-check-d by tolmark lead 12wd\n",
        ),
    )
    for line in (
        "promised licence 11dec",
        "failed fit-check-d tight",
        "rework fit-check-d by tolmark lead 12wd",
        "paid boxes",
    ):
        twin(*line.split())
    assert program.out("forecast", "--json") == twin.out("forecast", "--json")
    assert program.out("write", "-") == twin.out("write", "-")


def test_a_fix_among_the_lines_names_the_entry_it_corrects(program):
    out = program.out("log", "-", text="paid boxes\nfix 53 on mon\n", width=200)
    assert "entry 53 said: boxes payment sent Tue 24 Nov 2026" in out
    assert "None" not in out


def test_an_undo_among_the_lines_takes_back_what_stood_before_them(program):
    program("promised", "licence", "11dec")
    out = program.out("log", "-", text="undo 53\npromised licence 18dec\nundo\npaid boxes\n", width=200)
    assert "entry 53 taken back: promised licence 11dec" in out
    assert "entry 55 taken back: promised licence 18dec" in out
    assert program.job("licence")["promise"] == "2026-12-04"


def test_an_undo_that_cannot_be_leaves_the_other_lines_their_own_problems(program):
    program("in", "natural", "60")
    program("sorted", "natural", "52", "rework", "5", "scrap", "3")
    message = program.refuses(
        "log", "-", exit_code=1, text="paid boxes\nundo 53\nundo 999\npromised licence\n"
    )
    assert "standard input has 3 problems; nothing was written" in message
    assert "line 2, 'undo 53': finish-natural would have 60 more pieces sorted than were counted" in message
    assert "line 3, 'undo 999': there is no entry 999" in message


def test_undo_leaves_no_more_pieces_sorted_than_were_counted(program):
    program("in", "natural", "60")
    program("sorted", "natural", "52", "rework", "5", "scrap", "3")
    message = program.refuses("undo", "53", exit_code=1)
    assert "finish-natural would have 60 more pieces sorted than were counted" in message

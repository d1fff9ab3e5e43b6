"""Things told twice and things that happened twice, as typed: what is stored, what is refused, what it moves."""

import pytest


def entries(program):
    """How many entries the diary has."""
    return len(program.json("diary"))


@pytest.mark.parametrize(
    ("first", "between"),
    [
        ("promised licence 11dec", "promised licence 18dec"),
        ("failed fit-check-d bore", "passed fit-check-d"),
        ("paused licence", "resumed licence"),
        ("told wave-1 20jan", "told wave-1 25jan"),
        ("gave boxes day1 26nov", "gave boxes day1 30nov"),
        ("called marlgate again thu", "called marlgate again fri"),
    ],
)
def test_what_is_told_again_after_another_word_is_stored_and_told_once_more_is_not(program, first, between):
    for words in (first, between, first):
        program(*words.split())
    assert entries(program) == 55
    assert "already logged as entry 55; nothing was stored again" in program.out(*first.split())
    assert entries(program) == 55


def test_a_date_promised_again_after_another_one_counts_again(program):
    for day in ("11dec", "18dec", "11dec"):
        program("promised", "licence", day)
    assert program.job("licence")["promise"] == "2026-12-11"
    assert program.dates()["wave-2"] == "2027-02-12"


def test_a_day_one_named_again_after_another_one_counts_again(program):
    for day in ("26nov", "30nov", "26nov"):
        program("gave", "boxes", "day1", day)
    assert program.job("boxes")["start"] == "2026-11-26"


def test_a_gate_failed_again_after_it_passed_is_failed(program):
    for words in ("failed emc bore", "passed emc", "failed emc bore"):
        program(*words.split())
    assert program.job("emc")["state"] == "FAILED"


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("decided boxes pay-today", "decided boxes order-270"),
        ("failed emc bore", "failed emc thread"),
        ("called marlgate busy", "called marlgate reached"),
        ("note boxes one", "note boxes two"),
    ],
)
def test_two_of_a_kind_on_one_day_with_different_words_are_both_kept(program, first, second):
    program(*first.split())
    assert "[entry 54]" in program.out(*second.split(), width=200)


def test_units_posted_twice_without_again_are_refused_and_with_it_both_count(program):
    program("posted", "wave-1", "24")
    message = program.refuses("posted", "wave-1", "24", exit_code=1)
    assert "this posting of wave-1 is in the diary already, as entry 53" in message
    assert "add the word 'again'" in message
    assert "ref" not in message  # a posting has no delivery note
    assert "48 of 80 units of wave-1 are posted now" in program.out("posted", "wave-1", "24", "again")


@pytest.mark.parametrize("words", ["made finish-natural 40", "sorted glass-sea 10"])
def test_pieces_made_or_sorted_twice_say_how_to_log_the_second_ones(program, words):
    program("in", "glass-sea", "count", "100")
    program(*words.split())
    out = program.out(*words.split(), width=200)
    assert "nothing was stored again; for a second one like it add the word 'again'" in out
    assert "[entry 55]" in program.out(*words.split(), "again", width=200)


def test_a_remark_on_a_repeat_offers_again_only_where_the_verb_takes_it(program):
    program("promised", "licence", "11dec")
    out = program.out("promised", "licence", "11dec", width=200)
    assert "nothing was stored again\n" in out


def test_several_jobs_of_which_one_was_told_before_are_stored_but_for_that_one(program):
    program("promised", "finish-natural", "1dec")
    out = program.out("promised", "finish-natural", "rework-graphite", "1dec", width=200)
    assert "finish-natural: already logged as entry 53; nothing was stored again" in out
    assert "rework-graphite promised for Tue 1 Dec 2026" in out
    assert len(program.json("finish-natural")["promises"]) == 3


@pytest.mark.parametrize(
    ("first", "again", "says"),
    [
        ("paid boxes", "paid boxes on mon", "boxes: payment given is logged already, for Tue 24 Nov 2026"),
        ("approved boxes drawing", "gave boxes drawing on mon", "boxes: drawing given is logged already"),
        ("ordered trial", "ordered trial on mon", "trial: ordered is logged already, for Tue 24 Nov 2026"),
        ("started look-over", "started look-over on mon", "look-over: started is logged already"),
    ],
)
def test_a_condition_an_order_or_a_start_given_again_for_another_day_is_refused(program, first, again, says):
    program(*first.split())
    message = program.refuses(*again.split(), exit_code=1)
    assert says in message
    assert "'tracker undo N' takes it back" in message


def test_day_one_may_be_named_again_since_the_last_one_holds(program):
    program("gave", "boxes", "day1", "26nov")
    program("gave", "boxes", "day1", "30nov")
    assert program.job("boxes")["start"] == "2026-11-30"


@pytest.mark.parametrize("words", ["note screws x", "decided screws x", "note rework-graphite x"])
def test_notes_and_decisions_about_jobs_done_or_called_off_are_taken(program, words):
    program("called-off", "rework-graphite")
    assert f"{words.split()[1]} " in program.out(*words.split())
    assert entries(program) == 54


def test_calling_off_twice_is_told_once(program):
    program("called-off", "rework-graphite")
    assert "already logged as entry 53" in program.out("called-off", "rework-graphite")


@pytest.mark.parametrize("job", ["licence", "trial", "boxes"])
def test_what_is_neither_paused_nor_called_off_cannot_be_resumed(program, job):
    message = program.refuses("resumed", job, exit_code=1)
    assert f"{job} is neither paused nor called off" in message
    program("paused", job)
    program("resumed", job)


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("promised licence licence 4dec", "licence"),
        ("promised lic licence 4dec", "licence"),
        ("in natural finish-natural 5 rest thu", "finish-natural"),
        ("posted wave-1 wave-1 5", "wave-1"),
        ("told wave-1 wave-1 20jan", "wave-1"),
    ],
)
def test_a_job_or_a_shipment_named_twice_in_one_command_is_refused(program, words, code):
    assert f"{code} is named twice" in program.refuses(*words.split(), exit_code=2)

"""``rework``: a loop behind a failed gate, or pieces that go back, in one line."""

import pytest

PLAN = """\
[run]
code = "dial"
quantity = 100
start = 2026-06-15

[[supplier]]
code = "mill"
[[supplier]]
code = "bench"
inhouse = true

[[job]]
code = "articles"
supplier = "mill"
lead = "10wd"
[[job]]
code = "fit-check"
name = "Fit check"
public_name = "First articles checked"
supplier = "bench"
lead = "2wd"
gate = true
after = ["articles"]
[[job]]
code = "bases"
supplier = "mill"
lead = "20wd"
after = ["fit-check"]
[[shipment]]
code = "wave-1"
quantity = 100
after = ["bases"]
"""
TODAY = ("--today", "2026-07-06")


@pytest.fixture
def failed(empty, tmp_path):
    """A gate that failed on Mon 6 Jul 2026, with milling behind it."""
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    empty("new")
    empty("read", "plan.toml", *TODAY)
    empty("ordered", "articles", "on", "2026-06-15", *TODAY)
    empty("in", "articles", "on", "2026-07-01", *TODAY)
    empty("failed", "fit-check", "bore", "tight", *TODAY)
    return empty


def test_a_rework_adds_the_job_and_a_second_check_and_moves_what_waited(failed):
    """Counted by hand: rework Tue 7 Jul to Wed 22 Jul, check 23 and 24 Jul, 20 working days from Mon 27 Jul."""
    assert failed.dates(*TODAY) == {"wave-1": "2026-08-04"}  # at best, the check again on 6 and 7 Jul
    out = failed.out("rework", "fit-check", "by", "mill", "lead", "12wd", *TODAY, width=200)
    assert "job rework-fit-check added" in out
    assert "job fit-check-2 added" in out
    assert "wave-1 moves Tue 4 Aug -> Fri 21 Aug (+17 days)" in out
    rework, check = (failed.job(code, *TODAY) for code in ("rework-fit-check", "fit-check-2"))
    assert (rework["start"], rework["finish"]) == ("2026-07-07", "2026-07-22")
    assert (check["start"], check["finish"], check["state"]) == ("2026-07-23", "2026-07-24", "NOT DUE")


def test_travel_and_the_length_of_the_second_check_can_be_said(failed):
    failed(
        "rework",
        "fit-check",
        "by",
        "mill",
        "lead",
        "10",
        "wd",
        "travel",
        "3cd",
        "check",
        "1wd",
        "said",
        "ten days",
        *TODAY,
    )
    rework, check = (failed.json(code, *TODAY)["job"] for code in ("rework-fit-check", "fit-check-2"))
    assert (rework["lead"], rework["travel"], rework["said"]) == ("10wd", "3cd", "ten days")
    assert check["lead"] == "1wd"
    assert (check["gate"], check["retry_of"], check["public_name"]) == (
        True,
        "fit-check",
        "First articles checked, attempt 2",
    )
    # 7 to 20 Jul, on the road to Thu 23 Jul, checked on Fri 24 Jul
    assert failed.job("fit-check-2", *TODAY)["finish"] == "2026-07-24"


def test_the_pass_of_the_second_check_opens_the_gate_and_a_second_failure_takes_another_loop(failed):
    failed("rework", "fit-check", "by", "mill", "lead", "12wd", *TODAY)
    later = ("--today", "2026-07-24")
    failed("in", "rework-fit-check", "on", "2026-07-22", *later)
    failed("failed", "fit-check-2", "still", "tight", *later)
    failed("rework", "fit-check-2", "by", "mill", "lead", "5wd", *later)
    codes = [job["code"] for job in failed.json("forecast", *later)["jobs"]]
    assert codes[-2:] == ["rework-fit-check-2", "fit-check-3"]
    failed("in", "rework-fit-check-2", "on", "2026-07-31", "--today", "2026-08-03")
    failed("passed", "fit-check-3", "--today", "2026-08-03")
    assert failed.dates("--today", "2026-08-03") == {"wave-1": "2026-08-31"}  # 20 working days from Tue 4 Aug


@pytest.mark.parametrize(
    ("words", "exit_code", "said"),
    [
        ("", 2, "rework which gate, or how many pieces of which job?"),
        ("fit-check", 2, "rework needs by and lead"),
        ("fit-check by mill", 2, "rework needs lead"),
        ("fit-check by mill lead", 2, "lead needs a word after it"),
        (
            "fit-check by mill lead 12",
            2,
            "'12' can be read in two ways: write 12cd (calendar days) or 12wd (their working days)",
        ),
        ("fit-check by mill lead 3 weeks", 2, "write 21cd (calendar days) or 15wd (their working days)"),
        ("fit-check by mill by bench lead 3wd", 2, "by comes a second time"),
        ("fit-check by mil lead 3wd travel 2", 2, "travel: '2' can be read in two ways"),
        ("fit-check by turner lead 3wd", 2, "there is no supplier 'turner'"),
        ("fit-check 5 by mill lead 3wd", 2, "'5' has no place in 'rework' of a gate"),
        ("bases 5 by mill lead 3wd", 1, "bases is no gate and makes no part"),
    ],
)
def test_a_rework_that_cannot_be_read_changes_nothing(failed, words, exit_code, said):
    assert said in failed.refuses("rework", *words.split(), *TODAY, exit_code=exit_code)


def test_a_gate_that_has_not_failed_or_is_being_reworked_needs_no_rework(failed):
    failed("rework", "fit-check", "by", "mill", "lead", "12wd", *TODAY)
    words = ("rework", "fit-check", "by", "mill", "lead", "12wd", *TODAY)
    assert "fit-check-2 is planned as the next attempt already" in failed.refuses(*words, exit_code=1)
    failed("undo", *TODAY)
    failed("undo", *TODAY)
    assert "fit-check has not failed, so there is nothing to rework" in failed.refuses(*words, exit_code=1)


def test_a_rework_is_undone_whole(failed):
    before = failed.out("write", "-")
    failed("rework", "fit-check", "by", "mill", "lead", "12wd", *TODAY)
    failed("undo", *TODAY)
    assert failed.out("write", "-") == before


def test_both_jobs_are_read_back_in_the_six_lines(failed):
    out = failed.out("rework", "fit-check", "by", "mill", "lead", "12wd", "check", "1wd", *TODAY)
    assert "job fit-check-2 added: bench, lead 1wd" in " ".join(out.split())


def test_a_kept_today_moves_on_with_a_rework(failed):
    failed("set", "run", "today=2026-07-06")
    failed("rework", "fit-check", "by", "mill", "lead", "12wd", "--today", "2026-07-08")
    assert failed.json("forecast")["today"] == "2026-07-08"
    assert failed.job("rework-fit-check")["start"] == "2026-07-09"  # not ordered yet


def test_a_second_failure_on_the_day_of_the_first_is_the_one_to_rework(failed):
    failed("rework", "fit-check", "by", "mill", "lead", "12wd", *TODAY)
    failed("failed", "fit-check-2", "still", "tight", *TODAY)
    failed("rework", "fit-check", "by", "mill", "lead", "5wd", *TODAY)
    after = failed.json("rework-fit-check-2", *TODAY)["job"]["after"]
    assert [(link["job"], link["on"]) for link in after] == [("fit-check-2", "fail")]


def test_words_heard_about_the_first_check_are_not_those_of_the_second(failed):
    failed("set", "fit-check", "said=slot on Monday", *TODAY)
    failed("rework", "fit-check", "by", "mill", "lead", "12wd", *TODAY)
    assert failed.json("fit-check-2", *TODAY)["job"]["said"] == ""


def test_a_gate_whose_code_ends_in_a_number_is_not_taken_for_an_attempt_at_another_job(failed):
    """``bases-2`` is a gate of its own, and ``bases`` a milling job that has nothing to do with it."""
    failed("add", "job", "bases-2", "supplier=bench", "lead=1wd", "gate=yes", "name=Second look", *TODAY)
    failed("failed", "bases-2", "scratched", *TODAY)
    failed("rework", "bases-2", "by", "mill", "lead", "3wd", *TODAY)
    check = failed.json("bases-2-2", *TODAY)["job"]
    assert (check["name"], check["supplier"], check["lead"]) == ("Second look, attempt 2", "bench", "1wd")


COUNTED = """\
[run]
code = "dial"
quantity = 90
start = 2026-06-15
today = 2026-07-21

[[supplier]]
code = "coat"
[[supplier]]
code = "bench"
inhouse = true
workdays = "all"

[[part]]
code = "housing"
[[job]]
code = "coating"
name = "Blast and coat"
supplier = "coat"
lead = "8wd"
travel = "1cd"
makes = "housing"
quantity = 100
[[job]]
code = "photos"
supplier = "bench"
lead = "2wd"
[[shipment]]
code = "wave-1"
contents = { housing = 90 }
after = ["photos"]
"""


@pytest.fixture
def went_back(empty, tmp_path):
    """A coating of which 88 of 100 came good on Mon 20 Jul 2026, 9 to be reworked; today is the day after."""
    (tmp_path / "plan.toml").write_text(COUNTED, encoding="utf-8")
    empty("new")
    empty("read", "plan.toml")
    empty("ordered", "coating", "on", "2026-07-01")
    empty("in", "coating", "good", "88", "rework", "9", "scrap", "3", "on", "2026-07-20")
    empty("finished", "photos")
    return empty


def test_pieces_that_go_back_become_a_job_whose_pieces_join_the_others(went_back):
    """Counted by hand: not ordered, day 1 is Wed 22 Jul; 3 working days to Fri 24 Jul, here on Sat 25 Jul."""
    out = went_back.out("rework", "coating", "9", "lead", "3wd", width=200)
    assert out.startswith("job rework-coating added: coat, 9 of housing, lead 3wd, travel 1cd [entry ")
    job = went_back.json("rework-coating")["job"]
    assert (job["rework_of"], job["quantity"], job["name"]) == ("coating", 9, "Rework of Blast and coat")
    row = went_back.job("rework-coating")
    assert (row["start"], row["finish"], row["arrives"]) == ("2026-07-22", "2026-07-24", "2026-07-25")
    assert went_back.dates() == {"wave-1": "2026-07-25"}  # 88 good, two more needed


def test_pieces_that_are_checked_first_join_the_others_after_the_check(went_back):
    """As above, then checked on Sun 26 and Mon 27 Jul at a bench that works every day."""
    out = went_back.out("rework", "coating", "9", "lead", "3wd", "check", "2wd", width=250)
    assert "job rework-coating added: coat, 9 pieces, lead 3wd, travel 1cd" in out
    assert "job check-rework-coating added: bench, 9 of housing, lead 2wd" in out
    assert went_back.dates() == {"wave-1": "2026-07-27"}


def test_no_piece_goes_to_two_reworks(went_back):
    went_back("rework", "coating", "6")
    refused = went_back.refuses("rework", "coating", "4", exit_code=1)
    assert "coating has 3 in rework beside those of rework-coating, fewer than 4" in refused
    assert "write 3 at most" in refused
    went_back("rework", "coating", "3", "by", "bench", "lead", "1wd")
    assert went_back.json("rework-coating-2")["job"]["supplier"] == "bench"
    went_back("called-off", "rework-coating")
    went_back("rework", "coating", "6")


def test_a_rework_of_pieces_is_one_entry_and_is_undone_whole(went_back):
    before, entries = went_back.out("write", "-"), len(went_back.json("diary"))
    went_back("rework", "coating", "9", "check", "1wd")
    assert len(went_back.json("diary")) == entries + 1
    went_back("undo")
    assert went_back.out("write", "-") == before


def test_the_document_of_a_rework_names_the_new_job(went_back):
    document = went_back.json("rework", "coating", "9")
    assert document["remarks"][0].startswith("job rework-coating added")
    assert [row["job"] for row in document["harmless"]] == ["rework-coating"]


def test_the_remedy_for_a_job_that_makes_nothing_works(failed):
    refused = failed.refuses("rework", "bases", "5", *TODAY, exit_code=1)
    command = refused.split("tracker ")[-1].split()
    assert command == ["add", "job", "rework-bases", "supplier=mill", "lead=8wd", "after=bases"]
    failed(*command, *TODAY)
    assert "tracker add job rework-bases-2 " in failed.refuses("rework", "bases", "5", *TODAY, exit_code=1)

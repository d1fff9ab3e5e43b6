"""Week 1: a maker's own list becomes a plan in an evening, then the first articles come in July.

Invented scenario; its dates were computed by plain day counting (each job starts on its supplier's first working day
after all it waits for), apart from this program.
"""

import shutil

import pytest

from tests.cli.first_evening import (
    GATES_AND_CLOCKS,
    NEW,
    OWN_DAYS_OFF,
    READ,
    THEIR_DAYS_OFF,
    WAVES,
    WITH_LEADS,
    sheet,
)
from tests.cli.sheet_files import on_a_terminal
from tests.cli.typed import refused, type_all, typed, words_of
from tests.conftest import Program

FIRST_PLAN = {
    "freeze-drawings-c": ("2026-06-15", "2026-06-17"), "first-sets": ("2026-06-18", "2026-07-03"),
    "finish-trial": ("2026-07-06", "2026-07-15"), "pilot-boards": ("2026-06-18", "2026-07-14"),
    "board-parts": ("2026-06-18", "2026-10-08"), "sample-magnets": ("2026-06-18", "2026-07-03"),
    "fit-check": ("2026-07-16", "2026-07-17"), "emc": ("2026-08-17", "2026-09-07"),
    "bases": ("2026-07-20", "2026-08-14"), "bezels": ("2026-08-17", "2026-09-02"),
    "finish-graphite": ("2026-09-03", "2026-09-16"), "finish-natural": ("2026-09-17", "2026-09-28"),
    "look-over": ("2026-09-29", "2026-09-30"), "bare-boards": ("2026-07-20", "2026-07-31"),
    "smt-first": ("2026-10-09", "2026-10-26"), "test-first": ("2026-10-27", "2026-10-30"),
    "magnets": ("2026-07-20", "2026-08-14"), "licence": ("2026-08-17", "2026-08-28"),
    "air-freight": ("2026-09-01", "2026-09-10"), "glass": ("2026-07-20", "2026-08-21"),
    "glass-sea": ("2026-08-22", "2026-10-05"), "gaskets": ("2026-07-20", "2026-09-01"),
    "screws": ("2026-07-20", "2026-08-07"), "box-artwork": ("2026-09-08", "2026-09-10"),
    "boxes": ("2026-09-11", "2026-10-09"), "trial": ("2026-11-02", "2026-11-04"),
    "wave-1-build": ("2026-11-05", "2026-11-12"), "pack-1": ("2026-11-13", "2026-11-18"),
    "wave-2-build": ("2026-11-13", "2026-12-02"), "pack-2": ("2026-12-03", "2026-12-11"),
}  # fmt: skip
PLANNED = {"wave-1": "2026-11-18", "wave-2": "2026-12-11"}
UNCLEAR = ("board-parts", "sample-magnets", "emc", "bases", "magnets", "licence", "glass")
TO_THE_FIT_CHECK = """
tracker set run today=2026-06-18
tracker finished freeze on wed
tracker ordered first-sets 5 on wed
tracker ordered pilot-boards on wed
tracker ordered sample-magnets on wed
tracker started board-parts
tracker set run today=2026-06-30
tracker told wave-1 18dec said "all posted by 18 Dec"
tracker told wave-2 18dec said "all posted by 18 Dec"
tracker set run today=2026-07-20
tracker in first-sets 5 on 6jul ref TP-2208
tracker ordered finish-trial on 6jul
tracker in sample-magnets 30 on 8jul
tracker in pilot-boards 10 on 14jul
tracker in finish-trial 5 on 16jul
"""
FAILED = 'tracker failed fit-check "bezel bore tight"'
REWORK = "tracker rework fit-check by tolmark lead 12wd"


@pytest.fixture
def evening(empty, tmp_path):
    """A new run with nothing in it, and the list beside it."""
    typed(empty, NEW)
    sheet(tmp_path / "jobs.xlsx")
    return empty


@pytest.fixture(scope="module")
def planned_database(tmp_path_factory):
    """The database at the end of that evening."""
    folder = tmp_path_factory.mktemp("evening")
    sheet(folder / "jobs.xlsx")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        program = Program(folder / "run.sqlite", patch)
        type_all(program, f"{NEW}\n{WITH_LEADS}{WAVES}{OWN_DAYS_OFF}{THEIR_DAYS_OFF}{GATES_AND_CLOCKS}")
    return program.database


@pytest.fixture
def planned(planned_database, tmp_path, monkeypatch):
    """The run at the end of that evening."""
    monkeypatch.chdir(tmp_path)
    shutil.copy(planned_database, tmp_path / "run.sqlite")
    return Program(tmp_path / "run.sqlite", monkeypatch)


@pytest.fixture
def at_the_check(planned):
    """Mon 20 Jul: all five first articles are on the bench."""
    type_all(planned, TO_THE_FIT_CHECK)
    return planned


def days(program, *codes):
    """Start and last day worked of jobs; of all where none are named."""
    jobs = {one["code"]: (one["start"], one["finish"]) for one in program.json("forecast")["jobs"]}
    return {code: jobs[code] for code in codes} if codes else jobs


def test_the_line_shows_its_guess_and_what_needs_a_word_and_stores_nothing_yet(evening):
    message = refused(evening, READ, exit_code=2)
    assert "jobs.xlsx, sheet Who does what: headings in row 4, 30 rows below" in message
    assert "30 new jobs:" in message
    jobs = message[message.index("30 new jobs:") : message.index("read as:")].splitlines()
    assert tuple(line.split()[1] for line in jobs if " ? " in line) == UNCLEAR
    for line in (
        "row 9 board-parts '16 weeks for the driver chip': wd (80wd) or cd (112cd)?",
        "row 10 sample-magnets '12 days': wd (12wd) or cd (12cd)?",
    ):
        assert line in message
    assert "error: 7 lengths of days need a word, wd or cd as they meant it; nothing was written" in message


def test_on_a_terminal_the_same_line_takes_one_answer_and_one_yes(evening, tmp_path):
    code, shown = on_a_terminal(tmp_path, evening.database, words_of(READ), ["all wd", "y"], width=120)
    assert (code, shown.count("[y/N]")) == (0, 1), shown
    assert "12 new suppliers, 30 new jobs stored from jobs.xlsx" in shown
    assert "no shipment yet; the last job, pack-2, is here Thu 10 Dec 2026" in shown


def test_with_the_words_added_one_line_stores_it_and_says_the_next(evening):
    out = typed(evening, WITH_LEADS)
    assert out.startswith("12 new suppliers, 30 new jobs stored from jobs.xlsx [entry 2]")
    assert "add one: tracker add shipment wave-1 quantity=240 after=pack-2" in out


def test_the_same_file_read_again_has_nothing_new_and_asks_nothing(evening):
    typed(evening, WITH_LEADS)
    before = evening.rows()
    assert "jobs.xlsx holds nothing new; nothing was stored" in typed(evening, "tracker read jobs.xlsx --yes")
    assert evening.rows() == before


def test_a_word_changed_in_the_sheet_is_told_with_what_it_moves(planned, tmp_path):
    """A week more for the driver chip: parts Thu 15 Oct, boards 16 Oct to 3 Nov (28 Oct off), tested Mon 9 Nov.

    Then trial 10-12 Nov, first build 13-20 Nov, packed Thu 26 Nov; second build 23 Nov to 10 Dec, packed Mon 21 Dec.
    """
    sheet(tmp_path / "jobs.xlsx", said={"Board parts": "17 weeks for the driver chip"}.items())
    out = typed(planned, "tracker read jobs.xlsx leads weeks=wd --yes")
    assert "wave-1 moves Wed 18 Nov -> Thu 26 Nov (+8 days)" in out
    assert "wave-2 moves Fri 11 Dec -> Mon 21 Dec 2026 (+10 days)" in out
    assert planned.dates() == {"wave-1": "2026-11-26", "wave-2": "2026-12-21"}


def test_a_bank_holiday_of_our_own_moves_both_waves_a_day_and_theirs_none(evening):
    """31 Aug lies among the 80 working days in which the parts are bought."""
    type_all(evening, WITH_LEADS + WAVES)
    assert evening.dates() == {"wave-1": "2026-11-17", "wave-2": "2026-12-10"}
    out = typed(evening, OWN_DAYS_OFF)
    assert (
        "closures none -> Mon 31 Aug 2026 bank holiday, Thu 24 Dec 2026 to Sun 3 Jan 2027 year-end break"
        in out
    )
    assert "wave-1 moves Tue 17 Nov -> Wed 18 Nov (+1 day)" in out
    assert "wave-2 moves Thu 10 Dec -> Fri 11 Dec (+1 day)" in out
    for line in THEIR_DAYS_OFF.strip().splitlines():
        assert "no shipment moves" in typed(evening, line)


def test_the_first_plan_has_every_job_on_the_days_counted_and_ends_on_11_december(planned):
    assert days(planned) == FIRST_PLAN
    assert planned.dates() == PLANNED
    assert [job["code"] for job in planned.json("forecast")["jobs"]] == list(FIRST_PLAN)


def test_what_travels_is_here_later(planned):
    arrives = {job["code"]: job["arrives"] for job in planned.json("forecast")["jobs"]}
    assert {code: arrives[code] for code in ("sample-magnets", "gaskets", "screws", "boxes")} == {
        "sample-magnets": "2026-07-08", "gaskets": "2026-09-05", "screws": "2026-08-10", "boxes": "2026-10-14",
    }  # fmt: skip


def test_the_clocks_of_the_boxes_are_ours_from_that_evening_on(planned):
    (row,) = [one for one in planned.json("forecast")["jobs"] if one["code"] == "boxes"]
    assert row["missing"] == ["order", "payment", "proof"]
    assert typed(planned, "tracker approved boxes proof").startswith("boxes proof given Mon 15 Jun 2026")
    assert planned.job("boxes")["missing"] == ["order", "payment"]


def test_the_first_fact_keeps_the_first_plan(planned):
    typed(planned, "tracker set run today=2026-06-18")
    out = typed(planned, "tracker finished freeze on wed")
    assert out.startswith("freeze-drawings-c finished Wed 17 Jun 2026")
    assert "first plan kept" in out
    assert {one["code"]: one["first_plan"] for one in planned.json("forecast")["shipments"]} == PLANNED


def test_the_promise_to_backers_leaves_five_working_days(at_the_check):
    """14 to 18 Dec."""
    late = {one["code"]: one["days_late"] for one in at_the_check.json("forecast")["shipments"]}
    assert late == {"wave-1": -30, "wave-2": -7}


def test_the_plan_goes_out_as_a_workbook_and_comes_back_as_it_was(at_the_check, tmp_path):
    typed(at_the_check, "tracker write plan.xlsx")
    before = at_the_check.rows()
    assert "plan.xlsx holds nothing new; nothing was stored" in typed(at_the_check, "tracker read plan.xlsx")
    assert at_the_check.rows() == before
    other = Program(tmp_path / "other.sqlite", at_the_check.monkeypatch)
    type_all(other, "tracker new\ntracker read plan.xlsx")
    assert other.out("write", "-") == at_the_check.out("write", "-")
    assert other.json("forecast") == at_the_check.json("forecast")


def test_an_empty_workbook_to_fill_in_needs_no_plan(empty, tmp_path):
    assert "plan-blank.xlsx written" in empty(*words_of("tracker write --blank")).output
    assert (tmp_path / "plan-blank.xlsx").is_file()
    assert not empty.database.exists()


def test_a_fit_check_that_fails_shuts_everything_behind_it(at_the_check):
    out = typed(at_the_check, FAILED)
    assert out.startswith('fit-check FAILED Mon 20 Jul 2026; note "bezel bore tight"')
    assert "no second attempt is planned: fit-check is forecast as tried again at best" in out
    gates = typed(at_the_check, "tracker gates")
    assert "fit-check FAILED, stays shut: nothing behind it is released" in gates
    assert "blocks 23 open jobs, wave-1 and wave-2" in gates
    assert "next in line: emc, bases, bare-boards, magnets, glass, gaskets, screws" in gates


BEHIND_THE_LOOP = {
    "rework-fit-check": ("2026-07-21", "2026-08-05"),  # 21-24, 27-31 Jul, 3-5 Aug
    "fit-check-2": ("2026-08-06", "2026-08-07"),
    "emc": ("2026-08-17", "2026-09-07"),  # its slot stays
    "bases": ("2026-08-10", "2026-09-07"),  # 5 days a week, 31 Aug off
    "bezels": ("2026-09-08", "2026-09-23"),
    "finish-graphite": ("2026-09-24", "2026-10-07"),
    "finish-natural": ("2026-10-08", "2026-10-19"),
    "look-over": ("2026-10-20", "2026-10-21"),
    "bare-boards": ("2026-08-10", "2026-08-21"),
    "magnets": ("2026-08-10", "2026-09-04"),
    "licence": ("2026-09-07", "2026-09-18"),
    "air-freight": ("2026-09-21", "2026-09-30"),
    "glass": ("2026-08-10", "2026-09-11"),
    "glass-sea": ("2026-09-12", "2026-10-26"),
    "gaskets": ("2026-08-31", "2026-09-15"),  # shut until 28 Aug
    "screws": ("2026-08-10", "2026-08-28"),
    "boxes": ("2026-09-11", "2026-10-09"),
    "trial": FIRST_PLAN["trial"],  # the boards hold it, tested Fri 30 Oct
}


def test_a_loop_of_twelve_days_at_the_mill_moves_all_it_shuts_but_no_shipment(at_the_check):
    """The gate may pass until Thu 13 Aug: 25 days for the glass to 17 Sep, 45 on the sea to Sun 1 Nov, trial on the 2nd."""
    typed(at_the_check, FAILED)
    out = typed(at_the_check, REWORK, width=120)
    assert "job rework-fit-check added" in out
    assert "no shipment moves" in out
    assert "fit-check-2 ready Fri 7 Aug, harmless until Thu 13 Aug (6 spare days)" in out
    assert days(at_the_check, *BEHIND_THE_LOOP) == BEHIND_THE_LOOP
    assert at_the_check.dates() == PLANNED
    assert "second attempt fit-check-2 NOT DUE, may pass Fri 7 Aug at the earliest" in typed(
        at_the_check, "tracker gates"
    )


def test_the_second_check_that_passes_on_its_day_releases_the_run(at_the_check):
    type_all(at_the_check, f"{FAILED}\n{REWORK}\ntracker ordered rework-fit-check")
    type_all(
        at_the_check, "tracker set run today=2026-08-07\ntracker in rework-fit-check 5 on 5aug ref TP-2241"
    )
    assert at_the_check.job("bases")["state"] == "NOT DUE"
    out = typed(at_the_check, "tracker passed fit-check-2 all five sets go together by hand")
    assert out.startswith("fit-check-2 passed Fri 7 Aug 2026")
    assert "fit-check  passed Fri 7 Aug by fit-check-2, had failed Mon 20 Jul" in typed(
        at_the_check, "tracker gates"
    )
    assert {at_the_check.job(code)["state"] for code in ("bases", "magnets", "glass", "screws")} == {
        "CLOCK NOT STARTED"
    }
    assert at_the_check.dates() == PLANNED


def test_a_week_more_in_the_loop_costs_the_waves_what_the_glass_loses(at_the_check):
    """12 days become 17: here Wed 12 Aug, passes Fri 14 Aug, glass 17 Aug to 18 Sep, sea to Mon 2 Nov, trial from the 3rd."""
    typed(at_the_check, FAILED)
    typed(at_the_check, REWORK.replace("12wd", "17wd"))
    assert days(at_the_check, "fit-check-2", "glass", "glass-sea", "trial") == {
        "fit-check-2": ("2026-08-13", "2026-08-14"), "glass": ("2026-08-17", "2026-09-18"),
        "glass-sea": ("2026-09-19", "2026-11-02"), "trial": ("2026-11-03", "2026-11-05"),
    }  # fmt: skip
    assert at_the_check.dates() == {"wave-1": "2026-11-19", "wave-2": "2026-12-14"}

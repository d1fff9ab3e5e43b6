"""The demo's dates and answers.

Source: computed for the scenario independently of this program with plain day counting (each job starts on its
supplier's first working day after all it waits for). They are not a published source.
"""

import json
import subprocess
import sys
from datetime import date

import pytest
from openpyxl import load_workbook

WAVE_2_CHAIN = ["licence", "air-freight", "trial", "wave-1-build", "wave-2-build", "pack-2"]
JOB_KEYS = {
    "code", "supplier", "state", "flags", "missing", "promise", "overdue_days", "first_plan", "start", "finish",
    "arrives", "late_start", "late_finish", "harmless_until", "total_float", "spare_days", "free_float", "drag",
    "room", "give_by", "holds", "waits_for", "driven_by", "by_shipment", "lots",
}  # fmt: skip
SHIPMENT_KEYS = {
    "code", "quantity", "told_first", "told", "first_plan", "forecast", "days_late", "days_after_first",
    "critical_path", "critical_jobs", "held_by",
}  # fmt: skip


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """The folder and the text of the demo, run as its user runs it."""
    folder = tmp_path_factory.mktemp("demo")
    result = subprocess.run(
        [sys.executable, "-m", "tracker", "demo"], cwd=folder, capture_output=True, text=True, check=False,
        env={"PATH": "", "COLUMNS": "100"},
    )  # fmt: skip
    assert (result.returncode, result.stderr) == (0, "")
    return folder, result.stdout


def test_the_demo_logs_its_delivery_and_no_shipment_moves(demo):
    _, text = demo
    answer = text.partition(" tracker in ")[2].partition("\n\n")[0].splitlines()[1:]
    assert answer[0].startswith("glass-sea in Tue 24 Nov 2026: 268 good, 2 scrap")
    assert "no shipment moves" in answer
    assert "270 of 270 in, done" in answer[0]
    assert len(answer) <= 6


def test_the_demo_shows_two_different_holders(demo):
    _, text = demo
    assert "wave-1 held by [payment not given] boxes > pack-1" in text
    assert "wave-2 held by [promised Fri 4 Dec] licence > air-freight > trial > wave-1-build" in text


def test_the_demo_writes_a_workbook_of_four_sheets(demo):
    folder, _ = demo
    book = load_workbook(folder / "exports" / "backers-2026-11-24.xlsx")
    assert book.sheetnames == ["This week", "Progress", "Full sets", "Weeks"]


def test_the_demo_can_be_built_again_in_the_same_folder(demo):
    folder, first = demo
    again = subprocess.run(
        [sys.executable, "-m", "tracker", "demo"], cwd=folder, capture_output=True, text=True, check=False,
        env={"PATH": "", "COLUMNS": "100"},
    )  # fmt: skip
    assert (again.returncode, again.stdout) == (0, first)


def test_the_demo_needs_a_folder_that_exists(empty):
    message = empty.refuses("demo", "--in", "nowhere", exit_code=1)
    assert "there is no folder nowhere" in message


def test_the_first_plan_ends_on_11_december(program):
    planned = {one["code"]: one["first_plan"] for one in program.json("forecast")["shipments"]}
    assert planned == {"wave-1": "2026-11-18", "wave-2": "2026-12-11"}


def test_the_forecast_document_has_the_keys_other_programs_rely_on(program):
    document = program.json("forecast")
    assert {"run", "today", "ship_date", "at_best", "shipments", "jobs"} <= set(document)
    assert all(set(one) >= SHIPMENT_KEYS for one in document["shipments"])
    assert all(set(one) >= JOB_KEYS for one in document["jobs"])
    extra = {key for one in document["jobs"] for key in one} - JOB_KEYS
    assert extra == {"at_best"}
    assert {key for one in document["shipments"] for key in one} - SHIPMENT_KEYS == {"posted", "at_best"}
    assert set(document["shipments"][0]["held_by"]) == {"job", "reason", "what", "owed_by"}
    assert set(document["jobs"][0]["lots"][0]) == {"lot", "quantity", "good", "start", "finish", "arrives"}


def test_every_date_in_the_forecast_document_is_iso_or_null(program):
    for job in program.json("forecast")["jobs"]:
        for key in (
            "promise",
            "start",
            "finish",
            "arrives",
            "late_start",
            "late_finish",
            "harmless_until",
            "give_by",
        ):
            assert job[key] is None or date.fromisoformat(job[key]).isoformat() == job[key]


def test_the_shipments_stand_as_computed(program):
    document = program.json("forecast")
    first, last = document["shipments"]
    assert (document["run"], document["today"], document["at_best"]) == ("ebb-1", "2026-11-24", [])
    assert document["ship_date"] == last["forecast"] == "2027-02-05"
    assert first["forecast"] == "2027-01-14"
    assert (first["told_first"], first["told"]) == ("2026-12-18", "2027-01-20")
    assert (first["days_late"], first["days_after_first"]) == (-6, 27)
    assert (last["days_late"], last["days_after_first"]) == (16, 49)
    assert first["critical_path"] == first["critical_jobs"] == ["boxes", "pack-1"]
    assert first["held_by"] == {"job": "boxes", "reason": "clock", "what": "payment", "owed_by": "us"}
    assert last["critical_path"] == last["critical_jobs"] == WAVE_2_CHAIN
    assert (last["held_by"]["job"], last["held_by"]["reason"]) == ("licence", "promise")


def test_the_boxes_stand_as_computed(program):
    boxes = program.job("boxes")
    slack = boxes.pop("by_shipment")
    assert slack == {
        "wave-1": {"total_float": 1, "spare_days": 1, "drag": 1},
        "wave-2": {"total_float": 9, "spare_days": 12, "drag": 0},
    }
    assert boxes["lots"] == [
        {
            "lot": 1,
            "quantity": 250,
            "good": 0,
            "start": "2026-11-25",
            "finish": "2027-01-04",
            "arrives": "2027-01-09",
            "kind": "to come",
            "expected": 250,
            "ready": "2027-01-04",
            "harmless_until": "2027-01-05",
            "spare_days": 1,
            "for_shipments": ["wave-1", "wave-2"],
        }
    ]
    expected = {
        "supplier": "moinho", "state": "CLOCK NOT STARTED", "flags": ["LATE"], "missing": ["payment"],
        "promise": None, "overdue_days": 0, "start": "2026-11-25", "finish": "2027-01-04", "arrives": "2027-01-09",
        "harmless_until": "2027-01-05", "total_float": 1, "spare_days": 1, "free_float": 1, "drag": 0,
        "give_by": "2026-11-25", "holds": ["wave-1"], "waits_for": ["box-artwork"], "driven_by": [],
    }  # fmt: skip
    assert {key: boxes[key] for key in expected} == expected


@pytest.mark.parametrize(
    ("job", "start", "finish"),
    [
        ("trial", "2026-12-17", "2026-12-21"), ("wave-1-build", None, "2027-01-07"), ("boxes", None, "2027-01-04"),
        ("pack-1", None, "2027-01-14"), ("wave-2-build", None, "2027-01-27"), ("pack-2", None, "2027-02-05"),
    ],
)  # fmt: skip
def test_open_jobs_fall_on_the_days_computed(program, job, start, finish):
    row = program.job(job)
    assert row["finish"] == finish
    assert start is None or row["start"] == start


@pytest.mark.parametrize(
    ("job", "days"),
    [("licence", 11), ("air-freight", 10), ("trial", 3), ("wave-1-build", 8), ("wave-2-build", 11), ("pack-2", 9),
     ("boxes", 0)],
)  # fmt: skip
def test_the_length_of_each_job_on_the_chain_costs_the_last_parcel(program, job, days):
    assert program.job(job)["drag"] == days


@pytest.mark.parametrize(
    ("job", "days"),
    [("licence", 2), ("glass-sea", 20), ("smt-last", 29), ("finish-natural", 41), ("rework-graphite", 41)],
)
def test_jobs_have_the_spare_calendar_days_computed(program, job, days):
    assert program.job(job)["spare_days"] == days


def test_a_deposit_paid_late_costs_the_first_wave_only(program):
    """Paid on 25 Nov it costs nothing, each of their working days later one day of ours, wave 2 none till 9 Dec."""
    assert program.json("paid", "boxes", "--today", "2026-11-25")["moves"] == []
    program("undo", "--today", "2026-11-25")
    program("paid", "boxes", "--today", "2026-11-26")
    assert program.dates("--today", "2026-11-26") == {"wave-1": "2027-01-15", "wave-2": "2027-02-05"}


@pytest.mark.parametrize(
    ("words", "first", "last"),
    [
        ("promised licence 11dec", "2027-01-20", "2027-02-12"),
        ("promised finish-natural 4dec", "2027-01-14", "2027-02-05"),
        ("promised smt-last 18dec", "2027-01-14", "2027-02-05"),
        ("promised smt-last 8jan", None, "2027-02-11"),
        ("promised glass-sea 17dec", None, "2027-02-08"),
        ("promised glass-sea 23dec", "2027-01-20", "2027-02-12"),
        ("promised licence 18dec", None, "2027-02-15"),
        ("promised licence 24dec", None, "2027-02-19"),
        ("promised licence 15jan", None, "2027-03-10"),
        ("promised licence 27jan", None, "2027-03-22"),
        ("promised licence 28jan", None, "2027-04-19"),
    ],
)
def test_news_of_the_week_moves_the_shipments_as_computed(program, words, first, last):
    program(*words.split())
    dates = program.dates()
    assert dates["wave-2"] == last
    assert first is None or dates["wave-1"] == first


def test_a_deposit_forgotten_until_december_moves_the_first_wave_alone(program):
    program("paid", "boxes", "--today", "2026-12-01")
    assert program.dates("--today", "2026-12-01") == {"wave-1": "2027-01-19", "wave-2": "2027-02-05"}


def test_a_late_licence_is_worth_eleven_days_and_the_boxes_only_the_first_wave(program):
    rows = {row["job"]: row for row in program.json("late")["rows"]}
    assert rows["licence"]["ship_date_gain"] == 11
    assert rows["boxes"]["ship_date_gain"] == 0
    assert rows["boxes"]["gains"] == {"wave-1": 1, "wave-2": 0}
    assert [job for job, row in rows.items() if not row["caused"]][:2] == ["licence", "boxes"]


def test_a_demo_somebody_logged_into_is_built_afresh_only_when_told_to(empty, tmp_path):
    empty("demo", "--in", ".")
    empty("demo", "--in", ".")  # as it was built: nothing of anybody's own is lost
    database = str(tmp_path / "demo_db" / "demo.sqlite")
    empty("--db", database, "paid", "boxes")
    result = empty("demo", "--in", ".", exit_code=2)
    assert "holds 1 entry of your own: build it afresh without them?" in result.stderr
    assert json.loads(empty.out("--db", database, "diary", "--json"))[0]["command"] == "paid boxes"
    empty("demo", "--in", ".", "--yes")
    assert json.loads(empty.out("--db", database, "diary", "--json"))[0]["command"] != "paid boxes"

"""What ``try`` answers on the demo, and that it stores nothing.

Invented scenario; the expected answers were computed beforehand by plain day counting, apart from this program.
"""

import json
import shlex
from dataclasses import replace
from datetime import date, timedelta

import pytest
from typer.testing import CliRunner

from tests.cli.typed import refused, typed
from tests.schedule.random_plans import random_plan
from tracker.cli.app import app
from tracker.planfile.writing import write_plan

NOW = {"wave-1": "2027-01-14", "wave-2": "2027-02-05"}
RINGS = "instead magnets by kessling lead 10wd travel 2cd check 2wd"


def tried(program, words):
    """Each shipment's date as tried; the database stays as it was, byte for byte."""
    before = program.database.read_bytes()
    view = program.json("try", *shlex.split(words))
    assert program.database.read_bytes() == before
    dates = {row["shipment"]: row["date"] for row in view["stays"]}
    return dates | {row["shipment"]: row["after"] for row in view["answer"]["moves"]}


@pytest.mark.parametrize(
    ("words", "wave_1", "wave_2"),
    [
        pytest.param("promised licence 11dec", "2027-01-20", "2027-02-12", id="1, licence on 11 Dec"),
        pytest.param("paid boxes on 1dec", "2027-01-19", "2027-02-05", id="2, deposit on 1 Dec"),
        pytest.param("promised natural 4dec", "2027-01-14", "2027-02-05", id="3, natural housings on 4 Dec"),
        pytest.param("promised smt-last 18dec", "2027-01-14", "2027-02-05", id="5, last boards on 18 Dec"),
        pytest.param("promised smt-last 8jan", "2027-01-14", "2027-02-11", id="5, last boards on 8 Jan"),
        pytest.param("promised glass-sea 17dec", "2027-01-14", "2027-02-08", id="6, glass free on 17 Dec"),
        pytest.param("in glass-sea on 17dec", "2027-01-14", "2027-02-08", id="6, glass here on 17 Dec"),
        pytest.param("promised glass-sea 23dec", "2027-01-20", "2027-02-12", id="6, glass free on 23 Dec"),
        pytest.param("in glass-sea on 23dec", "2027-01-20", "2027-02-12", id="6, glass here on 23 Dec"),
        pytest.param(RINGS, "2027-01-14", "2027-02-03", id="7, rings from another source"),
        pytest.param(f"promised licence 15jan and {RINGS}", "2027-01-14", "2027-02-03", id="7, and the licence slips"),
        pytest.param("promised licence 15jan", "2027-02-15", "2027-03-10", id="7, the licence slips without them"),
        pytest.param("paid boxes and set boxes lead=12wd", "2027-01-13", "2027-02-05", id="8, boxes in 12 days"),
        pytest.param(f"paid boxes and set boxes lead=12wd quantity=100 and {RINGS}", "2027-01-11", "2027-02-03", id="8, with the rings"),
        pytest.param("set wave-1-build lead=9wd and set wave-2-build lead=20wd", "2027-01-18", "2027-02-18", id="9, helper ill"),
        pytest.param("set wave-1-build lead=5wd and set wave-2-build lead=10wd", "2027-01-14", "2027-01-29", id="9, second helper"),
        pytest.param("promised licence 18dec", "2027-01-21", "2027-02-15", id="cliff, before the battery rule"),
        pytest.param("promised licence 24dec", "2027-01-27", "2027-02-19", id="cliff, after the battery rule"),
    ],
)  # fmt: skip
def test_what_a_week_may_bring_tried(program, words, wave_1, wave_2):
    assert tried(program, words) == {"wave-1": wave_1, "wave-2": wave_2}


@pytest.mark.parametrize("later", range(11))
def test_a_deposit_tried_for_a_day_is_what_it_gives_when_paid_on_that_day(program, later):
    """Until Fri 4 Dec nothing else of the first shipment rests on what day it is."""
    on = date(2026, 11, 24) + timedelta(days=later)
    ahead = tried(program, f"paid boxes on {on}")["wave-1"]
    program("paid", "boxes", "--today", on.isoformat())
    assert program.dates("--today", on.isoformat())["wave-1"] == ahead


def test_nothing_of_a_try_is_stored_and_the_answer_says_so(program):
    rows = program.rows()
    out = typed(program, "tracker try promised licence 11dec and set boxes lead=12wd")
    assert out.splitlines()[-1] == "nothing was stored; today is Tue 24 Nov 2026, kept with this run"
    assert (program.rows(), program.dates()) == (rows, NOW)


def test_each_step_is_read_back_then_what_moves_what_stays_and_how_long_it_is_harmless(program):
    assert typed(program, "tracker try paid boxes on 1dec and promised natural 4dec").splitlines() == [
        "boxes payment sent Tue 1 Dec 2026",
        "finish-natural promised for Fri 4 Dec 2026, in hand (given Tue 24 Nov 2026)",
        "wave-1 moves Thu 14 Jan -> Tue 19 Jan (+5 days), held by [payment credited Tue 1 Dec] boxes > pack-1",
        "all of wave-1's 5 days by a closure: moinho shut Thu 24 Dec to Sun 3 Jan, year-end break",
        "stays: wave-2 Fri 5 Feb",
        "boxes ready Fri 8 Jan, harmless until Fri 8 Jan (0 spare days); here Wed 13 Jan",
        "finish-natural ready Fri 4 Dec, harmless until Tue 5 Jan (32 spare days)",
        "nothing was stored; today is Tue 24 Nov 2026, kept with this run",
    ]


def test_a_second_source_says_what_it_takes_the_place_of_and_what_holds_then(program):
    chain = ("magnets-kessling", "check-magnets-kessling", "trial", "wave-1-build", "wave-2-build", "pack-2")
    assert typed(program, f"tracker try {RINGS}").splitlines() == [
        "job magnets-kessling added: kessling, lead 10wd, travel 2cd, ordered Tue 24 Nov 2026",
        "job check-magnets-kessling added: lark, lead 2wd",
        "in place of licence and air-freight; brings magnet for trial, wave-1-build and wave-2-build",
        f"wave-2 moves Fri 5 Feb -> Wed 3 Feb (-2 days), held by [order given Tue 24 Nov] {' > '.join(chain)}",
        "stays: wave-1 Thu 14 Jan",
        "magnets-kessling ready Tue 8 Dec, harmless until Tue 8 Dec (0 spare days); here Thu 10 Dec",
        "check-magnets-kessling ready Mon 14 Dec, harmless until Mon 14 Dec (0 spare days)",
        "nothing was stored; today is Tue 24 Nov 2026, kept with this run",
    ]


def test_rings_of_a_supplier_nobody_knows_yet_are_added_with_it(program):
    out = refused(program, "tracker try instead magnets by newco lead 10wd", exit_code=2)
    assert "add supplier newco and instead ..." in out
    words = f"add supplier newco and {RINGS.replace('kessling', 'newco')}"
    assert tried(program, words)["wave-2"] == "2027-02-03"  # shut on no day before 8 Dec, like kessling


def test_a_delivery_ahead_says_how_long_the_job_may_take_as_things_stand(program):
    out = typed(program, "tracker try in glass-sea on 17dec")
    assert "held by [done Thu 17 Dec] glass-sea > trial" in out
    assert "as things stand: glass-sea due here Thu 26 Nov, harmless until Wed 16 Dec (20 spare days)" in out


def test_a_delivery_tried_for_today_says_nothing_of_how_things_stand(program):
    assert "as things stand" not in typed(program, "tracker try in glass-sea")


def test_starting_and_leaving_ahead_are_said_as_days_to_come(program):
    assert "[leaves Mon 30 Nov] licence" in typed(program, "tracker try left licence on 30nov")
    out = typed(program, "tracker try started trial on 21dec")
    assert "[begins Mon 21 Dec] trial" in out


def test_the_licence_cliff_between_27_and_28_january(program):
    view = program.json("try", "promised", "licence", "11jan..26feb")
    by_day = {one["day"]: one["dates"] for one in view["days"]}
    assert len(by_day) == 47
    assert (by_day["2027-01-27"]["wave-2"], by_day["2027-01-28"]["wave-2"]) == ("2027-03-22", "2027-04-19")
    (cliff,) = view["cliffs"]
    assert cliff["last"] == "2027-01-27"
    last = next(one for one in cliff["costs"] if one["shipment"] == "wave-2")
    assert (last["days"], last["closure"]["supplier"]) == (28, "qingsha")
    assert (last["closure"]["first"], last["closure"]["last"]) == ("2027-01-28", "2027-02-21")
    row = next(one for one in view["rows"] if one["first"] == "2027-01-28")
    assert (row["last"], row["days"]["wave-2"]) == ("2027-02-22", 73)


def test_a_cliff_is_seen_where_the_span_ends_before_it(program):
    out = typed(program, "tracker try promised licence 26jan..27jan")
    assert "cliff 1: a day later than Wed 27 Jan costs wave-1 26 days, wave-2 28 days" in out
    assert "Wed 27 Jan  Thu 25 Feb +42  Mon 22 Mar +45  cliff 1" in out


def test_days_that_give_the_same_dates_are_one_row(program):
    view = program.json("try", "paid", "boxes", "on", "24nov..4dec")
    assert [(row["first"][5:], row["last"][5:], row["dates"]["wave-1"]) for row in view["rows"]] == [
        ("11-24", "11-25", "2027-01-14"),
        ("11-26", "11-26", "2027-01-15"),
        ("11-27", "11-29", "2027-01-18"),
        ("11-30", "12-01", "2027-01-19"),
        ("12-02", "12-03", "2027-01-21"),
        ("12-04", "12-04", "2027-01-22"),
    ]
    assert view["cliffs"] == []


def test_what_is_fixed_holds_in_each_row(program):
    out = typed(program, f"tracker try {RINGS} and paid boxes on 24nov..26nov and set boxes lead=12wd")
    assert out.splitlines()[0] == "boxes payment sent each day from Tue 24 Nov 2026 to Thu 26 Nov 2026"
    assert "in place of licence and air-freight; brings magnet" in out
    assert "Tue 24 Nov to Thu 26 Nov  Mon 11 Jan -3  Wed 3 Feb -2" in out


def test_each_day_of_a_span_is_that_day_tried_alone(program):
    for one in program.json("try", "promised", "licence", "4dec..14dec")["days"]:
        assert tried(program, f"promised licence {one['day']}") == one["dates"]


@pytest.mark.parametrize(
    ("words", "exit_code", "message"),
    [
        ("", 2, "error: try what? it takes what is logged, set, added or removed"),
        ("undo 5", 2, "error: 'undo' cannot be tried"),
        ("promised licence 11dec and boxes 12dec", 2, "error: after 'and' a step begins with a verb, but 'boxes' is none"),
        ("promised licence 26feb..11jan", 2, "error: the span runs backwards"),
        ("promised licence 11dec on 1dec", 1, "error: licence: Tue 1 Dec 2026 lies ahead"),
        ("instead emc by kessling lead 3wd", 1, "error: emc is a gate"),
        ("remove boxes", 1, "error: boxes has facts logged about it"),
        ("set boxes lead=12", 1, "error: job boxes has 1 problem"),
    ],
)  # fmt: skip
def test_a_try_that_cannot_be_is_refused_in_one_message(program, words, exit_code, message):
    assert refused(program, f"tracker try {words}", exit_code).startswith(message)


def test_a_try_looks_back_with_what_was_known_then(program):
    out = typed(program, "tracker try promised licence 11dec --today 2026-11-25")
    assert out.splitlines()[-1] == "nothing was stored; status date Wed 25 Nov 2026, as typed"


def words_of(job, now):
    """Things that may be said of a job of a random plan, all on days up to now."""
    on = (now - timedelta(days=1)).isoformat()
    ahead = (now + timedelta(days=9)).isoformat()
    return [
        f"promised {job.code} {ahead}", f"ordered {job.code} on {on}", f"paid {job.code} on {on}", f"started {job.code} on {on}",
        f"made {job.code}", f"left {job.code} on {on}", f"in {job.code} on {on}", f"finished {job.code}", f"paused {job.code} until {ahead}",
        f"called-off {job.code}", f"set {job.code} lead=9wd travel=3cd", f"set {job.code} not_before={ahead}",
    ]  # fmt: skip


def ran(program, *words):
    """The outcome of a command that may be refused."""
    return CliRunner().invoke(app, ["--db", str(program.database), *words])


@pytest.mark.parametrize("seed", range(25))
def test_a_try_gives_the_dates_that_logging_the_same_words_gives(empty, seed):
    """Random plans without parts; what the log refuses is refused."""
    known, now = random_plan(seed, jobs=6)
    whole = (replace(one, closes=True) if one.kind == "in" else one for one in known.facts)
    known = replace(known, facts=tuple(whole))
    (empty.database.parent / "plan.toml").write_text(write_plan(known), encoding="utf-8")
    today = ("--today", now.isoformat())
    empty("new")
    empty("read", "plan.toml", *today, "--yes")
    job = known.jobs[seed % len(known.jobs)]
    for number, said in enumerate(words_of(job, now)):
        if number % 4 != seed % 4:
            continue
        words = shlex.split(said)
        before = empty.database.read_bytes()
        ahead = ran(empty, "try", *words, *today, "--json")
        assert empty.database.read_bytes() == before
        logged = ran(empty, *words, *today, "--json")
        assert ahead.exit_code == logged.exit_code, (said, ahead.stderr, logged.stderr)
        if ahead.exit_code == 0:
            view, answer = json.loads(ahead.stdout)["answer"], json.loads(logged.stdout)
            assert (view["moves"], view["harmless"]) == (answer["moves"], answer["harmless"]), said


def test_tries_with_parts_give_what_logging_them_gives(program):
    lines = (
        "in natural 52 rework 5 scrap 3",
        "made smt-last 40",
        "scrap housing-graphite 3",
        "called-off rework-graphite",
        "rework natural 4",
    )
    for line in lines:
        words = line.split()
        view = program.json("try", *words)["answer"]
        answer = program.json(*words)
        for key in ("moves", "harmless", "coverage", "shortages", "counts"):
            assert view[key] == answer[key], (line, key)

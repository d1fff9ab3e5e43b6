"""Gates and their second attempts: results, what stays shut behind them, whom to tell to hold. Day 0 is 1 June 2026."""

from dataclasses import replace

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import picture, printed
from tracker.plan.model import Link, Shipment
from tracker.render.gates_text import write_gates
from tracker.report.gates import gate_report
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast

TEXT = "cut:5wd@shop check:2 mill:9wd@shop coat:4wd@shop build:2 side:3 | cut>check check>mill mill>coat coat>build side>build"
GATE = {"check": {"gate": True}}
CUT = fact("finished", "cut", 4)
FAILED = fact("failed", "check", 7, note="bore tight")
MENDED = "cut:5wd@shop check:2 mend:3wd@shop again:2 mill:9wd@shop | cut>check mend>again check>mill"
RETRY = {
    "check": {"gate": True},
    "mend": {"after": (Link(job="check", on="fail"),)},
    "again": {"gate": True, "retry_of": "check"},
}


def gates_of(seen):
    return gate_report(seen).gates


def text_of(seen, width=80):
    return printed(write_gates, gate_report(seen), width=width)


def test_a_gate_to_come_says_what_it_waits_for_and_when_it_may_pass():
    seen = picture(TEXT, fact("started", "cut", 0), jobs=GATE)
    (row,) = gates_of(seen)
    assert (row.gate, row.state, row.results, row.to_plan) == ("check", "to come", (), False)
    assert [(one.job, one.arrives) for one in row.shut.waits_for] == [("cut", day(4))]
    assert row.shut.may_pass == day(6)
    assert "NOT DUE, may pass Sun 7 Jun at the earliest" in text_of(seen)
    assert "waits for cut (shop) IN WORK, here Fri 5 Jun" in text_of(seen)


def test_all_behind_a_gate_is_counted_near_or_far_and_nothing_beside_it():
    shut = gates_of(picture(TEXT, jobs=GATE))[0].shut
    assert (shut.next_jobs, shut.open_jobs, shut.shipments) == (("mill",), 3, ("wave-1",))
    assert shut.not_begun == ("mill", "coat", "build")


def test_a_shipment_that_does_not_go_through_the_gate_is_not_blocked():
    waves = (
        Shipment(code="w-1", quantity=1, after=("side",)),
        Shipment(code="w-2", quantity=1, after=("build",)),
    )
    assert gates_of(picture(TEXT, jobs=GATE, shipments=waves))[0].shut.shipments == ("w-2",)


def test_a_gate_that_ends_a_shipment_blocks_it_by_itself():
    shut = gates_of(picture("build:2 check:1 | build>check", jobs=GATE))[0].shut
    assert (shut.next_jobs, shut.open_jobs, shut.shipments) == ((), 0, ("wave-1",))
    assert "blocks wave-1" in text_of(picture("build:2 check:1 | build>check", jobs=GATE))


def test_special_links_count_as_behind():
    shut = gates_of(picture("check:2 a:2 b:2 | check>a+2cd a>|b", jobs=GATE))[0].shut
    assert shut.open_jobs == 2


def test_a_failed_gate_without_a_second_attempt_says_so_and_how_to_plan_one():
    seen = picture(TEXT, CUT, FAILED, today=8, jobs=GATE)
    (row,) = gates_of(seen)
    assert (row.state, row.to_plan, row.opener) == ("failed", True, "check")
    assert row.shut.may_pass == day(9)  # again from today, Tuesday 9, for two days
    text = text_of(seen)
    assert "check FAILED, stays shut: nothing behind it is released" in text
    assert "failed Mon 8 Jun: bore tight" in text
    assert "no second attempt is planned: dates count on another try at best" in text
    assert "tracker rework check by SUPPLIER lead 12wd" in text


def test_a_failed_gate_with_a_second_attempt_is_one_family_and_waits_for_the_mending():
    seen = picture(MENDED, CUT, FAILED, fact("ordered", "mend", 7), today=8, jobs=RETRY)
    (row,) = gates_of(seen)
    assert (row.gate, row.attempts, row.opener, row.to_plan) == ("check", ("check", "again"), "again", False)
    assert [one.job for one in row.shut.waits_for] == ["mend"]
    assert row.shut.not_begun == ("mill",)
    text = text_of(seen)
    assert "check failed Mon 8 Jun: bore tight" in text
    assert "second attempt again NOT DUE, may pass Sat 13 Jun at the earliest" in text
    assert "rework" not in text


def test_the_gate_stands_before_its_second_attempt_also_where_the_plan_has_it_after():
    turned = "again:2 mend:3wd@shop cut:5wd@shop check:2 mill:9wd@shop | cut>check mend>again check>mill"
    (row,) = gates_of(picture(turned, CUT, jobs=RETRY, today=5))
    assert row.attempts == ("check", "again")


def test_a_second_attempt_that_failed_too_is_the_one_to_plan_anew():
    facts = (CUT, FAILED, fact("finished", "mend", 10), fact("failed", "again", 12, note="still tight"))
    (row,) = gates_of(picture(MENDED, *facts, today=14, jobs=RETRY))
    assert [(one.job, one.on, one.note) for one in row.results] == [
        ("check", day(7), "bore tight"),
        ("again", day(12), "still tight"),
    ]
    assert (row.opener, row.to_plan) == ("again", True)


def test_a_passed_gate_is_one_line_with_who_opened_it_and_its_failures():
    facts = (CUT, FAILED, fact("finished", "mend", 10), fact("passed", "again", 12))
    seen = picture(MENDED, *facts, today=14, jobs=RETRY)
    (row,) = gates_of(seen)
    assert (row.state, row.passed_on, row.shut) == ("passed", day(12), None)
    assert text_of(seen).splitlines()[1:] == [
        "",
        "  check  passed Sat 13 Jun by again, had failed Mon 8 Jun",
    ]


def test_a_result_after_the_day_looked_at_does_not_count():
    assert gates_of(picture(TEXT, CUT, FAILED, today=6, jobs=GATE))[0].state == "to come"
    assert gates_of(picture(TEXT, CUT, FAILED, today=7, jobs=GATE))[0].state == "failed"


LET_OUT = {
    "ordered": (fact("ordered", "mill", 1), "ordered", 1),
    "given": (fact("given", "mill", 2, what="payment"), "payment given", 2),
    "started": (fact("started", "mill", 3), "started", 3),
    "made in part": (fact("made", "mill", 4, good=9), "begun", 4),
    "made": (fact("made", "mill", 4), "made", 4),
    "left": (fact("left", "mill", 5), "left", 5),
    "in": (fact("in", "mill", 6, good=40), "part in", 6),
}


@pytest.mark.parametrize("kind", LET_OUT)
def test_work_let_out_behind_a_shut_gate_names_its_supplier_and_how_far_it_is(kind):
    logged, step, on = LET_OUT[kind]
    jobs = {**GATE, "mill": {"quantity": 100}}
    seen = picture(TEXT, CUT, logged, FAILED, today=8, jobs=jobs)
    (hold,) = gates_of(seen)[0].shut.hold
    assert (hold.supplier, [(one.job, one.step, one.on) for one in hold.jobs]) == (
        "shop",
        [("mill", step, day(on))],
    )
    assert gates_of(seen)[0].shut.not_begun == ("coat", "build")
    text = text_of(seen)
    assert "tell them to hold:" in text
    assert f"mill {step}" in text


def test_what_is_cut_already_is_named_with_its_good_pieces():
    jobs = {**GATE, "mill": {"quantity": 100}}
    seen = picture(TEXT, CUT, fact("in", "mill", 6, good=97, scrap=3), FAILED, today=8, jobs=jobs)
    shut = gates_of(seen)[0].shut
    assert [(one.job, one.on, one.good) for one in shut.done] == [("mill", day(6), 97)]
    assert (shut.hold, shut.not_begun, shut.open_jobs) == ((), ("coat", "build"), 2)
    assert shut.next_jobs == ()
    assert "done already: mill Sun 7 Jun (97 good)" in text_of(seen)


def test_before_the_gate_has_failed_nobody_is_told_to_hold_but_what_was_let_out_is_named():
    seen = picture(TEXT, CUT, fact("ordered", "mill", 1), today=5, jobs=GATE)
    assert "let out already, before it passed:" in text_of(seen)
    assert "hold" not in text_of(seen)


def test_our_own_bench_comes_last_of_those_to_hold():
    facts = (CUT, fact("started", "build", 6), fact("ordered", "coat", 5), FAILED)
    suppliers = (BENCH, replace(SHOP, name="The Shop", contact="Ann, 0-555"))
    seen = picture(TEXT, *facts, today=8, jobs=GATE, suppliers=suppliers)
    assert [one.supplier for one in gates_of(seen)[0].shut.hold] == ["shop", "bench"]
    assert "shop  The Shop  Ann, 0-555\n" in text_of(seen)
    assert "bench  our own bench\n" in text_of(seen)


def test_what_we_owe_the_gate_itself_is_said():
    text = "cut:2 check:2wd@shop build:1 | cut>check check>build"
    seen = picture(text, fact("finished", "cut", 1), today=3, jobs=GATE)
    assert gates_of(seen)[0].shut.missing == ("order",)
    assert "waits for order from us" in text_of(seen)


def test_a_gate_that_rests_on_no_news_may_pass_at_best():
    seen = picture(TEXT, fact("started", "cut", 0), today=9, jobs=GATE)
    assert gates_of(seen)[0].shut.at_best == ("cut",)
    assert "AT BEST: no news from 1 job (cut)" in text_of(seen)


def test_failed_gates_come_first_then_the_soonest_to_come_then_those_passed():
    text = "won:1 late:9 soon:3 lost:1 end:1 | won>end late>end soon>end lost>end"
    jobs = {code: {"gate": True} for code in ("won", "late", "soon", "lost")}
    facts = (fact("passed", "won", 0), fact("failed", "lost", 1))
    seen = picture(text, *facts, today=2, jobs=jobs)
    assert [row.gate for row in gates_of(seen)] == ["lost", "soon", "late", "won"]


def test_a_gate_called_off_and_one_not_needed_play_no_part():
    called = picture(TEXT, CUT, fact("called_off", "check", 5), today=6, jobs=GATE)
    assert (gates_of(called)[0].state, gates_of(called)[0].shut) == ("called off", None)
    assert "  check  called off" in text_of(called)
    jobs = {**GATE, "spare": {"gate": True, "after": (Link(job="check", on="fail"),)}}
    waiting = picture(f"spare:1 {TEXT}", jobs=jobs)
    assert {row.gate: row.state for row in gates_of(waiting)} == {"spare": "not needed", "check": "to come"}
    assert "spare  not needed as things stand" in text_of(waiting)


def test_a_run_without_gates_says_how_to_make_one():
    assert "no job of this run is a gate: tracker set JOB gate=yes makes one" in text_of(picture("a:1"))


def test_the_date_it_may_pass_is_the_one_it_passes_on_when_all_goes_as_forecast():
    seen = picture(MENDED, CUT, FAILED, fact("ordered", "mend", 7), today=8, jobs=RETRY)
    may_pass = gates_of(seen)[0].shut.may_pass
    passed = fact("passed", "again", (may_pass - day(0)).days)
    facts = (*seen.plan.facts, fact("finished", "mend", 9), passed)
    after = Picture(Forecast(replace(seen.plan, facts=facts), may_pass))
    assert after.forecast.shipment_dates == seen.forecast.shipment_dates


# The demo. Invented scenario.


def test_the_demos_gates_have_passed(program):
    assert list(program.json("gates")) == ["today", "gates"]
    assert program.out("gates").splitlines()[2:] == [
        "  fit-check-c  passed Fri 7 Aug by fit-check-d, had failed Mon 20 Jul",
        "  emc          passed Tue 17 Nov, had failed Thu 20 Aug",
    ]


def test_a_fit_check_that_fails_again_shuts_the_gate_and_says_whom_to_tell(program):
    program("failed", "fit-check-d", "bezel bore tight")
    row = program.json("gates")["gates"][0]
    assert (row["gate"], row["state"], row["to_plan"]) == ("fit-check-c", "failed", True)
    told = {one["supplier"]: [job["job"] for job in one["jobs"]] for one in row["shut"]["hold"]}
    assert told == {
        "varne": ["finish-natural", "rework-graphite"],
        "orlice": ["smt-last"],
        "qingsha": ["licence"],
        "moinho": ["boxes"],
        "marlgate": ["air-freight", "glass-sea"],
    }
    cut = {one["job"]: one["good"] for one in row["shut"]["done"]}
    assert (cut["bases"], cut["bezels"], cut["finish-graphite"]) == (266, 269, 149)
    assert row["shut"]["shipments"] == ["wave-1", "wave-2"]
    assert "tracker rework fit-check-d by SUPPLIER lead 12wd" in program.out("gates")


def test_the_command_that_is_shown_plans_the_second_attempt(program):
    program("failed", "fit-check-d", "bezel bore tight")
    shown = next(line for line in program.out("gates").splitlines() if "plan one:" in line)
    words = shown.partition("tracker ")[2].replace("SUPPLIER", "tolmark").split()
    program(*words)
    row = program.json("gates")["gates"][0]
    assert (row["gate"], row["state"], row["to_plan"]) == ("fit-check-c", "failed", False)
    assert len(row["attempts"]) == 3
    assert [one["supplier"] for one in row["shut"]["waits_for"]] == ["tolmark"]

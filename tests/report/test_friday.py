"""The news of a week on small runs, and when backers hear of it."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.explain.moved import movement
from tracker.plan.model import Fact, Job, Link, Plan, Run, Shipment, Supplier, Told
from tracker.plan.span import Lead
from tracker.report.backers_moved import backers_moved
from tracker.report.friday import friday
from tracker.report.logged import Entries
from tracker.report.moved import moved_report
from tracker.report.news import News, facts_after
from tracker.report.next_word import next_word
from tracker.report.picture import Picture
from tracker.report.public_discretion import PublicDiscretion
from tracker.schedule.forecast import Forecast

MONDAY, FRIDAY = date(2026, 3, 2), date(2026, 3, 13)
FIVE = Lead(5, 5, 5, "wd")


def day(text):
    return date.fromisoformat(f"2026-{text}")


def fact(kind, on, **more):
    return Fact(kind=kind, on=day(on), logged=day(on), **more)


def run(*facts, **changes):
    """Ordered housings, a check of them, packing at our own bench, in one shipment."""
    plan = Plan(
        run=Run(code="run-1", quantity=100, start=MONDAY),
        suppliers=(
            Supplier(
                code="mill", name="Harlow Milling Ltd", public_name="our mill", contact="Ada, 0-555-0199"
            ),
            Supplier(code="bench", inhouse=True, contact="Wim"),
        ),
        jobs=(
            Job(code="housing", public_name="Housings", supplier="mill", lead=FIVE, quantity=100),
            Job(
                code="check",
                supplier="bench",
                lead=Lead(1, 1, 1, "wd"),
                after=(Link(job="housing"),),
                gate=True,
            ),
            Job(code="pack", supplier="bench", lead=FIVE, after=(Link(job="check"),)),
        ),
        shipments=(Shipment(code="wave-1", quantity=100, after=("pack",)),),
        facts=(fact("ordered", "03-02", job="housing"), *facts),
    )
    return replace(plan, **changes)


def page(plan, today=FRIDAY, since=MONDAY):
    """The page where every fact is news."""
    picture = Picture(Forecast(plan, today))
    moved = moved_report(
        movement(plan, since.toordinal(), (), today.toordinal()),
        lambda *_: (),
        today=today,
        since=since,
        until=today,
        since_told=False,
    )
    return friday(picture, News(since=since, told=False, facts=plan.facts, moved=moved))


# Came in


def test_deliveries_of_one_job_are_added_up_in_one_row():
    view = page(
        run(
            fact("in", "03-09", job="housing", good=40, scrap=2),
            fact("in", "03-10", job="housing", good=30, rework=5),
        )
    )
    (row,) = view.came
    assert (row.good, row.rework, row.scrap, row.pieces, row.last) == (70, 5, 2, 77, day("03-10"))
    assert not row.whole


def test_pieces_counted_and_then_judged_count_once():
    counted = fact("in", "03-09", job="housing", count=100)
    (row,) = page(run(counted)).came
    assert (row.unjudged, row.pieces) == (100, 100)
    (row,) = page(run(counted, fact("sorted", "03-10", job="housing", good=60, scrap=4))).came
    assert (row.good, row.scrap, row.unjudged, row.pieces, row.kind) == (60, 4, 36, 100, "in")


def test_what_a_supplier_made_has_not_come_but_what_our_bench_made_has():
    view = page(run(fact("made", "03-09", job="housing", good=10), fact("made", "03-10", job="pack", good=4)))
    assert [(row.job, row.good) for row in view.came] == [("pack", 4)]


def test_a_pass_that_a_later_failure_overruled_is_not_among_what_came():
    passed, failed = fact("passed", "03-10", job="check"), fact("failed", "03-11", job="check")
    assert [row.kind for row in page(run(passed)).came] == ["passed"]
    assert page(run(passed, failed)).came == ()


def test_units_posted_came_out_of_a_shipment():
    (row,) = page(run(fact("posted", "03-12", shipment="wave-1", good=30))).came
    assert (row.job, row.shipment, row.good, row.whole) == ("", "wave-1", 30, False)


# Went wrong


def promised(on, until, **more):
    return fact("promised", on, job="housing", day=day(until), **more)


def test_a_slip_counts_from_the_promise_known_before():
    plan = run(promised("03-03", "03-16"), promised("03-05", "03-20"), promised("03-09", "03-18"))
    picture_today = Picture(Forecast(plan, FRIDAY))
    view = page(plan)
    (slip,) = view.went_wrong.slips
    assert (slip.days, slip.slip) == ((day("03-16"), day("03-20"), day("03-18")), 2)
    news = News(since=day("03-06"), told=True, facts=plan.facts[-1:], moved=view.moved)
    assert friday(picture_today, news).went_wrong.slips == ()


def test_a_date_that_comes_forward_or_only_for_some_of_the_pieces_is_no_slip():
    assert page(run(promised("03-03", "03-20"), promised("03-09", "03-18"))).went_wrong.slips == ()
    parts = run(promised("03-03", "03-16", good=60), promised("03-03", "03-20", good=40))
    assert page(parts).went_wrong.slips == ()


def test_a_slip_of_what_has_come_since_is_no_longer_told():
    slipped = (promised("03-03", "03-09"), promised("03-05", "03-10"))
    assert page(run(*slipped)).went_wrong.slips
    assert page(run(*slipped, fact("in", "03-10", job="housing", good=100))).went_wrong.slips == ()


def test_a_failure_tells_whether_it_has_passed_since_and_whether_another_try_is_planned():
    here = fact("in", "03-09", job="housing", good=100)
    failed = fact("failed", "03-10", job="check", note="bore tight")
    (row,) = page(run(here, failed)).went_wrong.failed
    assert (row.on, row.note, row.passed_on, row.to_plan) == (day("03-10"), "bore tight", None, True)
    (row,) = page(run(here, failed, fact("passed", "03-12", job="check"))).went_wrong.failed
    assert (row.passed_on, row.to_plan) == (day("03-12"), False)


def test_a_promise_that_passed_is_silent_and_one_its_inputs_cannot_meet_cannot_hold():
    view = page(run(promised("03-03", "03-10"), fact("promised", "03-04", job="pack", day=day("03-20"))))
    assert [row.code for row in view.went_wrong.silent] == ["housing"]
    assert [row.code for row in view.went_wrong.cannot_hold] == ["pack"]


# What is news


def test_only_what_was_logged_or_corrected_after_the_last_word_is_news():
    plan = run(fact("note", "03-03", job="housing"), fact("note", "03-04", job="pack"), fact("note", "03-20"))
    entries = Entries(numbers=(1, 2, 5, 6), before={0: ((4, plan.facts[0]),)})
    assert facts_after(plan, entries, 3, FRIDAY) == (plan.facts[0], plan.facts[2])
    assert facts_after(plan, entries, 4, FRIDAY) == (plan.facts[2],)
    assert facts_after(plan, entries, 5, day("03-20")) == (plan.facts[3],)


def test_what_stood_told_before_today_stays_beside_what_is_told_today():
    told = (Told(on=MONDAY, last=day("03-20")), Told(on=FRIDAY, last=day("03-27")))
    plan = run()
    (one,) = page(replace(plan, shipments=(replace(plan.shipments[0], told=told),))).shipments
    assert (one.told_then, one.row.told) == told


def test_jobs_to_look_after_are_those_whose_turn_it_is_not_those_that_follow():
    view = page(run())
    assert ([row.job for row in view.risks], view.behind) == (["housing"], 2)


# The next word


@given(st.dates(date(2026, 1, 1), date(2027, 12, 31)))
def test_the_next_word_is_the_friday_of_the_week_after_and_never_more_than_a_fortnight_away(today):
    """A word every two weeks at least, also when nothing changed: common practice, no source."""
    word = next_word(run(), today)
    assert word.following.isocalendar()[:2] == (today + timedelta(days=7)).isocalendar()[:2]
    assert word.following.isoweekday() == 5
    assert timedelta(0) < word.following - today <= timedelta(days=14)


@pytest.mark.parametrize(("today", "overdue"), [("03-16", 0), ("03-17", 1), ("03-30", 14)])
def test_a_word_is_due_a_fortnight_after_the_last_one(today, overdue):
    plan = run()
    plan = replace(plan, shipments=(replace(plan.shipments[0], told=(Told(on=MONDAY, words="soon"),)),))
    word = next_word(plan, day(today))
    assert (word.last, word.due, word.overdue) == (MONDAY, day("03-16"), overdue)


def test_nothing_told_yet_is_not_overdue_by_any_count():
    word = next_word(run(), FRIDAY)
    assert (word.last, word.due, word.overdue) == (None, None, 0)


# What backers may read


@pytest.mark.parametrize(
    ("text", "trouble"),
    [
        ("go on with the housings", ""),
        ("we pay our mill today", ""),
        ("second source priced", ""),
        ("mill: go on", "names a supplier or a person"),
        ("ask Harlow", "names a supplier or a person"),
        ("ring 0-555-0199", "names a supplier or a person"),
        ("Ada will send it", "names a supplier or a person"),
        ("Wim builds on Saturday", "names a supplier or a person"),
        ("pay 704 EUR", "speaks of money"),
        ("priced at 704", "speaks of money"),
        ("reworked parts go last", "speaks of rejects"),
        ("Berg will call", "names a supplier or a person"),
        ("bo will call", "names a supplier or a person"),
        ("House comes on Monday", "names a supplier or a person"),
        ("a house for each", ""),
        ("ring 05550199", "names a supplier or a person"),
        ("ask the desk on Monday, or on Friday", ""),
        ("check comes before packing", "names a job, part or shipment without a public name"),
        ("hold wave-1", "names a job, part or shipment without a public name"),
        ("rings at 4.20", "speaks of money"),
        ("rings at 1,763.00", "speaks of money"),
        ("9 each", "speaks of money"),
        ("176 apiece", "speaks of money"),
        ("1763 in all", "speaks of money"),
        ("build 12 each day", ""),
        ("bore 0.06 mm wider from 24.11.2026", ""),
        ("redo the 15 blotchy ones", "speaks of rejects"),
        ("fifteen are faulty", "speaks of rejects"),
        ("strip and remake 15", "speaks of rejects"),
        ("redo the artwork by 27 Nov 2026", ""),
        ("redo the artwork", ""),
    ],
)
def test_a_text_is_judged_by_whom_and_how_much_it_names(text, trouble):
    mill = replace(run().suppliers[0], public_name="our workshop" if "mill:" in text else "our mill")
    mill = replace(mill, contact="Ada, or ask Bo Berg, House desk Mon-Fri: 0-555-0199")
    plan = replace(run(), suppliers=(mill, run().suppliers[1]))
    assert PublicDiscretion(plan).trouble(text) == trouble


def test_a_code_of_a_step_that_has_a_public_name_may_stand():
    plan = run()
    jobs = tuple(replace(job, public_name="Packing") for job in plan.jobs)
    named = replace(plan, jobs=jobs)
    assert PublicDiscretion(plan).trouble("pack on Saturday")
    assert PublicDiscretion(named).trouble("pack on Saturday") == ""


def moved_lines(plan, today=FRIDAY):
    view = page(plan, today).moved
    picture = Picture(Forecast(plan, today))
    return backers_moved(picture, view, lambda code: code.upper(), {"wave-1": "First parcels"})


def test_a_cause_is_told_in_plain_words_after_which_way_it_went():
    (line,) = moved_lines(run(promised("03-02", "03-06"))).lines
    assert (line.name, line.why) == ("HOUSING", "a supplier's date slipped")
    (line,) = moved_lines(run(facts=())).lines
    assert (line.name, line.why) == ("HOUSING", "our own delay")
    here, failed = fact("in", "03-02", job="housing", good=100), fact("failed", "03-02", job="check")
    (line,) = moved_lines(run(here, failed)).lines
    assert line.why == "a check failed and had to be tried again"


def test_lines_add_up_to_the_shipments_days():
    moved = moved_lines(run(promised("03-02", "03-06")))
    (one,) = moved.shipments
    assert one.days == (one.after - one.before).days > 0
    assert sum(line.days[0] for line in moved.lines) == one.days

"""Closures as cliffs. Day 0 is Monday 1 June 2026; the shop works Monday to Friday and is shut from day 18 to 29.

Day 18 is Friday the 19th, day 29 Tuesday the 30th, so Thursday the 18th is its last day and Wednesday 1 July the
first after.
"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.build import BENCH, MONDAY, SHOP, day, fact, plan
from tests.report.asking import picture, printed
from tests.schedule.random_plans import random_plan
from tracker.plan.calendars import calendars_of
from tracker.plan.model import Closure, Fact, Plan, PublicHolidays, Run, Shipment, Supplier
from tracker.plan.shut import stretches
from tracker.plan.span import Span
from tracker.render.closures_text import write_closures
from tracker.report.closures import closures
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast

CLOSURE = Closure(first=day(18), last=day(29), why="summer break")
SHUT = replace(SHOP, closures=(CLOSURE,))
LAST, NEXT = day(17), day(30)
TEXT = "housing:5wd@shop pack:2 | housing>pack"


def view_of(text, *facts, days=60, suppliers=(BENCH, SHUT), **more):
    return closures(picture(text, *facts, suppliers=suppliers, **more), days)


def only_job(view):
    (row,) = view.rows
    (job,) = row.jobs
    return job


def text_of(view, width=200):
    return printed(write_closures, view, width=width)


def dates(text, *facts, today, suppliers=(BENCH, SHUT), **more):
    return Forecast(plan(text, facts=facts, suppliers=suppliers, **more), day(today))


def gave(what, on):
    return fact("ordered", "housing", on) if what == "order" else fact("given", "housing", on, what=what)


@pytest.mark.parametrize("what", ["order", "payment", "drawing", "proof", "material"])
@pytest.mark.parametrize("bank", [Span(0), Span(2, "wd"), Span(3)])
@pytest.mark.parametrize("bench", ["all", "mon-fri", "mon,wed"])
@pytest.mark.parametrize("lead", [4, 5, 6])
def test_acting_on_the_last_day_is_ready_before_they_shut_and_a_day_of_ours_later_is_not(
    what, bank, bench, lead
):
    """The changed plan, seen on the day of the act, is forecast afresh; nothing of the report is used for it."""
    ours, shop = replace(BENCH, workdays=bench), replace(SHUT, bank=bank)
    text = f"housing:{lead}wd@shop pack:2 | housing>pack"
    more = {"jobs": {"housing": {"clock": (what,)}}, "suppliers": (ours, shop)}
    seen = picture(text, **more)
    job = only_job(closures(seen, 60))
    (act,) = job.acts
    assert (job.how, act.kind, act.what, job.last_ready) == ("in time", "give", (what,), LAST)
    on = (act.by - MONDAY).days
    then = on + 1
    while not calendars_of(seen.plan)["bench"].is_working(day(then).toordinal()):
        then += 1
    in_time, late = (dates(text, gave(what, one), today=one, **more) for one in (on, then))
    lot = in_time.lot_of("housing")
    assert in_time.times.finish[lot] <= LAST.toordinal()
    assert late.times.finish[lot] == job.day_later.ready.toordinal() >= NEXT.toordinal()
    (move,) = job.day_later.moves
    assert late.shipment_dates["wave-1"] == move.after.toordinal()
    assert move.days == (move.after - move.before).days > 0


@pytest.mark.parametrize("lag", [Span(0), Span(2), Span(1, "wd")])
def test_inputs_here_on_the_last_day_are_in_time_and_a_day_later_not(lag):
    text = f"draw:3@shop housing:5wd@shop pack:2 | draw>housing+{lag.days}{lag.unit} housing>pack"
    facts = (fact("ordered", "draw", 0), fact("ordered", "housing", 0))
    view = view_of(text, *facts)
    job = only_job(view)  # the drawing counts calendar days, so no closure touches it
    (act,) = job.acts
    assert (job.job, act.kind, act.what) == ("housing", "inputs", ("draw",))
    on = (act.by - MONDAY).days
    for came, ready in ((on, LAST), (on + 1, NEXT)):
        after = dates(text, *facts, fact("in", "draw", came, good=1), today=came)
        assert after.times.finish[after.lot_of("housing")] == ready.toordinal()
    assert job.day_later.ready == NEXT


def test_a_job_in_work_has_to_be_ready_on_their_last_day():
    facts = (fact("started", "housing", 0), fact("promised", "housing", 0, day=7))
    job = only_job(view_of(TEXT, *facts))
    assert [(act.kind, act.by) for act in job.acts] == [("ready", LAST)]
    assert (job.promise, job.day_later.ready, job.day_later.days) == (day(7), NEXT, 13)
    # packed for two days on a bench that works every day: the 20th, or 3 July
    assert [(move.before, move.after, move.days) for move in job.day_later.moves] == [(day(19), day(32), 13)]


def test_a_bench_job_with_everything_there_has_to_begin_in_time():
    ours = replace(BENCH, workdays="mon-fri", closures=(CLOSURE,))
    job = only_job(view_of("build:4wd", suppliers=(ours,)))
    assert [(act.kind, act.by) for act in job.acts] == [("start", day(14))]
    assert "build  ready Thu 4 Jun; before we shut if begun by Mon 15 Jun" in text_of(
        view_of("build:4wd", suppliers=(ours,))
    )


def test_too_late_counts_the_working_days_it_misses_their_last_day_by():
    text = "housing:5wd@shop pack:2 | housing>pack"
    job = only_job(view_of(text, today=14, jobs={"housing": {"clock": ("payment",)}}))
    # paid today, Monday 15 June, worked Tuesday to Thursday and then 1 and 2 July
    assert (job.how, job.ready, job.too_late, job.still) == ("across", day(31), 2, 12)
    assert (job.acts[0].by, job.day_later) == (day(10), None)
    said = text_of(view_of(text, today=14, jobs={"housing": {"clock": ("payment",)}}))
    assert "housing  ready Thu 2 Jul, runs across it and stands still 12 days" in said
    assert "2 working days too late to be ready before it: we had to pay by Thu 11 Jun" in said


@pytest.mark.parametrize(("drawn", "still"), [(18, 12), (22, 8), (29, 1)])
def test_inputs_that_come_while_they_are_shut_wait_until_they_open(drawn, still):
    """Drawn by the evening before day 22, say, it could begin that day, eight days before they open on day 30."""
    text = f"draw:{drawn} housing:5wd@shop pack:2 | draw>housing housing>pack"
    job = only_job(view_of(text, fact("ordered", "housing", 0)))
    assert (job.how, job.still, job.too_late) == ("waits", still, 5)


def test_a_job_that_waits_for_them_to_open_says_how_long():
    text = "draw:22 housing:5wd@shop pack:2 | draw>housing housing>pack"
    assert "waits 8 days until they open again" in text_of(view_of(text, fact("ordered", "housing", 0)))


def test_a_job_that_begins_after_it_anyway_is_only_named():
    text = "draw:40 housing:5wd@shop pack:2 | draw>housing housing>pack"
    view = view_of(text)
    assert (view.rows, view.untouched[0].begin_after) == ((), ("housing",))
    said = text_of(view)
    assert "none meets an open job" in said
    assert "cannot matter, no open job meets them: shop Fri 19 Jun to Tue 30 Jun" in said


@pytest.mark.parametrize(
    "facts",
    [
        (fact("made", "housing", 1, good=1),),
        (fact("left", "housing", 1),),
        (fact("in", "housing", 1, good=1),),
        (fact("called_off", "housing", 1),),
    ],
)
def test_what_is_made_or_not_wanted_no_closure_touches(facts):
    view = view_of("housing:5wd@shop other:1 | housing>other", *facts, today=1)
    assert view.rows == ()


def test_calendar_days_run_through_a_closure():
    assert view_of("sea:40@shop pack:2 | sea>pack").rows == ()


@pytest.mark.parametrize(("to", "how"), [(17, "in time"), (18, "across"), (29, "across"), (30, "across")])
def test_a_date_in_time_is_their_last_day_or_before(to, how):
    facts = (fact("started", "housing", 0), fact("promised", "housing", 0, day=to))
    assert only_job(view_of(TEXT, *facts)).how == how


def test_a_date_promised_for_a_day_they_are_shut_is_called_that():
    facts = (fact("started", "housing", 0), fact("promised", "housing", 0, day=21))
    job = only_job(view_of(TEXT, *facts))
    assert (job.how, job.too_late, job.still) == ("across", 0, 0)
    said = text_of(view_of(TEXT, *facts))
    assert "housing  promised Mon 22 Jun, while they are shut" in said
    assert "to be ready before it: it would have to be ready by Thu 18 Jun" in said


def test_a_date_that_rests_on_silence_is_at_best():
    job = only_job(view_of(TEXT, fact("started", "housing", 0), today=9))
    assert (job.how, job.at_best) == ("in time", True)
    assert "ready Wed 10 Jun AT BEST" in text_of(view_of(TEXT, fact("started", "housing", 0), today=9))


def test_a_job_in_time_for_one_closure_is_left_out_of_the_next():
    again = replace(SHUT, closures=(CLOSURE, Closure(first=day(42), last=day(53))))
    view = view_of(TEXT, suppliers=(BENCH, again))
    assert [(row.first, [job.job for job in row.jobs]) for row in view.rows] == [(day(18), ["housing"])]
    # the second begins on Saturday 11 July, the weekend before it
    assert [(row.first, row.jobs) for row in view.untouched] == [(day(40), ())]


def test_closures_come_by_the_day_to_act_not_by_the_day_they_begin():
    early = replace(SHUT, code="early", closures=(Closure(first=day(15), last=day(29)),))
    text = "short:2wd@early long:9wd@shop pack:2 | short>pack long>pack"
    view = view_of(text, suppliers=(BENCH, early, SHUT))
    assert [row.supplier for row in view.rows] == ["shop", "early"]
    acts = [row.jobs[0].acts[0].by for row in view.rows]
    assert acts == sorted(acts)


@pytest.mark.parametrize(("days", "rows"), [(17, 0), (18, 1)])
def test_only_closures_that_begin_within_the_days_asked_for(days, rows):
    assert len(view_of(TEXT, days=days).rows) == rows


def test_a_closure_that_has_begun_is_still_shown():
    job = only_job(view_of(TEXT, fact("ordered", "housing", 20), today=24))
    assert (job.how, job.ready) == ("waits", day(36))


def ready_dates(made, job, to, today):
    """Shipment dates with the job promised to leave on that day, all else as it is."""
    news = Fact(on=today, logged=today, kind="promised", job=job, day=to, means="leaves")
    return Forecast(replace(made, facts=(*made.facts, news)), today).shipment_dates


@pytest.mark.parametrize("seed", range(80))
def test_on_random_plans_a_day_later_moves_exactly_what_is_said(seed):
    """Each date is set by a promise in a changed plan and forecast afresh."""
    made, today = random_plan(seed)
    seen = Picture(Forecast(made, today))
    index = seen.forecast.network.index
    for row in closures(seen, 120).rows:
        for job in row.jobs:
            finish = seen.forecast.times.finish[index[job.job]]
            assert (job.how == "in time") == (finish <= job.last_ready.toordinal())
            if job.day_later is None or made.job_by_code[job.job].leave_when:
                continue
            before = ready_dates(made, job.job, job.last_ready, today)
            after = ready_dates(made, job.job, job.day_later.ready, today)
            assert {code for code in after if after[code] != before[code]} == {
                move.shipment for move in job.day_later.moves
            }
            for move in job.day_later.moves:
                code = move.shipment
                assert (before[code], after[code]) == (move.before.toordinal(), move.after.toordinal())


days_of_june = st.integers(0, 60)


@given(
    spans=st.lists(st.tuples(days_of_june, st.integers(0, 12)), max_size=4),
    public=st.lists(days_of_june, max_size=6),
    opens=st.lists(days_of_june, max_size=4),
    workdays=st.sampled_from(["mon-fri", "mon-sat", "all", "mon,thu", "wed"]),
    begin=st.integers(0, 20),
    length=st.integers(1, 50),
)
def test_stretches_are_all_runs_without_work_that_lose_an_ordinary_day(
    spans, public, opens, workdays, begin, length
):
    """Against plain stepping through sets of days."""
    listed = tuple(Closure(first=day(first), last=day(first + more)) for first, more in spans)
    shop = Supplier(
        code="shop", workdays=workdays, country="GB", closures=listed, opens=tuple(day(one) for one in opens)
    )
    holidays = PublicHolidays(
        country="GB", first_year=2026, last_year=2026, days=tuple(day(one) for one in public)
    )
    made = Plan(run=Run(code="r", quantity=1, start=MONDAY), suppliers=(shop,), holidays=(holidays,))
    calendar = calendars_of(made)["shop"]
    shut = {first + step for first, more in spans for step in range(more + 1)}
    ordinary = {one for one in range(-30, 200) if calendar.weekdays[day(one).weekday()]}
    worked = (ordinary - shut - set(public)) | set(opens)
    runs, run = [], []
    for one in range(-30, 200):
        if one in worked:
            runs.append(run)
            run = []
        else:
            run.append(one)
    expected = [
        (run[0], run[-1], len(run) >= 5 or (len(lost) > 1 and bool(lost & shut)))
        for run in runs
        if run and run[-1] >= begin and run[0] <= begin + length and (lost := ordinary & set(run))
    ]
    zero = MONDAY.toordinal()
    found = stretches(shop, calendar, zero + begin, zero + begin + length)
    assert [(one.first - zero, one.last - zero, one.is_cliff) for one in found] == expected


def test_a_single_day_off_is_named_and_no_cliff():
    shop = replace(SHOP, closures=(Closure(first=day(18), last=day(18), why="fair"),))
    view = view_of(TEXT, suppliers=(BENCH, shop))
    assert (view.rows, view.untouched) == ((), ())
    assert "single days off, no cliffs: shop Fri 19 Jun" in text_of(view)


def test_several_things_we_owe_are_given_on_one_day():
    jobs = {"housing": {"clock": ("order", "payment", "proof", "drawing", "material")}}
    said = text_of(view_of(TEXT, jobs=jobs, suppliers=(BENCH, replace(SHUT, bank=Span(2, "wd")))))
    # day 1 is Friday the 12th at the latest, so money is sent two of their days before the 11th
    acts = "order, pay, approve the proof, give the drawing and send the material by Tue 9 Jun"
    assert f"before they shut if we {acts}" in said


def test_a_day_later_with_several_things_waits_for_the_money_to_come():
    more = {
        "jobs": {"housing": {"clock": ("order", "payment")}},
        "suppliers": (BENCH, replace(SHUT, bank=Span(2, "wd"))),
    }
    job = only_job(view_of(TEXT, **more))
    on = (job.acts[0].by - MONDAY).days + 1
    late = dates(TEXT, gave("order", on), gave("payment", on), today=on, **more)
    assert late.times.finish[late.lot_of("housing")] == job.day_later.ready.toordinal()


@pytest.mark.parametrize(("public", "cliffs"), [((17, 18, 21), 1), ((18, 21), 0)])
def test_holidays_alone_are_a_cliff_from_five_days_on(public, cliffs):
    """Days 19 and 20 are a weekend: with the Thursday and the Friday before and the Monday after it five days."""
    shop = replace(SHOP, country="GB")
    days = PublicHolidays(
        country="GB", first_year=2026, last_year=2026, days=tuple(day(one) for one in public)
    )
    made = replace(plan(TEXT, suppliers=(BENCH, shop)), holidays=(days,))
    assert len(closures(Picture(Forecast(made, day(0))), 60).rows) == cliffs


@pytest.mark.parametrize("width", [40, 80, 120])
def test_no_line_is_wider_than_the_screen(width):
    text = text_of(view_of(TEXT, jobs={"housing": {"clock": ("payment",)}}), width=width)
    assert max(map(len, text.splitlines())) <= width


def in_demo(program, supplier, *extra):
    (row,) = [row for row in program.json("closures", *extra)["rows"] if row["supplier"] == supplier]
    return row


def test_the_licence_cliff_of_the_demo(program):
    """Invented scenario, computed by plain day counting: 27 January gives 22 March, one day later 19 April."""
    row = in_demo(program, "qingsha")
    assert (row["first"], row["last"], row["days"]) == ("2027-01-28", "2027-02-21", 25)
    (job,) = row["jobs"]
    assert (job["job"], job["last_ready"], job["day_later"]["ready"]) == (
        "licence",
        "2027-01-27",
        "2027-02-22",
    )
    moves = {move["shipment"]: (move["before"], move["after"]) for move in job["day_later"]["moves"]}
    assert moves["wave-2"] == ("2027-03-22", "2027-04-19")
    for to, place in (("27jan", 0), ("28jan", 1)):
        program("promised", "licence", to)
        assert program.dates() == {code: both[place] for code, both in moves.items()}
        program("undo")


@pytest.mark.parametrize("to", ["20jan", "27jan"])
def test_a_licence_promised_near_the_cliff_shows_it(program, to):
    program("promised", "licence", to)
    out = program.out("closures", "--today", "2026-12-10", width=200)
    assert "before they shut if ready by Wed 27 Jan" in out
    assert "wave-2 Mon 22 Mar becomes Mon 19 Apr (+28 days)" in out


def test_a_licence_promised_after_the_closure_runs_across_it(program):
    program("promised", "licence", "15mar")
    (job,) = in_demo(program, "qingsha")["jobs"]
    assert (job["how"], job["still"], job["day_later"]) == ("across", 25, None)
    # from 22 February to 15 March there are 16 working days
    assert job["too_late"] == 16


def test_the_deposit_that_keeps_the_boxes_before_the_year_end_is_due_on_23_november(program):
    """Invented scenario, counted by hand: 20 working days from the 24th, 1 and 8 December off, end on the 23rd."""
    (job,) = in_demo(program, "moinho", "--today", "2026-11-20")["jobs"]
    assert [(act["kind"], act["what"], act["by"]) for act in job["acts"]] == [
        ("give", ["payment"], "2026-11-23")
    ]
    later = job["day_later"]
    assert (later["ready"], later["moves"][0]["after"]) == ("2027-01-04", "2027-01-14")
    (job,) = in_demo(program, "moinho")["jobs"]
    assert (job["how"], job["ready"], job["too_late"]) == ("across", "2027-01-04", 1)
    program("paid", "boxes", "on", "2026-11-23")
    assert program.job("boxes")["finish"] == "2026-12-23"
    assert program.dates()["wave-1"] == later["moves"][0]["before"]


def test_the_days_to_look_ahead_can_be_chosen(program):
    assert program.json("closures")["until"] == "2027-02-22"
    assert program.json("closures", "30")["until"] == "2026-12-24"
    assert [row["supplier"] for row in program.json("closures", "26")["rows"]] == ["varne", "orlice"]
    assert "single days off, no cliffs: moinho Tue 1 Dec, Tue 8 Dec" in program.out("closures", "26")


def test_a_shipment_that_cannot_move_is_not_named():
    waves = (
        Shipment(code="one", quantity=1, after=("pack",)),
        Shipment(code="two", quantity=1, after=("sea",)),
    )
    text = "housing:5wd@shop pack:2 sea:90 | housing>pack"
    job = only_job(view_of(text, shipments=waves))
    assert [move.shipment for move in job.day_later.moves] == ["one"]
    far = (Shipment(code="two", quantity=1, after=("pack", "sea")),)
    assert only_job(view_of(text, shipments=far)).day_later.moves == ()
    assert "no shipment moves" in text_of(view_of(text, shipments=far))

"""The word to backers, and the block of the workbook beside it, for runs unlike the demo."""

from dataclasses import replace
from datetime import date, timedelta
from types import MappingProxyType

from openpyxl import load_workbook

from tests.report.test_friday import FRIDAY, MONDAY, day, fact, page, promised, run
from tracker.explain.closure_share import ClosureShare
from tracker.plan.model import Link, Shipment, Told
from tracker.render.backers_text import WIDTH, backers_text
from tracker.render.closure_share_text import closure_texts
from tracker.render.friday_moved_text import write_moves
from tracker.render.friday_text import write_friday
from tracker.render.paper import Paper
from tracker.render.workbook import write_backers
from tracker.report.backers import backers_report
from tracker.report.backers_moved import BackerMove, BackerMoved, BackersMoved, backers_moved
from tracker.report.news import News
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast


def reported(plan, today=FRIDAY, told=False):
    view = page(plan, today)
    news = News(since=MONDAY, told=told, facts=plan.facts, moved=view.moved)
    return backers_report(Picture(Forecast(plan, today)), news)


def text_of(plan, today=FRIDAY, **more):
    text = backers_text(reported(plan, today, **more))
    assert max(map(len, text.splitlines())) <= WIDTH
    return " ".join(text.split())


def in_waves(count):
    """Housings promised for Fri 6 March and not here on Fri 13: a week later; so many shipments, all of the same jobs, with long codes."""
    return run(
        promised("03-02", "03-06"),
        shipments=tuple(
            Shipment(code=f"wave-to-the-backers-{place}", quantity=1, after=("pack",))
            for place in range(count)
        ),
    )


def test_a_date_that_rests_on_silence_is_at_best_and_names_no_supplier():
    text = text_of(run(promised("03-02", "03-06")))
    assert "expected Mon 23 Mar 2026, at best: 1 date passed without news (Housings)." in text


def test_a_posted_shipment_says_when_it_went_and_nothing_of_what_could_move_it():
    text = text_of(run(fact("posted", "03-12", shipment="wave-1", good=100)))
    assert "Wave 1 (100 units): posted Thu 12 Mar 2026." in text
    assert "held by" not in text


def test_when_all_is_posted_no_further_word_is_announced_and_lateness_is_still_said(tmp_path):
    told = (Told(on=MONDAY, last=day("03-10")),)
    plan = run(fact("posted", "03-12", shipment="wave-1", good=100))
    plan = replace(plan, shipments=(replace(plan.shipments[0], told=told),))
    text = text_of(plan)
    assert "posted Thu 12 Mar 2026, 2 days after the last day we told you." in text
    assert text.endswith("All parcels are posted.")
    write_backers(reported(plan), tmp_path / "week.xlsx")
    rows = load_workbook(tmp_path / "week.xlsx")["This week"].iter_rows(values_only=True)
    assert "Next word by" not in [row[0] for row in rows]
    waiting = replace(plan.shipments[0], code="wave-2")
    assert "You will hear from us again" in text_of(replace(plan, shipments=(*plan.shipments, waiting)))


def test_what_is_all_done_is_ready_to_be_posted_and_nothing_holds_it():
    done = (fact("in", "03-09", job="housing", good=100), fact("passed", "03-10", job="check"))
    text = text_of(run(*done, fact("finished", "03-12", job="pack")))
    assert "Wave 1 (100 units): ready to be posted since Thu 12 Mar 2026." in text
    assert "held by" not in text
    assert text_of(run(*done)).startswith("Where we are on Fri 13 Mar 2026 Wave 1 (100 units): expected")


def test_shipments_of_which_the_same_is_to_be_said_share_a_sentence():
    plan = in_waves(5)
    text = text_of(plan)
    names = ", ".join(f"Wave to the backers {place}" for place in range(4)) + " and Wave to the backers 4"
    for part in (
        f"{names} (1 unit each): expected Mon 23 Mar 2026",
        f"{names} 7 days later.",
        f"In all, {names}: Mon 16 Mar 2026 has become Mon 23 Mar 2026, 7 days later.",
        f"{names}, held by",
    ):
        assert text.count(part) == 1


def waves(count, told=(), **changes):
    """Shipments with short codes, all of the same jobs, a step without news before them."""
    return run(
        promised("03-02", "03-06"),
        shipments=tuple(
            Shipment(code=f"s{place}", quantity=1, after=("pack",), told=told)
            for place in range(1, count + 1)
        ),
        **changes,
    )


def friday_lines(plan, width=80):
    paper = Paper(width=width)
    write_friday(page(plan), paper, everything=False)
    assert max(map(len, paper.lines)) <= width
    return paper.lines


def test_how_late_a_shipment_is_stands_in_its_own_row_at_eighty_columns():
    told = (Told(on=MONDAY, first=day("02-20"), last=day("02-28")),)
    lines = friday_lines(waves(8, told))
    rows = [line for line in lines if line.startswith("  s") and line.endswith("LATE 23 days")]
    assert [row.split()[0] for row in rows] == [f"s{place}" for place in range(1, 9)]
    assert "  all 8 AT BEST: no news from 1 job (housing)" in lines


def test_a_long_code_has_how_late_it_is_on_a_line_of_its_own():
    told = (Told(on=MONDAY, first=day("02-20"), last=day("02-28")),)
    plan = waves(2, told)
    shipments = tuple(replace(one, code=f"wave-to-the-backers-{one.code}") for one in plan.shipments)
    lines = friday_lines(replace(plan, shipments=shipments))
    assert lines.count("    LATE 23 days") == 2


def test_few_shipments_are_named_and_more_are_counted():
    for count, these in ((2, "s1 and s2"), (3, "s1, s2 and s3"), (4, "all 4")):
        lines = friday_lines(waves(count))
        assert f"  {these} AT BEST: no news from 1 job (housing)" in lines
    assert "  once sent, log it: tracker told s1 DATE, tracker told s2 DATE" in friday_lines(waves(2))
    assert any("tracker told CODE DATE, for each of s1, s2, s3 and s4" in x for x in friday_lines(waves(4)))


def test_of_many_shipments_the_steps_before_they_part_are_told():
    plan = waves(4)
    last = replace(plan.jobs[-1], code="label", after=(Link(job="pack"),))
    shipments = (*plan.shipments[:3], replace(plan.shipments[3], after=("label",)))
    lines = friday_lines(replace(plan, jobs=(*plan.jobs, last), shipments=shipments))
    (held,) = [line for line in lines if "held by" in line]
    assert held.startswith("  all 4 held by")
    assert held.endswith("housing > check > pack > ...")
    few = friday_lines(replace(plan, jobs=(*plan.jobs, last), shipments=shipments[1:]))
    assert [line.split(" held by")[0] for line in few if "held by" in line] == ["  s2 and s3", "  s4"]


def test_equal_shares_of_a_closure_are_told_together():
    def effect(shipment, days, share):
        shut = ClosureShare(supplier="mill", first=day("03-09"), last=day("03-12"), why=("rest",), days=share)
        return replace(line.effects[0], shipment=shipment, days=days, closure=shut)

    (line,) = page(run(promised("03-02", "03-06"))).moved.lines
    shut = "by a closure: mill shut Mon 9 Mar to Thu 12 Mar, rest"
    alone = [effect("s1", 42, 21)]
    assert closure_texts(alone, FRIDAY) == (f"21 of s1's 42 days {shut}",)
    more = [*alone, effect("s2", 42, 21), effect("s3", 7, 7), effect("s4", 42, 21), effect("s5", 5, 6)]
    assert closure_texts(more, FRIDAY) == (
        f"21 of 42 days of s1, s2 and s4 and all of s3's 7 days and all of s5's 5 days {shut}",
    )
    assert closure_texts([effect("s1", 7, 7), effect("s2", 7, 7)], FRIDAY) == (
        f"all 7 days of s1 and s2 {shut}",
    )


def test_nothing_new_is_said_and_the_next_word_announced_all_the_same():
    ready = run(promised("03-02", "03-27"))
    report = replace(reported(ready), arrived=())
    text = " ".join(backers_text(report).split())
    assert "Nothing came in since Mon 2 Mar 2026. No date has moved since Mon 2 Mar 2026." in text
    assert text.endswith("You will hear from us again by Fri 20 Mar 2026, also if nothing has changed.")


def test_a_check_that_failed_is_told_without_its_note():
    here = fact("in", "03-09", job="housing", good=100)
    plan = run(here, fact("failed", "03-10", job="check", note="bore 0.06 mm tight"))
    checked = tuple(replace(job, public_name="Fit check") if job.gate else job for job in plan.jobs)
    text = text_of(replace(plan, jobs=checked))
    assert "Fit check: a check failed and ha" in text
    assert "tight" not in text


def test_what_is_told_today_stands_first_with_every_word_before_it():
    told = (
        Told(on=day("02-02"), last=day("03-01"), words="early March"),
        Told(on=MONDAY, words="a little later"),
        Told(on=FRIDAY, first=day("03-20"), last=day("03-30")),
    )
    plan = run()
    text = text_of(replace(plan, shipments=(replace(plan.shipments[0], told=told),)))
    assert "the last day we told you" not in text
    assert "We now say Fri 20 Mar 2026 to Mon 30 Mar 2026." in text
    assert (
        'Before that, on Mon 2 Mar 2026: "a little later"; on Mon 2 Feb 2026: "early March" (Sun 1 Mar 2026).'
        in text
    )


def test_no_run_without_product_or_shipments_breaks_it():
    text = text_of(run(shipments=()))
    assert text.startswith("Where we are on Fri 13 Mar 2026")


def test_more_than_three_shipments_stand_in_several_blocks_that_each_add_up(tmp_path):
    write_backers(reported(in_waves(5), told=True), tmp_path / "week.xlsx")
    rows = list(load_workbook(tmp_path / "week.xlsx")["This week"].iter_rows(values_only=True))
    heads = [place for place, row in enumerate(rows) if str(row[0]).startswith("Moved since")]
    assert [sum(cell is not None for cell in rows[place][1:4]) for place in heads] == [3, 2]
    for place in heads:
        (line, total) = rows[place + 1 : place + 3]
        assert total[0] == "In all"
        assert line[1:4] == total[1:4]
        assert total[1] == 7


def test_shipments_that_fit_no_table_are_told_line_by_line():
    plan = in_waves(5)
    paper = Paper(width=80)
    write_friday(page(plan), paper, everything=False)
    text = paper.text()
    assert max(map(len, text.splitlines())) <= 80
    assert text.count("+7 days: ") == 5


def test_a_closure_is_named_only_beside_days_it_belongs_to():
    """One line of seven days, four of them over a closure of ours; joined with another line the share is not said."""
    plan = run(promised("03-02", "03-06"))
    picture, moved = Picture(Forecast(plan, FRIDAY)), page(plan).moved
    share = ClosureShare(supplier="mill", first=day("03-09"), last=day("03-12"), why=("rest",), days=4)
    (line,) = moved.lines
    closed = replace(line, effects=tuple(replace(one, closure=share) for one in line.effects))
    names = MappingProxyType({"wave-1": "First parcels"})

    def remarks(*lines):
        view = backers_moved(picture, replace(moved, lines=lines), lambda code: code, names)
        return [remark for line in view.lines for remark in line.closures]

    assert remarks(closed) == [
        "4 of these 7 days of First parcels: our mill is shut Mon 9 Mar 2026 to Thu 12 Mar 2026"
    ]
    assert remarks(closed, line) == []


def test_days_told_are_from_the_day_backers_were_told(tmp_path):
    for told, label in ((True, "Expected when last told"), (False, "Expected a week ago")):
        write_backers(reported(run(promised("03-02", "03-06")), told=told), tmp_path / "week.xlsx")
        rows = load_workbook(tmp_path / "week.xlsx")["This week"].iter_rows(values_only=True)
        (row,) = [row for row in rows if row[0] == label]
        assert (row[1].date(), row[3].date(), row[4]) == (MONDAY, date(2026, 3, 16), "now 7 days later")


def test_a_block_has_only_the_lines_that_move_one_of_its_shipments(tmp_path):
    def moved(place, days):
        return BackerMoved(
            name=f"Wave {place}", before=MONDAY, after=MONDAY + timedelta(days=days), days=days
        )

    lines = (
        BackerMove(name="Housings", why="waiting", days=(4, 0, 0, 0), closures=()),
        BackerMove(name="Boxes", why="our own delay", days=(0, 0, 0, 9), closures=()),
    )
    shipments = (moved(1, 4), moved(2, 0), moved(3, 0), moved(4, 9))
    report = reported(run())
    news = replace(report.news, moved=BackersMoved(shipments=shipments, lines=lines))
    write_backers(replace(report, news=news), tmp_path / "week.xlsx")
    rows = [row[:4] for row in load_workbook(tmp_path / "week.xlsx")["This week"].iter_rows(values_only=True)]
    start = next(place for place, row in enumerate(rows) if str(row[0]).startswith("Moved since"))
    assert rows[start + 1 : start + 3] == [("Housings", 4, 0, 0), ("In all", 4, 0, 0)]
    assert rows[start + 5 : start + 7] == [("Boxes", 9, None, None), ("In all", 9, None, None)]


def test_of_many_moves_the_largest_are_told_and_the_others_summed_up():
    (line,) = page(run(promised("03-02", "03-06"))).moved.lines
    (effect,) = line.effects

    def moving(days):
        return replace(line, entry=days, effects=(replace(effect, days=days),))

    view = page(run(promised("03-02", "03-06"))).moved
    paper = Paper(width=100)
    write_moves(replace(view, lines=tuple(moving(days) for days in (1, 9, -2, 8, 7))), paper, most=3)
    days = [line.split()[-1] for line in paper.lines[3:]]
    assert days == ["+9", "+8", "+7", "-1", "+7"]
    assert "2 smaller moves: tracker moved since 2026-03-02" in paper.text()

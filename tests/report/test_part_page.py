"""The page of a part: its balance in words, who makes and takes it, arrivals, and for whom it is enough.

The run is invented (see ``counting``).
"""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from tests.report.asking import printed
from tests.report.counting import PLAN, TODAY, fact, judged, picture, with_facts, with_job, with_part
from tracker.render.part_text import balance_text, write_part
from tracker.report.part_page import part_page


def page(plan, code):
    return part_page(picture(plan), code)


def text(plan, code, width=80):
    return printed(write_part, page(plan, code), width=width)


def test_the_balance_is_one_sentence_without_empty_terms():
    boards = page(PLAN, "board").balance
    assert balance_text(boards) == "needed 228 and 12 for spares, 191 here, 81 to come, 32 to spare"
    plain = replace(
        boards, spares=Fraction(0), needed=Fraction(240), in_process=Fraction(76), left=Fraction(27)
    )
    assert balance_text(plain) == "needed 240, 191 here, 76 to come, 27 to spare"
    assert balance_text(page(PLAN, "base-milled").balance) == "needed 266, 266 used, 0 here, covered"
    assert "520 to come, 520 of it not ordered" in balance_text(page(PLAN, "magnet").balance)


def test_arrivals_stand_in_the_order_they_come_those_to_come_marked():
    rows = page(PLAN, "board").arrivals
    assert [(row.day, row.job, row.pieces, row.here) for row in rows] == [
        (date(2026, 11, 5), "boards", 191, True),
        (TODAY, "boards", 5, False),
        (date(2026, 12, 4), "boards-2", 76, False),
    ]
    assert "Fri 4 Dec    76  boards-2, due" in text(PLAN, "board")
    (stock,) = page(PLAN, "screw").arrivals
    assert (stock.job, stock.pieces, stock.here) == ("", 1600, True)


def test_each_shipment_has_the_evening_from_which_it_has_all_it_takes():
    # 191 cover the 80 of wave 1; the 148 of wave 2 need 228 in all, so the 80 boards of Fri 4 Dec
    rows = page(PLAN, "board").enough
    assert [(row.shipment, row.pieces, row.day) for row in rows] == [
        ("wave-1", 80, date(2026, 11, 5)),
        ("wave-2", 148, date(2026, 12, 4)),
    ]
    assert "wave-1 (80) now, wave-2 (148) from Fri 4 Dec" in text(PLAN, "board")
    assert page(PLAN, "board").goes_short == ""


def test_pieces_due_today_are_not_there_yet():
    plan = with_job(PLAN, "boards-2", quantity=40)
    few = judged(with_part(plan, "unit-natural", spares=0), "finish-natural", good=91, scrap=5)
    few = with_facts(few, fact("scrapped", "board", TODAY, scrap=112))
    (row, _) = page(few, "board").enough
    assert (row.shipment, row.day) == ("wave-1", TODAY)
    assert "wave-1 (80) from Tue 24 Nov" in text(few, "board")


def test_the_shipment_that_goes_short_first_is_named():
    short = with_part(PLAN, "screw", here=Fraction(1300))
    assert page(short, "screw").goes_short == "wave-2"
    assert [row.day for row in page(short, "screw").enough if row.shipment == "wave-2"] == [None]
    assert page(with_part(PLAN, "screw", here=Fraction(400)), "screw").goes_short == "wave-1"
    again = judged(PLAN, "finish-natural", good=60, scrap=36)
    assert page(again, "housing-natural").goes_short == "wave-2"
    assert "once made again" in text(again, "housing-natural")


def test_makers_takers_and_terms_of_order_are_named():
    view = page(PLAN, "box")
    assert [one.job for one in view.makers] == ["boxes"]
    assert [(one.job, one.per, one.makes) for one in view.takers] == [
        ("pack-graphite", 1, ("packed-graphite",)),
        ("pack-natural", 1, ("packed-natural",)),
    ]
    said = text(with_part(PLAN, "box", moq=200), "box")
    assert "MOQ 200, in multiples of 10" in said
    assert "order by    Mon 30 Nov, frees wave-1" in said
    assert "goes with   wave-1, wave-2" in text(PLAN, "packed-graphite")


def test_facts_that_name_the_part_and_cautions_of_its_makers_are_shown():
    plan = with_facts(PLAN, fact("scrapped", "board", TODAY, scrap=5, job="build-graphite"))
    plan = with_job(plan, "boards", process="solvents")
    view = page(plan, "board")
    assert [one.row.fact.scrap for one in view.facts] == [5]
    assert [job for job, _ in view.cautions] == ["boards"]
    said = text(plan, "board")
    assert "5 of board scrapped Tue 24 Nov 2026, found at build-graphite" in said
    assert "caution (boards): solvents burn" in said
    assert page(PLAN, "board").facts == page(PLAN, "board").cautions == ()


def test_no_line_of_a_page_is_wider_than_the_terminal():
    for part in PLAN.parts:
        for width in (80, 120):
            assert max(map(len, text(PLAN, part.code, width).splitlines())) <= width

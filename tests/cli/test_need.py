"""``need``, ``where`` and the page of a part, as typed, on a run read from a plan file.

The run is invented (see ``tests/report/counting.py``).
"""

import json
import shlex
from dataclasses import replace

import pytest

from tests.report.counting import PLAN, TODAY
from tests.test_docs import named_keys
from tests.test_layers import HEAVY, loaded_by
from tracker.planfile.writing import write_plan


@pytest.fixture
def counted(empty, tmp_path):
    """The program on the run with parts, on its own status date."""
    plan = replace(PLAN, run=replace(PLAN.run, today=TODAY))
    (tmp_path / "plan.toml").write_text(write_plan(plan), encoding="utf-8")
    empty("new")
    empty("read", "plan.toml", "--yes")
    return empty


def test_need_says_first_what_to_order_by_when_and_what_that_frees(counted):
    lines = counted.out("need").splitlines()
    assert lines[:3] == [
        "what is needed, on Tue 24 Nov 2026",
        "to order or to pay",
        "  magnets (qingsha): order 520 (456 needed, 24 for spares, 40 over) today, frees",
    ]
    assert max(map(len, lines)) <= 80
    wide = counted.out("need", width=120)
    assert "in process" in wide
    assert max(map(len, wide.splitlines())) <= 120


def test_what_need_says_to_log_is_logged_and_no_longer_to_order(counted):
    said = counted.out("need", width=200)
    (line,) = [line for line in said.splitlines() if "once done, log it:" in line]
    for command in line.partition(": ")[2].split(", "):
        counted(*shlex.split(command)[1:])
    assert counted.json("need")["orders"] == []
    assert "nothing to order or pay" in counted.out("need")


def test_the_job_for_a_re_run_that_need_names_covers_the_shortage(counted):
    counted("in", "finish-natural", "good", "60", "scrap", "36")
    said = counted.out("need", width=300)
    added = [line.partition("once arranged: ")[2] for line in said.splitlines() if "once arranged" in line]
    assert len(added) == 2
    for command in added:
        counted(*shlex.split(command)[1:])
    document = counted.json("need")
    assert [one["job"] for one in document["orders"] if one["again"]] == []
    ordered = {one["job"]: one["pieces"] for one in document["orders"]}
    assert (ordered["finish-natural-again"], ordered["bases-again"]) == (24, 25)


def test_the_remedies_for_too_few_boxes_and_screws_work_as_written(counted):
    counted("set", "boxes", "quantity=200")
    counted("set", "screw", "here=1300")
    said = counted.out("need", width=300)
    assert "tracker set boxes quantity=240" in said
    assert "tracker set screw here=1368" in said
    counted("set", "boxes", "quantity=240")
    counted("set", "screw", "here=1368")
    document = counted.json("need")
    assert {one["kind"] for one in document["shortages"]} & {"nobody makes", "used beyond"} == set()
    assert next(one["planned"] for one in document["orders"] if one["job"] == "boxes") is None


def test_the_quantity_named_for_a_print_run_covers_all_at_worst(counted):
    (printed,) = counted.json("need")["printed"]
    assert (printed["least"], printed["short"], printed["order"]) == (225, 3, 270)
    assert "or order 270 (at worst 243), tracker set boxes quantity=270" in counted.out("need", width=300)
    counted("set", "boxes", "quantity=270")
    (printed,) = counted.json("need")["printed"]
    assert (printed["least"], printed["short"], printed["spares_short"], printed["order"]) == (
        243,
        0,
        0,
        None,
    )


def test_the_remedies_for_rework_that_nobody_takes_work_as_written(counted):
    said = counted.out("need", width=300)
    assert "tracker in boards good 6 again" in said
    assert "tracker rework boards 6" in said
    counted("rework", "boards", "6")
    assert "in rework, no date" not in counted.out("need")
    counted("undo")
    counted("in", "boards", "good", "6", "again")
    (board,) = [one for one in counted.json("need")["parts"] if one["part"] == "board"]
    assert (board["here"], board["in_process"]) == (197, 76)


def test_documents_have_iso_days_and_null_for_what_is_absent(counted):
    document = counted.json("need")
    order = next(one for one in document["orders"] if one["job"] == "boxes")
    assert (order["by"], order["too_late"], order["moq"], order["again"]) == ("2026-11-30", None, None, None)
    late = counted.json("need", "--today", "2027-01-04")["orders"][0]["too_late"]
    assert set(late) == {"shipment", "told", "by", "days"}
    screw = next(one for one in document["parts"] if one["part"] == "screw")
    assert (screw["next_in"], screw["order_by"], screw["needed"]) == (None, None, 1368)


@pytest.mark.parametrize(
    ("command", "row"),
    [
        ("need", "need"),
        ("where board", "where PART"),
        ("where boards", "where PART"),
        ("board", "CODE, part"),
    ],
)
def test_documents_have_the_keys_their_row_of_the_readme_names(counted, command, row):
    assert set(counted.json(*command.split())) == named_keys(row)


def test_where_takes_the_code_of_a_part_or_of_a_job_or_its_beginning(counted):
    for word in ("housing-graphite", "housing-g", "finish-graphite", "finish-g"):
        assert counted.out("where", word).startswith("housing-graphite: where the pieces are")
    assert counted.out("where", "box") == counted.out("where", "boxes")
    assert [one["part"] for one in counted.json("where", "board")["parts"]] == ["board"]


def test_where_refuses_what_is_no_part_and_makes_none(counted):
    assert "there is no part or job 'moinho'" in counted.refuses("where", "moinho", exit_code=2)
    assert "housing-natural, unit-natural" in counted.refuses("where", "natural", exit_code=2)
    counted("add", "job", "fit", "supplier=bench", "lead=1wd")
    said = counted.refuses("where", "fit", exit_code=2)
    assert "fit makes no part" in said
    assert "tracker set fit makes=PART" in said


def test_the_code_of_a_part_alone_shows_its_page(counted):
    page = counted.out("board")
    assert page.splitlines()[:2] == [
        "board",
        "  balance     needed 228 and 12 for spares, 191 here, 81 to come, 32 to spare",
    ]
    assert counted.out("show", "housing-n").startswith("housing-natural")
    counted("scrap", "board", "3")
    assert "3 of board scrapped Tue 24 Nov 2026" in counted.out("board")


def test_a_run_without_parts_is_told_how_to_add_some(empty):
    empty("new", "run-1", "quantity=10", "start=2026-06-15")
    said = empty.out("need", "--today", "2026-06-15")
    assert "tracker add part housing" in said
    assert json.loads(empty.out("need", "--json"))["parts"] == []
    assert "this run counts no parts yet" in empty.refuses("where", "housing", exit_code=1)


@pytest.mark.parametrize("command", ["need", "need --json", "where board", "board"])
def test_asking_about_parts_loads_no_heavy_library(command, counted):
    assert not loaded_by(counted.database, *command.split()) & HEAVY

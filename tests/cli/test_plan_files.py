"""Bringing plan files in and out, and the edits that do the same by hand."""

import pytest

from tests.cli.small import SMALL
from tests.conftest import DEMO, JUNE, NOVEMBER
from tracker.errors import Refused
from tracker.render.whole_file import write_whole


@pytest.fixture
def small(empty, tmp_path):
    (tmp_path / "plan.toml").write_text(SMALL, encoding="utf-8")
    empty("new")
    empty("read", "plan.toml")
    return empty


def test_a_plan_read_into_a_new_database_answers_with_its_shipments(empty, tmp_path):
    (tmp_path / "plan.toml").write_text(SMALL, encoding="utf-8")
    empty("new")
    result = empty("read", "plan.toml")
    assert "new run lamp-1: 2 suppliers, 2 jobs, 1 shipment, 0 facts" in result.stderr
    assert "wave-1 is forecast for Fri 26 Jun" in result.stdout


def test_a_second_read_of_the_same_file_changes_nothing(program):
    before = program.rows()
    assert "holds nothing new; nothing was stored" in program.out("read", str(NOVEMBER))
    assert program.rows() == before


def test_a_plan_written_and_read_into_another_database_forecasts_the_same(program, tmp_path):
    program("write", "out.toml")
    document = program.out("forecast", "--json")
    program.database = tmp_path / "other.sqlite"
    program("new")
    program("read", "out.toml")
    assert program.out("forecast", "--json") == document
    assert "holds nothing new" in program.out("read", "out.toml")


def test_a_plan_comes_and_goes_through_standard_input_and_output(small):
    text = small.out("write", "-")
    assert text == small.out("write")
    assert "holds nothing new" in small.out("read", "-", text=text)


def test_what_a_read_would_change_is_shown_and_needs_yes_where_there_is_no_terminal(small, tmp_path):
    (tmp_path / "plan.toml").write_text(SMALL.replace('"10wd"', '"12wd"'), encoding="utf-8")
    message = small.refuses("read", "plan.toml", exit_code=2)
    assert "~ job housing: lead 10wd -> 12wd" in message
    assert "hint: add --yes" in message
    out = small.out("read", "plan.toml", "--yes")
    assert "wave-1 moves Fri 26 Jun -> Tue 30 Jun (+4 days)" in out
    assert small.json("diary")[0]["command"] == "read plan.toml --yes"


def test_every_problem_of_a_file_is_listed_at_once_with_place_and_remedy(empty, tmp_path):
    bad = SMALL.replace('"10wd"', '"10 days"').replace('"2wd"', '"soon"').replace('["pack"]', '["pakc"]')
    (tmp_path / "plan.toml").write_text(bad, encoding="utf-8")
    empty("new")
    message = empty.refuses("read", "plan.toml", exit_code=1)
    assert message.startswith("error: plan.toml has 3 problems; nothing was written\n")
    lines = message.splitlines()[1:4]
    assert "housing" in lines[0]
    assert "10cd" in lines[0]
    assert "10wd" in lines[0]
    assert "pack" in lines[1]
    assert "did you mean pack?" in lines[2]


def test_a_file_about_another_run_is_refused(program, tmp_path):
    (tmp_path / "plan.toml").write_text(SMALL, encoding="utf-8")
    message = program.refuses("read", "plan.toml", "--yes", exit_code=1)
    assert "the database holds run ebb-1, but the file is about run lamp-1" in message


def test_a_ring_of_jobs_is_named(small):
    message = small.refuses("set", "housing", "after=pack", exit_code=1)
    assert "housing" in message
    assert "pack" in message


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"\xff\xfe\x00binary\x00", "is not UTF-8 text"),
        (b"[run\ncode = 1", "line 1"),
        (b"", "problem"),
        (b'[run]\ncode = "ebb-1"\nquantity = "many"\n', "quantity"),
    ],
)
def test_files_that_are_no_plan_are_refused(program, tmp_path, content, says):
    (tmp_path / "bad.toml").write_bytes(content)
    message = program.refuses("read", "bad.toml", exit_code=1)
    assert message.startswith("error: bad.toml ")
    assert says in message


def test_a_file_of_facts_only_still_has_to_say_which_run(program, tmp_path):
    (tmp_path / "facts.toml").write_text(
        '[[fact]]\non = 2026-11-24\njob = "boxes"\nkind = "ordered"\n', encoding="utf-8"
    )
    result = program("read", "facts.toml", "--yes", exit_code=1)
    assert "run" in result.stderr


@pytest.mark.parametrize("words", ["write run.sqlite", "write notes.txt"])
def test_a_file_that_is_there_is_overwritten_only_with_force(program, tmp_path, words):
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    content = (tmp_path / "notes.txt").read_bytes()
    assert "add --force" in program.refuses(*words.split(), exit_code=1)
    assert (tmp_path / "notes.txt").read_bytes() == content


def test_force_overwrites_a_plan_file_and_a_workbook(program, tmp_path):
    (tmp_path / "plan.toml").write_text("mine", encoding="utf-8")
    program("write", "plan.toml", "--force")
    assert "ebb-1" in (tmp_path / "plan.toml").read_text(encoding="utf-8")
    program("export", "backers", "--out", "status.xlsx")
    before = (tmp_path / "status.xlsx").read_bytes()
    assert "--force" in program.refuses("export", "backers", "--out", "status.xlsx", exit_code=1)
    assert (tmp_path / "status.xlsx").read_bytes() == before
    program("export", "backers", "--out", "status.xlsx", "--force", "--today", "2026-12-08")
    assert (tmp_path / "status.xlsx").read_bytes() != before


def test_a_folder_is_not_overwritten_even_with_force_and_nothing_is_left_in_it(program, tmp_path):
    (tmp_path / "exports").mkdir()
    before = sorted(tmp_path.rglob("*"))
    for words in (["exports"], ["exports", "--force"], [".", "--force"]):
        program.refuses("write", *words, exit_code=1)
    assert "it is a folder, not a file" in program.refuses("write", "exports", "--force", exit_code=1)
    assert sorted(tmp_path.rglob("*")) == before


def test_a_disk_that_refuses_half_way_leaves_the_old_file_and_nothing_beside_it(tmp_path):
    """The limit on the size of files stands in for a full disk: the system refuses the bytes after it."""
    resource = pytest.importorskip("resource")
    (tmp_path / "plan.toml").write_text("mine", encoding="utf-8")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, hard))
    try:
        with pytest.raises(Refused, match=r"cannot write .*plan.toml: file too large"):
            write_whole(b"x" * 5000, tmp_path / "plan.toml")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert [path.name for path in tmp_path.iterdir()] == ["plan.toml"]
    assert (tmp_path / "plan.toml").read_text(encoding="utf-8") == "mine"


def test_a_file_written_may_be_read_by_whoever_may_read_any_new_file(program, tmp_path):
    (tmp_path / "mine.txt").write_text("x", encoding="utf-8")
    program("write", "plan.toml")
    program("export", "backers", "--out", "status.xlsx")
    modes = {(tmp_path / name).stat().st_mode for name in ("mine.txt", "plan.toml", "status.xlsx")}
    assert len(modes) == 1


FACTS = """
[[fact]]
on = 2026-06-02
logged = {first}
kind = "promised"
job = "housing"
for = 2026-06-24
[[fact]]
on = 2026-06-02
logged = {second}
kind = "promised"
job = "housing"
for = 2026-07-01
[[fact]]
on = 2026-06-01
kind = "ordered"
job = "housing"
"""


@pytest.mark.parametrize(
    ("first", "second", "day"), [(4, 5, "Fri 3 Jul"), (5, 4, "Fri 26 Jun"), (5, 5, "Fri 3 Jul")]
)
def test_a_read_answers_with_what_the_next_board_shows_whatever_order_its_facts_were_logged_in(
    empty, tmp_path, first, second, day
):
    """Of two promises given on one day the one logged last holds: 24 June or 1 July, then two days of packing."""
    facts = FACTS.format(first=f"2026-06-0{first}", second=f"2026-06-0{second}")
    (tmp_path / "plan.toml").write_text(SMALL + facts, encoding="utf-8")
    empty("new")
    assert f"wave-1 is forecast for {day}" in empty.out("read", "plan.toml")
    assert f"wave-1    50     -     {day}" in empty.out()


def test_a_delivery_without_pieces_in_a_file_must_say_that_it_is_the_last(small, tmp_path):
    fact = '[[fact]]\non = 2026-06-09\nkind = "in"\njob = "housing"\n'
    (tmp_path / "plan.toml").write_text(SMALL + fact, encoding="utf-8")
    message = small.refuses("read", "plan.toml", "--yes", exit_code=1)
    assert "fact in housing 2026-06-09: brings no pieces; say how many are good, or last = true" in message
    (tmp_path / "plan.toml").write_text(SMALL + fact + "last = true\n", encoding="utf-8")
    small("read", "plan.toml", "--yes")
    assert small.job("housing")["state"] == "DONE"


def test_a_workbook_without_a_name_carries_the_status_date(program, tmp_path):
    out = program.out("export", "backers")
    assert out.startswith("backers-2026-11-24.xlsx written: 35 jobs, 2 shipments")
    assert (tmp_path / "backers-2026-11-24.xlsx").exists()


def test_a_failed_export_leaves_no_file_behind(program, tmp_path):
    before = sorted(path.name for path in tmp_path.iterdir())
    program.refuses("export", "backers", "--out", "nowhere/x.xlsx", exit_code=1)
    program.refuses("write", "nowhere/x.toml", exit_code=1)
    assert sorted(path.name for path in tmp_path.iterdir()) == before


def test_the_demos_text_is_in_the_checkout():
    assert {path.name for path in DEMO.glob("*.toml")} == {JUNE.name, NOVEMBER.name}


def test_a_run_can_be_built_by_hand_without_a_file(empty):
    empty("new", "lamp-1", "quantity=50", "start=2026-06-01", "today=2026-06-10")
    empty("add", "supplier", "mill")
    empty("add", "supplier", "bench", "inhouse=true")
    empty("add", "job", "housing", "supplier=mill", "lead=10wd")
    empty("add", "job", "pack", "supplier=bench", "lead=2wd", "after=housing")
    out = empty.out("add", "shipment", "wave-1", "quantity=50", "after=pack")
    assert "wave-1 is forecast for Fri 26 Jun, held by [order not given] housing > pack" in out
    out = empty.out("ordered", "housing")
    assert "first plan kept" in out


def test_a_new_run_that_is_refused_leaves_no_database(empty):
    assert "quantity" in empty.refuses("new", "lamp-1", "start=2026-06-01", exit_code=1)
    assert not empty.database.exists()


def test_an_edit_answers_with_what_it_changed_and_moved(program):
    out = program.out("set", "boxes", "lead=12wd", width=160)
    assert out.splitlines()[0] == "job boxes: lead 20wd -> 12wd [entry 53]"
    assert "wave-1 moves Thu 14 Jan -> Wed 13 Jan (-1 day)" in out
    assert program.json("diary")[0]["command"] == "set boxes lead=12wd"


def test_an_edit_that_changes_nothing_stores_nothing(program):
    before = program.rows()
    assert "nothing differs; nothing was stored" in program.out("set", "boxes", "lead=20wd")
    assert program.rows() == before


def test_a_job_added_later_is_never_late_against_the_first_plan(program):
    program("add", "job", "foam", "supplier=brenta", "lead=60wd", "after=trial lag 2cd")
    program("set", "pack-2", "after+=foam")
    assert program.job("foam")["first_plan"] is None
    assert "foam" not in [row["job"] for row in program.json("late")["rows"]]


def test_what_is_added_can_be_removed_again(program):
    start = program.json("forecast")
    program("add", "job", "foam", "supplier=brenta", "lead=10wd", "after=trial lag 2cd")
    assert program.job("foam")["waits_for"] == ["trial"]
    program("remove", "foam")
    assert program.json("forecast") == start


def test_the_first_plan_is_replaced_only_on_request_and_can_be_taken_back(program):
    before = program.json("forecast")
    assert "last parcel Fri 5 Feb 2027" in program.out("keep-plan", "--yes")
    planned = {one["code"]: one["first_plan"] for one in program.json("forecast")["shipments"]}
    assert planned == {"wave-1": "2027-01-14", "wave-2": "2027-02-05"}
    assert [row["job"] for row in program.json("late")["rows"]] == []
    program("undo")
    assert program.json("forecast") == before


def test_a_plan_without_a_shipment_has_no_first_plan_to_keep(empty):
    empty("new", "lamp-1", "quantity=50", "start=2026-06-01")
    assert "no shipment with a date" in empty.refuses("keep-plan", "--yes", exit_code=1)


def test_a_second_read_prints_json_also_when_nothing_is_new(program, tmp_path):
    plan = tmp_path / "plan.toml"
    plan.write_text(program.out("write", "-"), encoding="utf-8")
    document = program.json("read", str(plan), "--yes", "--json")
    assert document["entry"] is None
    assert document["remarks"] == ["plan.toml holds nothing new; nothing was stored"]


def test_a_read_that_moves_the_kept_today_tells_what_the_days_passed_move(program, tmp_path):
    plan = tmp_path / "plan.toml"
    plan.write_text(
        program.out("write", "-").replace("today = 2026-11-24", "today = 2026-12-01"), encoding="utf-8"
    )
    moved = {
        row["shipment"]: row["days"] for row in program.json("read", str(plan), "--yes", "--json")["moves"]
    }
    assert moved["wave-1"] == 5


def test_the_demo_is_refused_in_a_sentence_where_it_cannot_be_built(program, tmp_path):
    (tmp_path / "demo_db").write_text("in the way", encoding="utf-8")
    result = program("demo", "--in", str(tmp_path), exit_code=1)
    assert "the demo cannot be built in" in result.stderr
    assert (tmp_path / "demo_db").read_text(encoding="utf-8") == "in the way"


def test_a_fact_logged_on_a_later_day_stops_no_edit(program):
    program("set", "run", "today=")
    program("note", "boxes", "the tape came", "--today", "2026-11-27")
    assert "trial" in program.out("set", "trial", "lead=4wd", "--today", "2026-11-25")

"""Reading a maker's own spreadsheet: a guess, a few words, one yes, all or nothing."""

import json
from dataclasses import replace
from datetime import date

import pytest

from tests.cli.sheet_files import HEADINGS, LAMP, add_sheet, on_a_terminal, text_file, workbook
from tests.conftest import JUNE, Program
from tracker.plan.model import Job, Link, Supplier
from tracker.planfile.reading import parse_plan
from tracker.planfile.writing import write_plan
from tracker.schedule.forecast import Forecast

DAY = ("--today", "2026-06-20")
LEADS = ("leads", "days=wd", "weeks=cd")


@pytest.fixture
def lamp(empty, tmp_path):
    """A run of 240 lamps with nothing in it, and the maker's sheet beside it."""
    empty("new", "lamp-1", "quantity=240", "start=2026-06-15")
    workbook(tmp_path / "jobs.xlsx")
    return empty


def test_a_sheet_needs_a_run_and_says_how_to_start_one(empty, tmp_path):
    workbook(tmp_path / "jobs.xlsx")
    for _ in range(2):
        message = empty.refuses("read", "jobs.xlsx", exit_code=1)
        assert "there is no run in" in message
        assert "hint: start one first: tracker new CODE quantity=240 start=2026-06-15" in message
        if not empty.database.exists():
            empty("new")


def test_the_guess_is_shown_as_a_table_with_the_jobs_and_suppliers_made(lamp):
    message = lamp.refuses("read", "jobs.xlsx", *DAY, exit_code=2)
    lines = message.splitlines()
    assert lines[0] == "jobs.xlsx, sheet Jobs: headings in row 3, 6 rows below"
    assert lines[1].split() == ["column", "heading", "holds", "first", "example"]
    assert lines[2].split() == ["A", "Item", "item", "Drawings", "frozen"]
    for shown in (
        "C       How long  lead      3wd",
        "bench    Our own bench      no country  our own",
        "5    housing-milled   tolmark   250   3 weeks ?  drawings-frozen",
        "row 9 'Total': a total",
        "4 suppliers have no country, so no public holidays; add, with each one's own",
        "code for GB: countries bench=GB tolmark=GB moinho=GB brenta=GB",
        "row 7  gaskets  '10-15 working days ARO'  10..15wd",
    ):
        assert shown in message


def test_every_reading_of_a_new_job_is_shown_its_pieces_travel_and_earliest_day(lamp, tmp_path):
    headings = ("Item", "Vendor", "Lead time", "Qty", "Transit", "Not before")
    rows = [
        ("Glass", "Yunlan", "25wd", "1.600", "30-45 calendar days", date(2026, 8, 17)),
        ("Lids", "Moinho", "4wd", None, None, None),
    ]
    workbook(tmp_path / "road.xlsx", rows, headings)
    message = lamp("read", "road.xlsx", "--yes", *DAY).stderr
    assert "4    glass  yunlan    1600  25wd +45cd  not before Mon 17 Aug 2026" in message
    assert "row 4  glass  '30-45 calendar days'  45cd on the road" in message
    assert "5    lids   moinho    -     4wd         -" in message


def test_leads_that_need_a_word_are_listed_by_row_with_both_readings_and_the_words_to_add(lamp):
    message = lamp.refuses("read", "jobs.xlsx", *DAY, "--yes", exit_code=2)
    assert "row 5 housing-milled '3 weeks': wd (15wd) or cd (21cd)?" in message
    assert "row 6 boxes-leaflets '20 days': wd (20wd) or cd (20cd)?" in message
    assert "error: 2 lengths of days need a word, wd or cd as they meant it; nothing was written" in message
    assert "tracker read jobs.xlsx --today 2026-06-20 --yes leads weeks=cd days=wd" in message


def test_the_words_a_refusal_names_work_as_they_stand(lamp):
    import shlex

    message = lamp.refuses("read", "jobs.xlsx", *DAY, "--yes", exit_code=2)
    words = message.partition("for example: tracker ")[2].partition(", or job by job")[0]
    assert "5 new jobs" in lamp.out(*shlex.split(words))


def test_a_sheet_is_stored_whole_with_one_yes_and_the_forecast_is_shown_before(lamp):
    message = lamp.refuses("read", "jobs.xlsx", *LEADS, *DAY, exit_code=2)
    assert "no shipment yet; the last job, pack, is here Fri 24 Jul 2026" in message
    assert "error: there is no terminal to answer on: store 3 new suppliers" not in message
    assert "store 4 new suppliers, 5 new jobs?" in message
    out = lamp.out("read", "jobs.xlsx", *LEADS, "--yes", *DAY)
    assert out.startswith("4 new suppliers, 5 new jobs stored from jobs.xlsx [entry 2]")
    assert "add one: tracker add shipment wave-1 quantity=240 after=pack" in out
    lamp("add", "shipment", "wave-1", "quantity=240", "after=pack", *DAY)
    assert lamp.dates(*DAY) == {"wave-1": "2026-07-24"}


def test_the_forecast_of_the_lamp_by_plain_day_counting(lamp):
    """From Sat 20 June: drawings 22-24 June; boxes 25 June + 20 working days = 22 July; pack 23-24 July (Mon-Fri, no holidays)."""
    lamp("read", "jobs.xlsx", *LEADS, "--yes", *DAY)
    days = {one["code"]: (one["start"], one["finish"]) for one in lamp.json("forecast", *DAY)["jobs"]}
    assert days["drawings-frozen"] == ("2026-06-22", "2026-06-24")
    assert days["boxes-leaflets"] == ("2026-06-25", "2026-07-22")
    assert days["housing-milled"] == ("2026-06-25", "2026-07-15")
    assert days["pack"] == ("2026-07-23", "2026-07-24")


def test_naming_the_columns_stands_for_the_yes_where_nobody_can_be_asked(lamp):
    words = ("columns", "item=item", "vendor=supplier", "needs=after", *LEADS)
    assert "5 new jobs stored" in lamp.out("read", "jobs.xlsx", *words, *DAY)


def test_columns_that_are_not_sure_are_refused_with_or_without_yes_and_can_be_said(lamp, tmp_path):
    rows = [
        ("Housing", "Mill it", "Ada Works", "3wd"),
        ("Boxes", "Print it", "Bolt", "4wd"),
        ("Foam", "Cut it", "Cog", "5wd"),
    ]
    workbook(tmp_path / "odd.xlsx", rows, headings=("Item", "Made by", "Vendor", "Lead time"))
    for yes in ([], ["--yes"]):
        message = lamp.refuses("read", "odd.xlsx", *yes, *DAY, exit_code=2)
        assert "in doubt: " in message
        assert "what the columns hold is not sure; nothing was written" in message
        assert f"hint: say it: tracker read odd.xlsx {' '.join([*yes, *DAY])} columns Item=item" in message
    out = lamp.out("read", "odd.xlsx", "columns", "vendor=supplier", "made", "by=note", *DAY)
    assert "3 new suppliers, 3 new jobs, 3 new facts stored" in out


def test_a_second_read_of_an_unchanged_sheet_says_nothing_new_without_any_words(lamp):
    lamp("read", "jobs.xlsx", *LEADS, "--yes", *DAY)
    before = lamp.rows()
    for day in ("2026-06-20", "2026-07-30"):
        assert "jobs.xlsx holds nothing new; nothing was stored" in lamp.out(
            "read", "jobs.xlsx", "--today", day
        )
    assert lamp.rows() == before


def test_a_shipment_added_since_is_no_news_of_the_sheet_and_the_first_plan_waits_for_a_fact(lamp, tmp_path):
    lamp("read", "jobs.xlsx", *LEADS, "--yes", *DAY)
    lamp("add", "shipment", "wave-1", "quantity=240", "after=pack", *DAY)
    before = lamp.rows()
    assert "nothing new" in lamp.out("read", "jobs.xlsx", *DAY)
    assert lamp.rows() == before
    dated = [("Gaskets", "Brenta", "10-15 working days ARO", date(2026, 6, 16))]
    workbook(tmp_path / "dated.xlsx", dated, ("Item", "Vendor", "How long", "PO date"))
    out = lamp.out("read", "dated.xlsx", "--yes", *DAY).replace("\n  ", " ")
    assert "1 new fact stored from dated.xlsx" in out
    assert "first plan kept" in out


def test_a_changed_sheet_shows_what_changes_and_what_moves(lamp, tmp_path):
    lamp("read", "jobs.xlsx", *LEADS, "--yes", *DAY)
    lamp("add", "shipment", "wave-1", "quantity=240", "after=pack", *DAY)
    rows = [list(row) for row in LAMP]
    rows[2][2] = "25wd"
    workbook(tmp_path / "jobs.xlsx", [*rows[:5], ("Foam", "Brenta", "2wd", "Boxes, leaflets", 240)])
    result = lamp("read", "jobs.xlsx", "--yes", *DAY)
    assert "~ job boxes-leaflets: lead 20wd -> 25wd" in result.stderr
    assert "9    foam  brenta    240  2wd   boxes-leaflets" in result.stderr
    assert "wave-1 Fri 31 Jul 2026 (+7 days)" in result.stderr
    assert "1 new job, 2 changes stored from jobs.xlsx" in result.stdout
    assert "wave-1 moves Fri 24 Jul -> Fri 31 Jul (+7 days)" in result.stdout


def test_an_entry_read_from_a_sheet_can_be_taken_back(lamp):
    before = lamp.json("forecast", *DAY)
    lamp("read", "jobs.xlsx", *LEADS, "--yes", *DAY)
    lamp("undo", *DAY)
    assert lamp.json("forecast", *DAY) == before


def test_what_the_sheet_does_not_mention_is_kept_and_named(lamp, tmp_path):
    lamp("read", "jobs.xlsx", *LEADS, "--yes", *DAY)
    workbook(tmp_path / "part.xlsx", [*LAMP[:2], ("Lids", "Moinho", "4wd", None, None)])
    result = lamp("read", "part.xlsx", "--yes", *DAY)
    assert (
        "not in the sheet and kept: supplier brenta, job boxes-leaflets, job gaskets, job pack"
        in result.stderr.replace("\n  ", " ")
    )
    assert len(lamp.json("forecast", *DAY)["jobs"]) == 6


def test_the_columns_said_once_are_remembered_for_that_sheet_and_can_be_said_anew(lamp, tmp_path):
    headings = ("Alpha", "Beta", "Gamma", "Delta")
    rows = [(row[1] or "us", row[0], row[2], 10 + at) for at, row in enumerate(LAMP[:5])]
    workbook(tmp_path / "odd.xlsx", rows, headings=headings)
    said = ("columns", "beta=item", "alpha=supplier", "gamma=lead", "delta=skip")
    lamp("read", "odd.xlsx", *said, *LEADS, "--yes", *DAY)
    rows[0] = (*rows[0][:2], "4wd", 10)
    workbook(tmp_path / "odd.xlsx", rows, headings=headings)
    assert "1 change stored" in lamp.out("read", "odd.xlsx", "--yes", *DAY)
    out = lamp.out("read", "odd.xlsx", "columns", "delta=quantity", "--yes", *DAY)
    assert "5 changes stored" in out
    rows[1] = (*rows[1][:3], 99)
    workbook(tmp_path / "odd.xlsx", rows, headings=headings)
    assert "1 change stored" in lamp.out("read", "odd.xlsx", "--yes", *DAY)


def test_nothing_is_remembered_of_a_read_that_was_refused(lamp):
    before = lamp.rows()
    lamp.refuses("read", "jobs.xlsx", "columns", "needs=skip", *DAY, exit_code=2)
    assert lamp.rows() == before


def test_a_text_file_reads_like_a_workbook(lamp, tmp_path):
    text_file(tmp_path / "jobs.csv")
    lamp("read", "jobs.csv", *LEADS, "--yes", *DAY)
    as_text = lamp.json("forecast", *DAY)
    other = Program(tmp_path / "other.sqlite", lamp.monkeypatch)
    other("new", "lamp-1", "quantity=240", "start=2026-06-15")
    other("read", "jobs.xlsx", *LEADS, "--yes", *DAY)
    assert other.json("forecast", *DAY) == as_text


BAD = (
    ("Drawings frozen", "us", "3wd", "Pack", None),
    ("Housing milled", None, "12wd", "Drawings frozen", "2.5"),
    ("Boxes", "Moinho", "ASAP", "nosuch, 7", "1,600"),
    ("Gaskets", "Brenta", "10 days", "drawings frozen", 300),
    ("Pack", "us", "2wd", "Gaskets", 0),
)


def test_all_problems_are_named_at_once_by_sheet_row_and_column(lamp, tmp_path):
    workbook(tmp_path / "bad.xlsx", BAD)
    message = lamp.refuses("read", "bad.xlsx", "--yes", *DAY, exit_code=1)
    told = message[message.index("error: ") :].splitlines()
    assert told[0] == "error: bad.xlsx has 7 problems; nothing was written"
    assert told[-1] == "hint: then say of the lengths above: leads boxes=20wd days=wd"
    for line, start in zip(
        told[1:-1],
        (
            "row 4, column D (Needs): jobs wait for each other in a ring",
            "row 5, column B (Vendor): has no supplier",
            "row 5, column E (Pcs): '2.5' is not a whole number",
            "row 6, column D (Needs): there is no item 'nosuch'",
            "row 6, column D (Needs): 7 is a number",
            "row 6, column C (How long): 'ASAP' is not a number of days",
            "row 8, column E (Pcs): is 0; expected 1 or more",
        ),
        strict=True,
    ):
        assert line.startswith(f"  bad.xlsx, sheet Jobs, {start}")


@pytest.mark.parametrize(
    ("words", "exit_code", "says"),
    [
        ("leads boxs=wd", 1, "leads boxs: there is no item 'boxs'"),
        ("countries nobody=GB", 1, "there is no supplier 'nobody'"),
        ("countries moinho=Narnia", 1, "'Narnia' is no country"),
        ("rows=3", 2, "says nothing about the sheet"),
        ("leads", 2, "2 lengths of days need a word"),
        ("leads days=fast weeks=cd", 2, "is not a number of days"),
        ("sheet Nowhere", 2, "has no table on a sheet 'Nowhere'"),
        ("columns nosuch=item", 2, "nosuch"),
    ],
)
def test_words_that_fit_nothing_are_refused(lamp, words, exit_code, says):
    assert says in lamp.refuses("read", "jobs.xlsx", *words.split(), "--yes", *DAY, exit_code=exit_code)


def test_countries_typed_bring_public_holidays_and_a_remark_on_regions(lamp):
    result = lamp("read", "jobs.xlsx", *LEADS, "countries", "moinho=PT", "tolmark=UK", "--yes", *DAY)
    assert "moinho   Moinho Alto        PT" in result.stderr
    assert "add, with each one's own\n  code for GB: countries bench=GB brenta=GB" in result.stderr
    assert "tracker set tolmark subdivision=ENG" in result.stderr.replace("\n  ", " ")


def test_of_several_tables_the_one_that_fits_is_taken_and_said_or_one_is_named(lamp, tmp_path):
    path = tmp_path / "jobs.xlsx"
    add_sheet(path, "Prices", [("Thing", "EUR"), ("Boxes", 704), ("Foam", 80)])
    result = lamp("read", "jobs.xlsx", *LEADS, "--yes", *DAY)
    assert (
        "sheet Jobs (headings in row 3) fits best; not read: sheet Prices (headings in row 1) with 2 rows"
        in result.stderr.replace("\n  ", " ")
    )
    add_sheet(path, "Second", [HEADINGS, ("Lids", "Moinho Alto", "4wd", None, 240)])
    message = lamp.refuses("read", "jobs.xlsx", *LEADS, "--yes", *DAY, exit_code=2)
    assert "several tables that could be meant" in message
    assert "1 new job stored" in lamp.out("read", "jobs.xlsx", "sheet", "second", "--yes", *DAY)
    assert "nothing new" in lamp.out("read", "jobs.xlsx", "sheet", "Jobs", "3", "--yes", *DAY)


def test_a_workbook_without_a_table_is_refused(lamp, tmp_path):
    workbook(tmp_path / "empty.xlsx", rows=(), headings=("just", "words"))
    assert "holds no table with headings" in lamp.refuses("read", "empty.xlsx", exit_code=1)


@pytest.mark.parametrize(("name", "code"), [("none.xlsx", 2), ("none.csv", 2), ("none.ods", 2)])
def test_a_file_that_is_not_there_or_no_spreadsheet_is_refused(lamp, name, code):
    lamp.refuses("read", name, exit_code=code)
    assert "only spreadsheets take words" in lamp.refuses(
        "read", "plan.toml", "leads", "days=wd", exit_code=2
    )


def test_the_answer_comes_as_json_and_the_talk_stays_apart(lamp):
    result = lamp("read", "jobs.xlsx", *LEADS, "--yes", "--json", *DAY)
    document = json.loads(result.stdout)
    assert document["entry"] == 2
    assert document["remarks"][0] == "4 new suppliers, 5 new jobs stored from jobs.xlsx"
    assert json.loads(lamp.out("read", "jobs.xlsx", "--json", *DAY))["entry"] is None


def test_dates_and_remarks_of_a_sheet_are_logged_once_and_read_back_with_their_weekday(lamp, tmp_path):
    headings = ("Item", "Vendor", "Lead time", "Ordered", "Promised", "Notes")
    rows = [
        ("Milling", "Tolmark", "12wd", date(2026, 6, 16), date(2026, 7, 3), "ask for Gwen"),
        ("Boxes", "Moinho", "20wd", None, "Fri 24 Jul 2026", None),
        ("Gaskets", "Brenta", "12wd", None, None, None),
    ]
    workbook(tmp_path / "dated.xlsx", rows, headings)
    result = lamp("read", "dated.xlsx", "--yes", *DAY)
    assert "+ milling ordered Tue 16 Jun 2026" in result.stderr
    assert "+ milling promised for Fri 3 Jul 2026, in hand (given Sat 20 Jun 2026)" in result.stderr
    assert lamp.job("milling", *DAY)["promise"] == "2026-07-03"
    assert lamp.job("boxes", *DAY)["promise"] == "2026-07-24"
    before = lamp.rows()
    assert "nothing new" in lamp.out("read", "dated.xlsx", "--today", "2026-06-29")
    assert lamp.rows() == before


def test_a_numbers_only_date_is_refused_until_the_run_says_its_order(lamp, tmp_path):
    rows = [("Boxes", "Moinho", "20wd", "3/7"), ("Lids", "Moinho", "20wd", None)]
    workbook(tmp_path / "dated.xlsx", rows, ("Item", "Vendor", "Lead time", "Promised"))
    assert "'3/7' can be read in two ways: 3jul or 7mar" in lamp.refuses(
        "read", "dated.xlsx", "--yes", *DAY, exit_code=1
    )
    lamp("set", "run", "dates=day first", *DAY)
    lamp("read", "dated.xlsx", "--yes", *DAY)
    assert lamp.job("boxes", *DAY)["promise"] == "2026-07-03"


def test_three_thousand_rows_are_read_stored_and_read_again(lamp, tmp_path):
    rows = [
        (
            f"Step {at} of part {at % 97}",
            f"Firm{at % 12} Works",
            "1wd",
            f"Step {at - 97} of part {at % 97}" if at >= 97 else None,
            240,
        )
        for at in range(3000)
    ]
    workbook(tmp_path / "big.xlsx", rows)
    assert "12 new suppliers, 3000 new jobs stored" in lamp.out("read", "big.xlsx", "--yes", *DAY)
    assert "nothing new" in lamp.out("read", "big.xlsx", "--yes", *DAY)
    jobs = lamp.json("forecast", *DAY)["jobs"]
    assert len({job["code"] for job in jobs}) == 3000


def test_on_a_terminal_leads_are_asked_one_by_one_and_one_yes_stores_all(lamp, tmp_path):
    code, shown = on_a_terminal(
        tmp_path, lamp.database, ["read", "jobs.xlsx", *DAY], ["soon", "cd", "wd", "y"]
    )
    assert code == 0, shown
    assert "'soon' is not a number of days" in shown
    assert shown.count("[y/N]") == 1
    assert "row 6  boxes-leaflets  '20 days'  20wd  as you said" in shown
    assert {code: str(lead) for code, lead in leads_of(lamp).items()} == {
        "drawings-frozen": "3wd", "housing-milled": "21cd", "boxes-leaflets": "20wd", "gaskets": "10..15wd", "pack": "2wd",
    }  # fmt: skip


def test_on_a_terminal_one_answer_can_stand_for_all_and_a_no_stores_nothing(lamp, tmp_path):
    before = lamp.rows()
    for answers in (["all wd", "n"], ["stop"], ["wd", "q"]):
        code, shown = on_a_terminal(tmp_path, lamp.database, ["read", "jobs.xlsx", *DAY], answers)
        assert (code, "nothing was stored" in shown) == (0, True), shown
        assert lamp.rows() == before
    code, shown = on_a_terminal(tmp_path, lamp.database, ["read", "jobs.xlsx", *DAY], ["all cd", "yes"])
    assert code == 0
    assert str(leads_of(lamp)["boxes-leaflets"]) == "20cd"


def leads_of(program):
    """Leads by job, from the plan as it would be written."""
    plan = parse_plan(program.out("write", "-"), source="out", today=date(2026, 6, 20)).plan
    return {job.code: job.lead for job in plan.jobs}


def demo_plan():
    """The demo's June plan as a maker's sheet can hold it: no calendars, travel, clocks, gates or parts.

    What a job draws parts from, it comes after.
    """
    plan = parse_plan(JUNE.read_text(encoding="utf-8"), source="june", today=date(2026, 6, 15)).plan
    suppliers = tuple(Supplier(code=one.code, name=one.name, inhouse=one.inhouse) for one in plan.suppliers)
    network = Forecast(plan, plan.run.start, as_planned=True).network
    after = {
        code: dict.fromkeys(network.jobs[other].code for lot in lots for other in network.plain[lot])
        for code, lots in network.lots_of.items()
    }
    jobs = tuple(
        Job(
            code=job.code, name=job.name, public_name=job.public_name, supplier=job.supplier, lead=job.lead,
            process=job.process, said=job.said, after=tuple(Link(job=code) for code in after[job.code]),
            quantity=job.quantity or sum(make.quantity or 0 for make in job.makes) or None,
        )
        for job in plan.jobs
    )  # fmt: skip
    run = replace(plan.run, today=None, dates=None, unit="")
    shipments = tuple(
        replace(one, told=(), contents=(), after=tuple(network.jobs[lot].code for lot in network.shipments[one.code]))
        for one in plan.shipments
    )  # fmt: skip
    return replace(
        plan,
        run=run,
        suppliers=suppliers,
        jobs=jobs,
        facts=(),
        first_plan=None,
        holidays=(),
        shipments=shipments,
        parts=(),
    )


def demo_rows(plan):
    """Its jobs in a maker's words: names for suppliers and needs, words for leads."""
    names = {job.code: job.name for job in plan.jobs}
    for job in plan.jobs:
        who = plan.supplier_by_code[job.supplier]
        unit = "working days" if job.lead.unit == "wd" else "days"
        lead = f"{job.lead.planned} {unit}"
        needs = "; ".join(names[link.job] for link in job.after) or "-"
        yield job.name, "us" if who.inhouse else who.name, lead, needs, job.quantity


def test_the_demos_jobs_in_a_makers_words_forecast_like_the_same_plan_as_a_plan_file(empty, tmp_path):
    plan = demo_plan()
    (tmp_path / "plan.toml").write_text(write_plan(plan), encoding="utf-8")
    as_file = Program(tmp_path / "file.sqlite", empty.monkeypatch)
    as_file("new")
    as_file("read", "plan.toml", "--today", "2026-06-15")
    workbook(tmp_path / "jobs.xlsx", list(demo_rows(plan)))
    day = ("--today", "2026-06-15")
    empty("new", "ebb-1", "quantity=240", "start=2026-06-15")
    empty("read", "jobs.xlsx", "leads", "days=cd", "--yes", *day)
    codes = codes_by_name(empty)
    names = {job.code: job.name for job in plan.jobs}
    for one in plan.shipments:
        after = ",".join(codes[names[code]] for code in one.after)
        empty("add", "shipment", one.code, f"quantity={one.quantity}", f"after={after}", *day)
    first = {one["code"]: one["first_plan"] for one in as_file.json("forecast", *day)["shipments"]}
    assert empty.dates(*day) == first
    planned = {
        names[one["code"]]: one["first_plan"]["arrives"] for one in as_file.json("forecast", *day)["jobs"]
    }
    arrive = {one["code"]: one["arrives"] for one in empty.json("forecast", *day)["jobs"]}
    assert {name: arrive[code] for name, code in codes.items()} == planned
    assert len(planned) == len(plan.jobs)


def codes_by_name(program):
    """Codes by name, from the plan as it would be written."""
    plan = parse_plan(program.out("write", "-"), source="out", today=date(2026, 6, 20)).plan
    return {job.name: job.code for job in plan.jobs}

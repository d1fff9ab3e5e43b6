"""Why the dates moved, asked of the demo's own diary and of what a week adds to it.

Invented scenario; dates beside which "plain day counting" stands were computed beforehand, apart from this program.
"""

import pytest

TOLD = "2026-10-16"


def lines(report):
    return [line for line in report["lines"] if line["effects"]]


def logged(report):
    """Lines of entries, without those of days that passed."""
    return [line for line in lines(report) if line["entry"] is not None]


def effects(line):
    return {one["shipment"]: one["days"] for one in line["effects"]}


def totals(report):
    return {one["shipment"]: one["days"] for one in report["shipments"]}


def added_up(report):
    found = dict.fromkeys(totals(report), 0)
    for line in report["lines"]:
        for code, days in effects(line).items():
            found[code] += days or 0
    return found


def test_by_default_it_begins_where_backers_were_last_told(program):
    report = program.json("moved")
    assert (report["since"], report["since_told"], report["until"]) == (TOLD, True, "2026-11-24")
    assert [one["after"] for one in report["shipments"]] == ["2027-01-14", "2027-02-05"]


@pytest.mark.parametrize("since", ["15jun 2026", "2026-08-01", "16oct", "12nov", "19nov", "today"])
@pytest.mark.parametrize("more", [(), ("--all",)])
def test_lines_and_sums_add_up_to_each_shipments_move(program, since, more):
    report = program.json("moved", "since", *since.split(), *more)
    known = {code: days for code, days in totals(report).items() if days is not None}
    assert {code: days for code, days in added_up(report).items() if code in known} == known or not known
    for code, days in known.items():
        assert sum(one["days"].get(code, 0) for one in report["by_cause"]) == days
        in_time = {one["shipment"]: one for one in report["shipments"]}[code]
        reached = [one for line in report["lines"] for one in line["effects"] if one["shipment"] == code]
        if reached:
            assert reached[0]["before"] == in_time["before"]
            assert reached[-1]["after"] == in_time["after"]


def test_the_licence_moved_the_last_parcel_by_a_fortnight(program):
    """Promised 4 Dec instead of 20 Nov: 14 days on the chain that holds the last parcel; plain day counting."""
    (line,) = [one for one in lines(program.json("moved", "since", "19nov")) if one["entry"] == 51]
    assert effects(line) == {"wave-1": 6, "wave-2": 14}
    assert (line["promise_was"], line["facts"][0]["fact"]["day"]) == ("2026-11-20", "2026-12-04")
    assert {(one["cause"], one["job"], one["supplier"]) for one in line["effects"]} == {
        ("supplier late", "licence", "qingsha")
    }
    out = program.out("moved", "since", "19nov", width=120)
    assert "entry 51  licence promised Fri 4 Dec, was Fri 20 Nov" in out


def test_the_unpaid_deposit_is_our_own_delay(program):
    """Four days from Friday to Tuesday, of which one working day of wave 1; plain day counting."""
    report = program.json("moved", "since", "20nov")
    (days,) = lines(report)
    assert (days["entry"], effects(days)) == (None, {"wave-1": 1})
    assert (days["effects"][0]["cause"], days["effects"][0]["job"]) == ("our own delay", "boxes")
    assert [(one["name"], one["days"]) for one in report["by_supplier"]] == [("us", {"wave-1": 1})]


def test_a_mail_about_the_licence_is_one_line_with_the_closures_share(program):
    """Wave 1 from 14 to 20 Jan, last parcel 5 to 12 Feb; plain day counting."""
    program("paid", "boxes")
    program("promised", "licence", "11dec", "said", "licence 11 Dec")
    report = program.json("moved", "since", "today")
    (line,) = logged(report)
    assert effects(line) == {"wave-1": 6, "wave-2": 7}
    assert line["promise_was"] == "2026-12-04"
    assert line["effects"][0]["closure"] == {
        "supplier": "lark", "first": "2026-12-24", "last": "2027-01-03", "why": ["year-end break"], "days": 6,
    }  # fmt: skip
    assert (line["entry"], report["quiet"]) == (54, [53])


def test_what_moves_nothing_is_folded_unless_all_is_asked_for(program):
    program("promised", "natural", "4dec")
    out = program.out("moved", "since", "today")
    assert "entry 53 moved nothing: all lines with --all" in out
    every = program.json("moved", "since", "today", "--all")
    assert [line["entry"] for line in every["lines"]] == [None, 53]
    assert every["quiet"] == []


def test_undo_and_the_same_entry_again_leave_the_forecast_and_are_both_in_the_diary(program):
    words = ("promised", "licence", "11dec")
    program(*words)
    first = program.json("forecast")
    program("undo")
    program(*words)
    assert program.json("forecast") == first
    diary = program.json("diary")[:3]
    assert [(one["number"], one["undoes"], one["undone_by"]) for one in diary] == [
        (55, None, None), (54, 53, None), (53, None, 54),
    ]  # fmt: skip
    report = program.json("moved", "since", "today")
    assert [effects(line)["wave-2"] for line in logged(report)] == [7, -7, 7]
    assert totals(report) == {"wave-1": 7, "wave-2": 7}
    assert {one["name"] for one in report["by_cause"]} == {"supplier late", "our own delay"}


def test_a_delivery_entered_late_takes_back_what_the_days_had_cost(program):
    program("promised", "licence", "27nov", "--today", "2026-11-24")
    program("in", "licence", "on", "27nov", "--today", "2026-12-03")
    report = program.json("moved", "since", "2026-11-27", "--all", "--today", "2026-12-03")
    left = next(line for line in report["lines"] if line["entry"] == 55)
    assert left["late_by"] == 6
    assert added_up(report) == totals(report)


def test_the_telling_itself_is_where_the_next_movement_begins(program):
    program("promised", "licence", "11dec")
    program("told", "wave-2", "20feb")
    program("promised", "licence", "18dec")
    report = program.json("moved")
    assert (report["since"], report["since_told"]) == ("2026-11-24", True)
    assert [line["entry"] for line in lines(report)] == [55]


def test_an_edit_says_what_it_changed(program):
    program("set", "trial", "lead=5wd")
    (line,) = logged(program.json("moved", "since", "today"))
    assert line["edits"] == ["changed job trial: lead 3wd -> 5wd"]
    assert {one["cause"] for one in line["effects"]} == {"plan edited"}


def test_until_stops_at_the_evening_of_a_day(program):
    report = program.json("moved", "since", "16oct", "until", "18nov")
    assert [one["after"] for one in report["shipments"]] == ["2027-01-07", "2027-01-22"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("since", "30nov 2026"), "since Mon 30 Nov 2026 is after"),
        (("until", "2026-12-01"), "is after today"),
        (("since",), "since needs a date after it"),
        (("for", "16oct"), "'for' has no place in 'moved'"),
        (("since", "16oct", "since", "17oct"), "'since' has no place"),
    ],
)
def test_what_cannot_be_looked_back_at_is_refused(program, words, said):
    typed = [part for word in words for part in word.split()]
    assert said in program.refuses("moved", *typed, exit_code=2)


def test_before_the_first_entry_all_shipments_are_new(program):
    report = program.json("moved", "since", "2026-06-01")
    assert [one["how"] for one in report["shipments"]] == ["new", "new"]
    assert report["by_cause"] == []


@pytest.mark.parametrize(
    "verb",
    [
        "",
        "forecast",
        "late",
        "calls",
        "owed",
        "near",
        "gates",
        "promises",
        "closures",
        "need",
        "sets",
        "weeks",
        "licence",
        "qingsha",
        "wave-1",
        "magnet",
    ],
)
def test_as_known_gives_the_answer_of_that_evening(program, verb):
    """Nothing entered after the day is in it: the same answer as before that was logged."""
    words = [verb] if verb else []
    then = program.json(*words, "--today", "2026-11-23")
    program("in", "glass-sea", "268", "scrap", "2")
    program("promised", "licence", "18dec")
    assert program.json(*words, "--as-known", "2026-11-23") == then
    assert program.json(*words) != then


def test_as_known_knows_leads_and_links_of_that_day(program):
    program("set", "trial", "lead=9wd", "after+=smt-last", "--today", "2026-11-25")
    then, now = program.out("trial", "--as-known", "2026-11-24"), program.out("trial")
    assert ("lead             3wd" in then, "lead             9wd" in now) == (True, True)
    assert ("smt-last" in then, "smt-last" in now) == (False, True)


def test_as_known_counts_a_fact_from_the_day_it_was_entered(program):
    program("finished", "look-over", "on", "20nov", "--today", "2026-11-27")
    assert program.json("look-over", "--as-known", "2026-11-26")["row"]["state"] != "DONE"
    assert program.json("look-over", "--as-known", "2026-11-27")["row"]["state"] == "DONE"


def test_a_page_as_known_says_what_a_fact_said_before_later_corrections(program):
    program("in", "glass-sea", "268", "scrap", "2")
    program("fix", "53", "good", "267", "--today", "2026-11-26")
    facts = program.json("glass-sea", "--as-known", "2026-11-25")["facts"]
    assert facts[-1]["row"]["fact"]["good"] == 268
    assert facts[-1]["before"] == []
    facts = program.json("glass-sea", "--as-known", "2026-11-26")["facts"]
    assert (facts[-1]["row"]["fact"]["good"], facts[-1]["before"][0][1]["fact"]["good"]) == (267, 268)


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("late", "--as-known", "2026-12-01"), 2, "is after today"),
        (("late", "--as-known", "1jun"), 1, "nothing was known on Mon 1 Jun 2026"),
        (("--as-known", "16oct", "late"), 2, "--as-known before a verb is for the board"),
    ],
)
def test_what_cannot_be_known_is_refused(program, words, code, said):
    assert said in program.refuses(*words, exit_code=code)


def test_an_entry_made_ahead_hides_nothing_that_came_after_it(program):
    """What is entered after it counts from its day in the diary, but the page of today knows it all."""
    program("set", "run", "today=")
    program("note", "boxes", "ordered the tape", "--today", "2026-12-24")
    later = program.json("promised", "licence", "18dec", "--today", "2026-11-25")
    assert (
        "the diary counts this from Thu 24 Dec 2026, the day of an entry made before it" in later["remarks"]
    )
    board = {one["code"]: one["forecast"] for one in program.json("--today", "2026-12-24")["shipments"]}
    moved = program.json("moved", "--today", "2026-12-24")
    assert {one["shipment"]: one["after"] for one in moved["shipments"]} == board
    assert added_up(moved) == totals(moved)


def test_an_edit_on_a_later_day_moves_a_kept_today_as_a_fact_does(program):
    program("add", "shipment", "wave-3", "quantity=5", "after=trial", "--today", "2026-11-26")
    assert program.json()["today"] == "2026-11-26"
    program("remove", "wave-3", "--today", "2026-11-27")
    report = program.json("moved", "since", "2026-11-25")
    assert report["today"] == "2026-11-27"
    (gone,) = [one for one in report["shipments"] if one["shipment"] == "wave-3"]
    assert (gone["before"], gone["after"], gone["how"]) == (None, None, "no date")


def test_an_entry_about_several_jobs_printed_its_dates_once_it_was_whole(program):
    program("promised", "boxes", "licence", "20jan")
    program("undo")
    assert program.json("moved", "since", "today")["recalculated"] == []


@pytest.mark.parametrize(
    "words", [("in", "finish-natural", "60", "scrap", "36"), ("promised", "boxes", "licence", "20jan")]
)
def test_an_entry_and_its_undo_leave_no_sum_by_cause_or_supplier(program, words):
    program(*words)
    program("undo")
    report = program.json("moved", "since", "today")
    assert logged(report)
    night = [{"wave-1": 1}]  # a day more without the deposit
    assert (
        [one["days"] for one in report["by_cause"]] == [one["days"] for one in report["by_supplier"]] == night
    )


def test_entries_clipped_to_a_day_ahead_count_on_the_runs_own_today(program):
    program("set", "boxes", "name=Boxes and leaflets", "--today", "2026-12-30")
    program("set", "run", "today=2026-11-24")
    remarks = program.json("promised", "licence", "18dec")["remarks"]
    assert "the diary counts this from Wed 30 Dec 2026, the day of an entry made before it" in remarks
    board = {one["code"]: one["forecast"] for one in program.json()["shipments"]}
    assert board["wave-2"] == "2027-02-15"
    moved = program.json("moved")
    assert {one["shipment"]: one["after"] for one in moved["shipments"]} == board
    assert added_up(moved) == totals(moved)
    known = program.json("--as-known", "2026-11-24")
    assert {one["code"]: one["forecast"] for one in known["shipments"]} == board
    assert {
        one["row"]["code"]: one["row"]["forecast"] for one in program.json("friday")["shipments"]
    } == board
    assert program.json("moved", "until", "2026-11-23")["shipments"][1]["after"] != "2027-02-15"


def test_the_diary_as_known_has_no_later_entry_and_no_later_undo(program):
    program("promised", "licence", "11dec")
    program("note", "boxes", "nothing new", "--today", "2026-11-26")
    program("undo", "53")
    newest = program.json("diary", "--as-known", "2026-11-25")[0]
    assert (newest["number"], newest["undone_by"]) == (53, None)
    assert program.json("diary", "--as-known", "2026-11-26")[0]["undoes"] == 53


def test_a_correction_says_what_it_changed_to_and_what_it_said(program):
    program("promised", "licence", "11dec")
    program("fix", "53", "18dec")
    (line,) = [one for one in program.json("moved", "since", "today")["lines"] if one["entry"] == 54]
    assert (line["facts"][0]["fact"]["day"], line["was"][0]["fact"]["day"]) == ("2026-12-18", "2026-12-11")
    out = program.out("moved", "since", "today", width=200)
    assert "corrected: licence promised Fri 18 Dec (was: licence promised for Fri 11 Dec 2026" in out


def test_a_date_brought_forward_is_not_called_late(program):
    program("promised", "licence", "1dec")
    assert "(supplier earlier, qingsha)" in program.out("moved", "since", "today", width=200)
    names = [one["name"] for one in program.json("moved", "since", "today")["by_cause"]]
    assert names == ["supplier earlier", "our own delay"]


def test_what_a_late_entry_takes_back_is_said_though_it_moves_nothing(program):
    program("promised", "licence", "27nov")
    program("note", "boxes", "no news", "--today", "2026-12-03")
    program("in", "licence", "on", "27nov")
    out = program.out("moved", "since", "27nov")
    assert "entered 6 days late; not knowing it had cost wave-2" in " ".join(out.split())


def test_our_own_bench_is_us_among_the_suppliers(program):
    program("set", "boxes", "name=Boxes")
    program("promised", "look-over", "20jan")
    assert [one["name"] for one in program.json("moved", "since", "today")["by_supplier"]] == ["us"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("since", "25nov"), "'25nov' looks back to Tue 25 Nov 2025, before the run began"),
        (("since", "last week"), "since needs a date after it, found 'last week'"),
        (("since", "16oct..19nov"), "since needs a date after it, found '16oct..19nov'"),
    ],
)
def test_a_day_that_cannot_be_meant_is_quoted_back(program, words, said):
    assert said in program.refuses("moved", *words, exit_code=2)


def test_dashes_before_since_are_no_matter(program):
    assert program.json("moved", "--since", "19nov") == program.json("moved", "since", "19nov")


def test_a_look_back_begins_with_what_was_printed_the_evening_before(program):
    evenings = {}
    for day in ("2026-11-24", "2026-11-25", "2026-11-26"):
        program("note", "boxes", f"evening of {day}", "--today", day)
        evenings[day] = {one["code"]: one["forecast"] for one in program.json()["shipments"]}
    report = program.json("moved", "since", "2026-11-25", "until", "2026-11-25")
    assert {one["shipment"]: one["before"] for one in report["shipments"]} == evenings["2026-11-24"]
    assert {one["shipment"]: one["after"] for one in report["shipments"]} == evenings["2026-11-25"]
    whole = totals(program.json("moved", "since", "2026-11-25"))
    days = [totals(program.json("moved", "since", day, "until", day)) for day in ("2026-11-25", "2026-11-26")]
    assert whole == {code: sum(one[code] for one in days) for code in whole}


def test_late_and_early_suppliers_are_summed_apart(program):
    program("promised", "licence", "11dec")
    program("promised", "licence", "9dec")
    by_cause = {one["name"]: one["days"] for one in program.json("moved", "since", "today")["by_cause"]}
    assert by_cause["supplier late"]["wave-2"] == 7
    assert by_cause["supplier earlier"]["wave-2"] < 0


def test_undoing_a_fact_said_twice_ends_where_the_forecast_does(program):
    for day in ("11dec", "14dec", "11dec"):
        program("promised", "licence", day)
    program("undo")
    report = program.json("moved", "since", "today", "--all")
    assert {one["shipment"]: one["after"] for one in report["shipments"]} == program.dates()
    assert added_up(report) == totals(report)


def test_entries_made_after_until_do_not_count_though_a_later_today_is_typed(program):
    program("set", "run", "today=")
    program("set", "pack-2", "lead=15wd", "--today", "2026-12-05")
    first = program.json("moved", "since", "25nov", "until", "1dec", "--today", "2026-12-10")
    assert all(line["entry"] is None or line["last"] <= "2026-12-01" for line in first["lines"])
    then = program.json("moved", "since", "2dec", "until", "10dec", "--today", "2026-12-10")
    assert [one["after"] for one in first["shipments"]] == [one["before"] for one in then["shipments"]]


def test_before_there_is_a_run_as_known_says_how_to_get_one(empty):
    empty("new")
    assert "there is no run in" in empty.refuses("late", "--as-known", "yesterday", exit_code=1)

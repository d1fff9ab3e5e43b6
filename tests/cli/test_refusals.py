"""What cannot be is refused: one clear message on standard error, nothing on standard output, nothing stored."""

import shlex
import sqlite3
import subprocess
import sys

import pytest

from tracker.words.verbs import VERBS

USAGE = [
    # unknown codes
    *[(f"{verb} nosuch{more}", "there is no job 'nosuch'") for verb, more in [
        ("ordered", ""), ("paid", ""), ("approved", ""), ("gave", ""), ("started", ""), ("promised", " 4dec"),
        ("made", " 5"), ("left", ""), ("in", " 5"), ("sorted", " 5"), ("finished", ""), ("passed", ""),
        ("failed", ""), ("paused", ""), ("resumed", ""), ("called-off", ""),
    ]],
    ("posted nosuch 5", "there is no shipment 'nosuch'"),
    ("told nosuch 4dec", "there is no shipment 'nosuch'"),
    ("called nosuch", "there is no supplier 'nosuch'"),
    ("in boxs 5", "did you mean boxes?"),
    ("in box-artwrk 5", "did you mean box-artwork?"),
    ("started wave", "'wave' begins several codes: wave-1-build, wave-2-build"),
    ("started varne", "varne has 2 open jobs: finish-natural, rework-graphite"),
    ("started fenwater", "fenwater has no open job"),
    # facts that lie ahead
    *[(f"{verb} on 2026-12-24", "Thu 24 Dec 2026 is after today, Tue 24 Nov 2026") for verb in [
        "ordered trial", "paid boxes", "approved boxes", "gave boxes", "started trial", "promised boxes 4dec",
        "made boxes", "left glass-sea", "in glass-sea 5", "finished trial", "passed fit-check-d", "failed emc",
        "paused licence", "resumed licence", "called-off licence", "posted wave-1 5", "told wave-1 4dec",
        "decided boxes x", "called marlgate",
    ]],
    ("paid boxes on tomorrow", "after today"),
    ("paid boxes on 1dec", "looks back to Mon 1 Dec 2025, before the run began"),
    # what is missing, or too much
    *[(verb, f"{verb} which") for verb, about in VERBS.items() if about.about != "anything"],
    ("decided", "decided needs a text"),
    ("note", "note needs a text"),
    ("promised boxes", "promised needs a date"),
    ("told wave-1", "told needs a date"),
    ("posted wave-1", "posted needs a number of units"),
    ("sorted boxes", "sorted needs a number of pieces"),
    *[(f"{verb} boxes 5", f"{verb} takes no number: '5'") for verb in VERBS
      if VERBS[verb].about == "job" and not VERBS[verb].number and not VERBS[verb].text],
    ("in boxes 5 6", "good is given twice: 5 and 6"),
    ("in boxes 5 thu", "'thu' is a date, but in takes none here"),
    ("in boxes 5 on 30feb", "no day 30"),
    ("promised boxes soon", "promised needs a date"),
    ("gave boxes material 4dec", "a date goes with day1 only"),
    ("gave boxes day1", "a date goes with day1 only"),
    ("told wave-1 20feb..10feb", "runs backwards"),
    # words of the command line
    ("promissed licence 4dec", "did you mean promised?"),
    ("frobnicate", "there is no verb or code 'frobnicate'"),
    ("show nothing", "there is no verb or code 'nothing'"),
    ("c", "'c' begins several verbs or codes: calls, closures"),
    ("re boxes", "'re' begins several verbs or codes: read, remove, resumed, rework"),
    ("--json forecast", "--json before a verb"),
    ("--today 30feb", "no day 30"),
    ("forecast --today soon", "'soon' is not a date"),
    ("set boxes", "set what of boxes?"),
    ("set nosuch lead=3wd", "there is no job, supplier, part or shipment 'nosuch'"),
    ("remove nosuch", "there is no job, supplier, part or shipment 'nosuch'"),
    ("add parcel foam", "'parcel' cannot be added"),
    ("add job foam lead", "'lead' is not key=value"),
    ("keep-plan", "add --yes"),
    ("export newsletter", "there is no page 'newsletter'"),
    ("export backers --out status.txt", "does not end in .xlsx"),
]  # fmt: skip

REFUSED = [
    ("passed trial", "trial is not a gate, so it cannot be passed"),
    ("failed boxes", "boxes is not a gate, so it cannot be failed"),
    *[(f"{verb}", "screws has been done since Mon 31 Aug 2026") for verb in [
        "ordered screws", "started screws", "promised screws 4dec", "made screws", "left screws", "in screws 5",
        "finished screws", "paused screws", "resumed screws", "called-off screws",
    ]],
    ("started licence", "licence: started is logged already, for Mon 7 Sep 2026"),
    ("sorted finish-natural 5", "0 pieces counted but not judged, fewer than the 5 sorted"),
    ("undo 999", "there is no entry 999; entries run from 1 to 52"),
    ("undo 1", "cannot be undone: 42 entries, and last of all entry 50"),
    ("set boxes lead=12", "12cd (calendar days) or 12wd (their working days)"),
    ("set boxes leed=12wd", "did you mean lead?"),
    ("set boxes after=pack-1", "jobs wait for each other in a ring: boxes waits for pack-1; pack-1 takes box, which boxes makes"),
    ("set boxes supplier=nosuch", "there is no supplier 'nosuch'"),
    ("set moinho country=XX", "there is no country 'XX'"),
    ("add job boxes supplier=lark lead=3wd", "there is a job boxes already"),
    ("add job today supplier=lark lead=3wd", "'today' is a word of the command line"),
    ("add job foam supplier=bren lead=3wd", "did you mean brenta?"),
    ("add job foam supplier=brenta", "job foam: has no lead; write lead=..."),
    ("add shipment wave-3 quantity=10 after=pack-9", "shipment wave-3, after: there is no job 'pack-9'; did you mean pack-2?"),
    ("remove boxes", "boxes has facts logged about it"),
    ("remove pack-2", "part packed-natural: wave-2 contains it, but no job makes it and none is here"),
    ("remove trial", "trial is needed by wave-1-build"),
    ("remove kessling", "kessling is needed by screws"),
    ("read nosuch.toml", "there is no file nosuch.toml"),
    ("read .", "cannot be read"),
    ("write /nosuch/plan.toml", "cannot write /nosuch/plan.toml: there is no folder /nosuch"),
    ("export backers --out /nosuch/x.xlsx", "there is no folder /nosuch"),
    ("new", "an existing one is never overwritten"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "says"), USAGE, ids=[case[0] for case in USAGE])
def test_words_that_cannot_be_read_change_nothing(program, words, says):
    message = program.refuses(*shlex.split(words), exit_code=2)
    assert says in message
    assert message.startswith("error: ")
    assert "\nhint: " in message


@pytest.mark.parametrize(("words", "says"), REFUSED, ids=[case[0] for case in REFUSED])
def test_what_cannot_be_is_refused_and_changes_nothing(program, words, says):
    message = program.refuses(*shlex.split(words), exit_code=1)
    assert says in message
    assert message.startswith("error: ")


TYPER = [
    "in boxes --foo",
    "forecast extra",
    "undo first",
    "read",
    "set",
    "add job",
    "export",
    "licence --nosuch",
]


@pytest.mark.parametrize("words", TYPER)
def test_options_and_arguments_that_do_not_exist_are_usage_errors(program, words):
    assert "error: " in program.refuses(*words.split(), exit_code=2).lower()


def test_every_logging_verb_is_given_something_bad():
    tried = {case[0].split()[0] for case in (*USAGE, *REFUSED)}
    assert tried >= set(VERBS) | {
        "undo",
        "set",
        "add",
        "remove",
        "read",
        "write",
        "export",
        "new",
        "keep-plan",
    }


def test_more_sorted_than_counted_is_refused(program):
    program("in", "glass-sea", "count", "10")
    message = program.refuses("sorted", "glass-sea", "8", "scrap", "3", exit_code=1)
    assert "10 pieces counted but not judged, fewer than the 11 sorted" in message


def test_an_entry_undone_cannot_be_undone_again(program):
    program("note", "boxes", "x")
    program("undo", "53")
    message = program.refuses("undo", "53", exit_code=1)
    assert "entry 53 (note boxes x) is already undone by entry 54" in message
    assert "hint: do it again with 'tracker undo 54'" in message


def test_an_entry_that_later_ones_rest_on_is_refused_and_they_are_named(program):
    program("add", "job", "foam", "supplier=brenta", "lead=3wd")
    program("promised", "foam", "4dec")
    message = program.refuses("undo", "53", exit_code=1)
    assert "entry 54 (promised foam 4dec) rests on it" in message
    assert "hint: undo it first: 'tracker undo 54'" in message


def test_nothing_to_undo_is_said(empty):
    empty("new")
    assert "there is no run in" in empty.refuses("undo", exit_code=1)


def test_a_job_called_off_takes_no_news_until_it_is_wanted_again(program):
    program("called-off", "rework-graphite")
    message = program.refuses("in", "rework-graphite", "5", exit_code=1)
    assert "rework-graphite was called off" in message
    assert "tracker resumed rework-graphite" in message
    program("resumed", "rework-graphite")
    program("in", "rework-graphite", "5")


ASKING = ["", "forecast", "late", "calls", "weeks", "diary", "in boxes 5", "set boxes lead=3wd", "write", "export backers",
          "undo", "licence", "remove boxes", "keep-plan --yes", "add supplier x"]  # fmt: skip


@pytest.mark.parametrize("words", ASKING)
def test_a_missing_database_names_the_command_that_makes_one(empty, words):
    message = empty.refuses(*words.split(), exit_code=1)
    assert "tracker new" in message
    assert not empty.database.exists()


@pytest.mark.parametrize(
    "words", ["", "forecast", "late", "calls", "weeks", "in boxes 5", "write", "licence"]
)
def test_a_database_without_a_run_says_how_to_get_one(empty, words):
    empty("new")
    assert "tracker read plan.toml" in empty.refuses(*words.split(), exit_code=1)


@pytest.mark.parametrize("words", ["forecast", "in boxes 5", "new"])
def test_a_file_that_is_no_database_is_left_alone(empty, words):
    empty.database.write_text("a shopping list", encoding="utf-8")
    result = empty(*words.split(), exit_code=1)
    assert (result.stdout, empty.database.read_text(encoding="utf-8")) == ("", "a shopping list")
    assert "error: " in result.stderr


def test_a_database_of_a_newer_program_is_left_alone(program):
    connection = sqlite3.connect(program.database)
    number = connection.execute("PRAGMA user_version").fetchone()[0]
    if number:
        connection.execute(f"PRAGMA user_version = {number + 1}")
    else:
        table = next(
            name for (name,) in connection.execute("SELECT name FROM sqlite_master") if "version" in name
        )
        connection.execute(f"UPDATE {table} SET version = version + 1")
    connection.commit()
    connection.close()
    for words in ("forecast", "in boxes 5", "read x.toml", "undo"):
        if not words.startswith("read"):
            assert "newer" in program.refuses(*words.split(), exit_code=1)


def test_a_kind_of_database_not_covered_is_refused(empty):
    result = empty("--db", "postgresql://host/run", "forecast", exit_code=1)
    assert "a database of kind 'postgresql' is not covered" in result.stderr


def test_a_refusal_in_a_real_shell_leaves_no_traceback_and_no_file(tmp_path):
    result = subprocess.run(
        [sys.executable, "-m", "tracker", "in", "boxes", "5"], cwd=tmp_path, capture_output=True, text=True,
        check=False, env={"PATH": ""},
    )  # fmt: skip
    assert (result.returncode, result.stdout) == (1, "")
    assert result.stderr.startswith("error: there is no database at tracker.sqlite\nhint: ")
    assert list(tmp_path.iterdir()) == []

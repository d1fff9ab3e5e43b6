"""The README cannot rot: its tour is run, its commands exist, its documents have the keys it names.

``UPDATE_DOCS=1 python -m pytest tests/test_docs.py`` writes the tour's real output into the README.
"""

import json
import os
import re
import shlex
from pathlib import Path

import pytest
from typer.testing import CliRunner

from tracker.cli.app import app
from tracker.plan.reserved import DAYS, RESERVED
from tracker.words.verbs import VERBS

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
CONSOLE = re.compile(r"```console\n(.*?)```", re.DOTALL)
DEMO = ROOT / "demo_db"


def run_line(line, environment):
    """What a terminal 80 columns wide shows for one line of the tour."""
    if line.startswith("export "):
        name, _, value = line.removeprefix("export ").partition("=")
        environment[name] = value
        return ""
    words = shlex.split(line)
    assert words[0] == "tracker", line
    result = CliRunner().invoke(app, words[1:], env=environment)
    assert result.exit_code == 0, result.output
    return result.output


def play(block, environment):
    commands = [line for line in block.splitlines() if line.startswith("$ ")]
    return "".join(f"{line}\n{run_line(line[2:], environment)}" for line in commands)


def test_the_tour_shows_what_the_program_prints(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = README.read_text(encoding="utf-8")
    environment = {"COLUMNS": "80", "NO_COLOR": "1", "TRACKER_DB": ""}
    played = CONSOLE.sub(lambda found: f"```console\n{play(found[1], environment)}```", text)
    if os.environ.get("UPDATE_DOCS"):
        README.write_text(played, encoding="utf-8")
    assert README.read_text(encoding="utf-8") == played
    assert (tmp_path / "exports" / "status.xlsx").is_file()


def test_set_up_commands_are_the_ones_the_check_runs():
    commands = re.findall(r"```sh\n(.*?)\n```", README.read_text(encoding="utf-8"), re.DOTALL)
    assert len(commands) == 2
    assert commands[0].endswith(".venv/bin/tracker demo")
    assert commands[1].endswith(".venv/bin/python -m pytest")
    assert "README.md" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def command_names():
    import typer.main

    return list(typer.main.get_command(app).commands)


@pytest.mark.parametrize("name", command_names())
def test_every_command_is_in_the_readme_and_has_an_example_in_its_help(name):
    assert re.search(rf"tracker {re.escape(name)}\b", README.read_text(encoding="utf-8"))
    help_text = CliRunner().invoke(app, [name, "--help"]).output
    assert "Example: tracker" in help_text


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    result = CliRunner().invoke(app, ["demo", "--in", str(folder)])
    assert result.exit_code == 0, result.output
    return folder / "demo_db" / "demo.sqlite"


def in_table(line):
    """Commands shown in the first column of the README's tables, such as ``tracker paid boxes``."""
    return re.findall(r"`(tracker [^`]*)`", line.split(" | ")[0]) if line.startswith("| `tracker") else []


LOGGING = {*VERBS, "undo", "fix", "rework"}
LOGGED = [
    command
    for line in README.read_text(encoding="utf-8").splitlines()
    for command in in_table(line)
    if command.split()[1:2] and command.split()[1] in LOGGING
]
REFUSED_ON_THE_DEMO = {
    "tracker ordered boxes 250": "error: boxes: ordered is logged already, for Fri 20 Nov 2026",
    "tracker approved boxes proof": "error: boxes: proof given is logged already, for Fri 20 Nov 2026",
    "tracker started finish-natural": "error: finish-natural: started is logged already, for Wed 11 Nov 2026",
    "tracker sorted finish-natural 52 rework 5 scrap 3": "error: finish-natural has 0 pieces counted but not judged, fewer than the 60 sorted",
    "tracker rework fit-check-d by tolmark lead 12wd": "error: fit-check-d needs no further rework: fit-check-d has passed since",
    "tracker undo 93": "error: there is no entry 93; entries run from 1 to 53",
    "tracker fix 57 good 91": "error: there is no entry 57; entries run from 1 to 53",
}
AFTER = {"tracker resumed trial": ("tracker paused trial until 7dec",)}
KNOWN_TO_THE_DEMO = {
    "tracker left glass-sea on 24sep": "glass-sea: already logged as entry 33; nothing was stored again"
}


def test_the_tables_show_all_logging_verbs():
    assert {command.split()[1] for command in LOGGED} == LOGGING


def test_what_is_listed_here_stands_in_the_tables():
    assert {*REFUSED_ON_THE_DEMO, *KNOWN_TO_THE_DEMO, *AFTER} <= set(LOGGED)


@pytest.mark.parametrize("command", LOGGED)
def test_each_logging_command_of_the_tables_runs_on_the_demo_or_is_refused_for_the_reason_listed(
    command, demo, tmp_path
):
    copy = tmp_path / "copy.sqlite"
    copy.write_bytes(demo.read_bytes())
    for typed in (*AFTER.get(command, ()), command):
        result = CliRunner().invoke(app, ["--db", str(copy), *shlex.split(typed)[1:]], env={"COLUMNS": "200"})
    first = result.output.splitlines()[0]
    if command in REFUSED_ON_THE_DEMO:
        assert (first, result.exit_code) == (REFUSED_ON_THE_DEMO[command], 1)
    elif command in KNOWN_TO_THE_DEMO:
        assert (first, result.exit_code) == (KNOWN_TO_THE_DEMO[command], 0)
    else:
        assert result.exit_code == 0, result.output
        assert re.search(r"\[entry \d+\]$", first), first


def named_keys(document):
    """Keys the README's table of documents names for one of them; a code has a list a kind of thing."""
    rows = re.findall(r"^\| (.+?) \| (.+) \|$", README.read_text(encoding="utf-8"), re.MULTILINE)
    command, _, kind = document.partition(", ")
    (cell,) = [keys for name, keys in rows if name in (f"`tracker {command} --json`", f"{command} `--json`")]
    if kind:
        (cell,) = [part for part in cell.split("; ") if part.startswith(f"a {kind}: ")]
    return set(re.findall(r"`(\w+)`", re.sub(r"\([^)]*\)", "", cell)))


@pytest.mark.parametrize(
    ("command", "document"),
    [
        ("late", "late"),
        ("calls", "calls"),
        ("owed", "owed"),
        ("near", "near"),
        ("gates", "gates"),
        ("promises", "promises"),
        ("closures", "closures"),
        ("mail varne", "mail varne"),
        ("try promised licence 11dec", "try ..."),
        ("try promised licence 11dec..14dec", "try SPAN"),
        ("sets", "sets"),
        ("option", "option"),
        ("weeks", "weeks"),
        ("diary", "diary"),
        ("boxes", "CODE, job"),
        ("varne", "CODE, supplier"),
        ("wave-1", "CODE, shipment"),
        ("note boxes x", "any write"),
        ("set boxes lead=12wd", "any write"),
        ("undo", "any write"),
    ],
)
def test_json_documents_have_the_keys_their_row_of_the_readme_names(command, document, demo, tmp_path):
    copy = tmp_path / "copy.sqlite"
    copy.write_bytes(demo.read_bytes())
    result = CliRunner().invoke(app, ["--db", str(copy), *command.split(), "--json"])
    printed = json.loads(result.stdout)
    assert set(printed[0] if isinstance(printed, list) else printed) == named_keys(document)


def test_the_boards_document_has_the_keys_its_row_of_the_readme_names(demo):
    result = CliRunner().invoke(app, ["--db", str(demo), "--json"])
    (cell,) = re.findall(
        r"^\| `tracker --json` \| (.+) \|$", README.read_text(encoding="utf-8"), re.MULTILINE
    )
    assert set(json.loads(result.stdout)) == set(re.findall(r"`(\w+)`", cell))


def test_the_forecast_example_has_the_shape_the_program_prints(demo):
    example = json.loads(re.search(r"```json\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)[1])
    result = CliRunner().invoke(app, ["--db", str(demo), "forecast", "--json"])
    printed = json.loads(result.stdout)
    assert printed.keys() == example.keys()
    assert printed["shipments"][0] == example["shipments"][0]
    assert next(job for job in printed["jobs"] if job["code"] == "boxes") == example["jobs"][0]


def test_the_plan_file_shown_is_read(tmp_path):
    plan = re.search(r"```toml\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)[1]
    (tmp_path / "plan.toml").write_text(plan, encoding="utf-8")
    database = ["--db", str(tmp_path / "run.sqlite")]
    for words in (["new"], ["read", str(tmp_path / "plan.toml"), "--today", "2026-11-02"]):
        result = CliRunner().invoke(app, [*database, *words])
        assert result.exit_code == 0, result.output


def test_the_reserved_words_are_all_named():
    line = next(
        line for line in README.read_text(encoding="utf-8").splitlines() if "**Reserved words**" in line
    )
    named = set(re.findall(r"`([^`]+)`", line))
    assert RESERVED - set(DAYS) <= named <= RESERVED


def block(kind):
    return re.search(rf"```{kind}\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)[1]


def test_the_sheet_shown_is_read_by_the_commands_below_it(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "jobs.csv").write_text(block("text"), encoding="utf-8")
    typed = block("sh-session").splitlines()
    for line in typed:
        words = shlex.split(line)
        result = CliRunner().invoke(app, [*words[1:], "--today", "2026-11-02"], env={"TRACKER_DB": ""})
        assert (words[0], result.exit_code) == ("tracker", 0), result.output
    printed = json.loads(CliRunner().invoke(app, ["forecast", "--json", "--today", "2026-11-02"]).stdout)
    # 21 days from Tue 3 Nov to Mon 23 Nov, 8 working days to Thu 3 Dec, 1 on Fri 4 Dec, 5 to Fri 11 Dec
    assert printed["ship_date"] == "2026-12-11"


def test_the_notes_shown_are_logged_on_the_demo(demo, tmp_path):
    copy = tmp_path / "copy.sqlite"
    copy.write_bytes(demo.read_bytes())
    result = CliRunner().invoke(app, ["--db", str(copy), "log", "-"], input=block("notes"))
    assert result.exit_code == 0, result.output
    assert len(re.findall(r"\[entry \d+\]", result.output)) == len(block("notes").splitlines()) - 2

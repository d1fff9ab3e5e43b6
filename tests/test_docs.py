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
    return re.findall(r"`(tracker [^`]*)`", line.split("|")[1]) if line.startswith("| `tracker") else []


LOGGED = [
    command.replace("\\|", "|")
    for line in README.read_text(encoding="utf-8").splitlines()
    for command in in_table(line)
    if command.split()[1:2] and command.split()[1] in {*VERBS, "undo"}
]


def test_the_tables_show_all_logging_verbs():
    assert {command.split()[1] for command in LOGGED} == {*VERBS, "undo"}


@pytest.mark.parametrize("command", LOGGED)
def test_each_logging_command_of_the_tables_runs_or_is_refused_in_words(command, demo, tmp_path):
    copy = tmp_path / "copy.sqlite"
    copy.write_bytes(demo.read_bytes())
    result = CliRunner().invoke(app, ["--db", str(copy), *shlex.split(command)[1:]])
    assert result.exit_code in (0, 1)
    assert "usage" not in result.output.lower()
    if result.exit_code:
        assert (
            "has been done since" in result.output
            or "rest on it" in result.output
            or "already" in result.output
            or "no entry" in result.output
            or "judged" in result.output
        )


@pytest.mark.parametrize(
    "command", ["", "late", "calls", "weeks", "diary", "boxes", "varne", "wave-1", "forecast"]
)
def test_json_documents_have_the_keys_the_readme_names(command, demo):
    result = CliRunner().invoke(app, ["--db", str(demo), *command.split(), "--json"])
    document = json.loads(result.stdout)
    keys = set(document[0] if isinstance(document, list) else document)
    text = README.read_text(encoding="utf-8").partition("## JSON")[2].partition("## Cautions")[0]
    named = set(re.findall(r"[`\"](\w+)[`\"]", text))
    assert keys <= named


def test_the_forecast_example_has_the_shape_the_program_prints(demo):
    example = json.loads(re.search(r"```json\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)[1])
    result = CliRunner().invoke(app, ["--db", str(demo), "forecast", "--json"])
    printed = json.loads(result.stdout)
    assert printed["shipments"][0] == example["shipments"][0]
    assert next(job for job in printed["jobs"] if job["code"] == "boxes") == example["jobs"][0]


def test_the_plan_file_shown_is_read(tmp_path):
    plan = re.search(r"```toml\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)[1]
    (tmp_path / "plan.toml").write_text(plan, encoding="utf-8")
    database = ["--db", str(tmp_path / "run.sqlite")]
    for words in (["new"], ["read", str(tmp_path / "plan.toml"), "--today", "2026-11-02"]):
        result = CliRunner().invoke(app, [*database, *words])
        assert result.exit_code == 0, result.output

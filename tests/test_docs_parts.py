"""The README's section on parts: its commands run on the plan file it shows."""

import re
import shlex
from pathlib import Path

from typer.testing import CliRunner

from tracker.cli.app import app

README = Path(__file__).parent.parent / "README.md"


def block(kind):
    return re.search(rf"```{kind}\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)[1]


def test_the_commands_about_parts_run_on_the_plan_shown_above_them(tmp_path, monkeypatch):
    """57 bodies at 95% for 50 lamps and 2 spares: 30 good and 24 still in work, 2 to be redone, 1 lost later."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "plan.toml").write_text(block("toml"), encoding="utf-8")
    typed = ["tracker new", "tracker read plan.toml", *block("counted").splitlines()]
    shown = {}
    for line in typed:
        _, *words = shlex.split(line)
        day = () if words == ["new"] else ("--today", "2026-11-20")
        result = CliRunner().invoke(app, [*words, *day], env={"TRACKER_DB": "", "COLUMNS": "200"})
        assert result.exit_code == 0, (line, result.output)
        shown[line] = result.output
    assert "30 good, 2 rework, 1 scrap; 33 of 57 in, 24 to come" in shown[typed[9]]
    assert "full sets of whole-lamp on Fri 20 Nov 2026: 30" in shown["tracker sets"]
    assert "24  in work at mill (bodies)" in shown["tracker where body"]

"""Whole screens on the demo, one file each in ``tests/cases``: a command, its width, and what it prints.

``UPDATE_CASES=1 python -m pytest tests/render/test_terminal_cases.py`` writes what the program prints now into
them; read the difference before keeping it.
"""

import os
import shlex
from pathlib import Path

import pytest

CASES = sorted((Path(__file__).parent.parent / "cases").glob("*.txt"))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_screen_reads_as_kept(path, program):
    command, _, expected = path.read_text(encoding="utf-8").partition("\n")
    words, width = command.removeprefix("$ tracker").rsplit("#", 1)
    printed = program.out(*shlex.split(words), width=int(width))
    if os.environ.get("UPDATE_CASES"):
        path.write_text(f"{command}\n{printed}", encoding="utf-8")
        return
    assert printed == expected


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_screen_keeps_within_its_width(path):
    command, *lines = path.read_text(encoding="utf-8").splitlines()
    assert max(len(line) for line in lines) <= int(command.rsplit("#", 1)[1])
    assert all(line == line.rstrip() for line in lines)


def test_there_are_cases_at_both_widths():
    widths = {path.read_text(encoding="utf-8").partition("\n")[0].rsplit("#", 1)[1].strip() for path in CASES}
    assert widths == {"80", "120"}

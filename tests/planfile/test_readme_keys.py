"""The README names every key a plan file takes, table by table."""

import re
from pathlib import Path

import pytest

from tracker.planfile.book_guide import SHEETS
from tracker.planfile.entries import TABLES
from tracker.planfile.fields import FACT_TABLES

README = (Path(__file__).parent.parent.parent / "README.md").read_text(encoding="utf-8")


def named(heading):
    (cell,) = re.findall(rf"^\| `{re.escape(heading)}` \| (.+) \|$", README, re.MULTILINE)
    return set(re.findall(r"`(\w+)`", cell))


@pytest.mark.parametrize("name", TABLES)
def test_the_readme_names_all_keys_of_a_table(name):
    heading = "[run]" if name == "run" else f"[[{name}]]"
    assert named(heading) == set(TABLES[name].by_name)


def test_the_readme_has_a_row_for_every_table_of_a_plan_file():
    rows = re.findall(r"^\| `\[+(\w+)\]+` \|", README, re.MULTILINE)
    assert rows == list(SHEETS)


def test_keys_of_facts_the_readme_names_are_keys_of_facts():
    assert named("[[fact]]") <= {key for table in FACT_TABLES for key in table.by_name}

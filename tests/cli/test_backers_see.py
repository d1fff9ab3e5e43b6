"""What must not reach backers: every private field is filled with a word that stands nowhere else, then looked for."""

import re
import zipfile
from pathlib import Path

import pytest

PLAN = """
[run]
code = "run-1"
product = "Desk lamp"
quantity = 60
start = 2026-03-02
currency = "EUR"
unit = "zqpartcode"
[[supplier]]
code = "zqsupcode"
name = "Zqsupname Ltd"
contact = "Zqcontact, Zqsecond, 0-555-0105"
public_name = "our mill"
closures = [{ first = 2026-03-19, last = 2026-03-27, why = "zqwhy, a wedding" }]
[[supplier]]
code = "zqotherfirm"
name = "Zqothername"
contact = "zqlower"
closures = [{ first = 2026-03-19, last = 2026-03-27, why = "zqwhy, too" }]
[[supplier]]
code = "zqbench"
name = "Zqbenchname"
inhouse = true
contact = "Zqwim"
[[part]]
code = "zqpartcode"
name = "zqpartname"
public_name = "lamps"
[[part]]
code = "zqbarecode"
name = "zqbarename"
[[part]]
code = "zqhoodcode"
name = "zqhoodname"
public_name = "hoods"
[[job]]
code = "zqbare"
name = "zqbarejob"
supplier = "zqotherfirm"
lead = "5wd"
said = "zqsaid five days"
makes = "zqbarecode"
quantity = 60
process = "zqprocess"
[[job]]
code = "zqhood"
name = "zqhoodjob"
public_name = "Hood milling"
supplier = "zqsupcode"
lead = "10wd"
said = "zqsaid two weeks"
makes = "zqhoodcode"
quantity = 60
[[job]]
code = "zqbuild"
name = "zqbuildjob"
public_name = "Assembly"
supplier = "zqbench"
lead = "5wd"
makes = "zqpartcode"
takes = { zqhoodcode = 1, zqbarecode = 1 }
[[job]]
code = "zqgate"
name = "zqgatejob"
supplier = "zqbench"
lead = "2wd"
gate = true
after = ["zqhood"]
[[shipment]]
code = "zqwave"
name = "zqwavename"
public_name = "First parcels"
quantity = 30
part = "zqpartcode"
told = [{ on = 2026-03-02, for = 2026-04-01 }]
[[shipment]]
code = "zqlast"
name = "zqlastname"
public_name = "Last parcels"
quantity = 30
part = "zqpartcode"
after = ["zqgate"]
"""
TYPED = (
    "ordered zqhood on 2mar",
    "ordered zqbare on 2mar",
    'promised zqhood 2026-03-13 on 2mar said "zqwords for sure"',
    'promised zqhood 2026-03-18 on 3mar said "zqwords again"',
    'promised zqhood 2026-03-30 on 4mar said "zqwords once more"',
    "in zqbare 40 scrap 7 ref zqref on 9mar",
    'note zqhood "zqnote" on 9mar',
    'called zqsupcode "zqcall" on 9mar',
    'option zqoption "promised zqhood 2026-03-20" cost "zqcost 240"',
    'decided zqoption "zqcontact agreed"',
    'decided "go on with the hoods"',
    'decided "zqbare goes first"',
    'decided zqhood "zqsecond will call"',
)


def stored_text(path):
    """All text in all parts of a workbook: cells, comments, names of sheets, properties."""
    with zipfile.ZipFile(path) as packed:
        return "\n".join(packed.read(name).decode("utf-8", "replace") for name in packed.namelist())


@pytest.mark.parametrize("today", ["2026-03-13", "2026-04-03"])
def test_no_private_word_is_in_any_text_cell_comment_or_sheet_name(empty, today):
    Path("plan.toml").write_text(PLAN, encoding="utf-8")
    empty("new")
    empty("read", "plan.toml", "--today", "2026-03-02", "--yes")
    empty("log", "-", "--today", "2026-03-13", text="\n".join(TYPED))
    kept = empty("friday", "--out", "page.xlsx", "--today", today).stderr
    empty("export", "backers", "--out", "week.xlsx", "--today", today)
    text = Path("page.txt").read_text(encoding="utf-8")
    for found in (text, stored_text("page.xlsx"), stored_text("week.xlsx")):
        assert re.findall(r"zq\w*|0-555-0105", found, re.IGNORECASE) == []
    assert "Go on with the hoods" in text
    assert all(word in kept for word in ("zqcontact agreed", "zqbare goes first", "zqsecond will call"))


def test_a_closure_is_told_by_public_name_and_days_without_its_reason(empty):
    """Never ordered, the hoods' ten working days run into the closure."""
    Path("plan.toml").write_text(PLAN, encoding="utf-8")
    empty("new")
    empty("read", "plan.toml", "--today", "2026-03-02", "--yes")
    empty("friday", "--out", "page.xlsx", "--today", "2026-03-13")
    text = " ".join(Path("page.txt").read_text(encoding="utf-8").split())
    assert "our mill is shut Thu 19 Mar 2026 to Sun 29 Mar 2026)" in text
    for found in (text, stored_text("page.xlsx")):
        assert re.findall(r"zq\w*|wedding", found, re.IGNORECASE) == []


@pytest.mark.parametrize(
    "words", ["Anna will call", "rings at 4.20 each, 1763 in all", "redo the 15 blotchy ones"]
)
def test_a_person_a_price_or_rejects_are_kept_from_backers_and_said_to_us(program, words):
    program("set", "qingsha", "contact=Lan, Anna, 0-555-0105")
    program("decided", "licence", words)
    kept = program("friday").stderr
    text = " ".join(Path("exports/friday-2026-11-24.txt").read_text(encoding="utf-8").split())
    assert words[1:] not in text
    assert words in kept


@pytest.mark.parametrize(
    "text",
    ["twenty euros each", "300 bucks", "we pay 2% more", "K300 budget", "up by 1k", "a tenth was waste"],
)
def test_amounts_and_losses_in_words_stay_at_home(text, program):
    program("decided", text)
    result = program("friday")
    assert "left out of the text for backers" in result.stderr


def test_that_something_came_is_not_denied_for_want_of_a_public_name(program):
    program("told", "wave-2", "18feb")
    program("set", "smt-last", "public_name=", "--today", "2026-11-30")
    program("in", "smt-last")
    program("friday")
    (text,) = [path.read_text(encoding="utf-8") for path in Path("exports").glob("friday-2026-11-30.txt")]
    assert "Nothing came in" not in text
    assert "nothing came in that has a name here" in " ".join(text.split())

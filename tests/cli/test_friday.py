"""The Friday page, the workbook and the text beside it, typed as a maker does.

Invented scenario; its answers were computed by plain day counting, apart from this program.
"""

import json
import re
from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.cli.typed import WIDE
from tests.conftest import Program
from tests.random_diaries import random_diary

README = Path(__file__).parents[2] / "README.md"
DECIDED = "deposit for the boxes paid, second magnet source priced"
WORKBOOK, TEXT = Path("exports/friday-2026-11-24.xlsx"), Path("exports/friday-2026-11-24.txt")


def page(program, *words, width=WIDE):
    return program.out("friday", *words, "--force", width=width)


def block(text, title):
    """The lines below a title, up to the next empty one."""
    lines = text.splitlines()
    start = next(place for place, line in enumerate(lines) if line.startswith(title))
    rest = lines[start + 1 :]
    return [line.strip() for line in rest[: rest.index("")]]


def in_words(text):
    return " ".join(text.split())


def week_rows(path):
    rows = load_workbook(path)["This week"].iter_rows(values_only=True)
    return [tuple(cell.date() if hasattr(cell, "date") else cell for cell in row) for row in rows]


# Event 20 of the scenario: the Friday text, written on Tue 24 Nov.


def test_the_page_answers_what_arrived_what_is_late_what_changed_and_why(program):
    program("paid", "boxes")
    program("in", "glass-sea", "268", "scrap", "2")
    program("decided", DECIDED)
    text = page(program)
    assert "Tue 10 Nov  finish-graphite  149 of 170 good, 15 rework, 6 scrap" in block(text, "came in")
    assert block(text, "went wrong")[0] == (
        "licence promised Fri 6 Nov, then Fri 20 Nov, now Fri 4 Dec: +28 days (qingsha)"
    )
    shipments = block(text, "  shipment")
    assert shipments[0].split("  ")[0] == "wave-1"
    assert "Thu 14 Jan" in shipments[0]
    assert shipments[1].endswith("Fri 5 Feb   +25 days  LATE 16 days")
    moved = block(text, "moved, and why")
    assert any("licence promised Fri 4 Dec, was Fri 20 Nov" in line for line in moved)
    assert any("year-end break" in line for line in moved)
    assert block(text, "decided") == [f"Tue 24 Nov  run  {DECIDED}"]
    assert "next word: Fri 4 Dec" in text


def test_the_text_for_backers_says_the_same_in_public_names(program):
    program("paid", "boxes")
    program("decided", DECIDED)
    page(program)
    text = in_words(TEXT.read_text(encoding="utf-8"))
    for part in (
        "Last parcels (148 units): expected Fri 5 Feb 2027, 16 days after the last day we told you.",
        'We told you on Fri 16 Oct 2026: "mid-January" (Sun 10 Jan 2027 to Wed 20 Jan 2027).',
        'Before that, on Tue 30 Jun 2026: "all posted by 18 Dec 2026" (Fri 18 Dec 2026).',
        "Anodizing, graphite: arrived Tue 10 Nov 2026, 149 here",
        "Magnet export licence: a supplier's date slipped. First parcels 6 days later, Last parcels 14 days later",
        "our own bench is shut Thu 24 Dec 2026 to Sun 3 Jan 2027)",
        f"What we decided - {DECIDED[0].upper()}{DECIDED[1:]}",
        "You will hear from us again by Fri 4 Dec 2026, also if nothing has changed.",
    ):
        assert part in text


def test_a_finisher_nine_days_late_is_one_line_for_backers_and_moves_nothing(program):
    program("promised", "natural", "4dec")
    page(program)
    text = TEXT.read_text(encoding="utf-8")
    (line,) = [line for line in re.sub(r"\n {2}", " ", text).splitlines() if "Anodizing, natural:" in line]
    assert line == (
        "- Anodizing, natural: now Fri 4 Dec 2026, 14 days later than promised before; no parcel moves."
    )


# How it looks


@pytest.mark.parametrize("width", [80, 120])
def test_the_demos_page_fits_one_page(program, width):
    lines = page(program, width=width).splitlines()
    assert len(lines) <= 66
    assert max(map(len, lines)) <= width


def test_a_block_that_is_cut_names_the_command_that_shows_the_rest(program):
    for number in range(6):
        program("decided", f"decision {number}")
    short, whole = page(program), page(program, "-v")
    assert block(short, "decided")[-1] == "and 1 more: tracker diary decided"
    assert len(block(whole, "decided")) == 6


def test_blocks_with_nothing_in_them_share_one_line(program):
    program("told", "wave-1", "10jan..20jan")
    text = page(program, "--today", "2026-11-25")
    assert in_words(text).count("nothing decided; no option is open") == 1
    assert "\ndecided\n" not in text


def test_an_open_option_stands_with_what_it_gains_and_until_when(program):
    program("option", "quick-boxes", "set boxes lead=12wd", "cost", "GBP 240")
    lines = block(page(program), "options to decide")
    assert lines[0].startswith("quick-boxes: set boxes lead=12wd; cost GBP 240")
    assert any("last day it helps" in line for line in lines)
    program("decided", "quick-boxes", "not worth it")
    text = page(program)
    assert "no option is open" in text
    assert "Tue 24 Nov  quick-boxes  not worth it" in block(text, "decided")


def test_the_document_has_the_keys_its_row_of_the_readme_names(program):
    (cell,) = re.findall(r"^\| `tracker friday --json` \| (.+) \|$", README.read_text(), re.MULTILINE)
    document = json.loads(program.out("friday", "--json"))
    assert set(document) == set(re.findall(r"`(\w+)`", re.sub(r"\([^)]*\)", "", cell)))
    assert [one["moved"]["days"] for one in document["shipments"]] == [23, 25]
    assert WORKBOOK.is_file()
    assert TEXT.is_file()


# Since when


def test_what_is_told_today_is_part_of_the_news_and_not_its_end(program):
    program("told", "wave-2", "10feb..20feb", "said", "mid-February")
    text = page(program)
    assert "since backers were last told, Fri 16 Oct 2026, 39 days ago" in text
    assert "wave-2 told today: 10 Feb to Sat 20 Feb" in text
    assert "10 Jan to Wed 20 Jan" in block(text, "  shipment")[1]
    assert "backers were told today; next word: Fri 4 Dec" in text
    sent = in_words(TEXT.read_text())
    assert (
        'We now say "mid-February" (Wed 10 Feb 2027 to Sat 20 Feb 2027). Before that, on Fri 16 Oct' in sent
    )


def test_the_next_page_begins_where_backers_were_told(program):
    program("told", "wave-2", "10feb..20feb")
    program("in", "natural", "91", "scrap", "5", "--today", "2026-11-25")
    text = page(program, "--today", "2026-11-27")
    assert "since backers were last told, Tue 24 Nov 2026, 3 days ago" in text
    assert block(text, "came in") == ["Wed 25 Nov  finish-natural  91 of 96 good, 5 scrap"]


def test_a_delivery_logged_after_the_word_on_the_same_day_is_news_and_one_before_it_is_not(program):
    program("in", "glass-sea", "268", "scrap", "2")
    program("told", "wave-2", "10feb..20feb")
    program("in", "natural", "91", "scrap", "5")
    came = block(page(program, "--today", "2026-11-27"), "came in")
    assert came == ["Tue 24 Nov  finish-natural  91 of 96 good, 5 scrap"]


def test_a_word_more_than_a_fortnight_old_is_overdue(program):
    """16 Oct + 14 days is 30 Oct, 25 days before 24 Nov (common practice, no source: a word every two weeks)."""
    assert "a word was due by Fri 30 Oct: overdue by 25 days" in page(program)


# Files


def test_both_files_are_written_and_said_on_standard_error(program):
    result = program("friday")
    assert result.stderr.startswith(f"{WORKBOOK} and {TEXT} written, public names only")
    assert str(TEXT) not in result.stdout


def test_a_file_that_is_there_is_left_alone_without_force(program):
    TEXT.parent.mkdir()
    TEXT.write_text("mine")
    said = program.refuses("friday", exit_code=1)
    assert said.startswith(f"error: there is a file at {TEXT} already\nhint: add --force")
    assert TEXT.read_text() == "mine"
    assert not WORKBOOK.exists()
    program("friday", "--force")
    assert TEXT.read_text().startswith("Ebbstone")


def test_out_names_the_workbook_and_the_text_goes_beside_it(program):
    program("friday", "--out", "week.xlsx")
    assert Path("week.txt").read_text().startswith("Ebbstone")
    assert not Path("exports").exists()
    assert "does not end in .xlsx" in program.refuses("friday", "--out", "week.txt", exit_code=2)


def test_where_the_second_file_cannot_be_written_the_first_stays_as_it_was(program):
    """A folder stands where the text would go."""
    Path("week.xlsx").write_text("old")
    Path("week.txt").mkdir()
    said = program.refuses("friday", "--out", "week.xlsx", "--force", exit_code=1)
    assert "it is a folder" in said
    assert Path("week.xlsx").read_text() == "old"
    assert sorted(path.name for path in Path().iterdir() if "week" in path.name) == ["week.txt", "week.xlsx"]


def test_where_the_second_file_refuses_at_the_last_moment_the_first_is_put_back(program, monkeypatch):
    program("friday")
    old = WORKBOOK.read_bytes()
    TEXT.write_text("mine")
    program("decided", "go on")
    really = Path.replace

    def refusing(self, target):
        if Path(target) == TEXT:
            raise PermissionError
        return really(self, target)

    monkeypatch.setattr(Path, "replace", refusing)
    assert "the file is open elsewhere" in program.refuses("friday", "--force", exit_code=1)
    assert (WORKBOOK.read_bytes(), TEXT.read_text()) == (old, "mine")
    assert sorted(path.name for path in WORKBOOK.parent.iterdir()) == [TEXT.name, WORKBOOK.name]
    program("paid", "boxes")
    program.refuses("friday", "--force", exit_code=1)
    assert WORKBOOK.read_bytes() == old


def test_the_page_writes_nothing_into_the_run(program):
    before = program.rows()
    program("friday")
    assert program.rows() == before


# What backers do not read


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("ask tolmark for the log", "names a supplier or a person"),
        ("call Lan again", "names a supplier or a person"),
        ("pay EUR 704 today", "speaks of money"),
        ("a price of 1763 is fine", "speaks of money"),
        ("scrap 3 housings", "speaks of rejects"),
    ],
)
def test_a_decision_that_says_too_much_is_left_out_whole_and_we_are_told(program, text, why):
    program("decided", text)
    result = program("friday", width=WIDE)
    assert (
        f'left out of the text for backers, as it {why}: decided Tue 24 Nov 2026, "{text}"' in result.stderr
    )
    assert text in result.stdout
    assert text.lower() not in in_words(TEXT.read_text()).lower()


def test_no_supplier_contact_reject_or_note_reaches_the_text(program):
    page(program)
    text = in_words(TEXT.read_text()).lower()
    for name in ("tolmark", "qingsha", "varne", "moinho", "0-555", "dilwyn", "ft-26-418", "signed next"):
        assert name not in text
    for word in ("scrap", "rework", "reject", "170"):
        assert word not in text


# The workbook


def test_the_sheet_sets_the_forecast_told_last_beside_the_one_now(program):
    program("friday")
    rows = week_rows(WORKBOOK)
    then = [row for row in rows if row[0] == "Expected when last told"]
    assert [row[3:] for row in then] == [
        (date(2026, 12, 22), "now 23 days later"),
        (date(2027, 1, 11), "now 25 days later"),
    ]
    assert ("Next word by", date(2026, 12, 4)) in [row[:2] for row in rows]


def test_what_came_is_listed_for_a_week_at_least_though_backers_were_told_later(program):
    program("told", "wave-2", "10feb..20feb", "--today", "2026-11-24")
    program("friday", "--today", "2026-11-26")
    rows = week_rows("exports/friday-2026-11-26.xlsx")
    assert "Came in since Thu 19 Nov" in [row[0] for row in rows]
    assert ("Box artwork", date(2026, 11, 19), "done") in [row[:3] for row in rows]


def test_the_lines_of_the_sheet_add_up_in_its_last_row(program):
    program("export", "backers", "--out", "week.xlsx")
    rows = week_rows("week.xlsx")
    start = next(place for place, row in enumerate(rows) if str(row[0]).startswith("Moved since"))
    assert rows[start][:3] == (
        "Moved since Fri 16 Oct 2026, and why", "First parcels, days later", "Last parcels, days later",
    )  # fmt: skip
    lines = rows[start + 1 : start + 5]
    assert [row[0] for row in lines] == [
        "Laboratory test", "Magnet export licence", "Boxes and leaflets", "In all",
    ]  # fmt: skip
    assert [sum(row[column] for row in lines[:3]) for column in (1, 2)] == [23, 25]
    assert lines[3][1:3] == (23, 25)
    assert lines[1][4].startswith("a supplier's date slipped; 2 of these 6 days of First parcels")


# Any run


@pytest.mark.parametrize("parts", [False, True])
@pytest.mark.parametrize("seed", range(12))
def test_any_diary_makes_a_page_whose_lines_add_up(seed, parts, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    diary = random_diary(seed, str(tmp_path), parts=parts, entries=14)
    program = Program(diary.store.engine.url.database, monkeypatch)
    today = date.fromisoformat(program.json("diary")[0]["day"])
    for day in {today, today.replace(day=1)}:
        text = page(program, "--today", day.isoformat(), width=80)
        assert max(map(len, text.splitlines())) <= 80
        document = json.loads(program.out("friday", "--force", "--json", "--today", day.isoformat()))
        for one in document["shipments"]:
            if one["moved"]["days"] is not None:
                effects = (effect for line in document["moved"]["lines"] for effect in line["effects"])
                mine = sum(
                    effect["days"] or 0 for effect in effects if effect["shipment"] == one["row"]["code"]
                )
                assert mine == one["moved"]["days"]
                assert one["row"]["forecast"] == one["moved"]["after"]
        rows = week_rows(f"exports/friday-{day}.xlsx")
        for place, row in enumerate(rows):
            if row[0] == "In all":
                start = max(at for at in range(place) if str(rows[at][0]).startswith("Moved since"))
                for column in (1, 2, 3):
                    if row[column] is not None:
                        assert sum(line[column] for line in rows[start + 1 : place]) == row[column]


def test_a_status_date_before_every_entry_still_makes_a_page_and_a_workbook(program):
    text = page(program, "--today", "2026-06-01")
    assert "no shipment moved" in text
    program("export", "backers", "--out", "early.xlsx", "--today", "2026-06-01")
    assert week_rows("early.xlsx")[1][0] == "Status on Mon 1 Jun 2026"


def test_what_was_taken_back_again_is_left_out_and_the_sum_stays(program):
    program("promised", "licence", "11dec")
    program("undo")
    program("promised", "licence", "18dec")
    view = program.json("friday")["moved"]
    assert [line["entry"] for line in view["lines"] if line["entry"] in (53, 54, 55)] == [53, 54, 55]
    out = program.out("friday", "--force")
    assert "undo of entry" not in out
    assert "Fri 11 Dec" not in out.split("moved, and why")[1].split("what could still")[0]

"""Week 4: a Friday. What backers are told, what has gone out, a mail to a supplier, and the workbook.

Invented scenario; its answers were computed by plain day counting, apart from this program.
"""

from datetime import date

import pytest
from openpyxl import load_workbook

from tests.cli.typed import refused, type_all, typed

FRIDAY = "--today 2026-11-27"
MID_JANUARY = 'tracker told wave-1 10jan..20jan said "mid-January"'
MID_FEBRUARY = f'tracker told wave-2 10feb..20feb said "mid-February" {FRIDAY}'
THE_WEEK = """
tracker paid boxes
tracker in glass-sea 268 scrap 2
tracker in natural 91 rework 3 scrap 2 --today 2026-11-25
tracker in rework-graphite 13 scrap 2
"""
BUILT = """
tracker in licence --today 2026-12-04
tracker in air-freight 520 --today 2026-12-16
tracker finished trial --today 2026-12-21
tracker in boxes 250 --today 2027-01-08
tracker made wave-1-build 70 on 7jan
tracker finished pack-1 --today 2027-01-15
"""


def wave(program, code):
    """A shipment as ``forecast --json`` has it."""
    return next(one for one in program.json("forecast")["shipments"] if one["code"] == code)


def told_on_the_page(program, code):
    """The lines of the shipment's page that begin with the day something was told."""
    lines = (line.strip() for line in typed(program, f"tracker {code}").splitlines())
    return [line for line in lines if line.startswith("told on ")]


@pytest.fixture
def friday(program):
    """Fri 27 Nov: the deposit is paid, the glass and both lots of the finisher are in."""
    type_all(program, THE_WEEK)
    return program


def test_what_is_told_today_is_read_back_and_moves_no_date(program):
    out = typed(program, MID_JANUARY)
    assert out.startswith(
        'wave-1 told Sun 10 Jan 2027 to Wed 20 Jan 2027 (on Tue 24 Nov 2026); said "mid-January"'
    )
    assert "no shipment moves" in out
    assert program.dates() == {"wave-1": "2027-01-14", "wave-2": "2027-02-05"}


def test_late_is_counted_from_the_last_day_told_last(friday):
    """5 Feb is 16 days after 20 Jan and 15 days before 20 Feb; the first word, 18 Dec, stays 49 days away."""
    assert wave(friday, "wave-2")["days_late"] == 16
    typed(friday, MID_FEBRUARY)
    row = wave(friday, "wave-2")
    assert (row["told_first"], row["told"], row["forecast"]) == ("2026-12-18", "2027-02-20", "2027-02-05")
    assert row["days_late"] == -15
    assert (date.fromisoformat(row["forecast"]) - date.fromisoformat(row["told_first"])).days == 49
    assert "10 Feb to Sat 20 Feb  Fri 5 Feb   -15 days against told" in typed(friday, "tracker")


def test_every_earlier_word_stays_on_the_shipments_page(friday):
    typed(friday, MID_FEBRUARY)
    assert told_on_the_page(friday, "wave-2") == [
        'told on Tue 30 Jun 2026: Fri 18 Dec 2026 "all posted by 18 Dec 2026"',
        'told on Fri 16 Oct 2026: Sun 10 Jan 2027 to Wed 20 Jan 2027 "mid-January"',
        'told on Fri 27 Nov 2026: Wed 10 Feb 2027 to Sat 20 Feb 2027 "mid-February"',
    ]


def test_the_workbook_sets_the_new_word_beside_every_one_before_it(friday, tmp_path):
    typed(friday, MID_FEBRUARY)
    typed(friday, "tracker export backers --out friday.xlsx")
    rows = [
        [cell.date() if hasattr(cell, "date") else cell for cell in row if cell is not None and cell != ""]
        for row in load_workbook(tmp_path / "friday.xlsx")["This week"].iter_rows(values_only=True)
    ]
    assert ["Status on Fri 27 Nov 2026"] in rows
    start = next(place for place, row in enumerate(rows) if row and row[0] == "Last parcels, 148 units")
    about = [row for row in rows[start:] if row][1:]
    assert about[0] == [
        "Expected now",
        date(2026, 11, 27),
        date(2027, 2, 5),
        "15 days before the last day we told",
    ]
    assert [row for row in about if row[0].startswith("Told")] == [
        ["Told last", date(2026, 11, 27), date(2027, 2, 10), date(2027, 2, 20), "mid-February"],
        ["Told before", date(2026, 10, 16), date(2027, 1, 10), date(2027, 1, 20), "mid-January"],
        ["Told before", date(2026, 6, 30), date(2026, 12, 18), "all posted by 18 Dec 2026"],
    ]  # fmt: skip


def test_a_word_without_a_date_is_kept_too(friday):
    typed(friday, f'tracker told wave-2 said "more on 4 December" {FRIDAY}')
    assert wave(friday, "wave-2")["told"] == "2027-01-20"
    assert 'said "more on 4 December"' in typed(friday, "tracker wave-2")


def test_a_decision_is_in_the_diary_in_its_own_words(friday):
    out = typed(friday, f'tracker decided "price the second source of magnets" {FRIDAY}')
    assert out.startswith('run decided Fri 27 Nov 2026; note "price the second source of magnets"')
    assert friday.json("diary")[0]["command"] == "decided 'price the second source of magnets'"
    out = typed(friday, 'tracker decided boxes "order 270"')
    assert out.startswith('boxes decided Fri 27 Nov 2026; note "order 270"')


def test_a_wave_goes_out_in_parts_and_is_gone_with_the_last(friday):
    """80 units: 24 and 24 on Fri 15 Jan, the other 32 on Mon 18 Jan, two days before the last day told."""
    type_all(friday, BUILT)
    out = typed(friday, "tracker posted wave-1 24")
    assert out.startswith("wave-1 posted Fri 15 Jan 2027: 24 units")
    assert "24 of 80 units of wave-1 are posted now" in out
    assert wave(friday, "wave-1")["posted"] is None
    assert "in the diary already, as entry" in refused(friday, "tracker posted wave-1 24")
    assert "48 of 80 units of wave-1 are posted now" in typed(friday, "tracker posted wave-1 24 again")
    assert wave(friday, "wave-1")["posted"] is None
    out = typed(friday, "tracker posted wave-1 32 --today 2027-01-18")
    assert "80 of 80 units of wave-1 are posted now" in out
    row = wave(friday, "wave-1")
    assert (row["posted"], row["forecast"], row["days_late"]) == ("2027-01-18", "2027-01-18", -2)
    assert "Mon 18 Jan  posted, -2 days against told" in typed(friday, "tracker")
    page = typed(friday, "tracker wave-1")
    assert [line.split("wave-1 posted ")[1] for line in page.splitlines() if "wave-1 posted" in line] == [
        "Fri 15 Jan 2027: 24 units", "Fri 15 Jan 2027: 24 units", "Mon 18 Jan 2027: 32 units",
    ]  # fmt: skip


def test_more_posted_than_a_wave_holds_is_said(friday):
    type_all(friday, f"{BUILT}tracker posted wave-1 80")
    assert "81 of 80 units of wave-1 are posted now, more than it holds" in typed(
        friday, "tracker posted wave-1 1"
    )


def test_a_mail_holds_the_week_of_one_supplier_and_nobody_else(friday):
    result = friday("mail", "varne", "--today", "2026-11-27", width=200)
    text = " ".join(result.stdout.split())
    assert text.startswith("Subject: Ebbstone: your work for us, Fri 27 Nov 2026 Hello Dilwyn,")
    for part in (
        "Blast and anodize, natural: of 96 pieces received on Wed 25 Nov 2026: 91 good, 3 to be reworked, 2 scrap",
        "Strip and redo 15 graphite: of 15 pieces received on Wed 25 Nov 2026: 13 good, 2 scrap",
    ):
        assert part in text
    assert not any(name in text.lower() for name in ("tolmark", "qingsha", "wave-", "backer", "moinho"))
    assert "once it is sent: tracker mailed varne" in result.stderr


def test_a_mail_that_was_sent_is_logged_and_the_next_one_begins_there(friday):
    out = typed(friday, f"tracker mailed varne {FRIDAY}")
    assert out.startswith("varne mailed Fri 27 Nov 2026")
    assert typed(friday, "tracker mail varne") == "nothing new for varne since the mail of Fri 27 Nov 2026\n"
    typed(friday, "tracker in natural 3 ref 4490 again --today 2026-11-30")
    text = " ".join(typed(friday, "tracker mail varne").split())
    assert "Here is what is new since our mail of Fri 27 Nov 2026." in text
    assert "4490" in text
    assert "91 good" not in text


def test_a_friday_is_six_lines_and_leaves_every_date_where_it_was(friday, tmp_path):
    before = friday.dates("--today", "2026-11-27")
    for line in (
        f"trk told wave-1 10jan..20jan said mid-January {FRIDAY}",
        "trk told wave-2 10feb..20feb said mid-February",
        "trk decided price the second source",
        "trk mailed varne",
        "trk mailed qingsha",
        "trk export backers --out friday.xlsx",
    ):
        typed(friday, line)
    assert friday.dates() == before == {"wave-1": "2027-01-14", "wave-2": "2027-02-05"}
    assert (tmp_path / "friday.xlsx").is_file()
    assert [row["command"] for row in friday.json("diary")[:5]] == [
        "mailed qingsha", "mailed varne", "decided price the second source",
        "told wave-2 10feb..20feb said mid-February", "told wave-1 10jan..20jan said mid-January",
    ]  # fmt: skip

"""A second read of a maker's own sheet, after the run has grown by other commands."""

import pytest

from tests.cli.sheet_files import text_file

HEADINGS = ("Item", "Vendor", "Lead time", "Needs")
ROWS = [
    ("Bodies", "Mill Brothers", "10wd", ""),
    ("Coating", "Bright Coatings", "8wd", "Bodies"),
    ("Pack", "us", "2wd", "Coating"),
]
DAY = ("--today", "2026-06-16")


@pytest.fixture
def run(empty, tmp_path):
    """A run read from a sheet of three jobs, with a shipment behind the last."""
    text_file(tmp_path / "jobs.csv", ROWS, HEADINGS)
    empty("new", "lamp-1", "quantity=240", "start=2026-06-15")
    empty("read", "jobs.csv", "--yes", *DAY)
    empty("add", "shipment", "first", "quantity=240", "after=pack", *DAY)
    return empty


def test_a_link_to_a_job_the_sheet_does_not_hold_stays(run, tmp_path):
    """A gate put in by hand after the first read is not taken out by the sheet that never knew it."""
    run("add", "job", "fit-check", "supplier=bench", "lead=2wd", "after=bodies", "gate=yes", *DAY)
    run("set", "coating", "after+=fit-check", *DAY)
    before = run.dates(*DAY)
    text_file(tmp_path / "jobs.csv", [*ROWS[:2], ("Pack", "us", "3wd", "Coating")], HEADINGS)
    run("read", "jobs.csv", "--yes", *DAY)
    assert run.job("coating", *DAY)["waits_for"] == ["bodies", "fit-check"]
    assert run.dates(*DAY) != before  # the lead that did change


def test_a_new_job_no_shipment_waits_for_is_named_with_the_command(run, tmp_path):
    text_file(tmp_path / "jobs.csv", [*ROWS, ("Customs papers", "us", "4wd", "Pack")], HEADINGS)
    result = run("read", "jobs.csv", "--yes", *DAY)
    line = "no shipment waits for customs-papers: tracker set first after+=customs-papers"
    assert line in " ".join(result.stderr.split())
    assert line in " ".join(result.stdout.split())
    run("set", "first", "after+=customs-papers", *DAY)
    assert run.job("customs-papers", *DAY)["holds"] == ["first"]


@pytest.mark.parametrize(
    ("lead", "what"),
    [
        ("10 working days after deposit", "payment"),
        ("5 working days after drawing approval", "drawing"),
        ("10 working days from proof sign-off", "proof"),
        ("10 Arbeitstage nach Anzahlung", "payment"),
    ],
)
def test_a_length_that_runs_from_something_of_ours_is_asked_about_as_a_clock(run, tmp_path, lead, what):
    text_file(tmp_path / "jobs.csv", [*ROWS, ("Magnets", "Qingsha", lead, "")], HEADINGS)
    told = " ".join(run("read", "jobs.csv", "--yes", *DAY).stderr.split())
    assert f"'{lead}': does magnets wait for {what} before its days begin?" in told
    run("set", "magnets", f"clock+={what}", *DAY)
    assert run.json("magnets", *DAY)["job"]["clock"] == ["order", what]


def test_a_length_of_our_own_bench_or_without_such_words_is_no_clock(run, tmp_path):
    rows = [
        *ROWS,
        ("Test", "us", "5 working days after drawing release", ""),
        ("Glass", "Yunlan", "9 working days", ""),
    ]
    text_file(tmp_path / "jobs.csv", rows, HEADINGS)
    assert "before its days begin" not in run("read", "jobs.csv", "--yes", *DAY).stderr

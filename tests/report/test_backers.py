"""What backers may see, on the demo."""

from dataclasses import fields, is_dataclass, replace
from datetime import date

import pytest
from openpyxl import load_workbook

from tests import build
from tests.conftest import JUNE, NOVEMBER
from tracker.planfile.merging import merge
from tracker.planfile.reading import parse_plan
from tracker.report.backers import backers_report
from tracker.report.picture import Picture
from tracker.schedule.first_plan import first_plan_of
from tracker.schedule.forecast import Forecast

TODAY = date(2026, 11, 24)


@pytest.fixture(scope="module")
def demo():
    june, november = (
        parse_plan(path.read_text(encoding="utf-8"), source=path.name, today=TODAY).plan
        for path in (JUNE, NOVEMBER)
    )
    return replace(merge(june, november), first_plan=first_plan_of(june))


def report(plan, today=TODAY):
    return backers_report(Picture(Forecast(plan, today)))


def words(view):
    """Every text a reader of the page can meet; codes that only link rows together are left out."""
    if isinstance(view, str):
        yield view
    elif is_dataclass(view):
        for field in fields(view):
            if field.name not in ("code", "unnamed", "row"):
                yield from words(getattr(view, field.name))
    elif isinstance(view, list | tuple):
        for one in view:
            yield from words(one)


def test_no_supplier_contact_or_internal_note_reaches_backers(demo):
    seen = " | ".join(words(report(demo))).lower()
    for supplier in demo.suppliers:
        if supplier.code != "lark":
            assert supplier.code not in seen
        assert supplier.name.lower() not in seen
        assert supplier.contact.lower() not in seen or not supplier.contact
    for fact in demo.facts:
        for text in (fact.note, fact.words, fact.ref):
            assert not text or text.lower() not in seen
    assert "scrap" not in seen
    assert "rework" not in seen


def test_a_job_without_a_public_name_is_left_out_and_named_to_us(demo):
    jobs = tuple(replace(job, public_name="") if job.code == "licence" else job for job in demo.jobs)
    found = report(replace(demo, jobs=jobs))
    assert found.unnamed == ("licence",)
    assert len(found.progress) == len(report(demo).progress) - 1
    assert "a step at a supplier" in found.shipments[1].holds


def test_every_date_told_before_stays_beside_the_new_one(demo):
    first = report(demo).shipments[0]
    assert (first.told.words, [one.words for one in first.told_before]) == (
        "mid-January",
        ["all posted by 18 Dec 2026"],
    )


def test_what_holds_a_shipment_is_said_in_public_names(demo):
    first, last = report(demo).shipments
    assert "waits for a payment from us" in first.holds
    assert "promised by our magnet maker for Fri 4 Dec 2026" in last.holds


def test_the_late_list_keeps_every_earlier_date_of_the_step(demo):
    late = next(one for one in report(demo).late if "16 Oct" in one.why)
    assert late.why.endswith("dates given before: 16 Oct, 6 Nov, 20 Nov")


def test_a_date_without_news_is_marked_at_best(demo):
    assert report(demo).shipments[1].at_best == ()
    assert report(demo, date(2026, 12, 8)).shipments[1].at_best


def test_what_arrived_is_listed_for_seven_days_newest_first(demo):
    found = report(demo).arrived
    days = [one.day for one in found]
    assert days == sorted(days, reverse=True)
    assert all((TODAY - one).days <= 7 for one in days)


def test_a_pass_that_a_later_failure_overruled_is_no_good_news(program, tmp_path):
    program("failed", "emc", "over", "again")
    program("export", "backers", "--out", str(tmp_path / "week.xlsx"))
    sheet = load_workbook(tmp_path / "week.xlsx")["This week"]
    rows = [[str(cell) for cell in row if cell is not None] for row in sheet.iter_rows(values_only=True)]
    assert [row for row in rows if row and row[0] == "Laboratory test" and "check passed" in row] == []


def test_a_shipment_whose_packing_has_not_begun_is_not_ready_to_be_posted():
    known = build.plan(
        "a:10wd@shop b:5 | a>b", facts=(build.fact("ordered", "a", 0), build.fact("finished", "a", 14))
    )
    (shipment,) = backers_report(Picture(Forecast(known, build.day(15)))).shipments
    assert not shipment.ready
    packed = build.plan(
        "a:10wd@shop b:5 | a>b",
        facts=(
            build.fact("ordered", "a", 0),
            build.fact("finished", "a", 14),
            build.fact("finished", "b", 19),
        ),
    )
    (shipment,) = backers_report(Picture(Forecast(packed, build.day(20)))).shipments
    assert shipment.ready

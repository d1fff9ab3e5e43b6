import tomllib
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.part_plans import part_plans
from tests.planfile import wild
from tests.plans import plans
from tracker.plan.model import Closure, Fact, FirstPlan, Job, Link, Plan, Run, Shipment, Supplier
from tracker.plan.span import Lead
from tracker.planfile.forms import NUMBER
from tracker.planfile.reading import parse_plan
from tracker.planfile.toml_text import array, string
from tracker.planfile.writing import write_plan

TODAY = date(2026, 6, 30)
RUN = Run(code="dial-1", quantity=240, start=date(2026, 6, 15))
SLOW = settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)


def read_back(plan):
    parsed = parse_plan(write_plan(plan), source="plan.toml", today=TODAY)
    assert parsed.problems == ()
    return parsed.plan


@SLOW
@given(plans(kinds=("finish-start", "start-start", "finish-finish")))
def test_reading_what_was_written_gives_an_equal_plan(plan):
    assert read_back(plan) == plan


@SLOW
@given(part_plans(kinds=("finish-start", "start-start", "finish-finish")))
def test_reading_what_was_written_of_a_plan_with_parts_gives_an_equal_plan(plan):
    assert read_back(plan) == plan


@SLOW
@given(wild.parts(), wild.takes(), wild.makes(), wild.lots, wild.shares, wild.contents())
def test_no_part_no_count_and_no_lot_is_lost(part, takes, makes, lots, share, contents):
    job = Job(
        code="a", supplier="b", lead=Lead(1, 1, 1, "wd"), takes=takes, makes=makes, lots=lots, yields=share,
        unders=share, overs=1 - share, serves=("w",), one_by_one=True, rerun=True, rework_of="c",
    )  # fmt: skip
    waves = (
        Shipment(code="w", quantity=sum(one.quantity for one in contents), contents=contents),
        Shipment(code="v", quantity=10**9 + 1, contents=contents),
    )
    plan = Plan(run=replace(RUN, unit="x, y"), parts=(part,), jobs=(job,), shipments=waves)
    assert read_back(plan) == plan


@SLOW
@given(st.lists(wild.facts(), max_size=5).map(tuple))
def test_no_fact_loses_a_field_or_its_place(facts):
    plan = Plan(run=RUN, facts=facts)
    assert read_back(plan).facts == facts


@SLOW
@given(wild.leads(), st.lists(wild.links, max_size=4).map(tuple), wild.texts, wild.spans)
def test_no_job_loses_a_field(lead, after, text, travel):
    job = Job(code="a", supplier="b", lead=lead, after=after, name=text, said=text, travel=travel)
    assert read_back(Plan(run=RUN, jobs=(job,))).jobs == (job,)


@SLOW
@given(st.lists(wild.tolds, max_size=4).map(tuple), wild.texts, wild.spans)
def test_no_told_date_and_no_bank_days_are_lost(told, text, bank):
    shipment = Shipment(code="w", quantity=1, told=told, name=text)
    supplier = Supplier(code="s", contact=text, bank=bank)
    plan = Plan(run=RUN, suppliers=(supplier,), shipments=(shipment,))
    assert read_back(plan) == plan


@pytest.mark.parametrize("first_plan", [None, FirstPlan()])
def test_an_empty_first_plan_stays_apart_from_none(first_plan):
    plan = Plan(run=RUN, first_plan=first_plan)
    assert read_back(plan).first_plan == first_plan


def test_no_clock_at_all_stays_apart_from_the_default_clock():
    jobs = tuple(
        Job(code=c, supplier="s", lead=Lead(1, 1, 1, "wd"), clock=k) for c, k in (("a", None), ("b", ()))
    )
    assert read_back(Plan(run=RUN, jobs=jobs)).jobs == jobs


@given(st.text())
def test_any_text_survives_in_quotes(text):
    """TOML 1.0, basic strings: only quotes, backslashes and control characters are escaped."""
    written = string(text)
    assert tomllib.loads(f"a = {written}") == {"a": text}
    assert "\n" not in written


def test_text_that_needs_no_escape_stays_readable():
    assert string("Gehäuse, natur (52 €)") == '"Gehäuse, natur (52 €)"'


def test_a_long_list_is_broken_into_lines_that_fit():
    text = array([f'"item-{n}"' for n in range(40)])
    assert tomllib.loads(f"a = {text}")["a"] == [f"item-{n}" for n in range(40)]
    assert max(len(line) for line in text.splitlines()) <= 102


@pytest.mark.parametrize(
    ("value", "text"),
    [("12", "12"), ("7.5", "7.5"), ("0.001", "0.001"), ("25/3", '"25/3"'), ("-0.5", "-0.5"), ("100", "100")],
)
def test_numbers_are_written_exactly_and_plainly(value, text):
    assert NUMBER.write(NUMBER.typed(value)) == text


def test_defaults_are_left_out_and_facts_keep_their_order():
    plan = Plan(
        run=RUN,
        suppliers=(Supplier(code="mill", closures=(Closure(first=TODAY, last=TODAY),)),),
        jobs=(Job(code="boxes", supplier="mill", lead=Lead(8, None, 12, "wd"), after=(Link(job="art"),)),),
        facts=(
            Fact(on=TODAY, kind="in", logged=TODAY, job="boxes", good=91, closes=True),
            Fact(on=date(2026, 6, 20), kind="promised", logged=TODAY, job="boxes", day=TODAY, words="soon"),
        ),
    )
    assert write_plan(plan) == (
        '[run]\ncode = "dial-1"\nquantity = 240\nstart = 2026-06-15\n\n'
        '[[supplier]]\ncode = "mill"\nclosures = [{ first = 2026-06-30, last = 2026-06-30 }]\n\n'
        '[[job]]\ncode = "boxes"\nsupplier = "mill"\nlead = "8..12wd"\nafter = ["art"]\n\n'
        '[[fact]]\non = 2026-06-30\njob = "boxes"\nkind = "in"\ngood = 91\nlast = true\n\n'
        '[[fact]]\non = 2026-06-20\njob = "boxes"\nkind = "promised"\nfor = 2026-06-30\nsaid = "soon"\n'
        "logged = 2026-06-30\n"
    )

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings

from tests.plan.dial import (
    BENCH,
    FIT,
    HOUSING,
    MILL,
    PACK,
    PLAN,
    RUN,
    TODAY,
    WAVE,
    lines,
    only,
    with_job,
    with_supplier,
    with_wave,
)
from tests.plans import plans
from tracker.plan.checks import check_plan
from tracker.plan.model import (
    Closure,
    Fact,
    FirstPlan,
    Link,
    Plan,
    PlannedJob,
    PlannedShipment,
    PublicHolidays,
    Told,
)
from tracker.plan.span import DayRate, HourRate

FEW = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def test_a_sound_plan_has_no_problem():
    assert lines(PLAN) == []


@pytest.mark.parametrize(
    ("plan", "line"),
    [
        pytest.param(
            replace(PLAN, run=replace(RUN, quantity=0)),
            "run dial-1, quantity: is 0; expected 1 or more; correct the number",
            id="nothing to make",
        ),
        pytest.param(
            replace(PLAN, run=replace(RUN, start=date(1926, 6, 15))),
            "run dial-1, start: 1926-06-15 is not within the years 1990 to 2100; correct the year",
            id="a year no one means",
        ),
        pytest.param(
            replace(PLAN, run=replace(RUN, code="may")),
            "run may: the code 'may' is a word of the command line; choose another, such as may-1",
            id="a reserved code",
        ),
        pytest.param(
            replace(PLAN, run=replace(RUN, code="dial 1")),
            "run dial 1: the code 'dial 1' must begin with a letter and hold only letters, digits, dots, dashes and"
            " underscores; choose another",
            id="a code with a space",
        ),
        pytest.param(
            with_supplier(workdays="mon-fry"),
            "supplier mill, workdays: 'fry' is not a weekday; write mon-fri, mon-sat, mon,tue,thu or all",
            id="a weekday misspelt",
        ),
        pytest.param(
            with_supplier(closures=(Closure(first=date(2027, 1, 4), last=date(2026, 12, 21)),)),
            "supplier mill, closures: the first day 2027-01-04 comes after the last day 2026-12-21;"
            " exchange the two, or correct one of them",
            id="a closure that ends before it begins",
        ),
        pytest.param(
            with_supplier(opens=(date(2026, 10, 10), date(2026, 10, 10))),
            "supplier mill, opens: names 2026-10-10 twice; keep one of the two",
            id="an extra day twice",
        ),
        pytest.param(
            with_supplier(subdivision="ENG"),
            "supplier mill, subdivision: 'ENG' stands without a country; write country as well, such as GB",
            id="a subdivision of nothing",
        ),
        pytest.param(
            with_job(supplier="mil"),
            "job housing, supplier: there is no supplier 'mil'; did you mean mill?",
            id="a supplier misspelt",
        ),
        pytest.param(
            with_job(supplier="pack"),
            "job housing, supplier: 'pack' is a job; expected a supplier; name a supplier here",
            id="a job where a supplier belongs",
        ),
        pytest.param(
            with_job(quantity=-1),
            "job housing, quantity: is -1; expected 1 or more; correct the number",
            id="fewer than no pieces",
        ),
        pytest.param(
            with_job(quantity=10**12),
            "job housing, quantity: is 1000000000000; expected 1000000000 at most; correct the number",
            id="more pieces than can be meant",
        ),
        pytest.param(
            with_job(not_before=date(2926, 1, 1)),
            "job housing, not_before: 2926-01-01 is not within the years 1990 to 2100; correct the year",
            id="a century slipped",
        ),
        pytest.param(
            with_job(clock=("order", "drawings")),
            "job housing, clock: 'drawings' is no condition here; expected order, payment, drawing, proof, material;"
            " did you mean drawing?",
            id="a clock condition misspelt",
        ),
        pytest.param(
            with_job(leave_when=("balance", "balance")),
            "job housing, leave_when: names balance twice; keep one of the two",
            id="a condition twice",
        ),
        pytest.param(
            with_job(lead=DayRate(per_day=Fraction(0))),
            "job housing, rate, per_day: is 0; expected more than 0; correct it",
            id="no pieces a day",
        ),
        pytest.param(
            with_job(lead=HourRate(minutes_each=Fraction(5), hours_per_day=Fraction(30))),
            "job housing, rate, hours_per_day: is 30; a day has 24 hours; count several machines in machines",
            id="a day of thirty hours",
        ),
        pytest.param(
            with_wave(after=()),
            "shipment wave-1: waits for no job, so it has no date;"
            " name in after the jobs it waits for, such as after = ['pack-1']",
            id="a shipment that waits for nothing",
        ),
        pytest.param(
            with_wave(after=("pack", "pack")),
            "shipment wave-1, after: names pack twice; keep one of the two",
            id="a shipment that waits twice",
        ),
        pytest.param(
            with_wave(after=("packing",)),
            "shipment wave-1, after: there is no job 'packing'; did you mean pack?",
            id="a shipment of an unknown job",
        ),
        pytest.param(
            with_wave(quantity=0),
            "shipment wave-1, quantity: is 0; expected 1 or more; correct the number",
            id="an empty shipment",
        ),
        pytest.param(
            with_wave(told=(Told(on=TODAY, first=date(2027, 1, 20), last=date(2027, 1, 10)),)),
            "shipment wave-1, told: the first day 2027-01-20 comes after the last day 2027-01-10;"
            " exchange the two, or correct one of them",
            id="a told span turned round",
        ),
        pytest.param(
            with_wave(told=(Told(on=date(2026, 7, 1), last=date(2027, 1, 10)),)),
            "shipment wave-1, told: was told on 2026-07-01, which comes after today (2026-06-30);"
            " on is the day the backers were told: correct it",
            id="told tomorrow",
        ),
        pytest.param(
            replace(PLAN, shipments=(WAVE, replace(WAVE, code="Pack"))),
            "shipment Pack: the code is taken by job pack;"
            " choose another; run, suppliers, parts, jobs, shipments and options share one list, capitals aside",
            id="one code for two things",
        ),
        pytest.param(
            replace(
                PLAN,
                first_plan=FirstPlan(
                    jobs=(PlannedJob(job="hosing", start=TODAY, finish=TODAY, arrives=TODAY),)
                ),
            ),
            "first plan, job hosing: there is no job 'hosing'; did you mean housing?",
            id="a first plan of an unknown job",
        ),
        pytest.param(
            replace(
                PLAN, first_plan=FirstPlan(shipments=(PlannedShipment(shipment="wave-1", date=TODAY),) * 2)
            ),
            "first plan, shipment wave-1: stands in it twice; keep one of the two",
            id="a first plan with a row twice",
        ),
        pytest.param(
            replace(PLAN, holidays=(PublicHolidays(country="GB", first_year=2030, last_year=2026),)),
            "public holidays GB: run from 2030 to 2026; expected years that rise from 1990 to 2100;"
            " correct first_year or last_year",
            id="holidays of years that fall",
        ),
        pytest.param(
            replace(
                PLAN,
                holidays=(
                    PublicHolidays(country="GB", first_year=2026, last_year=2026, days=(date(2027, 1, 1),)),
                ),
            ),
            "public holidays GB: 2027-01-01 lies outside 2026 to 2026; take the day out, or widen the years",
            id="a holiday outside its years",
        ),
        pytest.param(
            replace(PLAN, holidays=(PublicHolidays(country="GB", first_year=2026, last_year=2026),) * 2),
            "public holidays GB: stand here twice; keep one of the two",
            id="holidays of a country twice",
        ),
    ],
)
def test_each_problem_of_an_entry_names_place_finding_and_remedy(plan, line):
    assert only(plan) == line


def test_many_problems_are_listed_at_once_in_the_order_of_the_plan():
    plan = Plan(
        run=replace(RUN, quantity=0),
        suppliers=(BENCH, replace(MILL, workdays="never")),
        jobs=(replace(HOUSING, supplier="mil", after=(Link(job="pakc"),)), FIT, PACK),
        shipments=(replace(WAVE, after=("pck",)),),
        facts=(Fact(on=TODAY, logged=TODAY, kind="passed", job="pack"),),
    )
    assert [line.partition(":")[0] for line in lines(plan)] == [
        "run dial-1, quantity",
        "supplier mill, workdays",
        "job housing, supplier",
        "job housing, after",
        "shipment wave-1, after",
        "fact passed pack 2026-06-30",
    ]


def test_codes_that_could_not_be_read_are_reported_once_only():
    plan = replace(
        PLAN, jobs=(FIT, PACK), facts=(Fact(on=TODAY, logged=TODAY, kind="passed", job="housing"),)
    )
    assert "there is no job 'housing'" in lines(plan)[0]
    assert lines(plan, frozenset({"housing"})) == []


def test_an_unreadable_reference_is_not_reported_as_unknown():
    assert lines(with_job(supplier=""), frozenset({"housing", ""})) == []


def test_networkx_is_not_loaded_for_a_sound_plan():
    import subprocess
    import sys

    code = (
        "import sys; from datetime import date; from tracker.plan.model import Plan, Run;"
        "from tracker.plan.checks import check_plan;"
        "check_plan(Plan(run=Run(code='r', quantity=1, start=date(2026, 6, 15))), date(2026, 6, 15));"
        "print('networkx' in sys.modules or 'holidays' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


@FEW
@given(plans())
def test_order_of_jobs_changes_no_finding(plan):
    turned = replace(plan, jobs=plan.jobs[::-1], suppliers=plan.suppliers[::-1])
    assert {p.found for p in check_plan(plan, TODAY) if "ring" not in p.found} == {
        p.found for p in check_plan(turned, TODAY) if "ring" not in p.found
    }

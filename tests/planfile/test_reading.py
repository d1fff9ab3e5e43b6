from datetime import date
from fractions import Fraction

from tracker.plan.checks import check_plan
from tracker.plan.model import (
    Closure,
    Fact,
    FirstPlan,
    Job,
    Link,
    Plan,
    PlannedJob,
    PlannedShipment,
    PublicHolidays,
    Run,
    Shipment,
    Supplier,
    Told,
)
from tracker.plan.span import DayRate, HourRate, Span, parse_lead
from tracker.planfile.reading import parse_plan

TODAY = date(2026, 11, 24)

FULL = """
[run]
code = "dial-1"
product = "Tabletop \\"tide\\" dial"
quantity = 240
currency = "GBP"
start = 2026-06-15
today = 2026-11-24            # a fixed status date
dates = "day first"

[[supplier]]
code = "varne"
name = "Varne Surface Works"
country = "GB"
subdivision = "ENG"
workdays = "mon-sat"
closures = [{ first = 2026-12-21, last = 2027-01-04, why = "works shutdown" }]
opens = [2026-10-10]
dates_mean = "leaves"
bank = "2 wd"
contact = "Dave"
public_name = "our anodizer"
inhouse = false

[[supplier]]
code = "bench"
inhouse = true

[[job]]
code = "fit-check"
supplier = "bench"
lead = "2wd"
gate = true

[[job]]
code = "redo"
supplier = "varne"
rate = { setup_h = 6, minutes_each = 35.5, hours_per_day = 14, machines = 2 }
after = [{ job = "fit-check", on = "fail" }]

[[job]]
code = "fit-again"
supplier = "bench"
lead = "8/10/15wd"
after = ["redo"]
retry_of = "fit-check"

[[job]]
code = "finish-natural"
name = "Blast and anodize, natural"
public_name = "Anodizing, natural"
supplier = "varne"
process = "anodizing"
rate = { setup = "1wd", per_day = 12 }
said = "8 working days in the shop"
after = ["fit-check", { job = "redo", lag = "2cd", kind = "start-start" }]
quantity = 96
travel = "3cd"
not_before = 2026-10-01
clock = ["order", "drawing"]
leave_when = ["balance"]

[[shipment]]
code = "wave-1"
quantity = 80
name = "First wave"
public_name = "Wave 1"
after = ["finish-natural"]
told = [
    { on = 2026-06-30, for = 2026-12-18 },
    { on = 2026-10-16, first = 2027-01-10, last = 2027-01-20, words = "mid-January" },
]

[[fact]]
on = 2026-11-10
job = "finish-natural"
kind = "in"
good = 91
rework = 3
scrap = 2
last = true
logged = 2026-11-11

[[fact]]
on = 2026-11-11
kind = "promised"
job = "finish-natural"
for = 2026-12-04
worst = 2026-12-11
means = "in hand"
exactly = true
said = "Friday"

[[fact]]
on = 2026-11-12
kind = "told"
shipment = "wave-1"
first = 2027-01-10
last = 2027-01-20
words = "mid-January"

[[fact]]
on = 2026-11-12
kind = "told"
shipment = "wave-1"
for = 2027-01-20

[[fact]]
on = 2026-11-13
kind = "called"
supplier = "varne"
again = 2026-11-20

[[fact]]
on = 2026-11-13
kind = "paused"
job = "redo"
until = 2026-12-01
note = "power cut"

[[fact]]
on = 2026-11-13
kind = "given"
job = "redo"
what = "day1"
for = 2026-12-02

[[first_plan]]
job = "redo"
start = 2026-07-01
finish = 2026-07-02
arrives = 2026-07-05

[[first_plan]]
shipment = "wave-1"
date = 2026-12-11

[[public_holidays]]
country = "GB"
subdivision = "ENG"
first_year = 2026
last_year = 2027
days = [2026-12-25, 2026-12-28]
"""


def day(text):
    return date.fromisoformat(text)


def fact(on, kind, **fields):
    return Fact(**{"on": day(on), "kind": kind, "logged": day(on), **fields})


EXPECTED = Plan(
    run=Run(
        code="dial-1", product='Tabletop "tide" dial', quantity=240, currency="GBP", start=day("2026-06-15"),
        today=TODAY, dates="day first",
    ),
    suppliers=(
        Supplier(
            code="varne", name="Varne Surface Works", country="GB", subdivision="ENG", workdays="mon-sat",
            closures=(Closure(first=day("2026-12-21"), last=day("2027-01-04"), why="works shutdown"),),
            opens=(day("2026-10-10"),), dates_mean="leaves", bank=Span(2, "wd"), contact="Dave",
            public_name="our anodizer",
        ),
        Supplier(code="bench", inhouse=True),
    ),
    jobs=(
        Job(code="fit-check", supplier="bench", lead=parse_lead("2wd"), gate=True),
        Job(
            code="redo", supplier="varne", after=(Link(job="fit-check", on="fail"),),
            lead=HourRate(setup_h=Fraction(6), minutes_each=Fraction(71, 2), hours_per_day=Fraction(14), machines=2),
        ),
        Job(
            code="fit-again", supplier="bench", lead=parse_lead("8/10/15wd"), after=(Link(job="redo"),),
            retry_of="fit-check",
        ),
        Job(
            code="finish-natural", name="Blast and anodize, natural", public_name="Anodizing, natural",
            supplier="varne", process="anodizing", lead=DayRate(setup=1, per_day=Fraction(12)),
            said="8 working days in the shop",
            after=(Link(job="fit-check"), Link(job="redo", lag=Span(2, "cd"), kind="start-start")),
            quantity=96, travel=Span(3, "cd"), not_before=day("2026-10-01"), clock=("order", "drawing"),
            leave_when=("balance",),
        ),
    ),
    shipments=(
        Shipment(
            code="wave-1", quantity=80, name="First wave", public_name="Wave 1", after=("finish-natural",),
            told=(
                Told(on=day("2026-06-30"), last=day("2026-12-18")),
                Told(on=day("2026-10-16"), first=day("2027-01-10"), last=day("2027-01-20"), words="mid-January"),
            ),
        ),
    ),
    facts=(
        fact("2026-11-10", "in", logged=day("2026-11-11"), job="finish-natural", good=91, rework=3, scrap=2, closes=True),
        fact(
            "2026-11-11", "promised", job="finish-natural", day=day("2026-12-04"), worst=day("2026-12-11"),
            means="in hand", exactly=True, words="Friday",
        ),
        fact(
            "2026-11-12", "told", shipment="wave-1", first=day("2027-01-10"), day=day("2027-01-20"),
            words="mid-January",
        ),
        fact("2026-11-12", "told", shipment="wave-1", day=day("2027-01-20")),
        fact("2026-11-13", "called", supplier="varne", day=day("2026-11-20")),
        fact("2026-11-13", "paused", job="redo", day=day("2026-12-01"), note="power cut"),
        fact("2026-11-13", "given", job="redo", what="day1", day=day("2026-12-02")),
    ),
    first_plan=FirstPlan(
        jobs=(
            PlannedJob(job="redo", start=day("2026-07-01"), finish=day("2026-07-02"), arrives=day("2026-07-05")),
        ),
        shipments=(PlannedShipment(shipment="wave-1", date=day("2026-12-11")),),
    ),
    holidays=(
        PublicHolidays(
            country="GB", subdivision="ENG", first_year=2026, last_year=2027,
            days=(day("2026-12-25"), day("2026-12-28")),
        ),
    ),
)  # fmt: skip


def read(text):
    return parse_plan(text, source="plan.toml", today=TODAY)


def lines(text):
    return [str(problem) for problem in read(text).problems]


def run_and(text):
    return '[run]\ncode = "dial-1"\nquantity = 240\nstart = 2026-06-15\n' + text


def test_a_file_with_every_key_is_read_whole():
    parsed = read(FULL)
    assert parsed.problems == ()
    assert parsed.plan == EXPECTED
    assert parsed.unreadable == frozenset()


def test_that_file_makes_a_sound_plan():
    assert check_plan(read(FULL).plan, TODAY) == ()


def test_the_simplest_file_is_a_run():
    assert read(run_and("")).plan == Plan(run=Run(code="dial-1", quantity=240, start=date(2026, 6, 15)))


def test_a_byte_order_mark_and_foreign_line_ends_are_taken():
    assert read("\ufeff" + FULL.replace("\n", "\r\n")).plan == EXPECTED


def test_all_problems_are_listed_at_once_and_the_rest_is_still_read():
    parsed = read(
        '[run]\ncode = "dial-1"\nquantity = "many"\n'
        '[[supplier]]\ncode = "mill"\nworkday = "mon-fri"\n'
        '[[job]]\ncode = "boxes"\nsupplier = 5\nlead = "3 weeks"\n'
        '[[job]]\ncode = "pack"\nsupplier = "mil"\nlead = "2wd"\nafter = ["boxes", "boxs"]\n'
        '[[fact]]\nkind = "in"\non = 2026-11-10\njob = "boxes"\ngood = -1\n'
    )
    assert [f"{p.place}: {p.found}" for p in parsed.problems] == [
        "plan.toml, run dial-1, quantity: 'many' is text; expected a whole number",
        "plan.toml, run dial-1: has no start",
        "plan.toml, supplier mill: there is no key 'workday'",
        "plan.toml, job boxes, supplier: 5 is a number; expected text",
        "plan.toml, job boxes, lead: '3 weeks' can be read in two ways",
    ]
    assert parsed.unreadable == {"", "dial-1", "mill", "boxes"}
    assert [
        f"{p.place}: {p.found}" for p in check_plan(parsed.plan, TODAY, unreadable=parsed.unreadable)
    ] == [
        "job pack, supplier: there is no supplier 'mil'",
        "job pack, after: there is no job 'boxs'",
        "fact in boxes 2026-11-10, good: is -1; expected 0 or more",
    ]


def test_a_file_without_a_readable_run_is_checked_on():
    parsed = read('[[job]]\ncode = "boxes"\nsupplier = "mill"\nlead = "2wd"\n')
    found = check_plan(parsed.plan, TODAY, unreadable=parsed.unreadable)
    assert [problem.found for problem in found] == ["there is no supplier 'mill'"]

from datetime import date

import pytest

from tracker.planfile.reading import parse_plan


def lines(text):
    parsed = parse_plan(text, source="plan.toml", today=date(2026, 11, 24))
    return [str(problem) for problem in parsed.problems]


def run_and(text):
    return '[run]\ncode = "dial-1"\nquantity = 240\nstart = 2026-06-15\n' + text


def job_with(text, *, lead='lead = "3wd"'):
    return run_and(
        f'[[supplier]]\ncode = "mill"\n[[job]]\ncode = "boxes"\nsupplier = "mill"\n{lead}\n{text}\n'
    )


def fact_with(text):
    return run_and(f"[[fact]]\non = 2026-11-10\n{text}\n")


@pytest.mark.parametrize(
    ("text", "line"),
    [
        pytest.param(
            job_with('quantity = "12"'),
            "plan.toml, job boxes, quantity: '12' is text; expected a whole number;"
            " write it without quotes and without a point, such as 240",
            id="a number in quotes",
        ),
        pytest.param(
            job_with("quantity = true"),
            "plan.toml, job boxes, quantity: true is a yes-or-no value; expected a whole number;"
            " write it without quotes and without a point, such as 240",
            id="true is no number",
        ),
        pytest.param(
            job_with("quantity = 1.5"),
            "plan.toml, job boxes, quantity: 1.5 is a number; expected a whole number;"
            " write it without quotes and without a point, such as 240",
            id="half a piece",
        ),
        pytest.param(
            job_with("name = 7"),
            "plan.toml, job boxes, name: 7 is a number; expected text; put it in double quotes",
            id="a number where text belongs",
        ),
        pytest.param(
            job_with("gate = 1"),
            "plan.toml, job boxes, gate: 1 is a number; expected true or false; write true or false without quotes",
            id="one is not true",
        ),
        pytest.param(
            job_with("not_before = 2026-10-01T08:00:00"),
            "plan.toml, job boxes, not_before: 2026-10-01 08:00:00 is a date with a time; expected a date;"
            " leave the time out",
            id="a date with a time",
        ),
        pytest.param(
            job_with('not_before = "2026-10-01"'),
            "plan.toml, job boxes, not_before: '2026-10-01' is text; expected a date;"
            " write it without quotes, such as 2026-06-15",
            id="a date in quotes",
        ),
        pytest.param(
            job_with("not_before = 08:00:00"),
            "plan.toml, job boxes, not_before: 08:00:00 is a time; expected a date; write it such as 2026-06-15",
            id="a time of day",
        ),
        pytest.param(
            job_with('after = "art"'),
            "plan.toml, job boxes, after: 'art' is text; expected a list; put it in square brackets",
            id="a list without brackets",
        ),
        pytest.param(
            job_with('after = ["art", 3]'),
            "plan.toml, job boxes, after, item 2: 3 is a number; expected the code of a job;"
            ' write "CODE" or { job = "CODE", lag = "2cd" }',
            id="a number in a list of jobs",
        ),
        pytest.param(
            job_with('after = [{ job = "art", lag = 2 }]'),
            "plan.toml, job boxes, after, item 1, lag: '2' can be read in two ways;"
            " write 2cd (calendar days) or 2wd (their working days)",
            id="a lag without unit",
        ),
        pytest.param(
            job_with('after = [{ job = "art", kind = "start-finish" }]'),
            "plan.toml, job boxes, after, item 1, kind: 'start-finish' is not one of 'finish-start', 'start-start',"
            " 'finish-finish'; did you mean 'finish-finish'?",
            id="a kind of link that is not kept",
        ),
        pytest.param(
            job_with("qauntity = 12"),
            "plan.toml, job boxes: there is no key 'qauntity'; did you mean quantity?",
            id="a key misspelt",
        ),
        pytest.param(
            job_with("colour = 1"),
            "plan.toml, job boxes: there is no key 'colour'; a job has code, name, public_name, supplier, process, lead,"
            " rate, said, after, takes, makes, quantity, yield, lots, one_by_one, serves, rerun, rework_of, unders, overs,"
            " travel, not_before, clock, leave_when, gate, retry_of",
            id="a key like no other",
        ),
        pytest.param(
            job_with("", lead="lead = 12"),
            "plan.toml, job boxes, lead: '12' can be read in two ways;"
            " write 12cd (calendar days) or 12wd (their working days)",
            id="a lead that is a number",
        ),
        pytest.param(
            job_with("", lead='lead = "3 weeks"'),
            "plan.toml, job boxes, lead: '3 weeks' can be read in two ways;"
            " write 21cd (calendar days) or 15wd (their working days)",
            id="a lead in weeks",
        ),
        pytest.param(
            job_with("", lead="lead = 1.5"),
            "plan.toml, job boxes, lead: 1.5 is a number; expected days with their unit;"
            ' write "12wd" (their working days) or "12cd" (calendar days)',
            id="a lead of one and a half",
        ),
        pytest.param(
            job_with("", lead=""),
            'plan.toml, job boxes: has no lead or rate; write lead = "12wd" (their working days) or "45cd"'
            " (calendar days)",
            id="a job without a lead",
        ),
        pytest.param(
            job_with("rate = { per_day = 12 }"),
            "plan.toml, job boxes: has both lead and rate; keep one of the two",
            id="a lead and a rate",
        ),
        pytest.param(
            job_with("", lead="rate = { per_day = 0.0000000000000001 }"),
            "plan.toml, job boxes, rate, per_day: 1E-16 is a number; expected a number of at most 12 places;"
            " write it such as 12 or 7.5",
            id="a number finer than can be meant",
        ),
        pytest.param(
            job_with("", lead="rate = { per_day = inf }"),
            "plan.toml, job boxes, rate, per_day: Infinity is a number; expected a number of at most 12 places;"
            " write it such as 12 or 7.5",
            id="endless pieces a day",
        ),
        pytest.param(
            job_with("", lead='rate = { setup = "2cd", per_day = 12 }'),
            "plan.toml, job boxes, rate, setup: '2cd' counts calendar days;"
            " set-up is given in working days, such as 1wd",
            id="a set-up in calendar days",
        ),
        pytest.param(
            job_with("", lead="rate = { minutes_each = 35 }"),
            "plan.toml, job boxes, rate: has no hours_per_day; write hours_per_day = 14",
            id="a rate that lacks its hours",
        ),
        pytest.param(
            run_and('[[supplier]]\ncode = "mill"\ndates_mean = "in han"'),
            "plan.toml, supplier mill, dates_mean: 'in han' is not one of 'in hand', 'leaves'; did you mean 'in hand'?",
            id="a choice misspelt",
        ),
        pytest.param(
            run_and('[[supplier]]\ncode = "mill"\nclosures = [{ first = 2026-12-21 }]'),
            "plan.toml, supplier mill, closures, item 1: has no last; write last = 2027-01-04",
            id="a closure without an end",
        ),
        pytest.param(
            run_and('[[supplier]]\nname = "Mill"'),
            'plan.toml, supplier 1: has no code; write code = "boxes"',
            id="a supplier without a code",
        ),
        pytest.param(
            run_and('[[supplier]]\ncode = " "'),
            "plan.toml, supplier 1, code: is empty; write a short name, such as boxes",
            id="an empty code",
        ),
        pytest.param(
            run_and('[[supplier]]\ncode = "mill"\n[[supplier]]\ncode = "mill"'),
            "plan.toml, supplier mill: stands in the file twice; keep one of the two, or give one another code",
            id="a supplier twice",
        ),
        pytest.param(
            run_and('[[shipment]]\ncode = "w"\nquantity = 1\nafter = ["a"]\ntold = [{ on = 2026-06-30 }]'),
            "plan.toml, shipment w, told, item 1: has no for; write for = 2026-12-18",
            id="told nothing",
        ),
        pytest.param(
            run_and(
                '[[shipment]]\ncode = "w"\nquantity = 1\ntold = [{ on = 2026-06-30, first = 2026-12-18 }]'
            ),
            "plan.toml, shipment w, told, item 1: has no last; write last = 2027-01-20",
            id="told an open span",
        ),
        pytest.param(
            fact_with('kind = "inn"\njob = "boxes"'),
            "plan.toml, fact 1, kind: 'inn' is text; expected a kind of fact; did you mean in?",
            id="a kind of fact misspelt",
        ),
        pytest.param(
            fact_with('kind = "passed"'),
            'plan.toml, fact 1 (passed 2026-11-10): has no job; write job = "CODE"',
            id="a fact about nothing",
        ),
        pytest.param(
            fact_with('kind = "started"\njob = "boxes"\ngood = 5'),
            "plan.toml, fact 1 (started boxes 2026-11-10): there is no key 'good';"
            " a fact 'started' has on, job, kind, note, logged",
            id="a key of another kind of fact",
        ),
        pytest.param(
            fact_with('kind = "promised"\njob = "boxes"\nuntil = 2026-12-01'),
            "plan.toml, fact 1 (promised boxes 2026-11-10): there is no key 'until'; a fact 'promised' has on, job, kind,"
            " for, good, worst, means, exactly, said, note, logged|"
            "plan.toml, fact 1 (promised boxes 2026-11-10): has no for; write for = 2026-12-04",
            id="a promise with another kind's day",
        ),
        pytest.param(
            fact_with('kind = "in"\njob = "boxes"\nlast = 2026-11-10'),
            "plan.toml, fact 1 (in boxes 2026-11-10), last: 2026-11-10 is a date; expected true or false;"
            " write true or false without quotes",
            id="last is yes or no for a delivery",
        ),
        pytest.param(
            run_and('[supplier]\ncode = "mill"'),
            "plan.toml, supplier: a table stands here; expected a list of tables; write [[supplier]] in double brackets",
            id="single brackets",
        ),
        pytest.param(
            '[[run]]\ncode = "dial-1"',
            "plan.toml, run: a list stands here; expected one table; write [run] in single brackets",
            id="several runs",
        ),
        pytest.param(
            run_and('[[suplier]]\ncode = "mill"'),
            "plan.toml: there is no table 'suplier'; did you mean [[supplier]]?",
            id="a table misspelt",
        ),
        pytest.param(
            run_and('[[kit]]\ncode = "bezel"'),
            "plan.toml: there is no table 'kit'; a plan file has [run] and [[supplier]], [[part]], [[job]], [[shipment]], [[option]], [[fact]],"
            " [[first_plan]], [[public_holidays]]",
            id="a table that is not kept",
        ),
        pytest.param(
            "",
            "plan.toml: has no [run]; write [run] with code, quantity and start",
            id="an empty file",
        ),
        pytest.param(
            run_and('[[public_holidays]]\ncountry = "GB"\nfirst_year = "2026"\nlast_year = 2027'),
            "plan.toml, public_holidays 1, first_year: '2026' is text; expected a whole number;"
            " write it without quotes and without a point, such as 240",
            id="a year in quotes",
        ),
        pytest.param(
            run_and('[[first_plan]]\njob = "a"\nstart = 2026-06-15'),
            "plan.toml, first_plan 1: has no finish; write finish = 2026-06-15|"
            "plan.toml, first_plan 1: has no arrives; write arrives = 2026-06-15",
            id="half a row of the first plan",
        ),
    ],
)
def test_each_problem_of_form_names_place_finding_and_remedy(text, line):
    assert lines(text) == line.split("|")


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        pytest.param(
            'code = "a"\nlead = 12wd\n',
            "plan.toml, line 2, column 10",
            "in 'lead = 12wd'; text and days",
            id="no quotes",
        ),
        pytest.param(
            "start = 2026-02-30\n", "plan.toml, line 1, column 9", "date", id="no day of the calendar"
        ),
        pytest.param("[run]\na = 1\na = 2\n", "plan.toml, line 3, column 6", "stands once", id="a key twice"),
        pytest.param("[run]\n[run]\n", "plan.toml, line 2, column 5", "stands once", id="a table twice"),
        pytest.param('[run]\nname = """open', "plan.toml", "close what is still open", id="an open quote"),
        pytest.param(f"a = {'[' * 5000}", "plan.toml", "close", id="brackets without end"),
        pytest.param(f"a = {'9' * 5000}", "plan.toml", "", id="digits without end"),
    ],
)
def test_broken_toml_is_one_problem_with_line_and_column(text, place, said):
    (line,) = lines(text)
    assert line.startswith(f"{place}")
    assert said in line
    assert "Traceback" not in line


def test_text_in_messages_is_printable_and_short():
    (line,) = lines(job_with(f'quantity = "\\u001b[31m{"x" * 100}"'))
    assert "\x1b" not in line
    assert "'\\u001b[31mxxx" in line
    assert "x" * 50 not in line

"""Try-outs kept as options: how their words are parted, and that they mean the same on any later day."""

import shlex
from datetime import date, timedelta

import pytest

from tests.build import day, plan
from tracker.errors import Refused, TrackerError, UsageError
from tracker.trying.kept import kept_words, read_kept, read_wish
from tracker.trying.reading import read_try

PLAN = plan("a:10wd@shop b:5 | a>b")


def wish(line):
    found = read_wish(shlex.split(line))
    return found.code, " ".join(found.words), found.cost


@pytest.mark.parametrize(
    ("line", "words", "cost"),
    [
        ("x set a lead=12wd", "set a lead=12wd", None),
        ("x try set a lead=12wd", "set a lead=12wd", None),
        ('x "set a lead=12wd"', "set a lead=12wd", None),
        ('x "try set a lead=12wd"', "set a lead=12wd", None),
        ('x "tracker try set a lead=12wd"', "set a lead=12wd", None),
        ("x set a lead=12wd cost GBP 1,763", "set a lead=12wd", "GBP 1,763"),
        ('x "set a lead=12wd" cost "GBP 1,763"', "set a lead=12wd", "GBP 1,763"),
        ("x set a lead=12wd Cost GBP 20, no cost for freight", "set a lead=12wd", "GBP 20, no cost for freight"),
        ('x "set a lead=12wd" and "promised b fri"', "set a lead=12wd and promised b fri", None),
        ("""x "set a name='A plainer name'\" cost 3""", "set a name=A plainer name", "3"),
        ("x 'set a name=\"A plainer name\"'", "set a name=A plainer name", None),
        ("""x "note a we'll see, they said so'\"""", "note a we'll see, they said so'", None),
        ("x cost GBP 3", "", "GBP 3"),
        ("x", "", None),
    ],
)  # fmt: skip
def test_the_words_of_an_option_stand_quoted_or_not_up_to_its_cost(line, words, cost):
    assert wish(line) == ("x", words, cost)


def test_a_quoted_step_keeps_the_texts_inside_it_whole():
    words = ["x", 'promised a 2026-06-12 said "for sure"', "cost", "3"]
    assert read_wish(words).words == ("promised", "a", "2026-06-12", "said", "for sure")


@pytest.mark.parametrize(
    "line", ["", "set a lead=12wd", "try set a lead=12wd", "cost 3", "instead a by shop lead 3wd"]
)
def test_an_option_without_a_name_is_refused(line):
    with pytest.raises(UsageError, match="an option has a name of its own first"):
        wish(line)


def test_a_cost_without_words_is_refused():
    with pytest.raises(UsageError, match="cost needs a few words"):
        wish("x set a lead=12wd cost")


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("promised a fri", "promised a 2026-06-05"),
        ("promised a +9", "promised a 2026-06-10"),
        ("promised a 4 jul", "promised a 2026-07-04"),
        ("promised a 4jul worst 3 aug", "promised a 2026-07-04 worst 2026-08-03"),
        ("promised a 4jul said sure by fri", "promised a 2026-07-04 said sure by fri"),
        ("promised a 4jul said by then on today", "promised a 2026-07-04 said by then on 2026-06-01"),
        ('promised a 4jul said "on fri"', 'promised a 2026-07-04 said "on fri"'),
        ("ordered a on tomorrow", "ordered a on 2026-06-02"),
        ("ord a 12 on wed", "ordered a 12 on 2026-06-03"),
        ("set a not_before=4jul lead=3wd", "set a not_before=2026-07-04 lead=3wd"),
        ("set shop closures=4jul..6jul", "set shop closures=2026-07-04..2026-07-06"),
        ("told wave-1 10jul..20jul", "told wave-1 2026-07-10..2026-07-20"),
        ("ordered a and promised a thu", "ordered a and promised a 2026-06-04"),
        ("instead a by shop lead 3wd travel 1cd", "instead a by shop lead 3wd travel 1cd"),
        ("add job c supplier=shop lead=3wd and called-off a", "add job c supplier=shop lead=3wd and called-off a"),
    ],
)  # fmt: skip
def test_days_are_kept_written_out_and_verbs_whole(typed, kept):
    assert kept_words(shlex.split(typed), PLAN, day(0)) == kept


@pytest.mark.parametrize("typed", ["fri", "+4", "5jun", "5 jun", "2026-06-05", "friday"])
@pytest.mark.parametrize("later", [0, 1, 2, 3])
def test_a_kept_promise_means_the_same_day_on_any_later_day(typed, later):
    kept = kept_words(["promised", "a", *typed.split()], PLAN, day(0))
    (fact,) = read_kept(kept, PLAN, day(later)).facts
    assert fact.day == date(2026, 6, 5)


@pytest.mark.parametrize(
    ("today", "typed", "kept"),
    [(10, "in a on 3jun", "in a on 2026-06-03"), (70, "promised a 5jun", "promised a 2027-06-05")],
)
def test_days_of_facts_are_the_nearest_and_those_promised_lie_ahead(today, typed, kept):
    assert kept_words(typed.split(), PLAN, day(today)) == kept


def test_days_left_as_typed_would_come_to_mean_others():
    typed = ["promised", "a", "wed"]
    days = [read_try(typed, PLAN, day(later)).facts[0].day for later in (0, 4)]
    assert days == [day(2), day(9)]


def test_a_bare_text_that_names_a_day_is_refused_unless_it_stands_in_quotes():
    with pytest.raises(Refused, match="would be read otherwise on another day"):
        kept_words(["note", "a", "they", "come", "fri"], PLAN, day(0))
    assert kept_words(["note", "a", "they come fri"], PLAN, day(0)) == 'note a "they come fri"'


@pytest.mark.parametrize("quote", ['"', "\u201c"])
def test_a_text_that_holds_double_quotes_is_refused(quote):
    with pytest.raises(UsageError, match="holds double quotes"):
        kept_words(["promised", "a", "fri", "said", f"he said {quote}sure"], PLAN, day(0))


@pytest.mark.parametrize(
    "words", ["promised a 5jun..9jun", "set a lead=3", "remove c", "passed a", "in a on 40jun"]
)
def test_words_that_cannot_be_tried_today_are_not_kept(words):
    with pytest.raises(TrackerError):
        kept_words(words.split(), PLAN, day(0))


def test_a_kept_order_goes_out_on_the_day_it_is_decided():
    kept = kept_words(["ordered", "a"], PLAN, day(0))
    for decided in (day(0), day(4), day(0) + timedelta(days=40)):
        (fact,) = read_kept(kept, PLAN, day(0), begins=decided).facts
        assert fact.on == decided


def test_texts_in_single_quotes_inside_a_quoted_step_stay_whole():
    words = ["x", "promised a 2026-06-12 said 'by then on fri' and note a \"it's late\""]
    assert read_wish(words).words == (
        "promised", "a", "2026-06-12", "said", "by then on fri", "and", "note", "a", "it's late",
    )  # fmt: skip


@pytest.mark.parametrize("value", ["A plainer name", "x", "=", "a = b c", "it's so"])
def test_a_value_of_several_words_is_kept_behind_its_key(value):
    text = kept_words(["set", "a", f"name={value}"], PLAN, day(0))
    assert read_kept(text, PLAN, day(0)).plan.job_by_code["a"].name == value


def test_a_value_of_several_words_is_written_in_quotes_behind_its_key():
    assert kept_words(["set", "a", "name=A b"], PLAN, day(0)) == 'set a name="A b"'

"""Leads and travel that need a word: who may give it, how far it reaches, and that it is told."""

from dataclasses import replace

import pytest

from tests.sheet.drafts import EMPTY, drafted, job, problems, stored
from tracker.errors import UsageError
from tracker.plan.model import Job, Supplier
from tracker.plan.span import Span, parse_lead
from tracker.sheet.answers import read_answers

ROWS = (
    ("Mill", "Tolmark", "3 weeks", None),
    ("Anodize", "Varne", "10 days", None),
    ("Boxes", "Moinho", "20 days", None),
    ("Glue", "Moinho", 5, None),
    ("Pack", "us", "2wd", None),
)


def leads(made):
    return {
        one.code: str(one.lead) for one in made.plan.jobs if one.code not in {q.job for q in made.questions}
    }


def test_a_lead_that_needs_a_word_is_asked_with_its_row_column_and_both_readings():
    made = drafted(*ROWS)
    assert [(one.row, one.job, one.heard.said) for one in made.questions] == [
        (4, "mill", "3 weeks"), (5, "anodize", "10 days"), (6, "boxes", "20 days"), (7, "glue", "5"),
    ]  # fmt: skip
    assert str(made.questions[2].problem) == (
        "jobs.xlsx, sheet Jobs, row 6, column C (How long): '20 days' can be 20wd (their working days) or "
        "20cd (calendar days); say which: leads boxes=wd or boxes=cd"
    )


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("leads days=wd", {"anodize": "10wd", "boxes": "20wd", "pack": "2wd"}),
        ("leads weeks=cd", {"mill": "21cd", "pack": "2wd"}),
        ("leads all=cd", {"mill": "21cd", "anodize": "10cd", "boxes": "20cd", "glue": "5cd", "pack": "2wd"}),
        ("leads moinho=wd", {"boxes": "20wd", "glue": "5wd", "pack": "2wd"}),
        ("leads boxes=cd", {"boxes": "20cd", "pack": "2wd"}),
        ("leads boxes=8..12wd", {"boxes": "8..12wd", "pack": "2wd"}),
        ("leads boxes=12 wd", {"boxes": "12wd", "pack": "2wd"}),
        ("leads pack=4wd", {"pack": "4wd"}),
        ("leads days=wd moinho=cd boxes=15wd", {"anodize": "10wd", "boxes": "15wd", "glue": "5cd", "pack": "2wd"}),
        ("leads days=cd varne=wd", {"anodize": "10wd", "boxes": "20cd", "pack": "2wd"}),
        ("leads numbers=weeks weeks=wd", {"mill": "15wd", "glue": "25wd", "pack": "2wd"}),
        ("leads days=wd all=cd", {"mill": "21cd", "anodize": "10wd", "boxes": "20wd", "glue": "5cd", "pack": "2wd"}),
        ("leads numbers=wd", {"glue": "5wd", "pack": "2wd"}),
    ],
)  # fmt: skip
def test_a_word_answers_its_group_a_supplier_or_one_job_and_the_nearest_one_wins(words, expected):
    assert leads(drafted(*ROWS, words=words)) == expected


def test_each_reading_chosen_is_told_with_who_chose_it():
    made = drafted(*ROWS, words="leads days=wd weeks=cd moinho=cd boxes=15wd")
    assert [(one.job, one.said, one.read_as, one.why) for one in made.chosen] == [
        ("mill", "3 weeks", "21cd", "weeks=cd"),
        ("anodize", "10 days", "10wd", "days=wd"),
        ("boxes", "20 days", "15wd", "as you said"),
        ("glue", "5", "5cd", "moinho=cd"),
    ]


def test_a_clear_lead_in_words_is_told_and_a_plain_number_of_days_is_not():
    made = drafted(
        ("Mill", "Tolmark", "10-15 working days ARO", None),
        ("Turn", "Tolmark", "12 Working Days", None),
        ("Pack", "us", "2wd", None),
    )
    assert [(one.job, one.read_as) for one in made.chosen] == [("mill", "10..15wd")]


def test_words_heard_are_kept_with_the_reading():
    made = drafted(*ROWS, words="leads all=wd")
    assert {one.code: one.said for one in made.plan.jobs} == {
        "mill": "3 weeks", "anodize": "10 days", "boxes": "20 days", "glue": "5", "pack": "",
    }  # fmt: skip


def test_a_second_read_of_words_answered_before_asks_nothing():
    plan = stored(drafted(*ROWS, words="leads days=wd weeks=cd glue=9cd"))
    again = drafted(*ROWS, plan=plan)
    assert again.questions == ()
    assert again.plan.jobs == plan.jobs
    assert {one.why for one in again.chosen} == {"as before"}


def test_a_lead_changed_by_hand_stays_while_the_sheet_says_the_same_words():
    plan = stored(drafted(*ROWS, words="leads all=wd"))
    edited = replace(
        plan, jobs=(*plan.jobs[:2], replace(plan.jobs[2], lead=parse_lead("12wd")), *plan.jobs[3:])
    )
    assert str(job(drafted(*ROWS, plan=edited), "boxes").lead) == "12wd"


def test_other_words_are_asked_again():
    plan = stored(drafted(*ROWS, words="leads all=wd"))
    changed = drafted(("Boxes", "Moinho", "30 days", None), plan=plan)
    assert [one.job for one in changed.questions] == ["boxes"]


def test_a_stored_lead_that_is_one_of_the_readings_is_kept():
    plan = replace(
        EMPTY,
        suppliers=(Supplier(code="moinho"),),
        jobs=(Job(code="boxes", supplier="moinho", lead=parse_lead("20cd")),),
    )
    made = drafted(("Boxes", "Moinho", "20 days", None), plan=plan)
    assert (made.questions, str(job(made, "boxes").lead)) == ((), "20cd")


def test_no_lead_at_all_needs_one_and_can_be_given_outright():
    made = drafted(("Boxes", "Moinho", None, None), ("Lids", "Moinho", "ASAP", None))
    assert [one.job for one in made.questions] == ["boxes", "lids"]
    assert "has no lead; fill it in, or say it here: leads boxes=12wd" in str(made.questions[0].problem)
    assert "'ASAP' is not a number of days" in str(made.questions[1].problem)
    assert (
        drafted(
            ("Boxes", "Moinho", None, None),
            ("Lids", "Moinho", "ASAP", None),
            words="leads boxes=9wd lids=8cd",
        ).questions
        == ()
    )


def test_a_unit_alone_is_no_answer_to_a_cell_without_a_number():
    assert [
        one.job for one in drafted(("Lids", "Moinho", "ASAP", None), words="leads lids=wd all=wd").questions
    ] == ["lids"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("leads boxs=wd", "leads boxs: there is no item 'boxs'; did you mean 'Boxes'?"),
        (
            "leads moinho=12wd",
            "leads moinho: moinho is a supplier; a lead is set job by job; write moinho=wd or moinho=cd",
        ),
    ],
)
def test_words_for_nothing_in_the_sheet_are_refused(words, says):
    assert problems(drafted(*ROWS, words=words)) == [says]


def test_a_unit_typed_against_a_clear_lead_is_refused():
    made = drafted(*ROWS, words="leads all=wd pack=cd")
    assert "says 2wd, but leads pack=cd" in made.questions[0].problem.found


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("leads boxes", "is not a pair"), ("leads boxes=soon", "not a number of days"), ("leads days=12wd", "cannot stand for many"),
        ("boxes=wd", "says nothing about the sheet"), ("leads boxes=20", "two ways"), ("countries varne", "not a pair"),
    ],
)  # fmt: skip
def test_words_that_cannot_be_read_are_refused_with_the_form(words, says):
    with pytest.raises(UsageError, match=says) as refused:
        read_answers(words.split())
    assert refused.value.hint


def test_sections_may_come_in_any_order_and_more_than_once():
    answers = read_answers(
        [
            "leads",
            "days=wd",
            "countries",
            "varne=GB",
            "columns",
            "how",
            "long=lead",
            "leads",
            "weeks=cd",
            "Big",
            "box=9wd",
            "sheet",
            "Run",
            "2",
        ]
    )
    assert answers.groups == {"days": "wd", "weeks": "cd"}
    assert answers.named == {"Big box": parse_lead("9wd")}
    assert (answers.countries, answers.columns, answers.sheet) == (
        {"varne": "GB"},
        ("how long=lead",),
        "Run 2",
    )


ROAD = ("item", "supplier", "lead", "travel")


def test_travel_needs_a_word_like_a_lead_and_has_one_of_its_own():
    rows = (("Glass", "Yunlan", "25wd", "5 days"), ("Pack", "us", "2wd", "2cd"))
    assert [(one.job, one.is_travel) for one in drafted(*rows, roles=ROAD).questions] == [("glass", True)]
    for words, travel in (
        ("leads travel=cd", Span(5, "cd")),
        ("leads days=wd", Span(5, "wd")),
        ("leads yunlan=cd", Span(5, "cd")),
    ):
        assert job(drafted(*rows, roles=ROAD, words=words), "glass").travel == travel
    assert job(drafted(*rows, roles=ROAD, words="leads all=wd travel=cd"), "glass").travel == Span(5, "cd")
    assert job(drafted(*rows, roles=ROAD, words="leads all=wd"), "pack").travel == Span(2, "cd")


def test_of_a_range_of_travel_the_long_end_counts_and_is_told():
    made = drafted(("Glass", "Yunlan", "25wd", "30-45 calendar days"), roles=ROAD)
    assert job(made, "glass").travel == Span(45, "cd")
    assert [(one.said, one.read_as) for one in made.chosen] == [("30-45 calendar days", "45cd on the road")]


def test_a_second_read_of_travel_asks_nothing_and_none_takes_it_away():
    plan = stored(drafted(("Glass", "Yunlan", "25wd", "5 days"), roles=ROAD, words="leads travel=wd"))
    assert drafted(("Glass", "Yunlan", "25wd", "5 days"), roles=ROAD, plan=plan).plan.jobs == plan.jobs
    assert job(drafted(("Glass", "Yunlan", "25wd", None), roles=ROAD, plan=plan), "glass").travel == Span(
        5, "wd"
    )
    assert job(drafted(("Glass", "Yunlan", "25wd", "none"), roles=ROAD, plan=plan), "glass").travel == Span(
        0, "cd"
    )

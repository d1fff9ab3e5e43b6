"""A shipment's quantity and its contents in a plan file: what may be left out, and what is written."""

from datetime import date

import pytest

from tracker.plan.checks import check_plan
from tracker.plan.model import Plan, Run, Shipment
from tracker.plan.parts import Content
from tracker.planfile.reading import parse_plan
from tracker.planfile.writing import write_plan

TODAY = date(2026, 11, 24)
RUN = 'code = "dial-1"\nquantity = 240\nstart = 2026-06-15\n'


def read(text):
    parsed = parse_plan(f'[run]\n{RUN}[[shipment]]\ncode = "w"\n{text}\n', source="p", today=TODAY)
    return parsed, [str(problem) for problem in parsed.problems]


def written(**changes):
    shipment = Shipment(**{"code": "w", "quantity": 80, **changes})
    text = write_plan(
        Plan(run=Run(code="dial-1", quantity=240, start=date(2026, 6, 15)), shipments=(shipment,))
    )
    return text.partition('code = "w"\n')[2]


@pytest.mark.parametrize(
    ("text", "quantity", "contents"),
    [
        ("contents = { graphite = 66, natural = 82 }", 148, {"graphite": 66, "natural": 82}),
        ('quantity = 80\npart = "packed"', 80, {"packed": 80}),
        ('part = "packed"\nquantity = 80', 80, {"packed": 80}),
        ("quantity = 80\ncontents = { packed = 80 }", 80, {"packed": 80}),
        ("quantity = 150\ncontents = { graphite = 66, natural = 82 }", 150, {"graphite": 66, "natural": 82}),
        ('quantity = 80\nafter = ["pack"]', 80, {}),
    ],
)
def test_the_quantity_is_the_sum_of_the_contents_unless_it_is_written(text, quantity, contents):
    parsed, problems = read(text)
    (shipment,) = parsed.plan.shipments
    assert problems == []
    assert shipment.quantity == quantity
    assert {one.part: one.quantity for one in shipment.contents} == contents


def test_a_quantity_that_differs_from_the_contents_is_left_for_the_check_to_tell():
    parsed, _ = read("quantity = 150\ncontents = { graphite = 66, natural = 82 }")
    found = [
        problem.found for problem in check_plan(parsed.plan, TODAY) if problem.place == "shipment w, contents"
    ]
    assert "come to 148 pieces (66 + 82), but quantity is 150" in found


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('after = ["pack"]', ["p, shipment w: has no quantity; write quantity = 240"]),
        ('part = "packed"', ["p, shipment w: has no quantity; write quantity = 240"]),
        (
            'contents = { packed = "80" }',
            [
                (
                    "p, shipment w, contents, packed: '80' is text; expected a whole number;"
                    " write it without quotes and without a point, such as 240"
                )
            ],
        ),
    ],
)
def test_one_mistake_is_told_once(text, expected):
    parsed, problems = read(text)
    assert problems == expected
    assert not [
        one for one in check_plan(parsed.plan, TODAY, unreadable=parsed.unreadable) if "quantity" in str(one)
    ]


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"contents": (Content(part="packed", quantity=80),)}, 'quantity = 80\npart = "packed"\n'),
        ({"contents": (Content(part="packed", quantity=70),)}, "quantity = 80\ncontents = { packed = 70 }\n"),
        (
            {"contents": (Content(part="a", quantity=40), Content(part="b-2.5", quantity=40))},
            'quantity = 80\ncontents = { a = 40, "b-2.5" = 40 }\n',
        ),
        ({"after": ("pack",)}, 'quantity = 80\nafter = ["pack"]\n'),
    ],
)
def test_one_part_that_is_all_of_it_is_written_as_part(changes, text):
    assert written(**changes) == text

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given

from tests.planfile import wild
from tracker.plan.parts import Content, Make, Take
from tracker.planfile.faults import BadValue
from tracker.planfile.part_forms import CONTENTS, MAKES, TAKES
from tracker.planfile.reading import parse_plan


def faults(form, text):
    with pytest.raises(BadValue) as error:
        form.typed(text)
    return [": ".join((", ".join(one.where), f"{one.found}; {one.remedy}")) for one in error.value.faults]


def lines(table, text):
    run = '[run]\ncode = "dial-1"\nquantity = 240\nstart = 2026-06-15\n'
    heads = {
        "job": 'code = "a"\nsupplier = "mill"\nlead = "3wd"\n',
        "shipment": 'code = "a"\nquantity = 80\n',
    }
    parsed = parse_plan(
        f"{run}[[{table}]]\n{heads.get(table, '')}{text}\n", source="p", today=date(2026, 11, 24)
    )
    return [str(problem) for problem in parsed.problems]


@pytest.mark.parametrize(
    ("text", "takes"),
    [
        ("board", (Take(part="board"),)),
        (
            "board, magnet 2, housing-graphite 1 into unit-graphite",
            (
                Take(part="board"),
                Take(part="magnet", per=Fraction(2)),
                Take(part="housing-graphite", into="unit-graphite"),
            ),
        ),
        ("housing into unit", (Take(part="housing", into="unit"),)),
        ("tape 0.35,screw  6", (Take(part="tape", per=Fraction(7, 20)), Take(part="screw", per=Fraction(6)))),
        ("tape 1/3", (Take(part="tape", per=Fraction(1, 3)),)),
    ],
)
def test_parts_taken_are_typed_with_their_number_one_where_it_is_left_out(text, takes):
    assert TAKES.typed(text) == takes


@pytest.mark.parametrize(
    ("text", "makes"),
    [
        ("bezel", (Make(part="bezel"),)),
        ("bezel 96", (Make(part="bezel", quantity=96),)),
        ("graphite 74, natural 86", (Make(part="graphite", quantity=74), Make(part="natural", quantity=86))),
    ],
)
def test_parts_made_are_typed_with_their_shares(text, makes):
    assert MAKES.typed(text) == makes


def test_contents_are_typed_with_their_numbers():
    assert CONTENTS.typed("graphite 66, natural 82") == (
        Content(part="graphite", quantity=66),
        Content(part="natural", quantity=82),
    )


@given(wild.takes(), wild.makes(), wild.contents())
def test_what_is_shown_of_parts_can_be_typed_again(takes, makes, contents):
    assert TAKES.typed(TAKES.show(takes)) == takes
    assert MAKES.typed(MAKES.show(makes)) == makes
    assert CONTENTS.typed(CONTENTS.show(contents)) == contents


@pytest.mark.parametrize(
    ("form", "text", "expected"),
    [
        pytest.param(
            TAKES, "board, magnet two", ["item 2: 'two' is not a number; write it such as 12, 7.5 or 25/3"],
            id="a number in words",
        ),
        pytest.param(
            TAKES, "2 magnet, board", ["item 1: '2 magnet' has the number first; write magnet 2"],
            id="the number first",
        ),
        pytest.param(
            TAKES, "2 6",
            [
                ("item 1: '2 6' is a number; expected a part; write the part and then its number, such as magnet 2;"
                " a decimal has a point, no comma")
            ],
            id="numbers alone",
        ),
        pytest.param(
            TAKES, "tape 0,35",
            [
                ("item 2: '35' is a number; expected a part; write the part and then its number, such as magnet 2;"
                " a decimal has a point, no comma")
            ],
            id="a decimal comma",
        ),
        pytest.param(
            TAKES, "board 1 for units",
            ["item 1: 'board 1 for units' is not a part and how many of it; write PART, PART 2 or PART 1 into OTHER"],
            id="other words",
        ),
        pytest.param(TAKES, "board,", ["item 2: is empty; write a short name, such as boxes"], id="an empty item"),
        pytest.param(
            TAKES, "magnet=2",
            ["item 1: 'magnet=2' is not a part and how many of it; write magnet 2"],
            id="an equals sign",
        ),
        pytest.param(
            MAKES, "bezel 1.5", ["item 1: '1.5' is not a whole number; write digits only, such as 240"],
            id="half a piece made",
        ),
        pytest.param(
            MAKES, "bezel 3 into unit",
            ["item 1: 'bezel 3 into unit' has 'into', which says where a part taken goes; write bezel"],
            id="made into",
        ),
        pytest.param(
            CONTENTS, "graphite 66, natural",
            ["item 2: 'natural' does not say how many; write natural 66, or part=natural where it is all of the shipment"],
            id="contents without a number",
        ),
        pytest.param(
            CONTENTS, "graphite six", ["item 1: 'six' is not a whole number; write digits only, such as 240"],
            id="contents in words",
        ),
        pytest.param(
            CONTENTS, "a 1 into b, c x",
            [
                "item 1: 'a 1 into b' has 'into', which says where a part taken goes; write a 66",
                "item 2: 'x' is not a whole number; write digits only, such as 240",
            ],
            id="two faults",
        ),
    ],
)  # fmt: skip
def test_each_fault_of_typed_parts_names_its_item_and_a_remedy(form, text, expected):
    assert faults(form, text) == expected


@pytest.mark.parametrize(
    ("table", "text", "expected"),
    [
        pytest.param(
            "job", 'takes = "board"',
            ["p, job a, takes: 'board' is text; expected parts and how many of each; write { PART = 1, OTHER = 2 }"],
            id="takes as text",
        ),
        pytest.param(
            "job", 'takes = ["board"]',
            ["p, job a, takes: a list stands here; expected parts and how many of each; write { PART = 1, OTHER = 2 }"],
            id="takes as a list",
        ),
        pytest.param(
            "job", 'takes = { board = "one", magnet = true, tape = [1] }',
            [
                "p, job a, takes, board: 'one' is not a number; write it such as 12, 7.5 or 25/3",
                "p, job a, takes, magnet: true is a yes-or-no value; expected a number; write it such as 12 or 7.5",
                "p, job a, takes, tape: a list stands here; expected a number; write it such as 12 or 7.5",
            ],
            id="no numbers",
        ),
        pytest.param(
            "job", 'takes = { housing = { pre = 1, into = "unit" } }',
            ["p, job a, takes, housing: there is no key 'pre'; did you mean per?"],
            id="a key misspelt",
        ),
        pytest.param(
            "job", 'takes = { housing = { per = 1, colour = "red" } }',
            ["p, job a, takes, housing: there is no key 'colour'; a use of a part has per, into"],
            id="a key there is not",
        ),
        pytest.param(
            "job", "takes = { screw-m2.5 = 6 }",
            [
                ("p, job a, takes, screw-m2: a table stands here; expected how many of screw-m2;"
                ' a code with a dot stands in double quotes, such as "screw-m2.5" = 1')
            ],
            id="a dot without quotes",
        ),
        pytest.param(
            "job", 'takes = { " " = 1 }',
            ["p, job a, takes,  : is empty; write a short name, such as boxes"],
            id="an empty code",
        ),
        pytest.param(
            "job", "makes = 5",
            [
                ("p, job a, makes: 5 is a number; expected the part it makes;"
                ' write "PART", or { PART = 74, OTHER = 86 } with the share of each')
            ],
            id="makes a number",
        ),
        pytest.param(
            "job", 'makes = ["bezel", "carrier"]',
            [
                ("p, job a, makes: a list stands here; expected the part it makes;"
                ' write "PART", or { PART = 74, OTHER = 86 } with the share of each')
            ],
            id="makes a list",
        ),
        pytest.param(
            "job", 'makes = { bezel = "all", carrier = 1.5 }',
            [
                ("p, job a, makes, bezel: 'all' is text; expected a whole number;"
                " write it without quotes and without a point, such as 240"),
                ("p, job a, makes, carrier: 1.5 is a number; expected a whole number;"
                " write it without quotes and without a point, such as 240"),
            ],
            id="shares that are no whole numbers",
        ),
        pytest.param(
            "shipment", 'contents = "packed"',
            [
                ("p, shipment a, contents: 'packed' is text; expected parts and how many of each;"
                ' write { PART = 66, OTHER = 82 }, or part = "PART" where it is all of the shipment')
            ],
            id="contents as text",
        ),
        pytest.param(
            "shipment", "part = { packed = 80 }",
            ["p, shipment a, part: a table stands here; expected text; put it in double quotes"],
            id="part as a table",
        ),
        pytest.param(
            "shipment", 'part = "packed"\ncontents = { packed = 80 }',
            ["p, shipment a: has both part and contents; keep one of the two"],
            id="part and contents",
        ),
        pytest.param(
            "part", 'code = "tape"\nhere = "some"\nspares = 1.5\nmoq = "100"\ncolour = "red"',
            [
                "p, part tape, here: 'some' is not a number; write it such as 12, 7.5 or 25/3",
                ("p, part tape, spares: 1.5 is a number; expected a whole number;"
                " write it without quotes and without a point, such as 240"),
                ("p, part tape, moq: '100' is text; expected a whole number;"
                " write it without quotes and without a point, such as 240"),
                ("p, part tape: there is no key 'colour';"
                " a part has code, name, public_name, unit, here, spares, moq, multiple"),
            ],
            id="a part of wrong values",
        ),
        pytest.param(
            "part", 'name = "Bezel"', ['p, part 1: has no code; write code = "boxes"'], id="a part without a code"
        ),
        pytest.param(
            "fact", 'kind = "scrapped"\non = 2026-06-20\njob = "finish"',
            [
                'p, fact 1 (scrapped 2026-06-20): has no part; write part = "CODE"',
                "p, fact 1 (scrapped 2026-06-20): has no scrap; write scrap = 3",
            ],
            id="nothing scrapped",
        ),
        pytest.param(
            "fact", 'kind = "scrapped"\non = 2026-06-20\npart = "bezel"\njob = "finish"\nscrap = "three"',
            [
                ("p, fact 1 (scrapped bezel 2026-06-20), scrap: 'three' is text; expected a whole number;"
                " write it without quotes and without a point, such as 240"),
            ],
            id="scrapped in words",
        ),
    ],
)  # fmt: skip
def test_each_fault_of_parts_in_a_file_names_place_and_remedy(table, text, expected):
    assert lines(table, text) == expected

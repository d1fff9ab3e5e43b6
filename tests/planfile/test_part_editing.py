from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given

from tests.part_plans import part_plans
from tests.planfile.test_difference import FEW
from tracker.errors import PlanProblems, Refused
from tracker.plan.model import Job, Plan, Run, Shipment, Supplier
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import parse_lead
from tracker.planfile.editing import edit_item
from tracker.planfile.entries import CODED, entries

BENCH = Supplier(code="bench", inhouse=True)
BUILD = Job(code="build", supplier="bench", lead=parse_lead("3wd"), takes=(Take(part="board"),))
PACKED = Shipment(code="wave-1", quantity=80, contents=(Content(part="packed", quantity=80),))
MIXED = Shipment(
    code="wave-2",
    quantity=148,
    contents=(Content(part="graphite", quantity=66), Content(part="natural", quantity=82)),
)
PLAN = Plan(
    run=Run(code="dial-1", quantity=240, start=date(2026, 6, 15)),
    suppliers=(BENCH,),
    parts=(Part(code="bezel", name="Bezel", spares=8),),
    jobs=(BUILD,),
    shipments=(PACKED, MIXED),
)


def set_(kind, code, line):
    return entries(edit_item(PLAN, kind, code, line.split(), create=False), kind)[code]


def add(kind, code, line):
    return edit_item(PLAN, kind, code, line.split(), create=True)


def problems(kind, code, line, *, create=False):
    with pytest.raises(PlanProblems) as error:
        edit_item(PLAN, kind, code, line.split(), create=create)
    return [str(problem) for problem in error.value.problems]


def test_a_part_is_added_at_the_end_with_its_numbers():
    found = add("part", "tape", "name=Foam tape unit=m here=12.5 spares=2 moq=100 multiple=25")
    tape = Part(code="tape", name="Foam tape", unit="m", here=Fraction(25, 2), spares=2, moq=100, multiple=25)
    assert found.parts == (*PLAN.parts, tape)


def test_a_part_needs_nothing_but_its_code():
    assert add("part", "screw", "").parts[-1] == Part(code="screw")


def test_keys_of_a_part_change_and_go_back_to_nothing():
    assert set_("part", "bezel", "spares=12 moq=100") == replace(PLAN.parts[0], spares=12, moq=100)
    assert set_("part", "bezel", "spares= name=") == Part(code="bezel")


def test_a_part_that_is_there_is_not_added_again():
    with pytest.raises(Refused, match="there is a part bezel already"):
        add("part", "bezel", "spares=8")


@pytest.mark.parametrize(
    ("line", "changes"),
    [
        pytest.param(
            "takes=board, magnet 2, housing 1 into graphite",
            {
                "takes": (
                    Take(part="board"),
                    Take(part="magnet", per=Fraction(2)),
                    Take(part="housing", into="graphite"),
                )
            },
            id="parts without quotes",
        ),
        pytest.param(
            "takes+=tape 0.35",
            {"takes": (Take(part="board"), Take(part="tape", per=Fraction(7, 20)))},
            id="one part more",
        ),
        pytest.param("takes=", {"takes": ()}, id="no parts"),
        pytest.param("makes=unit", {"makes": (Make(part="unit"),)}, id="a part made"),
        pytest.param(
            "makes=graphite 74, natural 86",
            {"makes": (Make(part="graphite", quantity=74), Make(part="natural", quantity=86))},
            id="several parts made, their sum left to be worked out",
        ),
        pytest.param(
            "yield=95% lots=shipments one_by_one=yes serves=wave-1,wave-2 rerun=yes",
            {
                "yields": Fraction(19, 20),
                "lots": "shipments",
                "one_by_one": True,
                "serves": ("wave-1", "wave-2"),
                "rerun": True,
            },
            id="how the pieces come",
        ),
        pytest.param("lots=100, 100, 75", {"lots": (100, 100, 75)}, id="lots of different sizes"),
        pytest.param(
            "rework_of=finish unders=10% overs=0.05",
            {"rework_of": "finish", "unders": Fraction(1, 10), "overs": Fraction(1, 20)},
            id="rework and a printed count",
        ),
    ],
)
def test_what_a_job_takes_and_makes_is_typed(line, changes):
    assert set_("job", "build", line) == replace(BUILD, **changes)


@pytest.mark.parametrize(
    ("code", "line", "quantity", "contents"),
    [
        pytest.param("wave-1", "quantity=90", 90, {"packed": 90}, id="more of the part it is all of"),
        pytest.param("wave-1", "part=unit", 80, {"unit": 80}, id="another part"),
        pytest.param("wave-1", "part=unit quantity=90", 90, {"unit": 90}, id="both"),
        pytest.param("wave-1", "contents+=natural 5", 85, {"packed": 80, "natural": 5}, id="a few beside"),
        pytest.param("wave-1", "contents= after=build", 80, {}, id="jobs in place of parts"),
        pytest.param("wave-2", "contents=graphite 70, natural 82", 152, {"graphite": 70, "natural": 82}, id="a sum"),
        pytest.param("wave-2", "quantity=150", 150, {"graphite": 66, "natural": 82}, id="a sum that differs"),
        pytest.param(
            "wave-2", "contents=natural 82 quantity=90", 90, {"natural": 82}, id="a number that differs"
        ),
        pytest.param("wave-2", "name=Second wave", 148, {"graphite": 66, "natural": 82}, id="something else"),
    ],
)  # fmt: skip
def test_quantity_and_contents_of_a_shipment_follow_each_other(code, line, quantity, contents):
    found = set_("shipment", code, line)
    assert found.quantity == quantity
    assert {one.part: one.quantity for one in found.contents} == contents


def test_a_number_said_apart_from_the_contents_stays_as_it_was_said():
    plan = replace(PLAN, shipments=(replace(PACKED, quantity=85),))
    found = edit_item(plan, "shipment", "wave-1", ["contents=packed 70"], create=False)
    assert (found.shipments[0].quantity, found.shipments[0].contents[0].quantity) == (85, 70)


def test_a_new_shipment_takes_its_quantity_from_its_contents():
    found = add("shipment", "wave-3", "contents=graphite 4, natural 8").shipments[-1]
    assert (found.quantity, found.after) == (12, ())
    assert add("shipment", "spares", "part=unit quantity=12").shipments[-1].contents == (
        Content(part="unit", quantity=12),
    )


@pytest.mark.parametrize(
    ("kind", "code", "line", "create", "expected"),
    [
        (
            "part", "bezel", "spares=few here=some color=red", False,
            [
                "part bezel, spares: 'few' is not a whole number; write digits only, such as 240",
                "part bezel, here: 'some' is not a number; write it such as 12, 7.5 or 25/3",
                "part bezel, color: there is no key 'color'; use name, public_name, unit, here, spares, moq, multiple",
            ],
        ),
        (
            "job", "build", "takes=board two lots=four yield=most", False,
            [
                "job build, takes, item 1: 'two' is not a number; write it such as 12, 7.5 or 25/3",
                "job build, lots: 'four' is no number of lots; write 4, shipments, or sizes such as 100,100,75",
                "job build, yield: 'most' is not a share; write it such as 0.95 or 95%",
            ],
        ),
        (
            "shipment", "wave-1", "part=unit contents=unit 5", False,
            ["shipment wave-1, contents: stands beside part; keep one of the two"],
        ),
        (
            "shipment", "wave-3", "part=unit", True, ["shipment wave-3: has no quantity; write quantity=..."],
        ),
        (
            "shipment", "wave-3", "contents=unit", True,
            [
                ("shipment wave-3, contents, item 1: 'unit' does not say how many;"
                " write unit 66, or part=unit where it is all of the shipment"),
                "shipment wave-3: has no quantity; write quantity=...",
            ],
        ),
    ],
)  # fmt: skip
def test_each_fault_names_its_key_and_a_remedy(kind, code, line, create, expected):
    assert problems(kind, code, line, create=create) == expected


PIECES = (
    "takes", "makes", "quantity", "yield", "lots", "one_by_one", "serves", "rerun", "rework_of", "unders", "overs",
    "part", "contents", "unit", "here", "spares", "moq", "multiple",
)  # fmt: skip


@FEW
@given(part_plans(max_jobs=4, max_facts=0))
def test_what_is_shown_of_pieces_can_be_typed_again(plan):
    empty = replace(plan, parts=(), jobs=(), shipments=())
    for kind, needed in (("part", ()), ("job", ("supplier=mill", "lead=1wd")), ("shipment", ())):
        table = CODED[kind]
        keys = [key for key in table.fields if key.name in PIECES]
        for code, item in entries(plan, kind).items():
            shown = [f"{key.name}={key.form.show(value)}" for key, value in table.parts(item) if key in keys]
            again = entries(edit_item(empty, kind, code, [*needed, *shown], create=True), kind)[code]
            assert [getattr(again, key.fills) for key in keys] == [getattr(item, key.fills) for key in keys]


def test_variants_of_the_product_are_kept_with_a_comma_and_a_space():
    found = set_("run", "dial-1", "unit=graphite,natural")
    assert (found.unit, found.units) == ("graphite, natural", ("graphite", "natural"))

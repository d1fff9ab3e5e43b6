from datetime import date

import pytest

from tests.build import plan as build
from tracker.errors import UsageError
from tracker.plan.model import Plan, Run, Supplier
from tracker.words.codes import find_code, find_job, find_supplier

BENCH = Supplier(code="bench", inhouse=True)
SHOP, PRINTER = Supplier(code="shop"), Supplier(code="printer")
PLAN = build(
    "boxes:5@printer finish-natural:5@shop finish-graphite:5@shop box:2@bench trial:2@bench",
    suppliers=(BENCH, SHOP, PRINTER),
    start=date(2026, 6, 1),
)


def find(word, *, closed=(), fitting=None):
    fitting = PLAN.job_by_code if fitting is None else fitting
    found = find_job(
        word, PLAN, is_open=lambda job: job.code not in closed, fits=lambda job: job.code in fitting
    )
    return found.code


def test_a_whole_code_wins_over_codes_it_begins():
    assert find("box") == "box"
    assert find("BOX") == "box"


def test_a_beginning_of_one_code_is_enough():
    assert find("tri") == "trial"


def test_a_dashed_piece_is_enough():
    assert find("natural") == "finish-natural"
    assert find("nat") == "finish-natural"


def test_a_beginning_of_several_is_settled_by_what_is_open():
    assert find("finish", closed=("finish-graphite",)) == "finish-natural"


def test_then_by_what_the_verb_fits():
    assert find("finish", fitting=("finish-graphite",)) == "finish-graphite"


def test_what_stays_ambiguous_is_refused_with_all_readings():
    with pytest.raises(UsageError, match="finish-natural, finish-graphite") as refused:
        find("fin")
    assert refused.value.hint


def test_a_supplier_stands_for_its_only_open_job():
    assert find("printer") == "boxes"
    assert find("shop", closed=("finish-natural",)) == "finish-graphite"


def test_a_supplier_with_several_open_jobs_is_refused_by_their_names():
    with pytest.raises(UsageError, match="2 open jobs: finish-natural, finish-graphite"):
        find("shop")


def test_a_supplier_with_no_open_job_says_so():
    with pytest.raises(UsageError, match="printer has no open job"):
        find("printer", closed=("boxes",))


@pytest.mark.parametrize(
    ("word", "nearest"), [("boxs", "boxes"), ("finsh-natural", "finish-natural"), ("prnter", "printer")]
)
def test_a_miss_names_the_nearest(word, nearest):
    with pytest.raises(UsageError) as refused:
        find(word)
    assert refused.value.hint == f"did you mean {nearest}?"


def test_a_word_like_nothing_names_what_is_known():
    with pytest.raises(UsageError) as refused:
        find("zzz")
    assert refused.value.hint.startswith("known: boxes, finish-natural")


def test_other_codes_are_found_the_same_way():
    codes = ("wave-1", "wave-2", "replacements")
    assert find_code("WAVE-1", codes, "shipment") == "wave-1"
    assert find_code("rep", codes, "shipment") == "replacements"
    assert find_code("2", codes, "shipment") == "wave-2"
    with pytest.raises(UsageError, match="wave-1, wave-2"):
        find_code("wave", codes, "shipment")
    with pytest.raises(UsageError, match="there is no shipment 'x'"):
        find_code("x", (), "shipment")


SUPPLIERS = Plan(
    run=Run(code="dial", quantity=10, start=date(2026, 6, 15)),
    suppliers=(
        Supplier(code="varne", name="Varne Surface Works", contact="Dilwyn, 0-555-0102"),
        Supplier(code="qingsha", name="Ningbo Qingsha Magnet Works", contact="Lan, 0-555-0105"),
    ),
)


@pytest.mark.parametrize(
    ("word", "code"),
    [("varne", "varne"), ("var", "varne"), ("surface", "varne"), ("Dil", "varne"), ("ning", "qingsha")],
)
def test_a_supplier_is_found_by_code_or_by_a_word_of_its_name_or_contact(word, code):
    assert find_supplier(word, SUPPLIERS) == code


@pytest.mark.parametrize("word", ["works", "0", "zzz"])
def test_a_word_of_several_suppliers_or_none_finds_no_supplier(word):
    with pytest.raises(UsageError, match=f"there is no supplier '{word}'"):
        find_supplier(word, SUPPLIERS)

"""Codes made of names: valid, unique, the same each time."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.plan.reserved import code_trouble
from tracker.sheet.codes import GROUPS, WIDEST, job_codes, supplier_code


@given(
    st.lists(st.text(max_size=25), max_size=25), st.lists(st.sampled_from(["boxes", "Lead-1", "job-1", "a"]))
)
def test_codes_of_any_names_are_valid_unique_and_stable(names, taken):
    codes = job_codes(names, taken)
    assert len(codes) == len(names)
    assert [code for code in codes if code_trouble(code) or code in GROUPS] == []
    everything = [code.lower() for code in (*codes, *set(taken))]
    assert len(set(everything)) == len(everything)
    assert job_codes(names, taken) == codes


@given(st.text(max_size=25), st.lists(st.text(max_size=25), max_size=6))
def test_a_suppliers_code_is_valid_and_free(name, others):
    taken = []
    for other in (*others, name):
        code = supplier_code(other, taken)
        assert not code_trouble(code)
        assert code not in taken
        taken.append(code)


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("Boxes", "boxes"),
        ("5 first-article sets", "first-article-sets"),
        ("275 bases (one cast bar batch)", "bases"),
        ("Blast and anodize, graphite", "blast-anodize-graphite"),
        ("Gehäuse fräsen", "gehause-frasen"),
        ("Pudełka", "pudelka"),
        ("FINISH Größe", "finish-grosse"),
        ("Lead", "lead-1"),
        ("days", "days-1"),
        ("May", "may-1"),
        ("磁铁", "job-1"),
        ("123", "job-1"),
        ("An extraordinarily long description of everything", "extraordinarily-long"),
    ],
)
def test_a_code_is_short_telling_plain_and_never_a_word_of_the_command_line(name, code):
    assert job_codes([name], ()) == (code,)


def test_names_that_begin_alike_take_more_of_their_words():
    names = [
        "Fit check letter C (gate)",
        "Fit check letter D (gate)",
        "Pack and post wave 1",
        "Pack and post wave 2",
    ]
    assert job_codes(names, ()) == (
        "fit-check-letter-c",
        "fit-check-letter-d",
        "pack-post-wave-1",
        "pack-post-wave-2",
    )


def test_names_that_differ_in_nothing_plain_get_numbers():
    assert job_codes(["Boxes", "boxes", "BOXES!"], ()) == ("boxes", "boxes-1", "boxes-2")
    assert job_codes(["À:0", "À:0"], ()) == ("a-0", "a-0-1")


def test_a_very_long_name_makes_no_long_code():
    words = " ".join(f"word{at}" for at in range(60))
    codes = job_codes(["x" * 900, f"{words} one", f"{words} two"], ())
    assert max(map(len, codes)) <= WIDEST + len("-1")
    assert len(supplier_code("y" * 900, ())) <= WIDEST


def test_a_name_added_below_does_not_change_the_codes_of_others_it_shares_nothing_with():
    names = ["Housing milled", "Boxes", "Gaskets"]
    assert job_codes([*names, "Screws"], ())[:3] == job_codes(names, ())

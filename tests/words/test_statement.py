import shlex
from datetime import date
from itertools import permutations

import pytest

from tracker.errors import UsageError
from tracker.words.dates import DateReader
from tracker.words.statement import read_statement
from tracker.words.verbs import VERBS

TODAY = date(2026, 11, 24)  # a Tuesday
NOTHING = {
    "subjects": [], "on": None, "day": None, "first": None, "worst": None, "rest": None, "numbers": {}, "of": "",
    "found_at": "", "what": "",
    "ref": "", "note": "", "said": "", "flags": set(),
}  # fmt: skip


def read(text, **reader):
    verb, *words = shlex.split(text)
    return read_statement(VERBS[verb], words, DateReader(today=TODAY, **reader))


def says(text, **reader):
    """What a line says, without what it does not speak of."""
    statement = read(text, **reader)
    return {
        name: getattr(statement, name) for name, empty in NOTHING.items() if getattr(statement, name) != empty
    }


EXAMPLES = {
    "ordered": {"subjects": ["boxes"], "numbers": {"quantity": 250}, "on": date(2026, 11, 23)},
    "paid": {"subjects": ["boxes"]},
    "approved": {"subjects": ["boxes"], "what": "proof"},
    "gave": {"subjects": ["boxes"], "what": "day1", "day": date(2026, 12, 4)},
    "started": {"subjects": ["finish-natural"], "on": date(2026, 11, 23)},
    "promised": {"subjects": ["licence"], "day": date(2026, 12, 4), "said": "Friday for sure"},
    "made": {"subjects": ["magnets"], "numbers": {"good": 520}},
    "left": {"subjects": ["glass-sea"], "on": date(2026, 9, 24)},
    "in": {
        "subjects": ["finish-natural"], "numbers": {"good": 52, "rework": 5, "scrap": 3},
        "rest": date(2026, 11, 26), "ref": "4471",
    },
    "sorted": {"subjects": ["finish-natural"], "numbers": {"good": 52, "rework": 5, "scrap": 3}},
    "scrap": {"subjects": ["housing-graphite"], "numbers": {"scrap": 3}, "found_at": "wave-2-build"},
    "finished": {"subjects": ["trial"]},
    "passed": {"subjects": ["fit-check"]},
    "failed": {"subjects": ["fit-check"], "note": "bezel bore tight"},
    "paused": {"subjects": ["trial"], "day": date(2026, 12, 7)},
    "resumed": {"subjects": ["trial"]},
    "called-off": {"subjects": ["rework-graphite"]},
    "posted": {"subjects": ["wave-1"], "numbers": {"good": 24}},
    "told": {
        "subjects": ["wave-1"], "first": date(2027, 1, 10), "day": date(2027, 1, 20), "said": "mid-January",
    },
    "decided": {"subjects": ["boxes"], "note": "pay the deposit today"},
    "called": {"subjects": ["marlgate"], "day": date(2026, 11, 26)},
    "mailed": {"subjects": ["varne"]},
    "note": {"subjects": ["boxes"], "note": "ask for no unders"},
}  # fmt: skip


@pytest.mark.parametrize("name", VERBS)
def test_each_verbs_own_example_says_what_it_seems_to(name):
    assert says(VERBS[name].example) == EXAMPLES[name]


CLAUSES = ("rework 5", "scrap 3", "rest thu", "ref 4471", "on mon", "note van was late", "last")


@pytest.mark.parametrize("order", list(permutations(CLAUSES))[::97], ids=range(52))
def test_clauses_may_come_in_any_order(order):
    if order[-1] != "note van was late" and order[order.index("note van was late") + 1] in (
        "last",
        "rework 5",
        "scrap 3",
    ):
        order = tuple(one.replace("note van was late", "note 'van was late'") for one in order)
    assert says(f"in natural 52 {' '.join(order)}") == {
        "subjects": ["natural"], "numbers": {"good": 52, "rework": 5, "scrap": 3}, "rest": date(2026, 11, 26),
        "ref": "4471", "on": date(2026, 11, 23), "note": "van was late", "flags": {"last"},
    }  # fmt: skip


def test_an_unquoted_text_runs_to_the_next_clause():
    assert says("promised licence 4dec said Friday for sure note Lan sounded certain on mon") == {
        "subjects": ["licence"], "day": date(2026, 12, 4), "said": "Friday for sure", "note": "Lan sounded certain",
        "on": date(2026, 11, 23),
    }  # fmt: skip


def test_a_clause_word_inside_a_text_is_text_where_no_date_follows():
    assert says("note boxes waiting on the printer")["note"] == "waiting on the printer"
    assert says("promised licence 4dec said on the ship for sure")["said"] == "on the ship for sure"


def test_several_jobs_may_stand_before_one_date():
    assert says("promised natural rework-graphite wed") == {
        "subjects": ["natural", "rework-graphite"], "day": date(2026, 11, 25),
    }  # fmt: skip


def test_facts_look_back_and_promises_look_forward_for_the_same_weekday():
    statement = read("promised licence fri on fri")
    assert (statement.day, statement.on) == (date(2026, 11, 27), date(2026, 11, 20))


@pytest.mark.parametrize(
    ("words", "flag"), [("leaves", "leaves"), ("in hand", "hand"), ("exactly", "exactly")]
)
def test_a_promise_may_say_what_its_date_means(words, flag):
    assert says(f"promised licence 4dec {words}")["flags"] == {flag}


def test_a_promise_may_have_a_worst_date_and_a_number_of_pieces():
    assert says("promised boxes 100 for 4dec worst 11dec") == {
        "subjects": ["boxes"], "numbers": {"good": 100}, "day": date(2026, 12, 4), "worst": date(2026, 12, 11),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("text", "says_so"),
    [
        ("in", "in which job"),
        ("posted 24", "posted which shipment"),
        ("called", "called which supplier"),
        ("note", "note needs a text"),
        ("promised licence", "promised needs a date"),
        ("told wave-1", "told needs a date"),
        ("in boxes 5 6", "good is given twice: 5 and 6"),
        ("in boxes good 5 good 6", "good is given twice"),
        ("in boxes 5 scrap 1 scrap 2", "scrap is given twice"),
        ("in boxes 5 scrap many", "scrap needs a whole number of pieces, found 'many'"),
        ("in boxes 5 scrap", "scrap needs a number of pieces"),
        ("started boxes 5", "started takes no number: '5'"),
        ("in boxes 5 oops", "'oops' has no place in 'in'"),
        ("in boxes 5 thu", "'thu' is a date, but in takes none here"),
        ("in boxes 5 on", "on needs a date after it"),
        ("in boxes 5 on soon", "on needs a date after it, found 'soon'"),
        ("in boxes 5 ref", "ref needs a delivery-note number"),
        ("in boxes 5 note", "note needs a text"),
        ("in boxes 5 rest", "rest needs a date"),
        ("paused boxes until", "until needs a date"),
        ("called marlgate again", "again needs a date"),
        ("promised boxes 4dec..8dec", "is a span; promised takes one date"),
        ("told wave-1 20feb2027..10feb2027", "the span runs backwards"),
        ("posted wave-1", "posted needs a number of units"),
        ("sorted boxes", "sorted needs a number of pieces"),
        ("promised boxes 30feb", "no day 30"),
        ("promised boxes 4/12", "can be read in two ways"),
    ],
)
def test_words_that_cannot_be_read_are_refused_with_an_example(text, says_so):
    with pytest.raises(UsageError, match=None) as refused:
        read(text)
    assert says_so in refused.value.message
    assert refused.value.hint
    assert refused.value.exit_code == 2


def test_empty_words_are_passed_over():
    assert says("paid boxes '' ' '") == {"subjects": ["boxes"]}


@pytest.mark.parametrize(
    "text",
    ["promised licence fri on 10nov", "promised licence on 10nov fri", "promised licence 13nov on 10nov"],
)
def test_dates_ahead_are_read_from_the_day_the_words_were_said(text):
    """On Tue 10 Nov "Friday" meant the 13th, however late it is logged."""
    assert (read(text).on, read(text).day) == (date(2026, 11, 10), date(2026, 11, 13))

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.errors import UsageError
from tracker.trying.steps import EDITS, steps_of
from tracker.words.verbs import VERBS


def cut(text):
    return [(step.verb, *step.words) for step in steps_of(text.split())]


def test_and_parts_steps_where_a_verb_follows_it():
    assert cut("promised licence 15jan and set boxes lead=12wd and paid boxes") == [
        ("promised", "licence", "15jan"),
        ("set", "boxes", "lead=12wd"),
        ("paid", "boxes"),
    ]


def test_and_stays_in_a_text_where_no_verb_follows_it():
    assert cut("note boxes ask for proof and colours and promised boxes 4dec") == [
        ("note", "boxes", "ask", "for", "proof", "and", "colours"),
        ("promised", "boxes", "4dec"),
    ]


def test_and_inside_quotes_parts_nothing():
    (step,) = steps_of(["promised", "licence", "4dec", "said", "signed and paid and set"])
    assert step.words[-1] == "signed and paid and set"


def test_the_first_verb_may_be_a_beginning():
    assert cut("prom licence 15jan")[0][0] == "promised"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "try what?"),
        ("  ", "try what?"),
        ("nonsense boxes", "there is no verb to try 'nonsense'"),
        ("undo 5", "'undo' cannot be tried"),
        ("paid boxes and fix 5 good 3", "'fix' cannot be tried"),
        ("log notes.txt", "'log' cannot be tried"),
        ("read plan.toml", "'read' cannot be tried"),
        ("try paid boxes", "'try' cannot be tried"),
        ("pa boxes", "'pa' begins several verbs: paid, passed, paused"),
    ],
)
def test_words_that_cannot_be_tried_are_refused_with_an_example(text, message):
    with pytest.raises(UsageError) as refused:
        cut(text)
    assert refused.value.message.startswith(message)
    assert refused.value.hint


@given(st.lists(st.tuples(st.sampled_from((*VERBS, *EDITS)), st.lists(st.sampled_from(("boxes", "4dec", "and x")), max_size=3)), min_size=1, max_size=4))  # fmt: skip
def test_steps_joined_by_and_come_apart_again(steps):
    words = [word for verb, more in steps for word in ("and", verb, *more)][1:]
    assert [(step.verb, list(step.words)) for step in steps_of(words)] == steps

"""Parts in what people type: pieces found bad, which of several parts was counted, how many are still to come."""

from dataclasses import replace

import pytest

from tests.words.counted import COUNTED, TODAY, after, read
from tracker.errors import Refused, UsageError
from tracker.words.dates import DateReader
from tracker.words.fixing import read_fix
from tracker.words.parts import part_found_bad
from tracker.words.repeats import repeat_of


def refusal(words, stored=COUNTED):
    with pytest.raises((UsageError, Refused)) as refused:
        read(words, stored)
    return f"{refused.value.message}; {refused.value.hint}"


@pytest.mark.parametrize(
    ("words", "part", "scrap", "job"),
    [
        ("scrap housing-graphite 3 found-at build", "housing-graphite", 3, "build"),
        ("scrap housing-graphite 3 found at build", "housing-graphite", 3, "build"),
        ("scrap housing-graphite scrap 3", "housing-graphite", 3, ""),
        ("scrap 3 of housing-graphite found at build", "housing-graphite", 3, "build"),
        ("scrap found at bui 3 of housing-g", "housing-graphite", 3, "build"),
        ("scrap HOUSING-NATURAL 1", "housing-natural", 1, ""),
        ("scrap housing-n 1", "housing-natural", 1, ""),
        ("scrap finish-natural 2", "housing-natural", 2, ""),
        ("scrap foam 2", "foam", 2, ""),  # the part, not the job of that code
        ("scrap build 2 of natural", "unit-natural", 2, ""),
        ("scrap unit-natural 2 found-at photos", "unit-natural", 2, "photos"),
    ],
)
def test_pieces_found_bad_are_booked_on_their_part_and_where_they_were_found(words, part, scrap, job):
    (fact,) = read(words)
    assert (fact.kind, fact.part, fact.scrap, fact.job, fact.on) == ("scrapped", part, scrap, job, TODAY)
    assert (fact.good, fact.count, fact.closes) == (None, None, False)


def test_a_scrap_has_its_day_its_note_and_may_be_of_two_parts():
    found = read('scrap housing-graphite housing-natural 2 on mon note "clamp mark" found-at build')
    assert [(one.part, one.scrap, one.job, one.note, one.on.isoformat()) for one in found] == [
        ("housing-graphite", 2, "build", "clamp mark", "2026-06-29"),
        ("housing-natural", 2, "build", "clamp mark", "2026-06-29"),
    ]


def test_an_unquoted_note_ends_where_it_was_found():
    (fact,) = read("scrap housing-natural 2 note one of the clamps slipped found-at build")
    assert (fact.note, fact.job) == ("one of the clamps slipped", "build")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("scrap", "scrap which part?"),
        ("scrap 3", "scrap which part?"),
        ("scrap housing-graphite", "scrap needs a number of pieces"),
        ("scrap housing-graphite 0", "scrap needs a number of pieces"),
        ("scrap housing-graphite 1.5", "pieces are whole numbers"),
        ("scrap housing-graphite 1 2", "scrap is given twice: 1 and 2"),
        ("scrap housing 1", "'housing' begins several codes: housing-graphite, housing-natural"),
        ("scrap fin 1", "'fin' begins several codes: finish-graphite, finish-natural"),
        ("scrap housing-grafite 1", "there is no part 'housing-grafite'; did you mean housing-graphite?"),
        ("scrap build 1", "build makes unit-graphite and unit-natural: which one?; name it: tracker scrap unit-graphite 3"),
        ("scrap build 1 of foam", "build makes unit-graphite and unit-natural, no 'foam'; write: of unit-graphite"),
        ("scrap foam 1 of housing-natural", "foam makes foam, no 'housing-natural'"),
        ("scrap photos 1", "photos makes no part, so it is not clear what was found bad"),
        ("scrap photos 1 of foam", "photos makes no part, so 'of' says nothing here"),
        ("scrap 1 of nothing", "there is no part 'nothing'"),
        ("scrap foam 1 found-at", "found-at needs a job after it"),
        ("scrap foam 1 found-at biuld", "there is no job 'biuld'; did you mean build?"),
        ("scrap foam 1 found-at build found at photos", "found-at comes a second time"),
        ("scrap foam foam 1", "foam is named twice"),
        ("scrap foam 1 on tomorrow", "is after today"),
        ("scrap foam 1 thu", "'thu' is a date, but scrap takes none here; write: on thu"),
    ],
)  # fmt: skip
def test_a_scrap_that_cannot_be_read_is_refused_with_a_remedy(words, says):
    assert says in refusal(words)


def test_a_whole_job_code_wins_over_a_part_it_begins():
    parts = (*COUNTED.parts, replace(COUNTED.parts[0], code="build-kit"))
    assert part_found_bad("build-k", "", replace(COUNTED, parts=parts)) == "build-kit"
    with pytest.raises(UsageError, match="which one"):
        part_found_bad("build", "", replace(COUNTED, parts=parts))


def test_a_whole_part_code_wins_over_a_job_of_that_code():
    parts = (*COUNTED.parts, replace(COUNTED.parts[0], code="photos"))
    assert part_found_bad("photos", "", replace(COUNTED, parts=parts)) == "photos"


def test_pieces_are_found_bad_at_a_job_that_is_done_too():
    assert read("scrap unit-natural 1 found-at photos", after("finished photos"))


def test_a_run_without_parts_says_how_to_add_one():
    assert "counts no parts yet" in refusal("scrap foam 1", replace(COUNTED, parts=()))


@pytest.mark.parametrize(
    ("words", "about", "part", "pieces"),
    [
        ("made build 24 of unit-natural", "build", "unit-natural", 24),
        ("made build of natural 24", "build", "unit-natural", 24),
        ("in build of unit-g good 20 scrap 4", "build", "unit-graphite", 24),
        ("in finish-natural 52 of housing-natural", "finish-natural", "housing-natural", 52),
        ("made build 24", "build", "", 24),
        ("posted wave-2 24 of unit-natural", "wave-2", "unit-natural", 24),
        ("posted wave-1 24 of UNIT-GRAPHITE", "wave-1", "unit-graphite", 24),
    ],
)
def test_a_count_says_which_of_several_parts_it_is_of(words, about, part, pieces):
    (fact,) = read(words)
    assert (fact.job or fact.shipment, fact.part, fact.pieces) == (about, part, pieces)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("made build 24 of foam", "build makes unit-graphite and unit-natural, no 'foam'; write: of unit-graphite"),
        ("made build 24 of unit", "'unit' begins several codes: unit-graphite, unit-natural"),
        ("in finish-natural 5 of housing-graphite", "finish-natural makes housing-natural, no 'housing-graphite'"),
        ("made photos 1 of foam", "photos makes no part, so 'of' says nothing here"),
        ("posted wave-1 5 of unit-natural", "wave-1 holds unit-graphite, no 'unit-natural'"),
        ("made build 24 of", "of needs a part after it"),
        ("made build 24 of unit-natural of unit-graphite", "of comes a second time"),
        ("left build 5 of unit-natural", "has no place in 'left'"),
    ],
)  # fmt: skip
def test_a_part_that_was_not_made_there_is_refused_with_the_choices(words, says):
    assert says in refusal(words)


def test_no_more_of_a_part_are_judged_than_were_counted_of_it():
    counted = after("in build count 10 of unit-graphite", "in build count 20 of unit-natural")
    assert read("sorted build 20 of unit-natural", counted)
    assert "has 10 pieces of unit-graphite counted but not judged, fewer than the 11" in refusal(
        "sorted build 11 of unit-graphite", counted
    )


@pytest.mark.parametrize("words", ["promised finish-natural 36 thu", "promised finish-natural thu good 36"])
def test_a_promise_may_be_for_a_number_of_pieces(words):
    (fact,) = read(words)
    assert (fact.kind, fact.good, fact.day.isoformat()) == ("promised", 36, "2026-07-02")


def test_pieces_that_left_are_counted_where_the_job_counts_them():
    (fact,) = read("left finish-natural 60")
    assert (fact.kind, fact.good) == ("left", 60)
    assert read("left finish-natural")[0].good is None
    assert "labels makes no part, so it leaves whole and not 60 pieces of it" in refusal("left labels 60")


@pytest.mark.parametrize(
    ("lines", "words", "good"),
    [
        ((), "in finish-natural 52 rework 5 scrap 3 rest thu", 36),
        ((), "in finish-natural 60 rest thu", 36),
        (("in finish-natural 52 rework 5 scrap 3",), "in finish-natural 20 rest thu", 16),
        (("in finish-natural count 60", "sorted finish-natural 52 rework 8"), "in finish-natural 20 rest thu", 16),
        (("made build 24 of unit-natural",), "in build 100 rest thu", 60),  # 160 units in all
        (("ordered foam 250",), "in foam 100 rest thu", 150),
        ((), "in foam 100 rest thu", None),  # nobody said how many
        (("ordered photos 250",), "in photos 250 rest thu", None),
        ((), "in labels 100 rest thu", None),  # counts no parts: as it always was
    ],
)  # fmt: skip
def test_the_rest_is_promised_with_the_pieces_still_to_come(lines, words, good):
    came, rest = read(words, after(*lines))
    assert (came.kind, rest.kind, rest.good, rest.day.isoformat()) == ("in", "promised", good, "2026-07-02")


@pytest.mark.parametrize(
    ("lines", "words", "says"),
    [
        ((), "in finish-natural 96 rest thu", "no rest to come after these 96: that makes 96 of 96"),
        ((), "in finish-natural 99 rest thu", "no rest to come after these 99: that makes 99 of 96"),
        (
            ("ordered foam 250",),
            "in foam 250 rest thu",
            "no rest to come after these 250: that makes 250 of 250",
        ),
        ((), "in labels 250 rest thu", "no rest to come after these 250: that makes 250 of 250"),
    ],
)
def test_a_rest_of_nothing_is_refused(lines, words, says):
    assert says in refusal(words, after(*lines))


def is_repeat(first, second):
    stored = after(first)
    (fact,) = read(f"{second} on {stored.run.start.isoformat()}", stored)
    return repeat_of(fact, stored) is not None


@pytest.mark.parametrize(
    ("first", "second", "same"),
    [
        ("scrap foam 3 found-at build", "scrap foam 3 found-at build", True),
        ("scrap foam 3 found-at build", "scrap foam 3 found-at build note 'glue gone'", True),
        ("scrap foam 3 found-at build", "scrap foam 4 found-at build", False),
        ("scrap foam 3 found-at build", "scrap foam 3 found-at photos", False),
        ("scrap foam 3", "scrap housing-natural 3", False),
        ("made build 24 of unit-natural", "made build 24 of unit-natural", True),
        ("made build 24 of unit-natural", "made build 24 of unit-graphite", False),
        ("in finish-natural 24", "in finish-natural 24 of housing-natural", True),
        ("posted wave-2 24 of unit-natural", "posted wave-2 24 of unit-graphite", False),
        ("left finish-natural 24", "left finish-natural 24", True),
        ("left finish-natural 24", "left finish-natural 30", False),
    ],
)
def test_the_same_count_of_the_same_part_on_one_day_is_told_twice(first, second, same):
    assert is_repeat(first, second) is same


def test_counts_of_two_parts_do_not_stand_between_each_other():
    stored = after("made build 24 of unit-natural")
    (other,) = read("made build 30 of unit-graphite on 2026-06-01", stored)
    stored = replace(stored, facts=(*stored.facts, other))
    (again,) = read("made build 24 of unit-natural on 2026-06-01", stored)
    assert repeat_of(again, stored) == 0


def fixed(words, *lines):
    """The facts of one entry after a correction."""
    stored = after(*lines)
    found = read_fix(7, stored.facts, words.split(), stored, DateReader(today=TODAY))
    return [found.get(place, fact) for place, fact in enumerate(stored.facts)]


def test_pieces_found_bad_their_part_and_place_are_corrected():
    (fact,) = fixed("scrap 4 of housing-n found at photos", "scrap housing-graphite 3 found-at build")
    assert (fact.scrap, fact.part, fact.job) == (4, "housing-natural", "photos")
    assert fixed("5", "scrap foam 3")[0].scrap == 5
    assert fixed("foam on mon", "scrap foam 3")[0].on.isoformat() == "2026-06-29"


def test_a_correction_to_no_pieces_says_how_to_take_them_back():
    with pytest.raises(Refused, match="would scrap no pieces") as refused:
        fixed("scrap 0", "scrap foam 3")
    assert refused.value.hint == "take it back: tracker undo 7"
    with pytest.raises(UsageError, match="fix what of entry 7") as unclear:
        fixed("foam", "scrap foam 3")
    assert "it logged scrap of foam; for example: tracker fix 7 scrap 2" in unclear.value.hint


def test_the_part_of_a_count_is_corrected_to_one_that_was_made_there():
    assert fixed("of unit-natural", "made build 24 of unit-graphite")[0].part == "unit-natural"
    with pytest.raises(UsageError, match="build makes unit-graphite and unit-natural, no 'foam'"):
        fixed("of foam", "made build 24")


@pytest.mark.parametrize(
    ("words", "good"),
    [("good 50", 38), ("rework 4 scrap 4", 36), ("good 88", None), ("rest fri", 36), ("ref 4471", 36)],
)
def test_the_pieces_promised_for_the_rest_follow_a_correction_of_the_delivery(words, good):
    _, rest = fixed(words, "in finish-natural 52 rework 5 scrap 3 rest thu")
    assert rest.good == good
    assert rest.day.isoformat() == ("2026-07-03" if words == "rest fri" else "2026-06-04")


def test_a_rest_promised_without_a_number_stays_without_one():
    assert fixed("good 50", "in labels 60 rest thu")[1].good is None

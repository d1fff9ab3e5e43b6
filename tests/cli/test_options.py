"""Options on the demo, an invented scenario whose days were counted by hand: kept, listed, decided, taken out."""

import json

import pytest

from tests.cli.typed import refused, typed
from tests.conftest import dump

RINGS = "instead magnets by kessling lead 10wd travel 2cd check 2wd"
KEEP = f'tracker option eu-rings "{RINGS}" cost "GBP 1,763"'
GAINS = "decided today: wave-2 Wed 3 Feb instead of Fri 5 Feb (2 days earlier)"
UNTIL = "last day it helps: Sun 29 Nov (then wave-2 1 day earlier)"


def kept(program):
    """Rows of the table of options: code, words, day kept, cost."""
    return [(row[0], *row[2:]) for row in dump(program.database)["option"]]


def listed(program, *words):
    return program.json("option", *words)


def test_the_second_source_of_rings_gains_two_days_and_helps_until_the_sunday(program):
    """Ordered on Tue 24 Nov: 25 Nov to 8 Dec, here Thu 10, checked Fri 11 and Mon 14, trial Tue 15 to Thu 17 Dec; the
    licence's own way ends its trial on Mon 21 Dec. Ordered on Sun 29: 30 Nov to 11 Dec, here Sun 13, checked on Mon 14
    and Tue 15, trial to Fri 18, one working day sooner. On Mon 30 it comes a day later, and the trial on Mon 21."""
    lines = typed(program, KEEP).splitlines()
    assert lines == [
        f"option eu-rings: {RINGS}; cost GBP 1,763 [entry 53]", GAINS, UNTIL,
        "today is Tue 24 Nov 2026, kept with this run",
    ]  # fmt: skip
    (row,) = listed(program)["options"]
    assert (row["option"], row["words"], row["cost"], row["on"]) == (
        "eu-rings",
        RINGS,
        "GBP 1,763",
        "2026-11-24",
    )
    assert {one["shipment"]: one["days"] for one in row["now"]} == {"wave-1": 0, "wave-2": 2}
    assert (row["ship_date"]["before"], row["ship_date"]["after"]) == ("2027-02-05", "2027-02-03")
    assert (row["last_day"], row["ship_date_then"]["after"]) == ("2026-11-29", "2027-02-04")


@pytest.mark.parametrize(
    "line",
    [
        f"tracker option eu-rings {RINGS} cost GBP 1,763",
        f'tracker option eu-rings "try {RINGS}" cost GBP 1,763',
        f"trk opt eu-rings try {RINGS} cost GBP 1,763",
    ],
)
def test_however_it_is_quoted_the_same_is_kept(program, line):
    typed(program, line)
    assert kept(program) == [("eu-rings", RINGS, "2026-11-24", "GBP 1,763")]


def test_it_is_an_insurance_where_the_licence_named_a_worst_day(program):
    """If the licence slips to 15 Jan the last parcel goes on 10 Mar instead of 5 Feb: 35 days saved."""
    typed(program, KEEP)
    typed(program, "tracker promised licence 4dec worst 15jan")
    assert "wave-2 Wed 3 Feb instead of Wed 10 Mar (35 days earlier)" in typed(program, "tracker option")
    (row,) = listed(program)["options"]
    assert row["at_worst"]["jobs"] == [["licence", "2027-01-15"]]


def test_keeping_an_option_moves_nothing_and_is_undone_like_any_entry(program):
    before = program.dates()
    typed(program, KEEP)
    assert program.dates() == before
    assert program.json("diary")[0]["command"] == f"option eu-rings '{RINGS}' cost 'GBP 1,763'"
    typed(program, "tracker undo")
    assert kept(program) == []
    assert typed(program, "tracker option").splitlines() == [
        "options on Tue 24 Nov 2026",
        "no option is kept",
        'keep one: tracker option NAME "what you would try" cost COST',
    ]


def test_the_same_name_again_replaces_words_or_cost_and_says_what_stood_there(program):
    typed(program, KEEP)
    lines = typed(program, "tracker option eu-rings cost GBP 1,800").splitlines()
    assert lines[0] == f"option eu-rings: {RINGS}; cost GBP 1,800 [entry 54]"
    assert lines[1] == f"was: eu-rings: {RINGS}; cost GBP 1,763"
    typed(program, 'tracker option EU-Rings "set boxes lead=12wd"')
    assert kept(program) == [("eu-rings", "set boxes lead=12wd", "2026-11-24", "GBP 1,800")]
    again = typed(program, 'tracker option eu-rings "set boxes lead=12wd"')
    assert again.startswith("option eu-rings says so already; nothing was stored")
    assert program.json("diary")[0]["number"] == 55


def test_the_day_it_was_kept_is_that_of_its_words_not_of_its_cost(program):
    typed(program, KEEP)
    for words in ("", f'"{RINGS}" '):
        typed(program, f"tracker option eu-rings {words}cost GBP {len(words)} --today 2026-11-25")
        assert kept(program)[0][2:] == ("2026-11-24", f"GBP {len(words)}")
    typed(program, f'tracker option eu-rings "{RINGS} said soon" --today 2026-11-26')
    assert kept(program)[0][2:] == ("2026-11-26", f"GBP {len(RINGS) + 3}")


def test_days_are_kept_written_out_and_shown_with_their_weekday(program):
    typed(program, "tracker option sooner promised licence thu")
    assert kept(program) == [("sooner", "promised licence 2026-11-26", "2026-11-24", "")]
    assert "sooner: promised licence Thu 26 Nov 2026" in typed(program, "tracker option")
    assert "sooner: promised licence Thu 26 Nov 2026" in typed(program, "tracker option --today 2026-12-08")


def test_a_decision_takes_it_off_the_list_and_is_kept_with_it(program):
    typed(program, KEEP)
    typed(program, 'tracker option more-hands "set wave-2-build lead=10wd"')
    lines = typed(program, 'tracker decided eu "order them"').splitlines()
    assert lines[0] == 'eu-rings decided Tue 24 Nov 2026; note "order them" [entry 55]'
    assert lines[1] == "option eu-rings is off the list of what could be decided"
    assert [row["option"] for row in listed(program)["options"]] == ["more-hands"]
    (row,) = listed(program)["decided"]
    assert (row["option"], row["decided"], row["decision"]) == ("eu-rings", "2026-11-24", "order them")
    assert f'  eu-rings Tue 24 Nov: "order them" (tried: {RINGS}; cost GBP 1,763)' in typed(
        program, "tracker option"
    )
    typed(program, "tracker undo")
    assert len(listed(program)["options"]) == 2


def test_a_second_decision_stands_beside_the_first(program):
    typed(program, KEEP)
    typed(program, "tracker decided eu-rings wait for the lab")
    out = typed(program, "tracker decided eu-rings order them")
    assert "option eu-rings was decided on Tue 24 Nov 2026 already; this stands beside it" in out
    assert listed(program)["decided"][0]["decision"] == "order them"


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("tracker decided boxes pay today", "boxes decided Tue 24 Nov 2026"),
        ("tracker decided second source it is", "run decided Tue 24 Nov 2026"),
        ("tracker note eu-rings ask the lab", "run note Tue 24 Nov 2026"),
        ("tracker decided", "decided needs a text"),
    ],
)
def test_other_words_are_decided_as_before(program, line, said):
    typed(program, KEEP)
    out = program(*line.split()[1:], exit_code=2 if said.startswith("decided needs") else 0)
    assert said in out.output
    assert len(listed(program)["options"]) == 1


def test_a_whole_code_of_a_job_is_meant_before_the_beginning_of_an_option(program):
    typed(program, 'tracker option boxes-soon "set boxes lead=12wd"')
    assert typed(program, "tracker decided boxes pay today").startswith("boxes decided")
    assert typed(program, "tracker decided boxes-s no").startswith("boxes-soon decided")


@pytest.mark.parametrize(
    ("line", "exit_code", "said"),
    [
        ("tracker option set boxes lead=12wd", 2, "an option has a name of its own first"),
        ("tracker option quick set boxes lead=12wd cost", 2, "cost needs a few words after it"),
        ("tracker option quick cost GBP 3", 2, "option quick: what would be tried?"),
        ("tracker option quick", 2, "there is no option 'quick': none is kept yet"),
        ("tracker option quick set boxes lead=12", 1, "days"),
        ("tracker option quick remove labels", 2, "there is no job, supplier, part or shipment 'labels'"),
        ("tracker option quick promised licence 11jan..26feb", 2, "is a span; promised takes one date"),
        ("tracker option quick note boxes they come thu", 1, "would be read otherwise on another day"),
        ("tracker option boxes set boxes lead=12wd", 1, "the code is taken by job boxes"),
        ("tracker option today set boxes lead=12wd", 1, "the code 'today' is a word of the command line"),
        ("tracker option 1x set boxes lead=12wd", 1, "must begin with a letter"),
        ("tracker option foam add job foam supplier=lark lead=5wd", 1, "its own name is taken by what it adds"),
        ("tracker option quick set boxes lead=12wd --as-known 20nov", 2, "an option is kept as of now"),
    ],
)  # fmt: skip
def test_what_cannot_be_kept_is_refused_with_the_reason_and_nothing_is_stored(program, line, exit_code, said):
    message = refused(program, line, exit_code)
    assert said in message
    assert "hint:" in message or "choose another" in message or "problem" in message


def test_an_option_decided_on_is_neither_changed_nor_removed(program):
    typed(program, KEEP)
    typed(program, "tracker decided eu-rings order them")
    assert "option eu-rings was decided on Tue 24 Nov 2026" in refused(
        program, "tracker option eu-rings cost GBP 3"
    )
    assert "so it cannot be removed" in refused(program, "tracker remove eu-rings")
    assert "is an option, which set does not change" in refused(program, "tracker set eu-rings cost=3", 2)


def test_an_option_nothing_was_decided_on_is_removed(program):
    typed(program, KEEP)
    assert typed(program, "tracker remove eu-rings").startswith("option eu-rings removed: ")
    assert kept(program) == []


def test_what_can_no_longer_be_tried_is_said_in_a_line_beside_the_others(program):
    typed(program, KEEP)
    typed(program, 'tracker option more-hands "set wave-2-build lead=10wd"')
    typed(program, "tracker in licence")
    typed(program, "tracker in air-freight 520")
    lines = typed(program, "tracker option").splitlines()
    assert lines[3] == (
        "  cannot be tried as things stand: magnets is done, and no open job only carries on what came of it"
    )
    assert lines[5:7] == ["more-hands: set wave-2-build lead=10wd", "  gains nothing as things stand"]
    row = listed(program)["options"][0]
    assert (row["now"], row["last_day"], row["trouble"][:15]) == ([], None, "magnets is done")


def test_one_option_is_shown_alone_by_its_name_or_a_beginning_of_it(program):
    typed(program, KEEP)
    typed(program, 'tracker option more-hands "set wave-2-build lead=10wd"')
    for line in ("tracker option eu", "tracker eu-rings", "tracker eu", "tracker show eu-rings"):
        assert [row["option"] for row in json.loads(typed(program, f"{line} --json"))["options"]] == [
            "eu-rings"
        ]


def test_options_as_known_before_one_was_kept_or_decided(program):
    typed(program, f"{KEEP} --today 2026-11-25")
    typed(program, "tracker decided eu-rings order them --today 2026-11-27")
    assert listed(program, "--as-known", "2026-11-24")["options"] == []
    assert [row["option"] for row in listed(program, "--as-known", "2026-11-26")["options"]] == ["eu-rings"]
    assert listed(program, "--as-known", "2026-11-27")["options"] == []


def test_log_takes_option_lines_each_on_what_the_lines_before_it_left(program):
    text = "paid boxes\n- option more-hands set wave-2-build lead=10wd cost GBP 20 a day\ndecided more-hands not now\n"
    out = program.out("log", "-", text=text, width=200)
    assert "option more-hands: set wave-2-build lead=10wd; cost GBP 20 a day" in out
    assert "decided today: wave-2 Mon 1 Feb instead of Fri 5 Feb (4 days earlier)" in out
    assert [row["option"] for row in listed(program)["decided"]] == ["more-hands"]
    message = program.refuses(
        "log", "-", exit_code=1, text='paid boxes balance\noption quick "remove labels"\n'
    )
    assert "line 2" in message
    assert "there is no job, supplier, part or shipment 'labels'" in message


def test_a_run_that_keeps_its_own_today_moves_on_with_an_option_kept_later(program):
    out = typed(program, f"{KEEP} --today 2026-11-25")
    assert "this run's own today moves on to Wed 25 Nov 2026" in out
    assert kept(program)[0][2] == "2026-11-25"


def test_try_and_edits_look_past_options_kept_after_the_day_asked_for(program):
    typed(program, f"{KEEP} --today 2026-11-25")
    assert "wave-2" in typed(program, "tracker try set wave-2-build lead=10wd --today 2026-11-24")


def test_a_plan_written_out_holds_its_options_and_reads_back_without_news(program, tmp_path):
    typed(program, KEEP)
    typed(program, "tracker decided eu-rings order them")
    for name in ("plan.toml", "plan.xlsx"):
        program("write", str(tmp_path / name))
        assert "holds nothing new" in program.out("read", str(tmp_path / name), width=200)


def test_every_entry_keeps_the_status_date_for_which_it_printed_dates(program):
    for line in ("set boxes lead=19wd", "paid boxes --today 2026-11-26", "option quick set boxes lead=12wd", "undo",
                 "fix 55 on 2026-11-25", "keep-plan --yes"):  # fmt: skip
        typed(program, f"tracker {line}")
    rows = dump(program.database)["entry"]
    printed = [(row[3].split()[0], row[7]) for row in rows[52:]]
    assert printed == [
        ("set", "2026-11-24"), ("set", "2026-11-26"), ("paid", "2026-11-26"), ("option", "2026-11-26"),
        ("undo", "2026-11-26"), ("fix", "2026-11-26"), ("keep-plan", "2026-11-26"),
    ]  # fmt: skip
    assert [row[7] for row in rows[:52] if row[5] == "{}"] == [None] * 50
    assert {row[7] for row in rows[:52] if row[5] != "{}"} == {"2026-06-30", "2026-11-24"}


def test_a_second_source_of_one_part_leaves_the_build_of_another_alone(program):
    """The build of wave 2 makes graphite and natural units, so it goes on. Magnets come on Wed 16 Dec; 14 working days
    from Thu 17, shut 24 Dec to 3 Jan, end on Thu 14 Jan, packed in 7 from Fri 15 to Mon 25 Jan."""
    out = typed(program, 'tracker option ug "instead unit-graphite by kessling lead 5wd"')
    assert "wave-2 Mon 25 Jan instead of Fri 5 Feb (11 days earlier)" in out
    assert "short" not in out
    tried = typed(program, "tracker try instead unit-graphite by kessling lead 5wd")
    assert "in place of trial and wave-1-build; brings unit-graphite" in tried
    assert "wave-2-build goes on, since other parts come of it" in tried


def test_an_option_after_which_a_shipment_goes_short_gains_nothing_for_it(program):
    lines = typed(program, 'tracker option off "called-off wave-2-build"').splitlines()
    assert lines[1:3] == [
        "gains nothing as things stand; wave-2 goes short",
        "82 of unit-natural short, wave-2-build called off; wave-2 goes short first",
    ]
    (row,) = listed(program)["options"]
    wave_1, wave_2 = row["now"]
    assert (wave_1["short"], wave_1["days"]) == (False, 0)
    assert (wave_2["short"], wave_2["after"], wave_2["days"]) == (True, None, None)
    assert [one["part"] for one in row["shortages"]] == ["unit-natural"]
    assert row["last_day"] is None


def test_a_supplier_opened_through_a_closure_helps_until_the_day_before_the_last_day_opened(program):
    """Our bench opens on 28 to 31 Dec. Decided on Wed 30 it still works on Thu 31, one day of four."""
    words = "set lark opens=2026-12-28,2026-12-29,2026-12-30,2026-12-31"
    out = typed(program, f'tracker option work "{words}"')
    assert "decided today: wave-2 Mon 1 Feb instead of Fri 5 Feb (4 days earlier)" in out
    assert "last day it helps: Wed 30 Dec (then wave-2 1 day earlier)" in out


def test_a_text_in_quotes_inside_the_words_of_an_option_is_kept_without_them(program):
    typed(program, """tracker option new-name "set boxes name='Box, printed'\"""")
    assert kept(program)[0][1] == 'set boxes name="Box, printed"'
    assert "Box, printed" in program.out("try", "set", "boxes", "name=Box, printed", width=200)


def test_one_option_that_is_decided_says_nothing_of_others(program):
    typed(program, KEEP)
    typed(program, 'tracker option more-hands "set wave-2-build lead=10wd"')
    typed(program, "tracker decided more-hands no")
    lines = typed(program, "tracker option more-hands").splitlines()
    assert lines == [
        "options on Tue 24 Nov 2026", "", "decided",
        '  more-hands Tue 24 Nov: "no" (tried: set wave-2-build lead=10wd)',
    ]  # fmt: skip
    typed(program, "tracker decided eu-rings no")
    assert "nothing is waiting to be decided" in typed(program, "tracker option")


def test_the_same_decision_twice_is_told_in_one_sentence(program):
    typed(program, KEEP)
    typed(program, "tracker decided eu-rings yes")
    assert typed(program, "tracker decided eu-rings yes").splitlines() == [
        "eu-rings: already logged as entry 54; nothing was stored again",
        "today is Tue 24 Nov 2026, kept with this run",
    ]


def test_the_cost_of_an_option_that_became_impossible_can_still_be_corrected(program):
    typed(program, KEEP)
    typed(program, "tracker in licence")
    typed(program, "tracker in air-freight 520")
    out = typed(program, "tracker option eu-rings cost GBP 1,800")
    assert "cannot be tried as things stand" in out
    assert kept(program)[0][3] == "GBP 1,800"


@pytest.mark.parametrize(
    ("words", "rest"),
    [
        ("made wave-1-build 12 on 20jan", "the 58 still to come after Wed 20 Jan 2027"),
        ("in finish-natural 30 on 7jan", "the 66 still to come after Thu 7 Jan 2027"),
        ("left finish-natural 30 on 7jan", "the 66 still to come after Thu 7 Jan 2027"),
    ],
)
def test_a_part_count_ahead_asks_when_the_rest_comes_and_names_the_words_for_it(program, words, rest):
    message = refused(program, f"tracker try {words}")
    assert f"nothing says when {rest} will be there" in " ".join(message.split())
    remedy = message.rstrip().rsplit(": ", 1)[1]
    assert typed(program, f"tracker try {words} {' '.join(remedy.split())}").endswith(
        "nothing was stored; today is Tue 24 Nov 2026, kept with this run\n"
    )


def test_an_option_that_rests_on_a_promise_gains_nothing_once_its_day_has_come(program):
    program("option", "early", "promised licence 1dec")
    for day, gains in (("2026-11-30", True), ("2026-12-01", False), ("2026-12-02", False)):
        (row,) = program.json("option", "--today", day)["options"]
        assert any(one["days"] for one in row["now"]) is gains, day

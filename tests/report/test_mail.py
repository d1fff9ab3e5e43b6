"""The mail to one supplier on small plans. Day 0 is Monday 1 June 2026; ``shop`` is written to, ``tolmark`` is another."""

from dataclasses import replace

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import picture
from tracker.plan.model import Fact, Supplier
from tracker.plan.span import Span
from tracker.render.mail_text import mail_text, nothing_new_text
from tracker.report.mail import mail

TOLMARK = Supplier(code="tolmark", name="Tolmark Precision, Rotherham", contact="Gwen, 0-555-0101")
THREE = (BENCH, SHOP, TOLMARK)
CHAIN = "coat:5wd@shop pack:2 | coat>pack"
GATED = "fit:2 coat:5wd@shop pack:2 | fit>coat coat>pack"
GATE = {"fit": {"gate": True}}
COUNTED = {"coat": {"quantity": 96}}
ORDERED, STARTED = fact("ordered", "coat", 0), fact("started", "coat", 0)


def mailed(on, supplier="shop"):
    return Fact(on=day(on), logged=day(on), kind="mailed", supplier=supplier)


def written(text, *facts, since=None, **more):
    """The mail's text on one line, or the one line in its place."""
    view = mail(picture(text, *facts, **{"suppliers": THREE, **more}), "shop", since)
    whole = nothing_new_text(view) if view.nothing_new else mail_text(view)
    return " ".join(whole.split())


def promised(on, to, **fields):
    return fact("promised", "coat", on, day=to, **fields)


def test_a_reject_note_has_counts_and_reference():
    came = fact("in", "coat", 3, good=60, rework=5, scrap=3, ref="4471", note="rim blotchy")
    text = written(CHAIN, STARTED, came, today=3, jobs=COUNTED)
    assert (
        "Reject note: - coat: of 68 pieces received on Thu 4 Jun 2026 (your note 4471): 60 good, 5 to be "
        'reworked, 3 scrap. Our remark: "rim blotchy". 28 still to come.'
    ) in text


def test_a_delivery_all_good_is_no_reject_note():
    text = written(CHAIN, STARTED, fact("in", "coat", 3, good=96, ref="4471"), today=3, jobs=COUNTED)
    assert "- coat: 96 pieces received on Thu 4 Jun 2026 (your note 4471), all good." in text
    assert "Reject note" not in text
    assert "still to come" not in text


def test_pieces_counted_only_are_not_judged_until_they_are():
    came = fact("in", "coat", 3, count=60)
    assert "60 counted, not yet judged" in written(CHAIN, came, today=3, jobs=COUNTED)
    judged = fact("sorted", "coat", 4, good=50, scrap=10)
    text = written(CHAIN, came, judged, today=4, jobs=COUNTED)
    assert "60 pieces received on Thu 4 Jun 2026." in text
    assert "of the pieces counted before, judged on Fri 5 Jun 2026: 50 good, 10 scrap." in text
    assert "not yet judged" not in text


def test_what_is_still_to_come_stands_beside_the_last_delivery():
    facts = [fact("in", "coat", 1, good=40), fact("in", "coat", 2, good=30)]
    view = mail(picture(CHAIN, *facts, today=3, jobs=COUNTED), "shop")
    assert [row.to_come for row in view.came] == [None, 26]


def test_a_start_is_not_told_beside_what_came_that_day():
    facts = [fact("started", "coat", 2), fact("in", "coat", 2, good=40)]
    assert "in work" not in written(CHAIN, *facts, today=2, jobs=COUNTED)
    assert "in work" in written(CHAIN, *facts, fact("started", "coat", 3), today=3, jobs=COUNTED)


def test_the_oldest_pieces_count_as_judged_first():
    facts = [
        fact("in", "coat", 1, count=40),
        fact("in", "coat", 2, count=30),
        fact("sorted", "coat", 3, good=50),
    ]
    view = mail(picture(CHAIN, *facts, today=3, jobs=COUNTED), "shop")
    assert [(row.received, row.unjudged) for row in view.came] == [(40, 0), (30, 20), (50, 0)]


@pytest.mark.parametrize(
    "note",
    [
        "Tolmark milled it badly", "as tolmark said", "ask GWEN", "the bar from Rotherham", "call 0-555-0101",
        "same as bar-stock", "EUR 704 off", "£40 less", "12 euros each", "paid in GBP", "price too high", "40usd",
    ],
)  # fmt: skip
def test_a_note_that_names_others_or_speaks_of_money_is_left_out_whole(note):
    text = "bar-stock:3wd@tolmark coat:5wd@shop pack:2 | bar-stock>coat coat>pack"
    came = fact("in", "coat", 3, good=60, scrap=3, note=note)
    seen = picture(text, came, today=3, jobs=COUNTED, suppliers=THREE)
    view = mail(seen, "shop")
    assert [row.remark for row in view.came] == [""]
    assert [(row.job, row.text_of) for row in view.left_out] == [("coat", "note")]
    assert note not in mail_text(view)


@pytest.mark.parametrize(
    "note", ["precision of the rim is poor", "68 of 96, letter D", "3 with a clamp mark"]
)
def test_plain_words_of_the_trade_stay_in_a_note(note):
    view = mail(picture(CHAIN, fact("in", "coat", 3, good=60, note=note), today=3, suppliers=THREE), "shop")
    assert [row.remark for row in view.came] == [note]


def test_a_job_named_after_another_supplier_goes_by_its_code():
    jobs = {"coat": {"name": "Coat the Tolmark bases"}}
    assert "- coat: in work since" in written(CHAIN, STARTED, jobs=jobs)
    plain = {"coat": {"name": "Coat, natural"}}
    assert "- Coat, natural: in work since" in written(CHAIN, STARTED, jobs=plain)


def test_a_job_whose_code_and_name_both_tell_too_much_is_just_their_work():
    text = "tolmark-coat:5wd@shop pack:2 | tolmark-coat>pack"
    said = written(text, fact("started", "tolmark-coat", 0))
    assert "- your work: in work since Mon 1 Jun 2026." in said
    assert "tolmark" not in said.lower()


def test_words_and_references_that_name_others_are_left_out():
    came = fact("in", "coat", 2, good=9, ref="TOLMARK 12")
    text = written(CHAIN, STARTED, promised(0, 4, words="after tolmark"), came, today=2, jobs=COUNTED)
    assert "with us on Fri 5 Jun 2026 (you told us on Mon 1 Jun 2026)." in text
    assert "9 pieces received on Wed 3 Jun 2026, all good." in text


def test_a_changed_date_says_what_it_was_before():
    text = written(CHAIN, STARTED, promised(0, 4), promised(1, 7, words="Monday"), today=1)
    assert (
        "Please confirm: - coat: with us on Mon 8 Jun 2026 (you told us on Tue 2 Jun 2026: "
        '"Monday"). Before that you had named Fri 5 Jun 2026.'
    ) in text


def test_of_many_dates_the_one_before_the_last_is_named():
    facts = (STARTED, promised(0, 4), promised(1, 7), promised(2, 9))
    assert "Before that you had named Mon 8 Jun 2026." in written(CHAIN, *facts, today=2)


def test_the_same_date_again_has_no_before():
    assert "Before that" not in written(CHAIN, STARTED, promised(0, 4), promised(1, 4), today=1)


def test_a_date_of_leaving_is_no_date_in_hand():
    text = written(CHAIN, STARTED, promised(0, 4, means="leaves", good=60, worst=day(6)), today=1)
    assert "60 pieces leave you on Fri 5 Jun 2026, Sun 7 Jun 2026 at worst (you told us" in text


def test_an_older_date_logged_late_is_not_asked_to_be_confirmed():
    text = written(CHAIN, STARTED, promised(2, 9), mailed(2), promised(1, 5), today=3)
    assert text == "nothing new for shop since the mail of Wed 3 Jun 2026"


@pytest.mark.parametrize(
    ("facts", "asked"),
    [
        ((STARTED, promised(0, 4)), "it was to be with us on Fri 5 Jun 2026; we have no news."),
        (
            (STARTED, promised(0, 4, means="leaves")),
            "it was to leave you on Fri 5 Jun 2026; we have no news.",
        ),
        ((STARTED,), "we expected it by Fri 5 Jun 2026; we have no news."),
        (
            (STARTED, promised(0, 4), fact("in", "coat", 5, good=60)),
            "36 still to come, and we have no date for it.",
        ),
    ],
)
def test_a_date_that_passed_is_asked_for(facts, asked):
    assert asked in written(CHAIN, *facts, today=8, jobs=COUNTED)


@pytest.mark.parametrize(("today", "confirm"), [(4, True), (5, False)])
def test_a_date_is_not_to_be_confirmed_once_it_passed(today, confirm):
    text = written(CHAIN, STARTED, promised(0, 4), today=today)
    assert ("Please confirm" in text) is confirm
    assert ("we have no news" in text) is not confirm


def test_what_left_them_is_asked_for_by_the_day_it_was_due_here():
    jobs = {"coat": {"travel": Span(3)}}
    text = written(CHAIN, STARTED, fact("left", "coat", 1), today=8, jobs=jobs)
    assert "it was due here on Fri 5 Jun 2026; we have no news." in text


@pytest.mark.parametrize(
    ("mail_on", "today", "asked"), [(4, 5, True), (5, 6, False), (5, 11, False), (5, 12, True)]
)
def test_a_date_is_asked_for_once_it_passed_and_again_after_a_week(mail_on, today, asked):
    text = written(CHAIN, STARTED, promised(0, 4), mailed(mail_on), today=today)
    assert ("we have no news" in text) is asked
    assert asked or text.startswith("nothing new for shop since the mail of Sat 6 Jun 2026")


def test_an_open_question_is_repeated_beside_news():
    two = "coat:5wd@shop seal:9wd@shop pack:2 | coat>pack seal>pack"
    text = written(two, STARTED, promised(0, 4), mailed(5), fact("started", "seal", 6), today=6)
    assert "- seal: in work since Sun 7 Jun 2026." in text
    assert "- coat: it was to be with us on Fri 5 Jun 2026" in text


def test_a_paused_job_is_not_asked_for():
    text = written(CHAIN, STARTED, promised(0, 4), fact("paused", "coat", 3), today=8)
    assert "no news" not in text
    assert "- coat: paused on Thu 4 Jun 2026 until we write again." in text


def test_a_promise_our_inputs_come_too_late_for_names_a_day_and_nobody():
    text = "bar-stock:10wd@tolmark coat:5wd@shop pack:2 | bar-stock>coat coat>pack"
    facts = (fact("started", "bar-stock", 0), ORDERED, promised(0, 10))
    said = written(text, *facts, today=1)
    assert (
        "coat: you named Thu 11 Jun 2026. We will have what you need by Fri 12 Jun 2026 at the earliest."
        in said
    )
    assert "bar-stock" not in said
    assert "tolmark" not in said
    passed = written(text, *facts, today=11)
    assert "We will have what you need by" in passed
    assert "no news" not in passed


def test_work_begun_before_our_inputs_came_is_asked_for_all_the_same():
    text = "bar-stock:30wd@tolmark coat:5wd@shop pack:2 | bar-stock>coat coat>pack"
    said = written(text, fact("started", "bar-stock", 0), STARTED, promised(0, 4), today=8)
    assert "it was to be with us on Fri 5 Jun 2026; we have no news." in said
    assert "We will have what you need" not in said


@pytest.mark.parametrize(("turn", "ours"), [(12, True), (6, False)])
def test_of_several_late_inputs_the_last_one_tells_whose_matter_it_is(turn, ours):
    text = f"turn:{turn}@tolmark strip:8@shop coat:5wd@shop pack:2 | turn>coat strip>coat coat>pack"
    facts = (fact("started", "turn", 0), fact("started", "strip", 0), ORDERED, promised(0, 8))
    said = written(text, *facts, today=1)
    assert ("what you need by Fri 12 Jun 2026 at the earliest" in said) is ours


def test_an_input_of_their_own_that_is_late_is_not_our_matter():
    text = "strip:10wd@shop coat:5wd@shop pack:2 | strip>coat coat>pack"
    said = written(text, fact("started", "strip", 0), ORDERED, promised(0, 10), today=1)
    assert "We will have what you need" not in said


def test_a_slip_of_an_input_after_the_mail_is_news():
    text = "bar-stock:10wd@tolmark coat:5wd@shop pack:2 | bar-stock>coat coat>pack"
    facts = (fact("started", "bar-stock", 0), ORDERED, promised(0, 10), mailed(1))
    assert written(text, *facts, today=2).startswith("nothing new")
    slip = fact("promised", "bar-stock", 2, day=20)
    assert "what you need by Sun 21 Jun 2026 at the earliest" in written(text, *facts, slip, today=2)


@pytest.mark.parametrize(
    ("begun", "asked"),
    [
        (fact("ordered", "coat", 1), "Please do not begin on it until we write again."),
        (fact("started", "coat", 1), "Please stop and do no further work on it until we write again."),
        (fact("made", "coat", 1, good=96), "Please keep it at your door until we write again."),
    ],
)
def test_a_gate_that_fails_once_its_followers_are_let_out_tells_them_to_stop(begun, asked):
    failed = fact("failed", "fit", 2, note="bezel bore tight")
    text = written(GATED, begun, mailed(1), failed, today=2, jobs={**GATE, **COUNTED})
    assert text.startswith("Subject: run-1: please stop work, Wed 3 Jun 2026")
    assert f"Please stop: - coat: our check before it failed on Wed 3 Jun 2026. {asked}" in text
    assert "bezel" not in text


@pytest.mark.parametrize("begun", [(), (fact("left", "coat", 1),), (fact("in", "coat", 1, good=96),)])
def test_work_not_let_out_or_gone_is_not_told_to_stop(begun):
    text = written(GATED, *begun, fact("failed", "fit", 2), today=2, jobs={**GATE, **COUNTED})
    assert "stop" not in text


def test_a_gate_to_come_says_so():
    text = written(GATED, fact("started", "coat", 1), today=2, jobs=GATE)
    assert "our check before it has not passed yet. Please stop" in text


def test_a_stop_reaches_work_far_behind_a_gate():
    far = "fit:2 turn:5wd@tolmark coat:5wd@shop pack:2 | fit>turn turn>coat coat>pack"
    text = written(far, ORDERED, fact("failed", "fit", 2), today=2, jobs=GATE)
    assert "Please do not begin on it until we write again." in text
    assert "turn" not in text


def test_no_date_is_confirmed_or_asked_for_of_stopped_work():
    facts = (STARTED, promised(0, 4), fact("failed", "fit", 2))
    text = written(GATED, *facts, today=8, jobs=GATE)
    assert "Please stop" in text
    assert "confirm" not in text
    assert "no news" not in text


def test_a_stop_said_in_the_last_mail_alone_makes_no_new_one():
    facts = (STARTED, fact("failed", "fit", 2), mailed(2))
    assert written(GATED, *facts, today=3, jobs=GATE).startswith("nothing new")
    came = fact("in", "coat", 3, good=10)
    assert "Please stop" in written(GATED, *facts, came, today=3, jobs={**GATE, **COUNTED})


def test_a_gate_that_passed_since_lets_them_go_ahead():
    facts = (STARTED, fact("failed", "fit", 2), mailed(2), fact("passed", "fit", 4))
    text = written(GATED, *facts, today=4, jobs=GATE)
    assert "Please go ahead: - coat: our check before it passed on Fri 5 Jun 2026." in text
    assert "stop" not in text
    assert written(GATED, *facts, mailed(4), today=4, jobs=GATE).startswith("nothing new")


def test_a_second_attempt_that_passed_opens_the_gate_as_well():
    text = "fit:2 again:2 coat:5wd@shop pack:2 | fit>coat coat>pack"
    jobs = {"fit": {"gate": True}, "again": {"gate": True, "retry_of": "fit"}}
    facts = (STARTED, fact("failed", "fit", 2), mailed(2))
    assert "go ahead" in written(text, *facts, fact("passed", "again", 4), today=4, jobs=jobs)
    assert "failed on Fri 5 Jun 2026" in written(text, *facts, fact("failed", "again", 4), today=4, jobs=jobs)


def test_nobody_goes_ahead_while_another_gate_is_shut():
    text = "fit:2 burn:2 coat:5wd@shop pack:2 | fit>coat burn>coat coat>pack"
    jobs = {"fit": {"gate": True}, "burn": {"gate": True}}
    said = written(text, STARTED, fact("passed", "fit", 2), today=2, jobs=jobs)
    assert "go ahead" not in said
    assert "has not passed yet" in said


def test_an_order_placed_after_the_pass_needs_no_go_ahead():
    said = written(GATED, fact("passed", "fit", 1), fact("ordered", "coat", 2), today=2, jobs=GATE)
    assert "go ahead" not in said


@pytest.mark.parametrize(
    ("kind", "more", "said"),
    [
        ("called_off", {}, "coat: called off on Tue 2 Jun 2026. Please do no further work on it."),
        ("paused", {"day": 7}, "coat: paused on Tue 2 Jun 2026; it may go on on Mon 8 Jun 2026."),
        ("resumed", {}, "coat: goes on from Tue 2 Jun 2026."),
    ],
)
def test_a_change_is_said_plainly(kind, more, said):
    assert said in written(CHAIN, STARTED, fact("paused", "coat", 0), fact(kind, "coat", 1, **more), today=1)


def test_what_we_owe_is_said_without_a_day_of_ours():
    jobs = {"coat": {"clock": ("order", "payment", "proof")}}
    said = written(CHAIN, ORDERED, fact("given", "coat", 1, what="proof"), today=1, jobs=jobs)
    assert (
        "From our side: - coat: ordered on Mon 1 Jun 2026. - coat: proof approved on Tue 2 Jun 2026." in said
    )
    assert said.endswith("We still owe you, and it is with us: - coat: the payment. Kind regards,")


@pytest.mark.parametrize(("today", "told"), [(1, False), (70, True)])
def test_a_balance_far_off_is_not_owed_yet(today, told):
    text = "coat:40@shop long:80 pack:2 | coat>pack long>pack"
    said = written(
        text,
        ORDERED,
        STARTED,
        fact("started", "long", 0),
        today=today,
        jobs={"coat": {"leave_when": ("balance",)}},
    )
    assert ("the balance, before it leaves you" in said) is told


def test_all_of_open_work_is_told_where_no_mail_was_ever_logged():
    text = "coat:60wd@shop pack:2 | coat>pack"
    assert "- coat: ordered on Mon 1 Jun 2026." in written(text, ORDERED, STARTED, today=40)


def test_work_not_ordered_yet_is_not_spoken_of():
    jobs = {"coat": {"clock": ("order", "payment")}}
    said = written(CHAIN, today=1, jobs=jobs)
    assert said == "nothing to write to shop: nothing to tell them since Tue 5 May 2026"


def test_a_date_is_not_asked_for_while_we_owe_what_it_waits_for():
    jobs = {"coat": {"clock": ("order", "payment")}}
    said = written(CHAIN, ORDERED, promised(0, 4), today=8, jobs=jobs)
    assert "no news" not in said
    assert "the payment" in said


def test_only_what_was_logged_after_the_last_mail_is_news_whatever_its_day():
    late = Fact(on=day(1), logged=day(5), kind="in", job="coat", good=10)
    text = written(CHAIN, STARTED, fact("in", "coat", 2, good=20), mailed(3), late, today=5, jobs=COUNTED)
    assert "since our mail of Thu 4 Jun 2026" in text
    assert "10 pieces received on Tue 2 Jun 2026" in text
    assert "20 pieces" not in text


def test_a_mail_to_another_supplier_ends_no_news():
    assert "in work since" in written(CHAIN, STARTED, mailed(3, "tolmark"), today=3)


def test_a_typed_day_begins_the_news_whatever_was_mailed():
    facts = (STARTED, fact("in", "coat", 2, good=20), fact("in", "coat", 3, good=7), mailed(3))
    text = written(CHAIN, *facts, today=3, jobs=COUNTED, since=day(3))
    assert "new since Thu 4 Jun 2026" in text
    assert "7 pieces received" in text
    assert "20 pieces" not in text
    assert "20 pieces" in written(CHAIN, *facts, today=3, jobs=COUNTED, since=day(2))


@pytest.mark.parametrize(("today", "told"), [(30, True), (31, False)])
def test_without_a_mail_what_is_over_is_told_for_four_weeks(today, told):
    text = written(CHAIN, STARTED, fact("in", "coat", 2, good=96), today=today, jobs=COUNTED)
    assert ("96 pieces received" in text) is told


def test_facts_and_mails_of_tomorrow_are_not_looked_at():
    text = written(CHAIN, STARTED, fact("in", "coat", 3, good=20), mailed(3), today=2, jobs=COUNTED)
    assert "20 pieces" not in text
    assert "in work since" in text


@pytest.mark.parametrize(
    ("contact", "greeting"),
    [
        ("Dave, +44 20 7946 0000", "Hello Dave,"),
        ("Dr Ada Holm (mornings)", "Hello Dr Ada Holm,"),
        ("+44 20 7946 0000", "Hello,"),
        ("orders@box.example", "Hello,"),
        ("Sales Office, 0-555-0100", "Hello,"),
        ("ring twice, 0-555-0100", "Hello,"),
        ("", "Hello,"),
    ],
)
def test_a_person_is_greeted_only_where_the_contact_begins_with_one(contact, greeting):
    text = written(CHAIN, STARTED, suppliers=(BENCH, replace(SHOP, contact=contact)))
    assert f" {greeting} Here is" in text


def test_the_text_is_72_wide_parts_no_date_and_ends_with_a_blank_line():
    names = {"coat": {"name": "Blast, mask, anodize and seal the housings in natural and graphite"}}
    came = fact("in", "coat", 3, good=60, scrap=3, note="a mark " * 40)
    view = mail(
        picture(CHAIN, STARTED, promised(0, 9, words="sure " * 30), came, today=3, jobs=names), "shop"
    )
    text = mail_text(view)
    assert max(len(line) for line in text.splitlines()) <= 72
    assert text.endswith("\n\nKind regards,\n\n")
    assert not any(line.endswith((" Jun", " Wed", " Thu", " 4")) for line in text.splitlines())

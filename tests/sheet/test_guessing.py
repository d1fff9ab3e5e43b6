"""Columns are guessed from headings and from values; what people say of them wins. Tables are invented.

Which headings and values makers use is common practice, no source.
"""

import pytest

from tests.sheet.drawn import drawn
from tracker.errors import UsageError
from tracker.sheet.finding import find_tables
from tracker.sheet.guessing import columns_from_words, guess_columns
from tracker.sheet.headings import roles_of_heading
from tracker.sheet.looks import kind_of
from tracker.sheet.model import ROLES


def table(text):
    """The one table of a drawn sheet."""
    (one,) = find_tables([drawn(text)])
    return one


def by_heading(one, guess):
    return {one.headings[at]: role for at, role in guess.roles.items()}


def guessed(text, **more):
    one = table(text)
    return by_heading(one, guess_columns(one, **more))


OWN_WORDS = """
Bits|Chap|How many days|Wants first|Heads
Box|Acme|3 weeks||120
Lid|Acme|10 days|Box|124
Foam|Brenta|12wd|Box, Lid|130
"""
NO_WORDS = OWN_WORDS.replace("Bits|Chap|How many days|Wants first|Heads", "Aa|Bb|Cc|Dd|Ee")
USUAL = """
No.|Part|Vendor|Country|Lead time|Unit|Depends on|Qty|Transit|Earliest|PO date|ETA|Phone|Process|Quote|Done?|Remarks
1|Box|Acme|GB|3|weeks||120|4 days|2026-05-01|2026-04-01|2026-06-01|0555 010 201|milling|3 wks|yes|soon
2|Lid|Brenta|IT|12|days|Box|120|4 days||2026-04-01|2026-06-01|0555 010 202|moulding|2 wks|no|
"""


def test_a_sheet_with_the_usual_headings_is_read_whole_and_for_sure():
    one = table(USUAL)
    guess = guess_columns(one)
    assert by_heading(one, guess) == {
        "No.": "code", "Part": "item", "Vendor": "supplier", "Country": "country", "Lead time": "lead", "Unit": "unit", "Done?": "status",
        "Depends on": "after", "Qty": "quantity", "Transit": "travel", "Earliest": "not-before", "PO date": "ordered",
        "ETA": "promised", "Phone": "contact", "Process": "process", "Quote": "said", "Remarks": "note",
    }  # fmt: skip
    assert (guess.sure, guess.doubts) == (True, ())
    assert set(guess.roles.values()) == set(ROLES)


@pytest.mark.parametrize(
    "text", [OWN_WORDS, NO_WORDS], ids=["headings of its own", "headings that say nothing"]
)
def test_values_alone_tell_what_the_columns_hold(text):
    one = table(text)
    guess = guess_columns(one)
    assert list(guess.roles.values()) == ["item", "supplier", "lead", "after", "quantity"]
    assert guess.sure


@pytest.mark.parametrize(
    ("heading", "role"),
    [
        *((word, "item") for word in ("Item", "Part", "Task", "What", "Component", "Was", "Teil", "Pièce", "Onderdeel")),
        *((word, "supplier") for word in ("Who", "Made by", "Company", "Shop", "Lieferant", "Fournisseur", "Fornitore", "Suplier")),
        *((word, "lead") for word in ("Lead time", "LT", "Turnaround", "Weeks", "Duration", "Lieferzeit", "Délai", "Lead time (weeks)", "lead_time")),
        *((word, "after") for word in ("Needs", "After", "Waits for", "Prerequisite", "Before it", "Wants first")),
        *((word, "quantity") for word in ("Qty", "Pcs", "Pieces", "Amount", "No. off", "Menge", "Quantité", "Stück")),
        *((word, "travel") for word in ("Shipping", "Transit", "Transport", "Transit (days)")),
        *((word, "promised") for word in ("Due", "ETA", "Promised", "Delivery date", "Expected", "Liefertermin")),
        *((word, "ordered") for word in ("Ordered", "PO date", "Order date")),
        *((word, "not-before") for word in ("Not before", "Earliest start")),
        *((word, "contact") for word in ("Contact", "E-mail", "Phone no.")),
        *((word, "code") for word in ("#", "Code", "Ref", "ID", "Part No.", "Nr.")),
        *((word, "note") for word in ("Notes", "Remarks", "Comment", "Bemerkung")),
    ],
)  # fmt: skip
def test_a_heading_speaks_most_for_its_role(heading, role):
    scores = roles_of_heading(heading)
    assert max(scores, key=lambda one: scores[one]) == role


@pytest.mark.parametrize(
    "heading", ["Bits", "Chap", "Colour", "Needed by", "Approved by", "Start", "Deadline", "Date", "Finish"]
)
def test_a_heading_of_no_or_unclear_meaning_speaks_for_nothing(heading):
    assert roles_of_heading(heading) == {}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        *((text, "lead") for text in ("3 weeks", "20 days", "12wd", "12 wd", "10-15 working days ARO", "ca. 3 Wochen", "2-3 wks", "15 jours")),
        *((text, "date") for text in ("2026-12-04", "4.12.2026", "4/12/26", "4 Dec", "Dec 4, 2026", "Fri 4th December 2026")),
        *((text, "whole") for text in ("250", "1,600", "250 pcs", "120 Stück")),
        *((text, "money") for text in ("EUR 704", "£12.50", "12,50 €")),
        *((text, "unknown") for text in ("tbc", "?", "-")),
        *((text, "text") for text in ("Box", "M3 screws", "10 day burn-in test", "Week 12", "May & Sons", "3D print")),
        ("Dave, 0555 010 201", "contact"), ("dave@acme.example", "contact"), ("0,45", "number"),
    ],
)  # fmt: skip
def test_a_cell_is_known_by_its_looks(text, kind):
    assert kind_of(text) == kind


def test_a_numbered_item_column_beside_descriptions_holds_codes():
    text = "Item|Description|Made by|Weeks\n1|Box|Acme|3\n2|Lid|Brenta|3"
    assert guessed(text) == {"Item": "code", "Description": "item", "Made by": "supplier", "Weeks": "lead"}


def test_numbers_of_orders_and_codes_that_repeat_are_no_codes_of_jobs():
    orders = "PO Number|Line Description|Vendor|Lead\nP1|Box|Acme|3 weeks\nP2|Lid|Acme|2 weeks"
    assert "code" not in guessed(orders).values()
    one = table("Ref|Item|Vendor|Lead\nP1|Box|Acme|3 weeks\nP1|Lid|Acme|2 weeks")
    guess = guess_columns(one)
    assert ("code" in guess.roles.values(), guess.sure) == (False, True)
    assert guess.doubts == (
        "column A ('Ref') is headed as the code but holds numbers or codes that come more than once; not read unless you say A=code",
    )


@pytest.mark.parametrize(
    "cells", ["3 weeks|ask Ann|soon|ASAP?", "4|6-8|5 (incl. tooling)|1.5", "3 jours ouvrés|une semaine|TBC|?"]
)
def test_a_column_headed_as_the_lead_is_it_where_some_cells_are_lengths(cells):
    rows = "\n".join(f"Job {at}|Acme|{cell}" for at, cell in enumerate(cells.split("|")))
    assert guessed(f"Item|Vendor|Lead time\n{rows}")["Lead time"] == "lead"


def test_a_column_of_units_beside_the_lead_is_its_unit_one_of_pieces_is_none():
    text = "Item|Vendor|Lead|{}|Qty\nBox|Acme|3|{}|5\nLid|Acme|2|{}|5"
    assert guessed(text.format("Zz", "weeks", "wd"))["Zz"] == "unit"
    assert guessed(text.format("Unit", "working", "calendar"))["Unit"] == "unit"
    assert "Unit" not in guessed(text.format("Unit", "pcs", "pcs"))


def test_a_status_in_sentences_is_a_note_and_several_columns_of_a_few_words_are_all_status():
    rows = "\n".join(f"Job {at}|Acme|{at} days|waits for Ann and her drawing {at}|yes" for at in range(2, 12))
    found = guessed("Item|Vendor|Lead|Status|Done?\n" + rows)
    assert (found["Status"], found["Done?"]) == ("note", "status")
    text = "Item|Vendor|Lead|Status|Done?\nBox|Acme|3 weeks|open|no\nLid|Acme|2 weeks|closed|yes"
    assert [role for role in guessed(text).values() if role == "status"] == ["status", "status"]


def test_marks_under_ordered_are_a_status_and_dates_are_the_day():
    text = "Item|Vendor|Lead|Ordered?\nBox|Acme|3 weeks|{}\nLid|Acme|2 weeks|{}"
    assert guessed(text.format("yes", "no"))["Ordered?"] == "status"
    assert guessed(text.format("Y", "TBC"))["Ordered?"] == "status"
    assert guessed(text.format("2026-05-01", ""))["Ordered?"] == "ordered"


def test_a_heading_that_says_what_needs_doing_names_the_items():
    text = "What needs doing|Who|How long|Can't start until\nBox|Acme|3 weeks|\nLid|Acme|2 weeks|Box\nFoam|Acme|2 weeks|Lid"
    assert list(guessed(text).values()) == ["item", "supplier", "lead", "after"]


def test_links_and_dates_are_nothing_a_job_waits_for():
    text = "Item|Vendor|Lead|Link|Required\nBox|Acme|3 weeks|https://a.example|2026-05-01\nLid|Acme|2 weeks|https://b.example|2026-05-02"
    assert "after" not in guessed(text).values()


def test_a_description_beside_a_part_is_a_note():
    assert (
        guessed("Part|Description|Shop|LT\nBox|blue|Acme|3 weeks\nLid|red|Acme|3 weeks")["Description"]
        == "note"
    )


def test_of_two_likely_columns_the_values_choose():
    text = "Description|Name|By|Lead|Needs\nblue box|Box|Acme|3 weeks|\nred lid|Lid|Acme|3 weeks|Box\nsoft foam|Foam|Able|2 weeks|Lid"
    assert (guessed(text)["Name"], guessed(text)["Description"]) == ("item", "note")


def test_prices_are_no_quantity_even_where_nothing_else_is():
    text = "Item|Supplier|Lead|Unit price|Total cost\nBox|Acme|3 weeks|12|1200\nLid|Acme|2 weeks|10|1000"
    assert "quantity" not in guessed(text).values()


def test_known_suppliers_tell_their_column_where_none_repeats():
    text = "Aa|Bb|Cc\nBox|Acme|3 weeks\nLid|Brenta|2 weeks\nFoam|Corve|1 week"
    assert "supplier" not in guessed(text).values()
    assert guessed(text, known_suppliers=["acme", "Brenta", "dorn"])["Bb"] == "supplier"


def test_countries_by_name_or_code_tell_their_column():
    text = "Item|Supplier|Lead|Aa\nBox|Acme|3 weeks|UK\nLid|Brenta|2 weeks|Italy\nFoam|Acme|1 week|UK"
    assert guessed(text)["Aa"] == "country"


def test_two_columns_for_one_needed_role_are_a_doubt_that_names_both():
    one = table("Item|Supplier|Vendor|Lead\nBox|Acme|Able|3 weeks\nLid|Acme|Baker|4 weeks")
    guess = guess_columns(one)
    assert not guess.sure
    assert guess.doubts == ("column B ('Supplier') and column C ('Vendor') both look like the supplier",)


def test_a_missing_needed_role_is_a_doubt():
    guess = guess_columns(table("Item|Remarks|Lead\nBox|blue|3 weeks\nLid|red|4 weeks"))
    assert (guess.sure, guess.doubts) == (False, ("no column was recognised as the supplier",))


def test_a_heading_of_leads_over_dates_is_a_doubt_and_no_lead():
    guess = guess_columns(
        table("Task|Who|Delivery time|How long\nBox|Acme|2026-05-01|3 weeks\nLid|Acme|2026-05-08|2 weeks")
    )
    assert (guess.roles[3], 2 in guess.roles, guess.sure) == ("lead", False, False)
    assert guess.doubts[0].startswith("column C ('Delivery time') is headed as the lead time but holds dates")


def test_dates_of_no_known_kind_are_not_read_but_spoken_of():
    one = table("Item|Supplier|Lead|Start\nBox|Acme|3 weeks|2026-05-01\nLid|Acme|2 weeks|2026-05-08")
    guess = guess_columns(one)
    assert (3 in guess.roles, guess.sure) == (False, True)
    assert "column D ('Start') holds dates and is not read" in guess.doubts[0]


@pytest.mark.parametrize("heading", ["Order by", "Actual delivery", "Payment due", "Received"])
def test_dates_that_are_no_order_and_no_promise_are_taken_for_neither(heading):
    text = f"Item|Supplier|Lead|{heading}\nBox|Acme|3 weeks|2026-05-01\nLid|Acme|2 weeks|2026-05-08"
    assert guessed(text).get(heading) in (None, "status")


def test_names_that_repeat_are_a_doubt():
    rows = "\n".join(
        f"{part}|Acme|{days} days" for days, part in enumerate(["Box", "Box", "Lid", "Lid"], start=3)
    )
    guess = guess_columns(table("Part|Shop|Lead\n" + rows))
    assert (guess.sure, guess.doubts) == (
        False,
        ("column A ('Part') is taken for the item (what the job is called), but its names repeat",),
    )


def test_what_was_said_earlier_wins_over_every_guess():
    remembered = {"vendor": "note", "REMARKS": "supplier", "Qty": "", "Gone": "lead"}
    text = "Item|Vendor|Lead|Qty|Remarks\nBox|Acme|3 weeks|4|Able\nLid|Acme|2 weeks|4|Able"
    assert guessed(text, remembered=remembered) == {
        "Item": "item",
        "Vendor": "note",
        "Lead": "lead",
        "Remarks": "supplier",
    }


def test_a_sheet_told_of_before_is_sure_again():
    one = table("Item|Supplier|Vendor|Lead\nBox|Acme|Able|3 weeks\nLid|Acme|Baker|4 weeks")
    assert guess_columns(one, remembered={"Supplier": "", "Vendor": "supplier"}).sure


SHEET = table(
    "Item|Who makes it|Lead time|Lead free|Fixed|Note\nBox|Acme|3 weeks|a|x|\nLid|Acme|2 weeks|b|y|"
)


@pytest.mark.parametrize(
    ("word", "at", "role"),
    [
        pytest.param("fixed=after", 4, "after", id="any case"),
        pytest.param("who_makes-it=vendor", 1, "supplier", id="underscores and hyphens"),
        pytest.param("who makes=shop", 1, "supplier", id="an unambiguous beginning"),
        pytest.param("F=waits for", 5, "after", id="a capital is the column's letter before a beginning"),
        pytest.param("e=needs", 4, "after", id="a small letter where no heading begins so"),
        pytest.param("lead free=lead time", 3, "lead", id="blanks on both sides"),
        pytest.param("note=not_before", 5, "not-before", id="a role with underscore"),
        pytest.param("item=name", 0, "item", id="name is the item"),
    ],
)
def test_a_word_says_what_a_column_holds(word, at, role):
    assert columns_from_words(SHEET, [word]).roles[at] == role


def test_words_change_the_named_columns_and_move_their_role_only():
    plain = guess_columns(SHEET)
    said = columns_from_words(SHEET, ["lead free=lead", "note=skip"])
    assert dict(plain.roles) == {0: "item", 1: "supplier", 2: "lead", 5: "note"}
    assert dict(said.roles) == {0: "item", 1: "supplier", 3: "lead"}


def test_words_win_over_what_was_remembered():
    remembered = {"Fixed": "lead", "Lead time": "", "Note": ""}
    assert dict(columns_from_words(SHEET, ["C=lead"], remembered=remembered).roles) == {
        0: "item",
        1: "supplier",
        2: "lead",
    }


def test_words_that_settle_a_doubt_make_it_sure():
    one = table("Item|Supplier|Vendor|Lead\nBox|Acme|Able|3 weeks\nLid|Acme|Baker|4 weeks")
    assert not guess_columns(one).sure
    assert columns_from_words(one, ["vendor=supplier"]).sure
    assert columns_from_words(one, ["vendor=skip"]).sure


@pytest.mark.parametrize(
    ("words", "message", "hint"),
    [
        pytest.param(["itm=item"], "no column headed 'itm'", "did you mean 'Item'?", id="a mistyped heading"),
        pytest.param(["zzz=item"], "no column headed 'zzz'", "the columns are: A ('Item')", id="an unknown heading"),
        pytest.param(["supplier=Fixed"], "no column headed 'supplier'", "Fixed=supplier", id="the wrong way round"),
        pytest.param(["lead=lead"], "'lead' can mean the column C ('Lead time') or D ('Lead free')", "C=lead", id="two begin so"),
        pytest.param(["item=suplier"], "'suplier' is nothing a column can hold", "did you mean supplier?", id="a mistyped role"),
        pytest.param(["item=colour"], "'colour' is nothing a column can hold", "item, code, supplier", id="an unknown role"),
        pytest.param(["item"], "'item' does not say what a column holds", "vendor=supplier", id="no equals sign"),
        pytest.param(["item=note", "A=code"], "said to hold note and code", "", id="two roles for a column"),
        pytest.param(["item=note", "fixed=note"], "cannot both hold note", "skip", id="two columns for a role"),
    ],
)  # fmt: skip
def test_words_that_cannot_be_meant_are_refused_with_the_nearest(words, message, hint):
    with pytest.raises(UsageError) as refusal:
        columns_from_words(SHEET, words)
    assert message in refusal.value.message
    assert hint in refusal.value.hint

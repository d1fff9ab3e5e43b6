"""Whatever is in a plan, the mail to one supplier names no other one, none of their jobs, and no money.

Every name in these plans is a word of its own, so that finding one in a text is a leak; jobs, notes, references and
words as said are laced with names of others and with money.
"""

import re
from dataclasses import replace
from datetime import timedelta

from hypothesis import given, reject
from hypothesis import strategies as st

from tests.plans import START, plans
from tracker.errors import Refused
from tracker.plan.model import Fact
from tracker.render.json_text import json_text
from tracker.render.mail_text import mail_text, nothing_new_text
from tracker.report.mail import mail
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast

TODAY = START + timedelta(days=320)
MONEY = ("EUR 704", "£62 an hour", "USD918.40", "1,760 eur", "12 euros", "paid in GBP", "cheaper than asked")
IS_MONEY = re.compile(r"[£$€¥]|\b(?:EUR|USD|GBP)\b|\deur\b|USD\d|\beuros?\b|\bcheaper\b", re.IGNORECASE)


def named(supplier):
    """The supplier with names that stand nowhere else."""
    word = f"zq{supplier.code}"
    return replace(
        supplier,
        name=f"{word.title()} Vex{supplier.code}, Yor{supplier.code}",
        contact=f"Wim{supplier.code}, 0-55{len(supplier.code)}-{sum(map(ord, supplier.code)):04}",
        public_name=f"our kwo{supplier.code}",
    )


def people(plan, code):
    """Words that point to a supplier."""
    number = plan.supplier_by_code[code].contact.partition(", ")[2]
    return {code, f"zq{code}", f"vex{code}", f"yor{code}", f"wim{code}", f"kwo{code}", number}


def work(plan, code):
    """Codes and names of a supplier's jobs."""
    return {name for job in plan.jobs if job.supplier == code for name in (job.code, job.name)}


def secrets(plan, code):
    """What points to others and their jobs; what one's own jobs are named after points to nobody else's."""
    others = [one.code for one in plan.suppliers if one.code != code and not one.inhouse]
    own = " / ".join(
        f"{job.code} / {job.name} / {job.public_name}" for job in plan.jobs if job.supplier == code
    )
    theirs = {name for other in others for name in work(plan, other) if not says(own, name)}
    return {word for other in others for word in people(plan, other)} | theirs


def says(text, name):
    """Whether a text holds a name as words of its own, in any case and however it is wrapped."""
    pattern = r"\s+".join(re.escape(word) for word in name.split())
    return bool(name) and re.search(rf"(?<!\w){pattern}(?!\w)", text, re.IGNORECASE) is not None


@st.composite
def laced_plans(draw):
    """A plan whose every free text may name anyone, or money."""
    plan = draw(plans(max_facts=10))
    suppliers = tuple(named(one) for one in plan.suppliers)
    gossip = [
        word for one in suppliers for word in (one.code.upper(), one.name, one.contact, f"ask Vex{one.code}")
    ]
    texts = st.sampled_from(("", "rim blotchy", *gossip, *MONEY))
    jobs = tuple(
        replace(job, name=f"Xun{job.code} {draw(texts)}".strip(), public_name=draw(texts))
        for job in plan.jobs
    )
    gossip += [f"like {job.name}" for job in jobs] + [job.code for job in jobs]
    texts = st.sampled_from(("", "rim blotchy", *gossip, *MONEY))
    facts = tuple(
        replace(
            fact,
            note=draw(texts),
            words=draw(texts) if fact.words else "",
            ref=draw(texts) if fact.ref else "",
        )
        for fact in plan.facts
    )
    mailed = [
        Fact(on=facts[-1].on if facts else START, logged=TODAY, kind="mailed", supplier=code)
        for code in draw(st.lists(st.sampled_from([one.code for one in suppliers]), max_size=1))
    ]
    place = draw(st.integers(0, len(facts)))
    whole = (*facts[:place], *mailed, *facts[place:])
    run = replace(plan.run, product=draw(texts))
    return replace(plan, run=run, suppliers=suppliers, jobs=jobs, facts=whole)


def mails(plan, since=None):
    """Every outside supplier's mail, and its text and document."""
    try:
        seen = Picture(Forecast(plan, TODAY))
        _ = seen.standings
    except Refused:  # a second attempt at a gate that stands before it: a ring; or a date out of the calendar
        reject()
    for supplier in plan.suppliers:
        if not supplier.inhouse:
            view = mail(seen, supplier.code, since)
            text = nothing_new_text(view) if view.nothing_new else mail_text(view)
            yield supplier.code, view, (text, json_text(view))


@given(laced_plans(), st.sampled_from((None, START)))
def test_a_mail_names_no_other_supplier_none_of_their_jobs_no_shipment_and_no_money(plan, since):
    for code, _, texts in mails(plan, since):
        secret = secrets(plan, code)
        for text in texts:
            assert [name for name in (*secret, *plan.shipment_by_code) if says(text, name)] == []
            assert not IS_MONEY.search(text)
            assert not re.search(r"harmless|spare|slack", text)


@given(laced_plans())
def test_once_it_is_mailed_nothing_is_left_to_say_that_day(plan):
    sent = tuple(Fact(on=TODAY, logged=TODAY, kind="mailed", supplier=one.code) for one in plan.suppliers)
    for _, view, _ in mails(replace(plan, facts=(*plan.facts, *sent))):
        assert view.nothing_new
        assert view.since == TODAY
        assert view.left_out == ()


@given(laced_plans())
def test_every_text_keeps_its_form(plan):
    for _, view, (text, _) in mails(plan):
        if not view.nothing_new:
            lines = text.splitlines()
            assert lines[0].startswith("Subject: ")
            assert len(lines[0]) <= 72
            assert text.endswith("\n\nKind regards,\n\n")
            assert all(line == line.rstrip() for line in lines)

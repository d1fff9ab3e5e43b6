"""Carrying out ``mail``: the text goes to standard output, what we should know of it to standard error."""

from collections.abc import Sequence
from datetime import date

from tracker.cli.loading import load
from tracker.cli.session import put, say
from tracker.errors import Refused, UsageError
from tracker.plan.day_text import full_day
from tracker.plan.model import Plan
from tracker.render.json_text import json_text
from tracker.render.mail_text import left_out_text, mail_text, nothing_new_text
from tracker.report.mail import Mail, mail
from tracker.words.codes import find_supplier
from tracker.words.dates import DateReader


def show_mail(words: Sequence[str], today: str, *, as_json: bool) -> None:
    """Print the text for the supplier named first; ``since DATE`` may follow."""
    loaded = load(today, with_entries=True)
    supplier, since = _read(words, loaded.plan, loaded.picture.today)
    view = mail(loaded.picture, supplier, since, loaded.entries)
    if as_json:
        put(json_text(view))
    else:
        put(nothing_new_text(view) if view.nothing_new else mail_text(view))
    if not view.nothing_new:
        _talk(view)


def _read(words: Sequence[str], plan: Plan, today: date) -> tuple[str, date | None]:
    if not words:
        outside = [one.code for one in plan.suppliers if not one.inhouse]
        raise UsageError("mail whom?", hint=f"name a supplier: {', '.join(outside) or 'none yet'}")
    supplier = find_supplier(words[0], plan)
    if plan.supplier_by_code[supplier].inhouse:
        raise Refused(
            f"{supplier} is our own bench; there is nobody to write to", hint="name a supplier outside"
        )
    return supplier, _since(supplier, words[1:], plan, today)


def _since(supplier: str, words: Sequence[str], plan: Plan, today: date) -> date | None:
    if not words:
        return None
    if words[0].lower() != "since" or not words[1:]:
        raise UsageError(
            f"'{' '.join(words)}' cannot stand after {supplier}",
            hint=f"write: tracker mail {supplier} since 10nov",
        )
    reader = DateReader(today=today, order=plan.run.dates, earliest=plan.run.start)
    since = reader.whole(" ".join(words[1:]), "back")
    if since > today:
        raise UsageError(
            f"{full_day(since)} is after today, {full_day(today)}",
            hint="name a day that has passed, or today",
        )
    return since


def _talk(view: Mail) -> None:
    """Where the news begins, what was kept out, and how to log that the mail went."""
    if view.reach == "present matter":
        say(
            f"no mail to {view.supplier} is logged: this tells of open jobs and of what happened from "
            f"{full_day(view.since)} on ('since DATE' for another day)"
        )
    elif view.reach == "typed day":
        say(f"from {full_day(view.since)} on, whatever was mailed since")
    for row in view.left_out:
        say(left_out_text(row))
    say(f"once it is sent: tracker mailed {view.supplier}")

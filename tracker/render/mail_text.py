"""A mail to one supplier as plain text, ready to paste."""

import textwrap
from collections.abc import Callable, Iterable
from datetime import date
from typing import Any

from tracker.render.words import full_day, plural
from tracker.report.mail import Mail
from tracker.report.mail_rows import (
    CameRow,
    ChangeRow,
    GoAheadRow,
    LeftOutRow,
    NotedRow,
    OursRow,
    OwingRow,
    PromisedRow,
    ReadyRow,
    SilenceRow,
    StopRow,
)
from tracker.report.owed import listed

WIDTH = 72
_NO_BREAK = "\u00a0"
_HERE = {"in hand": "with us on", "leaves": "leaves you on"}
_GIVEN = {
    "order": "ordered", "payment": "payment sent", "balance": "balance sent", "drawing": "drawing given",
    "proof": "proof approved", "material": "material sent", "papers": "papers given",
}  # fmt: skip
_STEPS = {
    "started": "in work since", "made": "made and at your door since", "left": "left you on",
    "finished": "finished on", "passed": "passed on", "failed": "failed on",
}  # fmt: skip


def mail_text(view: Mail) -> str:
    """Subject, greeting, one paragraph a matter, 72 columns wide; it ends with a blank line to sign on."""
    parts = [
        _subject(view),
        f"Hello {view.greeting}," if view.greeting else "Hello,",
        _wrapped(_opening(view)),
        *_parts(view),
        "Kind regards,",
    ]
    return "\n\n".join(part for part in parts if part) + "\n\n"


def nothing_new_text(view: Mail) -> str:
    """The one line in place of a mail that would say nothing."""
    whence = {
        "last mail": f"nothing new for {view.supplier} since the mail of {full_day(view.since)}",
        "typed day": f"nothing for {view.supplier} since {full_day(view.since)}",
        "present matter": f"nothing to write to {view.supplier}: nothing to tell them since {full_day(view.since)}",
    }
    return whence[view.reach]


def left_out_text(row: LeftOutRow) -> str:
    """What was kept out of the text, and why, for our own eyes."""
    why = {"names others": "names another supplier or their work", "speaks of money": "speaks of money"}
    return f"left out: {row.text_of} of {row.job}, as it {why[row.why]}"


def _subject(view: Mail) -> str:
    matter = "please stop work" if view.stops else "your work for us"
    day = full_day(view.today)
    about = f"{view.about}: " if view.about else ""
    whole = f"Subject: {about}{matter}, {day}"
    if len(whole) <= WIDTH:
        return whole
    room = WIDTH - len(f"Subject: : {matter}, {day}")
    short = textwrap.shorten(view.about.partition(",")[0], room, placeholder="...")
    return f"Subject: {short}: {matter}, {day}"


def _opening(view: Mail) -> str:
    if view.reach == "present matter":
        return f"Here is where your work for us stands on {_day(view.today)}."
    mailed = "our mail of " if view.reach == "last mail" else ""
    return f"Here is what is new since {mailed}{_day(view.since)}."


def _parts(view: Mail) -> Iterable[str]:
    good = [row for row in view.came if not row.rejects]
    rejects = [row for row in view.came if row.rejects]
    yield _part("Please stop:", view.stops, _stop)
    yield _part("Please go ahead:", view.go_aheads, _go_ahead)
    yield _part("What has changed:", view.changes, _change)
    yield _part("What you told us. Please confirm:", view.promised, _promised)
    yield _part("Dates that passed without news:", view.silences, _silence)
    yield _part("Where we keep you waiting:", view.late_inputs, _late_input)
    yield _part("Received:", good, _came)
    yield _part("Reject note:", rejects, _came)
    yield _part("Noted as you told us:", view.noted, _noted)
    yield _part("From our side:", view.ours, _ours)
    yield _part("We still owe you, and it is with us:", view.owing, _owing)


def _part(heading: str, rows: Iterable[Any], line: Callable[[Any], str]) -> str:
    lines = [_wrapped(f"- {line(row)}") for row in rows]
    return "\n".join([heading, *lines]) if lines else ""


def _wrapped(text: str) -> str:
    deeper = "  " if text.startswith("- ") else ""
    whole = textwrap.fill(
        text, WIDTH, subsequent_indent=deeper, break_on_hyphens=False, break_long_words=False
    )
    return whole.replace(_NO_BREAK, " ")


def _day(day: date) -> str:
    """A day that is not parted at the end of a line."""
    return full_day(day).replace(" ", _NO_BREAK)


def _stop(row: StopRow) -> str:
    failed = f"failed on {_day(row.failed_on)}" if row.failed_on else "has not passed yet"
    asks = {
        "in work": "Please stop and do no further work on it until we write again.",
        "ordered": "Please do not begin on it until we write again.",
        "made": "Please keep it at your door until we write again.",
    }
    return f"{row.job}: our check before it {failed}. {asks[row.step]}"


def _go_ahead(row: GoAheadRow) -> str:
    return f"{row.job}: our check before it passed on {_day(row.passed_on)}."


def _change(row: ChangeRow) -> str:
    day = _day(row.on)
    until = f"; it may go on on {_day(row.until)}" if row.until else " until we write again"
    texts = {
        "called off": f"called off on {day}. Please do no further work on it.",
        "paused": f"paused on {day}{until}.",
        "resumed": f"goes on from {day}.",
    }
    return f"{row.job}: {texts[row.kind]}"


def _promised(row: PromisedRow) -> str:
    pieces = f"{plural(row.pieces, 'piece')} " if row.pieces else ""
    where = "leave you on" if row.means == "leaves" and (row.pieces or 0) > 1 else _HERE[row.means]
    worst = f", {_day(row.worst)} at worst" if row.worst else ""
    said = f': "{row.words}"' if row.words else ""
    before = f" Before that you had named {_day(row.before)}." if row.before else ""
    told = f"(you told us on {_day(row.given)}{said})"
    return f"{row.job}: {pieces}{where} {_day(row.day)}{worst} {told}.{before}"


def _silence(row: SilenceRow) -> str:
    if row.kind == "no date" or row.day is None:
        pieces = f"{row.pieces} still to come" if row.pieces else "the rest still to come"
        return f"{row.job}: {pieces}, and we have no date for it. When will it be with us?"
    was = {
        "in hand": "was to be with us on",
        "leaves": "was to leave you on",
        "due here": "was due here on",
        "expected": "we expected it by",
    }
    what = was[row.kind] if row.kind == "expected" else f"it {was[row.kind]}"
    return (
        f"{row.job}: {what} {_day(row.day)}; we have no news. Where does it stand, and what is the new date?"
    )


def _late_input(row: ReadyRow) -> str:
    return (
        f"{row.job}: you named {_day(row.promised)}. We will have what you need by {_day(row.ready)} "
        "at the earliest. What is your date then?"
    )


def _came(row: CameRow) -> str:
    ref = f" (your note {row.ref})" if row.ref else ""
    day = _day(row.on)
    counts = _counts(row)
    pieces = plural(row.received, "piece")
    if row.judged_later:
        text = f"of the pieces counted before, judged on {day}: {counts}"
    elif not counts:
        text = f"{pieces} received on {day}{ref}" if row.received else f"received on {day}{ref}"
    elif row.good == row.received:
        text = f"{pieces} received on {day}{ref}, all good"
    else:
        text = f"of {pieces} received on {day}{ref}: {counts}"
    remark = f' Our remark: "{row.remark}"' if row.remark else ""
    rest = f" {row.to_come} still to come." if row.to_come else ""
    last = " We expect no more of it." if row.closes and counts else ""
    remark += "." if remark and (rest or last) else ""
    corrected = "corrected since our last mail: " if row.corrects else ""
    return f"{row.job}: {corrected}{text}.{remark}{rest}{last}"


def _counts(row: CameRow) -> str:
    counted = (
        (row.good, "good"), (row.rework, "to be reworked"), (row.scrap, "scrap"), (row.unjudged, "counted, not yet judged"),
    )  # fmt: skip
    return ", ".join(f"{number} {word}" for number, word in counted if number)


def _noted(row: NotedRow) -> str:
    if row.kind == "day1" and row.day:
        return f"{row.job}: work begins on {_day(row.day)} (you wrote this on {_day(row.on)})."
    pieces = f"{plural(row.pieces, 'piece')} " if row.pieces else ""
    return f"{row.job}: {pieces}{_STEPS[row.kind]} {_day(row.on)}."


def _ours(row: OursRow) -> str:
    pieces = f" ({plural(row.pieces, 'piece')})" if row.pieces else ""
    return f"{row.job}: {_GIVEN[row.what]} on {_day(row.on)}{pieces}."


def _owing(row: OwingRow) -> str:
    leaves = ", before it leaves you" if row.to_leave else ""
    return f"{row.job}: the {listed(row.what)}{leaves}."

"""The word to backers as plain text, ready to paste; from public names only."""

import textwrap
from collections.abc import Iterable, Iterator
from datetime import date

from tracker.render.backers_words import count_text, held_text, moved_text
from tracker.render.words import full_day, plural
from tracker.report.alike import alike, begun_alike
from tracker.report.backers import BackerShipment, BackersReport
from tracker.report.backers_moved import BackersMoved
from tracker.report.backers_news import BackersNews, LeftOut
from tracker.report.owed import listed

WIDTH = 72


def backers_text(report: BackersReport) -> str:
    """The dates with all told before, what came, what went wrong and whom it touches, decisions, risks, the next word."""
    title = f"{report.product}: where we are" if report.product else "Where we are"
    parts = [
        [f"{title} on {full_day(report.today)}"],
        *([text] for text in _shipments(report)),
    ]
    news = report.news
    if news is not None:
        since = f"since {full_day(news.since)}"
        parts += [
            _listed(f"Came in {since}", _came(report)) or [_nothing_came(news, since)],
            _listed(f"{_what_moved(news)} {since}, and whom it touches", [*_moves(news.moved), *_else(news)])
            or ([f"No date has moved {since}."] if news.moved.shipments else []),
            _listed("What we decided", news.decided),
            _listed("What could still move it", _risks(report, news)),
            [_next_word(report, news)],
        ]
    return "\n\n".join("\n".join(_wrapped(line) for line in part) for part in parts if part) + "\n"


def _next_word(report: BackersReport, news: BackersNews) -> str:
    if report.all_posted:
        return "All parcels are posted."
    return f"You will hear from us again by {full_day(news.again)}, also if nothing has changed."


def left_out_texts(report: BackersReport) -> Iterator[str]:
    """What was kept from backers, and why, for our own eyes."""
    for one in report.news.left_out if report.news else ():
        yield f"left out of the text for backers, as it {one.why}: {_quoted(one)}"
    if report.unnamed:
        yield f"left out for want of a public_name: {', '.join(report.unnamed)}"


def _quoted(one: LeftOut) -> str:
    return f'decided {full_day(one.on)}, "{one.text}"'


def _wrapped(line: str) -> str:
    """One line of text within the width; further lines of a point stand below its first word."""
    deeper = "  " if line.startswith("- ") else ""
    return textwrap.fill(
        line, WIDTH, subsequent_indent=deeper, break_long_words=False, break_on_hyphens=False
    )


def _listed(title: str, points: Iterable[str]) -> list[str]:
    """A title and its points; nothing where there are none."""
    found = [f"- {point[:1].upper()}{point[1:]}" for point in points]
    return [title, *found] if found else []


def _shipments(report: BackersReport) -> Iterator[str]:
    """A paragraph a shipment; those of which every word is the same share one."""
    said = [
        (one.name, (one.quantity, " ".join((f"{_expected(one, report)}.", *_told(one, report)))))
        for one in report.shipments
    ]
    for names, (quantity, text) in alike(said):
        each = " each" if len(names) > 1 else ""
        yield f"{listed(names)} ({plural(quantity, 'unit')}{each}): {text}"


def _expected(one: BackerShipment, report: BackersReport) -> str:
    """The forecast against the last day told, unless that is told only now; and what it rests on without news."""
    if one.posted:
        return f"posted {full_day(one.posted)}{_against_told(one, report)}"
    if one.forecast is None:
        return "no date yet"
    stands = "ready to be posted since" if one.ready else "expected"
    text = f"{stands} {full_day(one.forecast)}{_against_told(one, report)}"
    if one.at_best:
        passed = f"{plural(len(one.at_best), 'date')} passed without news ({listed(one.at_best)})"
        text += f", at best: {passed}"
    return text


def _against_told(one: BackerShipment, report: BackersReport) -> str:
    if not one.days_late or one.told is None or one.told.on == report.today:
        return ""
    side = "after" if one.days_late > 0 else "before"
    return f", {plural(abs(one.days_late), 'day')} {side} the last day we told you"


def _told(one: BackerShipment, report: BackersReport) -> Iterator[str]:
    """Everything ever told, the newest first: no earlier date is ever left out."""
    words = [
        (told.on, _words(told.first, told.last, told.words))
        for told in (one.told, *reversed(one.told_before))
        if told is not None
    ]
    if not words:
        return
    (on, newest), *before = words
    is_new = on == report.today
    yield f"We now say {newest}." if is_new else f"We told you on {full_day(on)}: {newest}."
    if before:
        yield f"Before that, {'; '.join(f'on {full_day(day)}: {text}' for day, text in before)}."


def _words(first: date | None, last: date | None, said: str) -> str:
    """A day or a span as told, behind the words it was told in where there were any."""
    days = " to ".join(full_day(day) for day in (first, last) if day)
    words = f'"{said}"' if said else ""
    return f"{words} ({days})" if words and days else words or days


def _came(report: BackersReport) -> Iterator[str]:
    """Each step once, with its newest day and how its parts stand."""
    seen = set()
    for one in report.arrived:
        if one.name not in seen:
            seen.add(one.name)
            count = count_text(one.count)
            yield f"{one.name}: {one.what} {full_day(one.day)}" + (f", {count}" if count else "")


def _nothing_came(news: BackersNews, since: str) -> str:
    if news.came_unnamed:
        return f"Steps of our own and at suppliers went on {since}; nothing came in that has a name here."
    return f"Nothing came in {since}."


def _what_moved(news: BackersNews) -> str:
    lines = news.moved.lines
    if not (news.slipped or news.failed or any(one > 0 for line in lines for one in line.days)):
        return "What moved"
    earlier = any(line.days and max(line.days) <= 0 for line in lines)
    return "What went wrong, and what came forward" if earlier else "What went wrong"


def _moves(moved: BackersMoved) -> Iterator[str]:
    """Each cause with the days it makes of every shipment; the last points add them up."""
    for line in moved.lines:
        pairs = [(one.name, days) for one, days in zip(moved.shipments, line.days, strict=True) if days]
        touched = ", ".join(f"{listed(names)} {moved_text(days)}" for names, days in alike(pairs))
        remarks = "".join(f" ({remark})" for remark in line.closures)
        yield f"{line.name}: {line.why}. {touched}{remarks}."
    whole = [(one.name, (one.before, one.after, one.days)) for one in moved.shipments if one.days]
    for names, (before, after, days) in alike(whole):
        became = f"{full_day(before)} has become {full_day(after)}, {moved_text(days)}"
        yield f"In all, {listed(names)}: {became}."


def _else(news: BackersNews) -> Iterator[str]:
    for name in news.failed:
        yield f"{name}: a check failed and has to be tried again."
    for row in news.slipped:
        yield f"{row.name}: now {full_day(row.day)}, {moved_text(row.days)} than promised before; no parcel moves."


def _risks(report: BackersReport, news: BackersNews) -> Iterator[str]:
    held = [(one.name, one.holds) for one in report.shipments if one.holds and not one.posted]
    for names, holds in alike(held):
        paths = (one.then for one in report.shipments if one.name in names)
        yield f"{listed(names)}, held by {held_text(holds, begun_alike(paths))}."
    risks = [(risk.shipment, (risk.name, risk.day, risk.days)) for risk in news.risks]
    for names, (step, day, days) in alike(risks):
        ready = f"{step}: if it is ready only on {full_day(day)}"
        yield f"{ready}, that delays {listed(names)} by {plural(days, 'day')}."

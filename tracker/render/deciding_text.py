"""Options as text: what each gains and the last day on which deciding it still helps."""

from collections.abc import Sequence
from datetime import date

from tracker.render.paper import Paper
from tracker.render.shortage_text import shortage_texts
from tracker.render.words import full_day, plural, short_day
from tracker.report.deciding import AtWorst, DecidedRow, Deciding, Gain, OptionRow
from tracker.report.owed import listed


def write_deciding(view: Deciding, paper: Paper, *, alone: bool = False) -> None:
    """Open options, then those decided; ``alone`` where only one was asked for."""
    paper.line(f"options on {full_day(view.today)}")
    if not view.options and not alone:
        paper.line("nothing is waiting to be decided" if view.decided else "no option is kept")
        paper.line('keep one: tracker option NAME "what you would try" cost COST')
    write_options(view, paper)
    if view.decided:
        paper.line()
        paper.line("decided")
        for row in view.decided:
            paper.line(_decided(row, view.today), indent=2)


def write_options(view: Deciding, paper: Paper) -> None:
    """A block for each open option."""
    for row in view.options:
        paper.line()
        head, *texts = option_texts(row, view.today)
        paper.line(head)
        for text in texts:
            paper.line(text, indent=2)


def option_texts(row: OptionRow, today: date) -> list[str]:
    """What it is, then a line each for what it gains today, until when, and were promises kept at their worst."""
    return [option_text(row.option, row.spelled, row.cost), *gain_texts(row, today)]


def option_text(code: str, spelled: str, cost: str) -> str:
    """The option's name, what would be tried, and its cost as said."""
    return f"{code}: {spelled}" + (f"; cost {cost}" if cost else "")


def gain_texts(row: OptionRow, today: date) -> list[str]:
    """What an option gains today, until when, what would be short and what it gains were promises kept at their worst.

    For one that cannot be tried, why not.
    """
    if not row.now and row.trouble:
        return [f"cannot be tried as things stand: {row.trouble}"]
    changes = _changes(row.now, today)
    if not row.helps:
        texts = ["; ".join(("gains nothing as things stand", *changes))]
    else:
        texts = [f"decided today: {', '.join(changes)}", _until(row, today)]
    texts += [shortage_texts(one, today)[0] for one in row.shortages]
    return texts + ([_at_worst(row.at_worst, today)] if row.at_worst else [])


def _until(row: OptionRow, today: date) -> str:
    if row.trouble:
        return f"until when it helps cannot be told: {row.trouble}"
    if row.last_day is None:
        return "no decide-by day is known for it"
    if row.last_day == today:
        return f"today, {short_day(today, today)}, is the last day it helps"
    then = [_earlier(one) for one in row.then if one.days]
    last = row.ship_date_then
    if last is not None and last.days == 0 and row.ship_date is not None and row.ship_date.days:
        then.append("the last parcel no more")
    return f"last day it helps: {short_day(row.last_day, today)} (then {', '.join(then)})"


def _at_worst(worst: AtWorst, today: date) -> str:
    named = listed(tuple(f"{job} only on {short_day(day, today)}" for job, day in worst.jobs))
    changes = ", ".join(_changes(worst.gains, today)) or "gains nothing"
    return f"at the worst {'day' if len(worst.jobs) == 1 else 'days'} named, {named}: {changes}"


def _changes(gains: Sequence[Gain], today: date) -> list[str]:
    """Shipments that move, each with its date instead of the one that stands."""
    return [_change(one, today) for one in gains if one.days != 0]


def _change(gain: Gain, today: date) -> str:
    if gain.short:
        return f"{gain.shipment} goes short"
    then = short_day(gain.after, today) if gain.after else "without a date"
    by = f" ({_days(gain.days)})" if gain.days else ""
    return f"{gain.shipment} {then} instead of {short_day(gain.before, today)}{by}"


def _earlier(gain: Gain) -> str:
    return f"{gain.shipment} {_days(gain.days or 0)}"


def _days(days: int) -> str:
    return f"{plural(abs(days), 'day')} {'earlier' if days > 0 else 'later'}"


def _decided(row: DecidedRow, today: date) -> str:
    said = f': "{row.decision}"' if row.decision else ""
    return (
        f"{row.option} {short_day(row.decided, today)}{said} ({option_text('tried', row.spelled, row.cost)})"
    )

"""What is needed as text: what to order by when, what does not add up, then every part and job."""

from collections.abc import Sequence
from datetime import date

from tracker.render.amounts import amount_text, spares_text
from tracker.render.order_text import write_orders
from tracker.render.paper import Paper
from tracker.render.shortage_text import range_text, shortage_texts
from tracker.render.words import full_day, short_day
from tracker.report.need import Need, NeededJob, NeededPart
from tracker.report.shortages import ALARMS, Shortage

_WIDE = 110


def write_need(view: Need, paper: Paper) -> None:
    """Orders first, then counts that may differ and what does not add up, then the tables."""
    if not view.parts:
        paper.line(
            "this run counts no parts yet: add one, then say who makes it and who takes it, such as "
            "tracker add part housing; tracker set JOB makes=housing; tracker set JOB takes=housing"
        )
        return
    paper.line(f"what is needed, on {full_day(view.today)}")
    write_orders(view.orders, view.today, paper)
    if view.printed:
        paper.line()
        paper.line("printed counts")
        for one in view.printed:
            paper.line(range_text(one), indent=2)
    for heading, alarms in (("does not add up", True), ("to know", False)):
        _write_shortages(
            heading, [one for one in view.shortages if (one.kind in ALARMS) is alarms], view.today, paper
        )
    _write_parts(view, paper)
    _write_jobs(view, paper)


def _write_shortages(heading: str, found: Sequence[Shortage], today: date, paper: Paper) -> None:
    if not found:
        return
    paper.line()
    paper.line(heading)
    for one in found:
        for place, text in enumerate(shortage_texts(one, today)):
            paper.line(text, indent=4 if place else 2)


def _write_parts(view: Need, paper: Paper) -> None:
    paper.line()
    wide = paper.width >= _WIDE
    to_come = ("in process", "to order") if wide else ("to come",)
    more = ("next in", "made by") if wide else ()
    headings = ("part", "needed", "spares", "used", "here", *to_come, "left", *more)
    paper.table(headings, [_part_cells(one, view.today, wide=wide) for one in view.parts], indent=0)
    paper.line("needed: by shipments, what is used included; left: beyond orders and spares")


def _part_cells(one: NeededPart, today: date, *, wide: bool) -> list[str]:
    numbers = [one.needed, one.spares, one.used, one.here]
    numbers += [one.in_process, one.to_order] if wide else [one.in_process + one.to_order]
    name = f"{one.part}, {one.unit}" if one.unit else one.part
    more = [short_day(one.next_in, today), ", ".join(one.made_by) or "from stock"] if wide else []
    return [name, *(amount_text(number) for number in numbers), left_text(one), *more]


def left_text(one: NeededPart) -> str:
    """What is left of a part once orders and spares have theirs, or how many are short."""
    if one.short:
        return f"{one.short} short"
    if one.left < 0:
        return f"{spares_text(-one.left, one.unit)} short"
    if one.again:
        return f"{amount_text(one.again)} to make again"
    return f"{amount_text(one.left)} to spare" if one.left else "covered"


def _write_jobs(view: Need, paper: Paper) -> None:
    paper.line()
    wide = paper.width >= _WIDE
    counted = any(one.unjudged for one in view.jobs)
    headings = (
        "job",
        "pieces",
        "good",
        "rework",
        "scrap",
        *(("not judged",) * counted),
        "to come",
        "here by",
    )
    more = ("supplier", "makes") if wide else ()
    paper.table(
        (*headings, *more),
        [_job_cells(one, view, wide=wide, counted=counted) for one in view.jobs],
        indent=0,
        flexible=0,
    )


def _job_cells(one: NeededJob, view: Need, *, wide: bool, counted: bool) -> list[str]:
    numbers = [one.good, one.rework, one.scrap, *([one.unjudged] * counted)]
    to_come = one.in_process + one.to_order + one.in_rework
    more = [one.supplier, one.part or "-"] if wide else []
    put_in = "-" if one.put_in is None else str(one.put_in)
    days = short_day(one.arrives, view.today) if one.arrives else "done"
    several = sum(other.job == one.job for other in view.jobs) > 1
    return [
        f"{one.job}: {one.part}" if several else one.job,
        put_in,
        *(str(number) for number in numbers),
        str(to_come),
        days,
        *more,
    ]

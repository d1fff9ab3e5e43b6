"""What does not add up, and counts that may differ, as sentences with a remedy."""

from datetime import date

from tracker.render.amounts import amount_text, spares_text
from tracker.render.words import short_day
from tracker.report.owed import listed
from tracker.report.print_counts import CountRange
from tracker.report.shortages import Shortage


def range_text(one: CountRange) -> str:
    """What may come of a printed lot, and what to ask for where the least is too few."""
    span = f"count may be {one.least} to {one.most} of {one.quantity}"
    about = f"{one.job} ({one.supplier}): {span}"
    if one.order is not None:
        below = f"{one.least} is {one.short} below the {one.needed} orders need"
        ask = "ask for no unders, or " if one.quantity >= one.needed else ""
        return f"{about}; {below}: {ask}order {one.order} (at worst {one.order_least}), tracker set {one.job} quantity={one.order}"
    if one.spares_short:
        return f"{about}; {one.least} covers the {one.needed} orders need, {spares_text(one.spares_short)} short at worst"
    return f"{about}; {one.least} still covers the {one.needed + one.spares} needed"


def shortage_texts(one: Shortage, today: date) -> tuple[str, ...]:
    """The finding, then what to do about it where something is to be done."""
    pieces = amount_text(one.pieces, one.unit)
    match one.kind:
        case "nobody makes":
            return _nobody_makes(one, pieces)
        case "used beyond":
            return _used_beyond(one, pieces)
        case "rework waits":
            (job,) = one.jobs
            found = (
                f"{pieces} of {job} in rework, no date for them: counted as back {short_day(one.day, today)}"
            )
            back = f"once back: tracker in {job} good {pieces} again"
            return found, f"{back}; to give them a date, a job of their own: tracker rework {job} {pieces}"
        case "spares wait":
            short = f"{spares_text(one.pieces, one.unit)} of {one.part} short until the redo is back"
            return (f"{short} {short_day(one.day, today)} ({listed(one.jobs)}); no shipment waits for them",)
        case "spares short":
            short = f"{spares_text(one.pieces, one.unit)} of {one.part} short, nothing planned brings them"
            return (f"{short}; no shipment waits for them",)


def _nobody_makes(one: Shortage, pieces: str) -> tuple[str, ...]:
    off = f"{listed(one.jobs)} called off" if one.jobs else "nobody makes it"
    first = f"; {one.shipment} goes short first" if one.shipment else ""
    here = amount_text((one.came or 0) + one.pieces)
    job = f"tracker add job {one.part}-order supplier=CODE lead=15wd makes={one.part}"
    return (
        f"{pieces} of {one.part} short, {off}{first}",
        f"add who brings them: {job}; or, if they are here: tracker set {one.part} here={here}",
    )


def _used_beyond(one: Shortage, pieces: str) -> tuple[str, ...]:
    used, came = amount_text(one.used or 0, one.unit), amount_text(one.came or 0, one.unit)
    users = (
        f"{listed(one.jobs)} used {used} of {one.part}"
        if one.jobs
        else f"{used} of {one.part} used or scrapped"
    )
    if not one.made_by:
        return (
            f"{users}, only {came} came",
            f"if more were here at the start: tracker set {one.part} here={amount_text(one.used or 0)}",
        )
    fix = f"tracker in {one.made_by[-1]} good {pieces}"
    return (
        f"{users}, only {came} came",
        f"log what came besides: {fix}; or correct the count: tracker diary, then tracker fix ENTRY good ...",
    )

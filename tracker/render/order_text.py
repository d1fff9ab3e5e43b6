"""Orders to place as text: how many and why, by when, what is too late, and how to log it."""

from collections.abc import Sequence
from datetime import date

from tracker.render.amounts import amount_text
from tracker.render.owing_text import command_for
from tracker.render.paper import Paper
from tracker.render.words import plural, short_day
from tracker.report.order_days import TooLate
from tracker.report.ordering import Again, OrderRow
from tracker.report.owed import listed

_STEPS = {10: "tens", 12: "dozens", 100: "hundreds", 1000: "thousands"}


def write_orders(orders: Sequence[OrderRow], today: date, paper: Paper) -> None:
    """What to order and what to make again, soonest last day first; or that there is nothing."""
    if not orders:
        paper.line("nothing to order or pay: what shipments need is here, on order or ours to make")
        return
    paper.line(_heading(orders))
    for row in orders:
        paper.line(_headline(row, today), indent=2)
        for text in _details(row, today):
            paper.line(text, indent=4)
    commands = dict.fromkeys(command for row in orders for command in _commands(row, orders))
    if commands:
        paper.line(f"once done, log it: {', '.join(commands)}", indent=2)


def _heading(orders: Sequence[OrderRow]) -> str:
    if all(row.at_home for row in orders):
        return "to make again"
    pays = any("payment" in row.what for row in orders)
    return " or ".join(["to order"] * any(row.is_order for row in orders) + ["to pay"] * pays) or "to give"


def _commands(row: OrderRow, orders: Sequence[OrderRow]) -> list[str]:
    """The words that log what is to be given; the order with all pieces of the job."""
    if row.again or row.planned is not None or not row.needed + row.spares:
        return []
    pieces = sum(one.pieces for one in orders if one.job == row.job)
    return [command_for(row.job, what) + (f" {pieces}" if what == "order" else "") for what in row.what]


def _headline(row: OrderRow, today: date) -> str:
    if not row.needed + row.spares:
        return f"{row.job} ({row.supplier}): {row.pieces} not ordered, and nothing needs them"
    of = f" of {row.part}" if len(row.makes) > 1 else ""
    again = " again" if row.again else ""
    why = _why(row)
    text = f"{row.job} ({row.supplier}): {_verb(row)} {row.pieces}{of}{again}" + (f" ({why})" if why else "")
    if row.by is None:
        return f"{text}; moves no shipment"
    begin = "begin by" if row.at_home else "by"
    when = "today" if row.by == today else f"{begin} {short_day(row.by, today)}"
    return f"{text} {when}, frees {row.frees}"


def _verb(row: OrderRow) -> str:
    """What is to be done: order, pay for, give the drawing for, make."""
    if row.at_home:
        return "make"
    given = tuple(what for what in row.what if what not in ("order", "payment"))
    verbs = ["order"] * row.is_order + (
        ["pay" if row.is_order else "pay for"] if "payment" in row.what else []
    )
    return listed((*verbs, *([f"give {listed(given)} for"] if given else [])))


def _why(row: OrderRow) -> str:
    """What the number is made of; nothing where it is just what shipments need."""
    found = [f"{row.spares} for spares"] if row.spares else []
    found += [f"yield {amount_text(row.yields * 100)}%"] if row.yields is not None else []
    found += [f"MOQ {row.moq}"] if row.moq else []
    found += [f"in {_STEPS.get(row.multiple, f'{row.multiple}s')}"] if row.multiple else []
    found += [f"{row.over} over"] if row.over else []
    return ", ".join([f"{row.needed} needed", *found]) if found else ""


def _details(row: OrderRow, today: date) -> list[str]:
    found = [_too_late(row, row.too_late, today)] if row.too_late else []
    if row.costs:
        costs = ", ".join(f"{code} {plural(days, 'day')}" for code, days in row.costs.items())
        found.append(f"the shortage costs {costs}, even {'begun' if row.at_home else 'ordered'} today")
    if row.planned is None and len({lot.by for lot in row.lots}) > 1:
        lots = ", ".join(f"{lot.pieces} by {short_day(lot.by, today)}" for lot in row.lots)
        found.append(f"in lots: {lots}")
    if row.planned is not None:
        found.append(f"the plan says {row.planned}: tracker set {row.job} quantity={row.pieces}")
    if row.again:
        found.append(f"once arranged: {_command(row, row.again)}")
    return found


def _too_late(row: OrderRow, late: TooLate, today: date) -> str:
    done = (
        "begun"
        if row.at_home
        else "ordered"
        if row.is_order
        else "paid"
        if "payment" in row.what
        else "given"
    )
    told = f"told {short_day(late.told, today)}"
    return f"{plural(late.days, 'day')} too late for {late.shipment} ({told}): had to be {done} by {short_day(late.by, today)}"


def _command(row: OrderRow, again: Again) -> str:
    """The words that add a job for the re-run."""
    words = [f"supplier={row.supplier}", f"lead={again.lead}".replace(" ", ""), f"quantity={row.pieces}"]
    words += [f"makes={row.part}"] if row.part else []
    taken = [part if per == 1 else f"{part} {amount_text(per)}" for part, per in again.takes.items()]
    words += [f'takes="{", ".join(taken)}"'] if taken else []
    words += [f"travel={again.travel}"] if again.travel.days else []
    words += [f"clock={','.join(again.clock)}"] if again.clock else []
    words += [f"yield={amount_text(again.yields * 100)}%"] if again.yields != 1 else []
    words += [f'public_name="{again.public_name}"'] if again.public_name else []
    return f"tracker add job {again.code} {' '.join(words)}"

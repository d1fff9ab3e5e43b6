"""The page of a part as text: its balance in words, who makes and takes it, arrivals, and for whom it is enough."""

from datetime import date

from tracker.render.amounts import amount_text
from tracker.render.need_text import left_text
from tracker.render.pages_text import write_facts
from tracker.render.paper import Paper
from tracker.render.shortage_text import shortage_texts
from tracker.render.words import joined, short_day
from tracker.report.need import NeededJob, NeededPart
from tracker.report.part_page import ArrivalRow, EnoughRow, PartPage, TakerRow

_ARRIVALS_SHOWN = 12


def write_part(view: PartPage, paper: Paper) -> None:
    """Balance, makers, takers, for whom it is enough, arrivals, facts and cautions of one part."""
    one, today = view.part, view.today
    paper.line(joined(one.code, one.name, f"in {one.unit}" if one.unit else ""))
    paper.table(("", ""), _cells(view), flexible=1)
    for short in view.shortages:
        for place, text in enumerate(shortage_texts(short, today)):
            paper.line(text, indent=4 if place else 2)
    _write_arrivals(view, paper)
    write_facts(view.facts, paper)
    for job, text in view.cautions:
        paper.line(f"caution ({job}): {text}", indent=2)
    paper.line(f"every piece by place: tracker where {one.code}", indent=2)


def _cells(view: PartPage) -> list[tuple[str, str]]:
    today, part, balance = view.today, view.part, view.balance
    cells = [("balance", balance_text(balance))]
    if balance.order_by:
        cells.append(("order by", f"{short_day(balance.order_by, today)}, frees {balance.frees}"))
    terms = [f"MOQ {part.moq}"] if part.moq else []
    terms += [f"in multiples of {part.multiple}"] if part.multiple else []
    cells += [("orders", ", ".join(terms))] if terms else []
    made = ", ".join(_maker_text(one, today) for one in view.makers)
    cells.append(("made by", made or "nobody in the plan"))
    cells += [("goes into", _taker_text(one, part.unit)) for one in view.takers]
    cells += [("goes with", ", ".join(view.holds))] if view.holds else []
    enough = ", ".join(_enough_text(one, today) for one in view.enough)
    cells += [("enough for", enough)] if enough else []
    return cells + ([("short first", view.goes_short)] if view.goes_short else [])


def balance_text(one: NeededPart) -> str:
    """The balance as a sentence, empty terms left out: ``needed 240, 191 here, 76 to come, 27 to spare``."""
    spares = f" and {amount_text(one.spares)} for spares" if one.spares else ""
    to_come = one.in_process + one.to_order
    terms = [f"needed {amount_text(one.needed, one.unit)}{spares}"]
    terms += [f"{amount_text(one.used)} used"] if one.used else []
    terms += [f"{amount_text(one.here)} here"]
    terms += [f"{amount_text(to_come)} to come"] if to_come else []
    terms += [f"{amount_text(one.to_order)} of it not ordered"] if one.to_order else []
    return ", ".join([*terms, left_text(one)])


def _maker_text(one: NeededJob, today: date) -> str:
    due = f", here by {short_day(one.arrives, today)}" if one.arrives else ", done"
    return f"{one.job} ({one.supplier}{due})"


def _taker_text(one: TakerRow, unit: str) -> str:
    into = one.into or " and ".join(one.makes)
    return f"{one.job}, {amount_text(one.per, unit)} each" + (f", for {into}" if into else "")


def _enough_text(one: EnoughRow, today: date) -> str:
    when = f"from {short_day(one.day, today)}" if one.day else "never: some of it does not come"
    if one.day is not None and one.day < today:
        when = "now"
    return f"{one.shipment} ({amount_text(one.pieces)}) {when}" + (", once made again" if one.again else "")


def _write_arrivals(view: PartPage, paper: Paper) -> None:
    if not view.arrivals:
        return
    paper.line("arrivals", indent=2)
    shown = view.arrivals[-_ARRIVALS_SHOWN:]
    if len(shown) < len(view.arrivals):
        before = sum(row.pieces for row in view.arrivals[: -len(shown)])
        paper.line(f"{amount_text(before)} before", indent=4)
    unit = view.part.unit
    width = max(len(amount_text(row.pieces, unit)) for row in shown)
    cells = [_arrival_cells(row, unit, width, view.today) for row in shown]
    paper.table(("", "", ""), cells, indent=4)


def _arrival_cells(row: ArrivalRow, unit: str, width: int, today: date) -> list[str]:
    pieces = f"{amount_text(row.pieces, unit):>{width}}"
    who = row.job or "in stock at the start"
    return [short_day(row.day, today), pieces, who if row.here else f"{who}, due"]

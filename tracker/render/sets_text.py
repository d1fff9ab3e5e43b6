"""Full sets as text: how many, what is short, what each part allows, and how the number grows."""

from fractions import Fraction

from tracker.render.amounts import amount_text
from tracker.render.paper import Paper
from tracker.render.words import at_best_text, full_day, short_day
from tracker.report.full_sets import FullSets, ProductSets, SetPart, Together
from tracker.report.owed import listed


def write_sets(view: FullSets, paper: Paper) -> None:
    """The number and the short part first, then products, parts, the days ahead and the shipments."""
    if view.together is None:
        _write_why_not(view, paper)
        return
    paper.line(f"full sets{_of(view)} {_when(view)}: {_count(view.together)}")
    _write_short(view, view.together, paper)
    _write_products(view, view.together, paper)
    _write_parts(view, paper)
    _write_curve(view, paper)
    _write_shipments(view, paper)
    _write_remarks(view, paper)


def _write_why_not(view: FullSets, paper: Paper) -> None:
    if not view.counts_parts:
        paper.line(
            "this run counts no parts yet, so there are no sets to count; "
            "add one, then say who takes it: tracker add part board; tracker set JOB takes=board makes=unit"
        )
    elif view.unknown:
        paper.line(_unknown(view))
    else:
        paper.line(
            "nothing says what one complete unit is: no shipment holds parts; name it: tracker set run unit=PART"
        )


def _unknown(view: FullSets) -> str:
    names = listed(view.unknown)
    return f"no job builds {names} from parts; say what goes into it: tracker set JOB takes=PART"


def _of(view: FullSets) -> str:
    return f" of {view.products[0].unit}" if len(view.products) == 1 else ""


def _when(view: FullSets) -> str:
    if view.on is None:
        return f"on {full_day(view.today)}"
    return f"by the evening of {full_day(view.on)}, as forecast"


def _count(one: Together) -> str:
    """The sets possible, after those built or in work where there are any."""
    begun = [f"{one.built} built"] if one.built else []
    begun += [f"{one.in_work} in work"] if one.in_work else []
    return f"{', '.join(begun)}, {one.sets} more possible" if begun else str(one.sets)


def _write_short(view: FullSets, one: Together, paper: Paper) -> None:
    """Which parts are short, how many make one more set, and what there would be with enough of them."""
    if not one.short:
        return
    rows = {row.part: row for product in view.products for row in product.parts}
    lacking = listed(tuple(_lacking(rows[part]) for part in one.short))
    paper.line(f"short for the next set: {lacking}")
    if one.without is not None:
        paper.line(f"not counting {listed(one.short)}: {one.without}{_split(view, one)}")


def _lacking(row: SetPart) -> str:
    return f"{amount_text(row.missing, row.measure)} {row.part}"


def _split(view: FullSets, one: Together) -> str:
    """Which product those sets are of, or which part is short next."""
    if len(view.products) == 1:
        return f", then {listed(view.products[0].then_short)} is short"
    some = [(unit, number) for unit, number in one.without_by.items() if number]
    if len(some) == 1:
        return f", all {some[0][0]}"
    return f" ({', '.join(f'{number} {unit}' for unit, number in some)})" if some else ""


def _write_products(view: FullSets, one: Together, paper: Paper) -> None:
    if len(view.products) == 1:
        return
    paper.line()
    rows = [_product(product) for product in view.products]
    rows.append(["together", str(one.built), str(one.in_work), str(one.sets), ""])
    paper.table(("", "built", "in work", "more", "short for the next one"), rows)
    if one.shared:
        shared = listed(one.shared)
        paper.line(
            f"each line takes all parts for itself; together they share {shared}, in shipments' order", 2
        )


def _product(one: ProductSets) -> list[str]:
    rows = {row.part: row for row in one.parts}
    lacking = ", ".join(_lacking(rows[part]) for part in one.short)
    return [one.unit, str(one.built), str(one.in_work), str(one.sets), lacking]


def _write_parts(view: FullSets, paper: Paper) -> None:
    """What each part allows, the fewest sets first; a part several products take alike stands once."""
    rows: dict[tuple[str, Fraction], tuple[SetPart, list[str]]] = {}
    for product in view.products:
        for row in product.parts:
            rows.setdefault((row.part, row.per), (row, []))[1].append(product.unit)
    paper.line()
    several = len(view.products) > 1
    headings = ("part", "here" if view.on is None else "by then", "per set", "sets")
    cells = []
    for row, units in sorted(rows.values(), key=lambda one: one[0].sets):
        only = "" if len(units) == len(view.products) else f"for {listed(tuple(units))}"
        here, per = amount_text(row.here, row.measure), amount_text(row.per, row.measure)
        cells.append([row.part, here, per, str(row.sets), *([only] if several else [])])
    paper.table((*headings, "") if several else headings, cells)


def _write_curve(view: FullSets, paper: Paper) -> None:
    """How the number grows, from today to the last arrival that adds any."""
    if len(view.curve) == 1:
        paper.line()
        paper.line("nothing forecast to arrive makes more of them possible")
        return
    units = [product.unit for product in view.products] if len(view.products) > 1 else []
    cells = [
        [
            short_day(one.day, view.today),
            str(one.total),
            *(str(one.by_unit[unit]) for unit in units),
            ", ".join(one.came),
        ]
        for one in view.curve
    ]
    paper.line()
    built = "built or possible" if any(one.built or one.in_work for one in view.products) else "possible"
    paper.line(f"sets {built} as parts arrive")
    paper.table(("evening of", "sets", *units, "arrives that day"), cells)


def _write_shipments(view: FullSets, paper: Paper) -> None:
    if not view.shipments:
        return
    cells = []
    for one in view.shipments:
        upto = f"{one.upto} with those before" if one.upto > one.quantity else ""
        here = short_day(one.possible_on, view.today) if one.possible_on else "not with what is planned"
        cells.append([one.shipment, str(one.quantity), here, upto])
    paper.line()
    paper.table(("shipment", "wants", "parts here", ""), cells)


def _write_remarks(view: FullSets, paper: Paper) -> None:
    remarks = []
    unjudged = {row.part: row.unjudged for product in view.products for row in product.parts if row.unjudged}
    if unjudged:
        counts = listed(tuple(f"{number} {part}" for part, number in unjudged.items()))
        remarks.append(f"counted but not looked at yet, taken as good: {counts}")
    if view.unknown:
        remarks.append(f"left out: {_unknown(view)}")
    at_best = view.curve[-1].at_best
    if at_best:
        remarks.append(f"days ahead are {at_best_text(at_best)}")
    if remarks:
        paper.line()
    for remark in remarks:
        paper.line(remark)

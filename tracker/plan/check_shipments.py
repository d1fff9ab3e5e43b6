"""Problems of shipments: their pieces, what goes with them, what they wait for, what was told."""

from collections.abc import Iterator

from tracker.errors import Problem
from tracker.plan.known import Known, date_problem, order_problem, pieces_problem, twice_problems
from tracker.plan.model import Shipment, Told


def shipment_problems(shipment: Shipment, known: Known) -> Iterator[Problem]:
    """Problems of one shipment: its quantity, its contents, what it waits for, what was told."""
    place = f"shipment {shipment.code}"
    yield from pieces_problem(f"{place}, quantity", shipment.quantity, least=1)
    if not (shipment.after or shipment.contents or known.is_unread(shipment.code)):
        yield _without_a_date(place, known)
    yield from _content_problems(f"{place}, contents", shipment, known)
    for code in shipment.after:
        if not known.is_known("job", code):
            yield known.unknown(f"{place}, after", "job", code)
    yield from twice_problems(f"{place}, after", shipment.after)
    for told in shipment.told:
        yield from _told_problems(f"{place}, told", told, known)


def _without_a_date(place: str, known: Known) -> Problem:
    remedy = "name in after the jobs it waits for, such as after = ['pack-1']"
    if not known.plan.parts:
        return Problem(place=place, found="waits for no job, so it has no date", remedy=remedy)
    found = "has no contents and waits for no job, so it has no date"
    return Problem(place=place, found=found, remedy=f"write part = what is in it, or {remedy}")


def _content_problems(place: str, shipment: Shipment, known: Known) -> Iterator[Problem]:
    for content in shipment.contents:
        if not known.is_known("part", content.part):
            yield known.unknown(place, "part", content.part)
        yield from pieces_problem(f"{place} {content.part}", content.quantity, least=1)
    yield from twice_problems(place, [content.part for content in shipment.contents])
    pieces = [content.quantity for content in shipment.contents]
    if pieces and sum(pieces) != shipment.quantity and not known.is_unread(shipment.code):
        added = f" ({' + '.join(map(str, pieces))})" if len(pieces) > 1 else ""
        yield Problem(
            place=place,
            found=f"come to {sum(pieces)} pieces{added}, but quantity is {shipment.quantity}",
            remedy="correct one of the two, or leave quantity out",
        )


def _told_problems(place: str, told: Told, known: Known) -> Iterator[Problem]:
    for day in (told.on, told.first, told.last):
        yield from date_problem(place, day)
    yield from order_problem(place, told.first, told.last)
    if told.on > known.today:
        yield Problem(
            place=place,
            found=f"was told on {told.on}, which comes after today ({known.today})",
            remedy="on is the day the backers were told: correct it",
        )

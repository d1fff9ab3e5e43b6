"""What may go to backers: no supplier but by a public name, no person, no code of ours, no money, no rejects."""

import re
from collections.abc import Iterable
from typing import Literal

from tracker.plan.model import Job, Plan, Shipment, Supplier
from tracker.plan.parts import Part
from tracker.report.money_words import tells_a_price
from tracker.report.names import PLAIN_WORDS, contact_words, names_of, pieces_of, spoken, telling, words_of
from tracker.report.reject_words import tells_rejects

PublicTrouble = Literal[
    "",
    "names a supplier or a person",
    "names a job, part or shipment without a public name",
    "speaks of money",
    "speaks of rejects",
]
_PHONE = re.compile(r"\d[\d\s()/.-]{4,}\d")
_Named = Supplier | Job | Part | Shipment


class PublicDiscretion:
    """Judges texts meant for backers.

    What points to a supplier is their code, name, contact and every name in it; what is ours alone are the codes and
    names of jobs, parts and shipments without a public name. Words of public names and of the product excuse. That
    something is paid or priced may be said, not how much.
    """

    def __init__(self, plan: Plan) -> None:
        ours: tuple[Job | Part | Shipment, ...] = (*plan.jobs, *plan.parts, *plan.shipments)
        named: Iterable[_Named] = (*plan.suppliers, *ours)
        public = spoken((plan.run.product, *(one.public_name for one in named)))
        plain = {*PLAIN_WORDS, *(word for job in plan.jobs for word in words_of(job.process))}
        self._people = telling((name for one in plan.suppliers for name in _unfit(one, plain)), public)
        self._capitals = frozenset(
            word for one in plan.suppliers for word in contact_words(one.contact) if word[0].isupper()
        )
        self._phones = frozenset(number for one in plan.suppliers for number in _numbers(one.contact))
        bare = (name for one in ours if not one.public_name for name in (one.code, one.name))
        self._ours = telling((name for name in bare if len(name) > 1), public)
        self._excused = frozenset(words_of(public))
        self._currency = plan.run.currency

    def trouble(self, text: str) -> PublicTrouble:
        """Why ``text`` may not go to backers; ``""`` where it may."""
        said = spoken((text,))
        if any(name in said for name in self._people) or self._names_a_person(text):
            return "names a supplier or a person"
        if any(name in said for name in self._ours):
            return "names a job, part or shipment without a public name"
        if tells_a_price(text, self._currency):
            return "speaks of money"
        return "speaks of rejects" if tells_rejects(text) else ""

    def _names_a_person(self, text: str) -> bool:
        """A plain word that a contact has with a capital counts where the text has it so, too; a number however spaced."""
        capitals = self._capitals.intersection(re.findall(r"\w+", text))
        if any(word.casefold() not in self._excused for word in capitals):
            return True
        return not self._phones.isdisjoint(_numbers(text))


def _numbers(text: str) -> Iterable[str]:
    """Telephone numbers, digits alone."""
    return (re.sub(r"\D", "", found) for found in _PHONE.findall(text))


def _unfit(supplier: Supplier, plain: set[str]) -> Iterable[str]:
    """Names no backer should read; of our own bench only whom to reach there."""
    if supplier.inhouse:
        supplier = Supplier(code="", contact=supplier.contact)
    names = (name for name in names_of(supplier) if name != supplier.public_name)
    return (*names, *pieces_of(supplier, plain))

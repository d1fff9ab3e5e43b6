"""What a text for one supplier, or for backers, may hold: nobody it should not name, and no money.

A text that may not stand is left out whole; nothing is ever cut out of its middle.
"""

import re
from collections.abc import Iterable
from typing import Literal

from tracker.plan.model import Job, Plan, Shipment, Supplier
from tracker.plan.parts import Part

Trouble = Literal["", "names others", "speaks of money"]
PublicTrouble = Literal["", "names a supplier or a person", "speaks of money", "speaks of rejects"]

_SHORTEST_NAME = 4
_REJECTS = re.compile(r"\b(?:scrap|rework|reject)\w*", re.IGNORECASE)
_CODES = (
    "AUD|BRL|CHF|CNH|CNY|CZK|DKK|EUR|GBP|HKD|HUF|IDR|ILS|INR|JPY|KRW|MXN|MYR|NOK|NZD|PHP|PLN|RMB|SEK|SGD|THB|TWD|"
    "UAH|USD|VND|ZAR"
)
_CODES_BESIDE_DIGITS = f"{_CODES}|CAD|RON"
_MONEY_WORDS = "euros?|pounds?|dollars?|quid|pence|cents?|yuan|renminbi|yen|zloty|koruna|crowns?|kroner?|francs?|rupees?|won"
_PRICE_WORDS = re.compile(
    r"\b(?:price[sd]?|priced|pricing|costs?|costing|charge[sd]?|invoice[sd]?|discounts?|rebates?|cheaper|dearer)\b",
    re.IGNORECASE,
)
_BARE_CODE = re.compile(rf"(?<!\w)(?:{_CODES})(?!\w)")
_AMOUNT = re.compile(
    rf"\d[\d.,\s]*k?\s*(?:{_CODES_BESIDE_DIGITS}|{_MONEY_WORDS})\b"
    rf"|(?<![^\W\d_])(?:{_CODES_BESIDE_DIGITS}|{_MONEY_WORDS})[\s.:]*\d",
    re.IGNORECASE,
)
PLAIN_WORDS = frozenset(
    re.findall(
        r"\w+",
        "assembly bench board boards boxes circuit circuits company components desk design electric electrical "
        "electronic electronics engineering european factory finishing forwarding freight gasket gaskets general glass "
        "goods group house industrial industries international laboratory labs line limited logistics machine "
        "machining magnet magnets mail metal metals office packaging packing paper parts phone plastic plastics "
        "plating precision print printing product products quality sales screw screws service services shop shipping "
        "solutions supplies supply surface switchboard systems team technical technology test testing tool tooling "
        "tools trade trading transport work works workshop world",
    )
)


class Discretion:
    """Judges texts meant for ``supplier``.

    What names another supplier: their code, name (also its words of four letters and more, unless plain words of the
    trade), public name and contact; and their jobs by code and names. What this supplier's own codes, names and
    contact hold as well gives nothing away; words of this supplier's own jobs only excuse words of others' jobs.
    Our own bench is no other supplier.
    """

    def __init__(self, plan: Plan, supplier: str) -> None:
        own = plan.supplier_by_code[supplier]
        self._own_words = _spoken(_names_of(own))
        own_jobs = (name for job in plan.jobs if job.supplier == supplier for name in _names_of_job(job))
        self._own_work = f"{self._own_words} {_spoken(own_jobs)}"
        others = [one for one in plan.suppliers if one.code != supplier and not one.inhouse]
        theirs = {one.code for one in others}
        plain = {*PLAIN_WORDS, *(word for job in plan.jobs for word in _words(job.process))}
        self._people = _telling(
            (name for one in others for name in (*_names_of(one), *_pieces_of(one, plain))), self._own_words
        )
        self._work = _telling(
            (name for job in plan.jobs if job.supplier in theirs for name in _names_of_job(job)),
            self._own_work,
        )
        self._currency = plan.run.currency

    def trouble(self, text: str) -> Trouble:
        """Why ``text`` may not stand in a mail to this supplier; ``""`` where it may."""
        spoken = _spoken((text,))
        if any(name in spoken for name in (*self._people, *self._work)):
            return "names others"
        return "speaks of money" if speaks_of_money(text, self._currency) else ""

    def allowed(self, text: str) -> str:
        """The text on one line, or ``""`` where it may not stand."""
        return "" if self.trouble(text) else " ".join(text.split())

    def job_name(self, job: Job) -> str:
        """What this supplier's job is called in a mail: its name, else its code; ``your work`` where both tell too much."""
        return self.allowed(job.name) or self.allowed(job.code) or "your work"


class PublicDiscretion:
    """Judges texts meant for backers: no supplier but by a public name, no person, no money, no rejects.

    What points to a supplier is as for ``Discretion``; words of public names and of the product excuse. That
    something is paid or priced may be said, not how much.
    """

    def __init__(self, plan: Plan) -> None:
        named: Iterable[Supplier | Job | Part | Shipment] = (
            *plan.suppliers, *plan.jobs, *plan.parts, *plan.shipments,
        )  # fmt: skip
        public = _spoken((plan.run.product, *(one.public_name for one in named)))
        plain = {*PLAIN_WORDS, *(word for job in plan.jobs for word in _words(job.process))}
        self._people = _telling((name for one in plan.suppliers for name in _unfit(one, plain)), public)
        self._currency = plan.run.currency

    def trouble(self, text: str) -> PublicTrouble:
        """Why ``text`` may not go to backers; ``""`` where it may."""
        spoken = _spoken((text,))
        if any(name in spoken for name in self._people):
            return "names a supplier or a person"
        priced = _PRICE_WORDS.search(text) and any(one.isdigit() for one in text)
        if priced or _names_an_amount(text, self._currency):
            return "speaks of money"
        return "speaks of rejects" if _REJECTS.search(text) else ""


def _unfit(supplier: Supplier, plain: set[str]) -> Iterable[str]:
    """Names no backer should read; of our own bench only whom to reach there."""
    if supplier.inhouse:
        supplier = Supplier(code="", contact=supplier.contact)
    names = (name for name in _names_of(supplier) if name != supplier.public_name)
    return (*names, *_pieces_of(supplier, plain))


def speaks_of_money(text: str, currency: str = "") -> bool:
    """Whether a text has a currency sign, the run's currency, an amount with a currency, or a word for prices.

    Examples
    --------
    >>> speaks_of_money("68 pieces, EUR 704"), speaks_of_money("68 pieces, letter D")
    (True, False)
    """
    return _names_an_amount(text, currency) or bool(_PRICE_WORDS.search(text))


def _names_an_amount(text: str, currency: str) -> bool:
    if any(_is_currency_sign(character) for character in text):
        return True
    if currency and f" {currency.casefold()} " in _spoken((text,)):
        return True
    return any(money.search(text) for money in (_AMOUNT, _BARE_CODE))


def _is_currency_sign(character: str) -> bool:
    from unicodedata import category

    return category(character) == "Sc"


def before_the_number(contact: str) -> str:
    """The words a contact begins with, up to a comma, a bracket, a number or an address.

    Examples
    --------
    >>> before_the_number("Dave, 0-555-0100"), before_the_number("orders@box.example")
    ('Dave', '')
    """
    return re.split(r"[,;:(\d+]|\S*@", contact, maxsplit=1)[0].strip()


def _names_of(supplier: Supplier) -> tuple[str, ...]:
    firm = supplier.name.partition(",")[0]
    person = before_the_number(supplier.contact)
    return (supplier.code, supplier.name, firm, supplier.public_name, supplier.contact, person)


def _pieces_of(supplier: Supplier, plain: set[str]) -> Iterable[str]:
    """Single words that point to a supplier: of the name, the code and the contact, telephone numbers among them."""
    person = before_the_number(supplier.contact)
    pieces = [word for word in _words(supplier.name) if len(word) >= _SHORTEST_NAME]
    pieces += [word for word in _words(person) if len(word) >= _SHORTEST_NAME - 1]
    pieces += re.findall(r"\S*@\S+|\d[\d\s()/-]{4,}\d", supplier.contact)
    return [piece for piece in pieces if piece not in plain]


def _names_of_job(job: Job) -> tuple[str, ...]:
    return (job.code, job.name, job.public_name)


def _telling(names: Iterable[str], own: str) -> tuple[str, ...]:
    """Names as spoken, blanks around; without those that this supplier's own names hold."""
    spoken = {_spoken((name,)) for name in names}
    return tuple(sorted(name for name in spoken if name.strip() and name not in own))


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.casefold())


def _spoken(texts: Iterable[str]) -> str:
    """Words alone, in small letters, one blank around each; texts are kept apart."""
    return " . ".join(f" {' '.join(_words(text))} " for text in texts)

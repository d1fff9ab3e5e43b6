"""The suppliers a sheet names, matched with the stored ones."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from tracker.plan.model import Plan, Supplier
from tracker.planfile.faults import BadValue, bad, in_quotes
from tracker.sheet.codes import supplier_code
from tracker.sheet.countries import country_of
from tracker.sheet.items import plain

_OURS = frozenset((
    "us", "we", "me", "self", "myself", "ourselves", "own", "in-house", "inhouse", "in house", "own bench", "our bench",
    "bench", "diy", "internal", "our own bench", "own work", "own shop", "workshop (own)",
    "wir", "selbst", "ich", "eigenleistung", "eigene werkstatt", "intern", "nous", "nous-mêmes", "moi", "en interne", "interne",
    "notre atelier", "noi", "in casa", "interno", "in proprio", "nosotros", "nosotras", "yo", "interno", "taller propio",
    "wij", "zelf", "ik", "eigen werk", "eigen werkplaats",
))  # fmt: skip
_BENCH = "bench"
_OR = r"[/;+|\n\u2192]|->|\b(?:or|then|alt|oder|dann|puis)\b"
_SEVERAL = re.compile(_OR, re.IGNORECASE)
_TOGETHER = re.compile(rf"{_OR}|[&,]|\b(?:and|und|et|y|en)\b", re.IGNORECASE)
_SHORTEST = 3


class Suppliers:
    """Stored suppliers and those a sheet adds; ``taken`` codes belong to other things.

    ``found`` are all the sheet speaks of, by code; ``remarks`` tell how names were taken that are not whole.
    """

    def __init__(self, plan: Plan, taken: Iterable[str]) -> None:
        self._plan = plan
        self._taken = {*taken, *plan.supplier_by_code}
        self._known: dict[str, str] = {}
        self._countries: dict[str, str] = {}
        self._contacts: dict[str, list[str]] = {}
        self.found: dict[str, Supplier] = {}
        self.remarks: list[str] = []
        for supplier in plan.suppliers:
            for name in (supplier.name, supplier.code):
                self._known.setdefault(plain(name), supplier.code)
        self._known.pop("", None)

    def code_of(self, name: str) -> str:
        """The code of the supplier called ``name``, a new one where none is.

        Raises
        ------
        BadValue
            If it means our own bench and several stored suppliers are in house, or us and somebody else.
        """
        key = plain(name)
        if key not in self._known:
            ours = [piece in _OURS for piece in _pieces(_TOGETHER, name)]
            if any(ours) and not all(ours):
                raise bad(
                    f"{in_quotes(name)} names ourselves and others",
                    "write us where the work is your own, else the other alone",
                )
            self._known[key] = self._own() if any(ours) else self._begun(name) or self._new(name)
        code = self._known[key]
        if code not in self.found:
            self.found[code] = self._plan.supplier_by_code[code]
        return code

    def known(self, name: str) -> str:
        """The code of a supplier already spoken of or stored, by name or code; ``""`` for none."""
        return self._known.get(plain(name), "")

    def add_contact(self, code: str, contact: str) -> None:
        """Set the contact the sheet gives; of several each is kept once."""
        given = self._contacts.setdefault(code, [])
        if contact and contact not in given:
            given.append(contact)
            self.found[code] = replace(self.found[code], contact="; ".join(given))

    def add_country(self, code: str, words: str) -> None:
        """Set the country the sheet gives.

        Raises
        ------
        BadValue
            If it is none, or another row gave this supplier a different one.
        """
        country, part = country_of(words)
        before = self._countries.setdefault(code, country)
        if before != country:
            raise bad(
                f"{in_quotes(words)} is {country}, but another row has {before} for {code}",
                f"write one country for {code}, or give the two places different supplier names",
            )
        supplier = self.found[code]
        kept = supplier.subdivision if supplier.country == country else ""
        self.found[code] = replace(supplier, country=country, subdivision=part or kept)

    def _own(self) -> str:
        """Our own bench: the stored supplier in house, else a new one."""
        own = [one.code for one in (*self._plan.suppliers, *self.found.values()) if one.inhouse]
        own = list(dict.fromkeys(own))
        if len(own) > 1:
            raise bad(f"can be any of our own: {', '.join(own)}", "write the code of the one meant")
        if own:
            return own[0]
        code = supplier_code(_BENCH, self._taken)
        return self._added(Supplier(code=code, name="Our own bench", inhouse=True))

    def _begun(self, name: str) -> str:
        """The only stored supplier whose name begins with these words, or the other way about; ``""`` for none."""
        found = {one.code for one in self._plan.suppliers if _alike(one.name, name)}
        if len(found) != 1:
            return ""
        code = found.pop()
        self.remarks.append(f"supplier '{name}' taken as {code} ({self._plan.supplier_by_code[code].name})")
        return code

    def _new(self, name: str) -> str:
        code = supplier_code(name, self._taken)
        pieces = _pieces(_SEVERAL, name)
        if len(pieces) > 1 and min(map(len, pieces)) >= _SHORTEST:
            self.remarks.append(
                f"supplier {in_quotes(name)} is kept as one, {code}; if they are several, name one a row"
            )
        alike = [one.code for one in self.found.values() if _alike(one.name, name)]
        if alike:
            self.remarks.append(
                f"suppliers {alike[0]} and {code} look alike; if they are one, write one name in the sheet"
            )
        return self._added(Supplier(code=code, name=name))

    def _added(self, supplier: Supplier) -> str:
        self._taken.add(supplier.code)
        self._known.setdefault(plain(supplier.code), supplier.code)
        self.found[supplier.code] = supplier
        return supplier.code


def _pieces(parting: re.Pattern[str], name: str) -> list[str]:
    """The pieces of a name as compared, without the brackets and signs around them."""
    pieces = (plain(piece.strip(" .,:()")) for piece in parting.split(name))
    return [piece for piece in pieces if piece]


def _alike(one: str, other: str) -> bool:
    """Whether one of two names begins with all words of the other."""
    first, second = _words(one), _words(other)
    return bool(one and other) and (first.startswith(second) or second.startswith(first))


def _words(name: str) -> str:
    """A name with its commas as blanks and one blank behind, so that whole words are compared."""
    return f"{plain(name.replace(',', ' '))} "


def set_countries(suppliers: Suppliers, countries: Mapping[str, str]) -> Iterable[tuple[str, BadValue]]:
    """Set countries typed with the command; gives what cannot be set, with the words typed."""
    for name, words in countries.items():
        try:
            code = suppliers.known(name)
            if not code:
                raise bad(
                    f"there is no supplier {in_quotes(name)} in the sheet", "name one as the list shows it"
                )
            suppliers.code_of(name)
            suppliers.add_country(code, words)
        except BadValue as error:
            yield f"countries {name}={words}", error

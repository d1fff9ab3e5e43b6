"""Names of suppliers, and how they are found in a text."""

import re
from collections.abc import Iterable

from tracker.plan.model import Supplier

_SHORTEST_NAME = 4
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
_BESIDE_NAMES = frozenset(
    re.findall(
        r"\w+",
        "after afternoon afternoons always an and answers any are ask at back before best but by call cell colleague "
        "contact daily day days desk dr else email english evening evenings ext extension fax for fri friday from her his "
        "hello hour hours if in info is it line lunch main mobile mon monday morning mornings mr mrs ms never new no not "
        "nr number of off on only or order orders other our out phone please post prof ring sat saturday speaks sun sunday "
        "tel telephone the their them then thu thursday to try tue tuesday until us use usually via we wed wednesday week "
        "weekday weekdays when with you your",
    )
)


def before_the_number(contact: str) -> str:
    """The words a contact begins with, up to a comma, a bracket, a number or an address.

    Examples
    --------
    >>> before_the_number("Dave, 0-555-0100"), before_the_number("orders@box.example")
    ('Dave', '')
    """
    return re.split(r"[,;:(\d+]|\S*@", contact, maxsplit=1)[0].strip()


def contact_words(contact: str) -> list[str]:
    """Words of a contact that may be a name, as written: two letters at least, none of those that stand beside names.

    Of an address only what stands before the @ counts.

    Examples
    --------
    >>> contact_words("Lan, or ask Anna: 0-555-0105, lan.ho@mill.example")
    ['Lan', 'Anna', 'lan', 'ho']
    """
    found = re.findall(r"[^\W\d_]\w+", re.sub(r"@\S*", " ", contact))
    return [word for word in found if word.casefold() not in _BESIDE_NAMES]


def names_of(supplier: Supplier) -> tuple[str, ...]:
    """Code, names and contact whole, the firm's name up to a comma, and the person the contact begins with."""
    firm = supplier.name.partition(",")[0]
    person = before_the_number(supplier.contact)
    return (supplier.code, supplier.name, firm, supplier.public_name, supplier.contact, person)


def pieces_of(supplier: Supplier, plain: set[str]) -> Iterable[str]:
    """Single words that point to a supplier: of the name four letters and more, of the contact all, and its numbers."""
    pieces = [word for word in words_of(supplier.name) if len(word) >= _SHORTEST_NAME]
    pieces += [word.casefold() for word in contact_words(supplier.contact)]
    pieces += re.findall(r"\S*@\S+|\d[\d\s()/-]{4,}\d", supplier.contact)
    return [piece for piece in pieces if piece not in plain]


def telling(names: Iterable[str], own: str) -> tuple[str, ...]:
    """Names as spoken, blanks around; without those that ``own``, spoken already, holds."""
    found = {spoken((name,)) for name in names}
    return tuple(sorted(name for name in found if name.strip() and name not in own))


def words_of(text: str) -> list[str]:
    """Words and numbers in small letters."""
    return re.findall(r"\w+", text.casefold())


def spoken(texts: Iterable[str]) -> str:
    """Words alone, in small letters, one blank around each; texts are kept apart."""
    return " . ".join(f" {' '.join(words_of(text))} " for text in texts)

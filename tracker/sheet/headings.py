"""The words makers write above their columns, and which role each speaks for."""

import re
import unicodedata
from functools import lru_cache

from tracker.sheet.heading_words import MAYBE_WORDS, ONLY_ALONE, OTHER_WORDS, OUTRIGHT_WORDS, UNIT_WORDS

OUTRIGHT, MAYBE = 3.0, 2.0
_INSIDE, _LONGEST_WORDS = 0.6, 4
_ASIDE = re.compile(r"\([^)]*\)|\[[^\]]*\]")
_OTHER, _ONLY_ALONE, _UNITS = (frozenset(words.split()) for words in (OTHER_WORDS, ONLY_ALONE, UNIT_WORDS))


@lru_cache(maxsize=4096)
def heading_key(text: str) -> str:
    """A heading as compared: small letters without accents, signs and asides in brackets.

    Examples
    --------
    >>> heading_key("Délai (semaines)"), heading_key("LEAD_TIME"), heading_key("#"), heading_key("No. off")
    ('delai', 'lead time', '#', 'no off')
    """
    plain = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(sign for sign in plain if not unicodedata.combining(sign))
    words = re.sub(r"[^\w#]+|_", " ", _ASIDE.sub(" ", plain)).split()
    return " ".join(words) or " ".join(re.sub(r"[^\w#]+|_", " ", plain).split())


def roles_of_heading(text: str) -> dict[str, float]:
    """How strongly a heading speaks for each role: outright, maybe, or by words among others in it.

    Examples
    --------
    >>> roles_of_heading("Vendor"), roles_of_heading("Bits")
    ({'supplier': 3.0}, {})
    """
    key = heading_key(text)
    if found := _KNOWN.get(key):
        return dict(found)
    words = key.split()
    scores: dict[str, float] = {}
    for length in range(min(len(words) - 1, _LONGEST_WORDS), 0, -1):
        for start in range(len(words) - length + 1):
            phrase = " ".join(words[start : start + length])
            for role, score in {} if phrase in _ONLY_ALONE else _KNOWN.get(phrase, {}).items():
                weighed = score * _INSIDE + length / 10
                scores[role] = max(scores.get(role, 0.0), weighed)
    return scores or _nearly(key)


def is_other(text: str) -> bool:
    """Whether a heading names what no role holds, such as a price."""
    key = heading_key(text)
    return key not in _KNOWN and (not _OTHER.isdisjoint(key.split()) or any(sign in text for sign in "€£$%"))


def is_known_heading(text: str) -> bool:
    """Whether a cell is, as a whole, a word makers write above a column."""
    return heading_key(text) in _KNOWN


def is_unit(text: str) -> bool:
    """Whether a cell only tells the unit of the heading above it, such as ``(weeks)`` or ``pcs``."""
    inner = text.strip().strip("()[]").strip()
    return bool(heading_key(inner)) and set(heading_key(inner).split()) <= _UNITS


def _nearly(key: str) -> dict[str, float]:
    """Roles of the known heading that ``key`` mistypes."""
    from difflib import get_close_matches

    close = get_close_matches(
        key,
        (known for known, roles in _KNOWN.items() if len(known) > _LONGEST_WORDS and "status" not in roles),
        n=1,
        cutoff=0.88,
    )
    return {role: score * _INSIDE for role, score in _KNOWN[close[0]].items()} if close else {}


def _known() -> dict[str, dict[str, float]]:
    known: dict[str, dict[str, float]] = {}
    for table, score in ((OUTRIGHT_WORDS, OUTRIGHT), (MAYBE_WORDS, MAYBE)):
        for role, words in table.items():
            for word in words.split(","):
                known.setdefault(" ".join(word.split()), {}).setdefault(role, score)
    return known


_KNOWN = _known()

"""Codes made from names: short, telling, valid, and the same each time the same names are read."""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from tracker.plan.reserved import code_trouble

_SMALL = frozenset(
    ("a", "an", "and", "at", "by", "for", "from", "in", "incl", "into", "of", "off", "on", "or", "our", "per", "pcs", "the", "to", "us", "with",
     "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
)  # fmt: skip
_FIRMS = frozenset((
    "ag", "bv", "co", "company", "gmbh", "inc", "kg", "limited", "llc", "ltd", "oy", "plc", "sa", "sl", "spa", "srl", "sro", "zoo",
))  # fmt: skip
_LETTERS = str.maketrans(
    {"ß": "ss", "ø": "o", "Ø": "O", "ł": "l", "Ł": "L", "æ": "ae", "Æ": "Ae", "œ": "oe", "đ": "d", "ð": "d", "þ": "th", "\u0131": "i", "\u00d7": "x", "µ": "u"}
)  # fmt: skip
_JOB_WORDS, _LONGEST = 3, 28
WIDEST = 48
"""The most signs a code made here has, a number behind it aside."""
GROUPS = ("days", "weeks", "numbers", "travel", "all")
"""Words that stand for many jobs where leads are given a word, so no job may be called so."""


@lru_cache(maxsize=4096)
def words_of(name: str) -> tuple[str, ...]:
    """A name's words in lower case and plain letters; accents dropped, what is not a letter or digit parts words.

    Examples
    --------
    >>> words_of("Blast & anodize: Größe 2")
    ('blast', 'anodize', 'grosse', '2')
    """
    plain = unicodedata.normalize("NFKD", name.translate(_LETTERS)).encode("ascii", "ignore").decode()
    return tuple(re.findall(r"[a-z0-9]+", plain.lower().replace("'", "")))


def _short_words(name: str) -> list[str]:
    """The words of a name, none longer than a code may be wide."""
    return [word[:_LONGEST] for word in words_of(name)]


def job_codes(names: Sequence[str], taken: Iterable[str], *, fallback: str = "job") -> tuple[str, ...]:
    """One code for each name, in the same order.

    Up to three telling words, joined by dashes; names that would share a code take more of their words, or a
    number. A name without plain letters becomes ``job-1`` and so on. ``taken`` codes are avoided, capitals aside.

    Examples
    --------
    >>> job_codes(["5 first-article sets", "Fit check letter C (gate)", "Fit check letter D", "Lead"], [])
    ('first-article-sets', 'fit-check-letter-c', 'fit-check-letter-d', 'lead-1')
    """
    lengths = {name: list(dict.fromkeys(_forms(name))) for name in names}
    shared = _shared(form for name in dict.fromkeys(names) for form in set(lengths[name]))
    used = {code.lower() for code in taken}
    codes = []
    for name in names:
        forms = lengths[name]
        own = [form for form in forms if form not in shared]
        codes.append(_first_free([*own[:1], *own, *forms[-1:]], used, fallback))
        used.add(codes[-1].lower())
    return tuple(codes)


def supplier_code(name: str, taken: Iterable[str]) -> str:
    """The first telling word of a supplier's name, more of its words where that is taken.

    Examples
    --------
    >>> supplier_code("Varne Surface Works Ltd", []), supplier_code("Varne Surface Works Ltd", ["varne"])
    ('varne', 'varne-surface')
    """
    every = _short_words(name)
    words = [word for word in every if word not in _FIRMS and word not in _SMALL] or every
    words = words[next((place for place, word in enumerate(words) if not word[0].isdigit()), len(words)) :]
    forms = ["-".join(words[:count]) for count in range(1, len(words) + 1)]
    forms = [form for form in forms if len(form) <= WIDEST]
    return _first_free(forms, {code.lower() for code in taken}, "supplier")


def _forms(name: str) -> Iterator[str]:
    """Codes a name can have, shortest first: without brackets and numbers, then with all its words."""
    outside = re.sub(r"\([^)]*\)|\[[^\]]*\]", " ", name)
    whole = _from_letter(_short_words(name))
    words = _from_letter(_short_words(outside)) or whole
    telling = [word for word in words if word not in _SMALL and not _is_count(word)] or words
    short = telling[:_JOB_WORDS]
    while len(short) > 1 and len("-".join(short)) > _LONGEST:
        short = short[:-1]
    yield "-".join(short)
    longer = ["-".join(telling[:count]) for count in range(len(short) + 1, len(telling) + 1)]
    yield from (form for form in (*longer, "-".join(words), "-".join(whole)) if len(form) <= WIDEST)


def _from_letter(words: Sequence[str]) -> list[str]:
    start = next((place for place, word in enumerate(words) if word[0].isalpha()), len(words))
    return list(words[start:])


def _is_count(word: str) -> bool:
    return word.isdigit() and len(word) > 1


def _shared(forms: Iterable[str]) -> frozenset[str]:
    seen: set[str] = set()
    twice: set[str] = set()
    for form in forms:
        (twice if form in seen else seen).add(form)
    return frozenset(twice)


def _first_free(forms: Sequence[str], used: set[str], fallback: str) -> str:
    """The first form that is a valid code and free; else the last one with a number."""
    valid = [form for form in forms if form]
    for form in valid:
        if form not in used and form not in GROUPS and not code_trouble(form):
            return form
    stem = next((form for form in valid if form[0].isalpha()), fallback)
    number = 1
    while f"{stem}-{number}" in used:
        number += 1
    return f"{stem}-{number}"

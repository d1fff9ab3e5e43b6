"""Words for lengths of time, in English, German, French, Spanish, Italian and Dutch. Common practice, no source.

All are small letters without accents, as ``folded`` makes them.
"""

import re
import unicodedata

UNITS: dict[str, str] = {
    "working weeks": r"(?:working|business) *(?:weeks?|wks?)|arbeitswochen?|werkwe(?:ek|ken)|semaines? ouvrees?",
    "calendar weeks": r"(?:calendar|cal\.?) *(?:weeks?|wks?)|kalenderwochen|kalenderweken",
    "wd": (
        r"w\.?d\.?|wds|work(?:ing)?[ -]*days?|business *days?|bus\.? *days?|bds?|weekdays?"
        r"|(?:arbeits|werk)tage?n?|at(?=$| *[,;)]| +(?:nach|ab|ohne|inkl)\b)|jours? (?:ouvre|ouvrable|travaille)s?"
        r"|dias? (?:habil(?:es)?|laborables?|laborales?)|(?:giorn[oi]|gg)\.? *lav(?:orativ[oi]|\.)?|werkdag(?:en)?"
    ),
    "cd": (
        r"c\.?d\.?|cds|(?:calendar|cal\.?|consecutive) *days?|kalendertage?n?|jours? (?:calendaire|civil)s?"
        r"|dias? (?:naturales?|corridos?|calendario)|giorn[oi] (?:solar[ei]|di calendario|natural[ei])|kalenderdag(?:en)?"
    ),
    "months": r"months?|mths?|mos?|monate?n?|mois|mes(?:es|e|i)?|maand(?:en)?",
    "hours": r"hours?|hrs?|h|stunden?|std\.?|heures?|horas?|or[ae]|uur|uren",
    "days": r"days?|d|tage?n?|jours?|jrs?|j|dias?|giorn[oi]|gg\.?|dag(?:en)?",
    "weeks": r"weeks?|wks?|w|wochen?|semaines?|sem\.?|semanas?|settiman[ae]|sett\.?|weken",
}
"""What a length can be counted in; of two that fit the same words the first one counts."""

UNIT = "|".join(UNITS.values())
TO = r" *(?:\.\.+|-|/|\b(?:to|or|bis|oder|a|ou|o|tot|of)\b) *"
"""What stands between the ends of a range."""

BEFORE_LEAST = (
    r"(?:at least|min(?:imum|\.)?|more than|over|from|ab|mindestens|au moins|al menos|almeno|minstens|vanaf)"
)
AFTER_LEAST = r"(?:or more|and (?:up|more)|at least|min(?:imum)?|oder mehr|ou plus|o mas|o piu|of meer)"
EACH = r"(?:per|each|every|a piece|pro|je|par|chaque|por|cada|ogni|elke)"
KINDS = {
    "wd": r"working|business|work|arbeits|ouvres?|habiles|laborables|lavorativi|werk",
    "cd": r"calendar|cal\.?|kalender|calendaires?|naturales|solari",
}
"""Words that alone in a column of units tell working from calendar days."""

_NUMBERS = (
    "one a an ein eine einen un une una uno een", "two zwei deux dos due twee", "three drei trois tres tre drie",
    "four vier quatre cuatro quattro", "five funf cinq cinco cinque vijf", "six sechs seis sei zes", "seven", "eight acht",
    "nine", "ten zehn dix diez dieci tien", "eleven", "twelve zwolf douze doce dodici twaalf",
)  # fmt: skip
_UNIT_ALONE = re.compile(rf"[(\[]?(?:{UNIT}|{'|'.join(KINDS.values())})[)\]]?")
_VALUES = {word: str(at) for at, words in enumerate(_NUMBERS, start=1) for word in words.split()}
_SPELLED = re.compile(
    rf"\b({'|'.join(sorted(_VALUES, key=len, reverse=True))})(?=(?:{TO}[a-z]+)? (?:{UNIT})(?![a-z]))"
)
_SIGNS = str.maketrans(
    {
        **dict.fromkeys("\u2010\u2011\u2013\u2014\u2212", "-"),
        "\u00a0": " ",
        "\u202f": " ",
        "\u2026": "..",
        "\u00bd": ".5",
        "\u00bc": ".25",
        "\u00be": ".75",
    }
)


def folded(text: str) -> str:
    """Small letters without accents, one blank between words, dashes and halves in plain signs.

    Examples
    --------
    >>> folded("10\u201312  Días hábiles"), folded("1\u00bd weeks")
    ('10-12 dias habiles', '1.5 weeks')
    """
    if text.isascii():
        return " ".join(text.lower().split())
    plain = unicodedata.normalize("NFD", " ".join(text.translate(_SIGNS).casefold().split()))
    return "".join(sign for sign in plain if not unicodedata.combining(sign))


def in_digits(text: str) -> str:
    """A folded text with numbers spelled out before a unit as digits.

    Examples
    --------
    >>> in_digits("zwei wochen"), in_digits("a week"), in_digits("a long time")
    ('2 wochen', '1 week', 'a long time')
    """
    return _SPELLED.sub(lambda found: _VALUES[found[1]], text)


def unit_named(words: str) -> str:
    """The unit that folded words name as a whole; ``""`` for none."""
    return next((name for name, form in UNITS.items() if re.fullmatch(form, words)), "")


def is_unit_of_days(text: str) -> bool:
    """Whether a folded cell holds a unit of time and nothing else, or which days are meant: ``weeks``, ``working``."""
    return _UNIT_ALONE.fullmatch(text) is not None

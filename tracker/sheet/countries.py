"""Countries as people write them to ISO 3166 codes: names, codes, and a place that ends in its country."""

import re
from functools import cache

from tracker.planfile.faults import bad, in_quotes
from tracker.sheet.codes import words_of

_ALSO = {
    "uk": "GB", "u k": "GB", "great britain": "GB", "britain": "GB", "usa": "US", "u s a": "US", "u s": "US",
    "america": "US", "united states of america": "US", "czech republic": "CZ", "holland": "NL",
    "the netherlands": "NL", "prc": "CN", "p r china": "CN", "pr china": "CN", "mainland china": "CN",
    "korea": "KR", "republic of korea": "KR", "turkiye": "TR", "uae": "AE", "eire": "IE",
    "republic of ireland": "IE", "deutschland": "DE", "polska": "PL", "italia": "IT", "espana": "ES",
    "osterreich": "AT", "schweiz": "CH", "suisse": "CH", "cesko": "CZ", "viet nam": "VN",
    "frankreich": "FR", "italien": "IT", "spanien": "ES", "niederlande": "NL", "belgien": "BE", "polen": "PL",
    "tschechien": "CZ", "ungarn": "HU", "slowakei": "SK", "schweden": "SE", "danemark": "DK", "vereinigtes konigreich": "GB",
    "grossbritannien": "GB", "allemagne": "DE", "italie": "IT", "espagne": "ES", "pays bas": "NL", "belgique": "BE",
    "autriche": "AT", "pologne": "PL", "tchequie": "CZ", "hongrie": "HU", "royaume uni": "GB", "chine": "CN", "etats unis": "US",
    "japon": "JP", "alemania": "DE", "francia": "FR", "paises bajos": "NL", "belgica": "BE", "suiza": "CH", "polonia": "PL",
    "chequia": "CZ", "reino unido": "GB", "estados unidos": "US", "germania": "DE", "spagna": "ES", "paesi bassi": "NL",
    "belgio": "BE", "svizzera": "CH", "portogallo": "PT", "repubblica ceca": "CZ", "regno unito": "GB", "cina": "CN",
    "stati uniti": "US", "giappone": "JP", "duitsland": "DE", "frankrijk": "FR", "spanje": "ES", "nederland": "NL",
    "oostenrijk": "AT", "zwitserland": "CH", "tsjechie": "CZ", "verenigd koninkrijk": "GB",
}  # fmt: skip
_PARTS = {"england": "ENG", "scotland": "SCT", "wales": "WLS", "northern ireland": "NIR"}


def country_of(text: str) -> tuple[str, str]:
    """The codes of a country and, where the words name one, of its subdivision (``""`` otherwise).

    Of a place with commas the last piece that names a country counts.

    Raises
    ------
    BadValue
        If no country is named.

    Examples
    --------
    >>> country_of("Rotherham, UK"), country_of("Scotland"), country_of("cz")
    (('GB', ''), ('GB', 'SCT'), ('CZ', ''))
    """
    for piece in (text, *reversed(re.split(r"[,;()\n]", text))):
        name = " ".join(words_of(piece))
        if name in _PARTS:
            return "GB", _PARTS[name]
        code = _ALSO.get(name) or _known().get(name) or _known().get(name.replace(" ", ""))
        if code:
            return code, ""
    from tracker.plan.nearest import nearest

    close = nearest(text, (name for name in _known() if len(name) > 3))  # noqa: PLR2004 - names, not codes
    remedy = (
        f"did you mean {close.title()}?"
        if close
        else "write its name in English, or two capitals such as GB or DE"
    )
    raise bad(f"{in_quotes(text)} is no country", remedy)


@cache
def _known() -> dict[str, str]:
    """Codes of two letters by name, and by themselves and their code of three letters, all in lower case."""
    from holidays.registry import COUNTRIES

    known: dict[str, str] = {}
    for name, (_, code, long, *_more) in COUNTRIES.items():
        known.update({name.replace("_", " "): code, code.lower(): code, long.lower(): code})
    return known

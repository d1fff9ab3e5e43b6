"""Names that are nearly right: the nearest known one, for every message about an unknown name."""

from collections.abc import Iterable


def nearest(word: str, names: Iterable[str]) -> str:
    """The one of ``names`` that reads most like ``word``, capitals aside; ``""`` when none comes close.

    Examples
    --------
    >>> nearest("boxs", ["boards", "boxes"]), nearest("zebra", ["boards", "boxes"])
    ('boxes', '')
    """
    from difflib import get_close_matches

    by_lower = {name.lower(): name for name in names}
    close = get_close_matches(word.lower(), by_lower, n=1, cutoff=0.6)
    if close:
        return by_lower[close[0]]
    longer = [name for lower, name in by_lower.items() if word and lower.startswith(word.lower())]
    return longer[0] if len(longer) == 1 else ""

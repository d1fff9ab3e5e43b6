"""Pale tints for state words: always beside the word, light enough for black text in print and in grey.

The hues are the colour-blind-friendly set of M. Okabe and K. Ito (values from memory), mixed with white.
"""

from collections.abc import Mapping

_HUES: Mapping[str, tuple[int, int, int]] = {
    "vermillion": (213, 94, 0),
    "orange": (230, 159, 0),
    "sky": (86, 180, 233),
    "green": (0, 158, 115),
    "purple": (204, 121, 167),
}
_SHARE = 0.35
_WHITE = 255
_HUE_OF_WORD: Mapping[str, str] = {
    "LATE": "vermillion", "NO NEWS": "vermillion", "CANNOT HOLD": "vermillion", "FAILED": "vermillion",
    "AT BEST": "vermillion",
    "TIGHT": "orange", "PAUSED": "orange",
    "ON THE WAY": "sky", "MADE": "sky", "PART IN": "sky",
    "DONE": "green", "POSTED": "green",
    "WAITS ON US": "purple",
}  # fmt: skip

TINTS: Mapping[str, str] = {
    hue: "".join(f"{round(_WHITE - _SHARE * (_WHITE - part)):02X}" for part in parts)
    for hue, parts in _HUES.items()
}
"""Red, green and blue of each tint as six hexadecimal digits, by the name of its hue."""

GREY = "E4E4E4"
"""For marks that say nothing about a state: today's week, and work not done yet."""


def hue_of(word: str) -> str:
    """The hue of a state or flag word; ``""`` for words without a colour (NOT DUE, CAN START, IN WORK, ...).

    Examples
    --------
    >>> hue_of("LATE"), TINTS[hue_of("LATE")], hue_of("NOT DUE")
    ('vermillion', 'F0C7A6', '')
    """
    return _HUE_OF_WORD.get(word, "")

"""TOML as text by hand: strings, lists and inline tables in the readable form plan files have."""

import re
from collections.abc import Iterable, Sequence

_SHORT = {"\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r", '"': '\\"', "\\": "\\\\"}
_ESCAPES = str.maketrans(
    {chr(code): f"\\u{code:04X}" for code in (*range(32), 127)} | _SHORT,
)
_BARE = re.compile("[A-Za-z0-9_-]+")
_WIDTH = 100


def string(text: str) -> str:
    r"""Write any text on one line.

    Examples
    --------
    >>> print(string('9" case\n'))
    "9\" case\n"
    """
    return f'"{text.translate(_ESCAPES)}"'


def array(items: Sequence[str]) -> str:
    """A list of values already written; a long one is broken over lines."""
    flat = f"[{', '.join(items)}]"
    if len(flat) <= _WIDTH:
        return flat
    lines = ["["]
    line = "   "
    for item in items:
        if len(line) + len(item) > _WIDTH and line.strip():
            lines.append(line)
            line = "   "
        line += f" {item},"
    return "\n".join([*lines, line, "]"])


def inline(pairs: Iterable[tuple[str, str]]) -> str:
    """A table on one line, from keys and values already written."""
    return f"{{ {', '.join(f'{key} = {value}' for key, value in pairs)} }}"


def key(name: str) -> str:
    """A key, in quotes where it needs them: a code may hold dots.

    Examples
    --------
    >>> print(key("screw"), key("screw-m2.5"))
    screw "screw-m2.5"
    """
    return name if _BARE.fullmatch(name) else string(name)

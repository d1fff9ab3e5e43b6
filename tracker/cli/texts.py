"""Texts that commands read: from a file, or from standard input for ``-``."""

import sys
from pathlib import Path

from tracker.errors import Refused


def text_of(file: str) -> tuple[str, str]:
    """The text and the name messages call it by.

    Raises
    ------
    Refused
        If there is no such file, it cannot be read, or it is no UTF-8 text.
    """
    if file == "-":
        return sys.stdin.read(), "standard input"
    path = Path(file)
    try:
        return path.read_text(encoding="utf-8"), path.name
    except FileNotFoundError as error:
        raise Refused(f"there is no file {file}", hint="check the name and the folder you are in") from error
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise Refused(f"{file} is not UTF-8 text (line {line})", hint="save it as UTF-8") from error
    except OSError as error:
        raise Refused(
            f"{file} cannot be read: {error.strerror}", hint="check that it is a file you may read"
        ) from error

"""Writing a file whole or not at all."""

import os
from contextlib import suppress
from pathlib import Path

from tracker.errors import Refused


def write_whole(content: bytes, path: Path) -> None:
    """Put ``content`` at ``path``; whoever reads there finds the old file or the new one, never a part.

    Raises
    ------
    Refused
        If the place cannot be written; what stood there stays as it was.
    """
    if path.is_dir():
        raise Refused(f"cannot write {path}: it is a folder, not a file", hint="name a file in it")
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        beside.write_bytes(content)
        beside.replace(path)
    except OSError as trouble:
        with suppress(OSError):
            beside.unlink()
        why, hint = _in_words(trouble, path)
        raise Refused(f"cannot write {path}: {why}", hint=hint) from trouble


def _in_words(trouble: OSError, path: Path) -> tuple[str, str]:
    """Why a file could not be written, and what to do."""
    match trouble:
        case FileNotFoundError() | NotADirectoryError():
            return (
                f"there is no folder {path.parent}",
                "make that folder first, or name a file in one that exists",
            )
        case PermissionError():
            return (
                "this user may not write there, or the file is open elsewhere",
                "close the file, or name one in a folder you own",
            )
        case _:
            why = (trouble.strerror or "the disk refused").lower()
            return why, "name a file on another disk, or make room on this one"

"""Writing a file whole or not at all."""

import os
from collections.abc import Mapping
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
    write_together({path: content})


def write_together(contents: Mapping[Path, bytes]) -> None:
    """Put each content at its path, all of them or none; none is ever seen in part.

    Raises
    ------
    Refused
        If one of the places cannot be written; what stood at any of them stays as it was.
    """
    for path in contents:
        if path.is_dir():
            raise Refused(f"cannot write {path}: it is a folder, not a file", hint="name a file in it")
    beside = {path: path.with_name(f".{path.name}.{os.getpid()}.part") for path in contents}
    replaced: dict[Path, bytes | None] = {}
    path = Path()
    try:
        for path, content in contents.items():
            beside[path].write_bytes(content)
        for path in contents:
            old = path.read_bytes() if path.exists() and len(contents) > 1 else None
            beside[path].replace(path)
            replaced[path] = old
    except OSError as trouble:
        _put_back(replaced)
        why, hint = _in_words(trouble, path)
        raise Refused(f"cannot write {path}: {why}", hint=hint) from trouble
    finally:
        for part in beside.values():
            with suppress(OSError):
                part.unlink(missing_ok=True)


def _put_back(replaced: Mapping[Path, bytes | None]) -> None:
    """Undo what was replaced before another place refused."""
    for path, old in replaced.items():
        with suppress(OSError):
            path.unlink() if old is None else path.write_bytes(old)


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

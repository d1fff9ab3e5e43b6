"""From a workbook in memory to a file: whole or not at all, without author, machine or clock."""

import os
import zipfile
from contextlib import suppress
from datetime import date, datetime, time
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.errors import Refused
from tracker.render.workbook_sheet import clean

if TYPE_CHECKING:
    from openpyxl import Workbook

_CORE, _APP = "docProps/core.xml", "docProps/app.xml"
_APP_TEXT = (
    '<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties">'
    "<Application>tracker</Application></Properties>"
)
_OLDEST = (1980, 1, 1, 0, 0, 0)


def workbook_bytes(book: "Workbook", title: str, today: date) -> bytes:
    """The workbook's file content; its properties hold only the title and the status date as its day.

    The same workbook gives the same bytes at any time and on any machine.
    """
    from openpyxl.xml.functions import tostring

    raw = BytesIO()
    book.save(raw)
    stamp = datetime.combine(today, time())
    about = book.properties
    about.title, about.creator, about.created, about.modified = clean(title) or None, None, stamp, stamp
    replaced = {_CORE: tostring(about.to_tree()), _APP: _APP_TEXT.encode()}
    whole = BytesIO()
    with zipfile.ZipFile(raw) as source, zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            part = zipfile.ZipInfo(name, date_time=_OLDEST)
            part.create_system = 0
            part.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(part, replaced.get(name) or source.read(name))
    return whole.getvalue()


def write_whole(content: bytes, path: Path) -> None:
    """Put ``content`` at ``path``; whoever reads there finds the old file or the new one, never a part.

    Raises
    ------
    Refused
        If the place cannot be written; what stood there stays as it was.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        if path.is_dir():
            raise IsADirectoryError
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
        case IsADirectoryError():
            return "it is a folder, not a file", f"name a file in it, such as {path / 'backers.xlsx'}"
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

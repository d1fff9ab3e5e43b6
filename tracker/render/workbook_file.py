"""From a workbook in memory to the bytes of its file, without author, machine or clock."""

import zipfile
from datetime import date, datetime, time
from io import BytesIO
from typing import TYPE_CHECKING

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

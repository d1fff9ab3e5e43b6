"""Whether a file lies in a folder that a file-synchronising service carries to other machines.

Only names and marker files are looked at (both from memory); a service set up under another name goes unseen.
"""

import os
import re
from pathlib import Path

_NAMED = re.compile(
    r"(?:dropbox|onedrive|google ?drive|my drive|icloud ?drive|mobile documents|nextcloud|owncloud|seafile"
    r"|syncthing|resilio sync|sync|box sync|pcloud ?drive|pcloud|mega(?:sync)?|proton ?drive|tresorit|koofr"
    r"|yandex\.?disk)"
    r"(?: - .+| ?\(.+\)|[0-9]+)?",
    re.IGNORECASE,
)
_HOLDS_SERVICES = "cloudstorage"
_MARKERS = re.compile(
    r"\.stfolder|\.dropbox\.cache|\.csync_journal\.db|\._?sync_.+\.db|\.(?:owncloud|nextcloud)sync\.log"
)
_MARKERS_BUT_AT_HOME = re.compile(r"\.dropbox|\.sync")


def looks_synchronised(path: Path) -> str:
    """The nearest folder around ``path`` that looks synchronised, links followed; "" for none.

    Examples
    --------
    >>> looks_synchronised(Path("/srv/OneDrive - Tide Works/run/tracker.sqlite"))
    '/srv/OneDrive - Tide Works'
    >>> looks_synchronised(Path("/srv/Dropbox notes/tracker.sqlite"))
    ''
    """
    return next((str(folder) for folder in path.resolve().parents if _looks_so(folder)), "")


def _looks_so(folder: Path) -> bool:
    if _NAMED.fullmatch(folder.name) or folder.parent.name.lower() == _HOLDS_SERVICES:
        return True
    inside = _names(folder)
    if any(_MARKERS.fullmatch(name) for name in inside):
        return True
    return not _is_home(folder) and any(_MARKERS_BUT_AT_HOME.fullmatch(name) for name in inside)


def _is_home(folder: Path) -> bool:
    """Whether it is the person's own folder, where the services keep settings under their markers' names."""
    return folder == Path(os.path.expanduser("~")).resolve()  # noqa: PTH111 - does not fail without a home


def _names(folder: Path) -> list[str]:
    """What the folder holds; nothing for one that may not be looked into."""
    try:
        return [name for name in os.listdir(folder) if name.startswith(".")]  # noqa: PTH208 - names alone
    except OSError:
        return []

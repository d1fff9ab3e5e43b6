"""Words that cannot be codes, because the command line reads them as something else."""

import re

LOGGING_VERBS = (
    "ordered", "paid", "approved", "gave", "started", "promised", "made", "left", "in", "sorted", "finished",
    "passed", "failed", "paused", "resumed", "called-off", "rework", "posted", "told", "decided", "called",
    "note", "mailed", "undo", "fix", "log",
)  # fmt: skip
OTHER_VERBS = (
    "new", "read", "write", "add", "set", "remove", "keep-plan", "forecast", "late", "near", "calls", "owed",
    "gates", "promises", "closures", "need", "sets", "moved", "try", "range", "diary", "weeks", "friday",
    "export", "mail", "demo", "show", "backers", "inhouse", "calendar", "text", "option", "scrap", "where",
)  # fmt: skip
CLAUSES = (
    "on", "for", "note", "said", "words", "ref", "rest", "worst", "until", "last", "again", "exactly", "leaves", "hand",
    "good", "rework", "scrap", "count", "and", "order", "payment", "drawing", "proof", "material", "balance",
    "papers", "day1", "since", "instead", "by", "lead", "travel", "check", "all", "pass", "fail", "pieces",
    "columns", "leads", "countries", "us", "into", "found-at", "shipments", "scrapped", "cost",
)  # fmt: skip
THINGS = ("run", "supplier", "part", "job", "shipment", "lot", "lots", "gate")
DAYS = (
    "today", "tomorrow", "yesterday",
    "mon", "tue", "wed", "thu", "fri", "sat", "sun",
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday",
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
    "january", "february", "march", "april", "june", "july", "august", "september", "october",
    "november", "december",
)  # fmt: skip

RESERVED = frozenset((*LOGGING_VERBS, *OTHER_VERBS, *CLAUSES, *THINGS, *DAYS))
_CODE = re.compile(r"[A-Za-z][A-Za-z0-9._-]*")


def code_trouble(code: str) -> str:
    """Say why ``code`` cannot be a code, or ``""`` when it can.

    Examples
    --------
    >>> code_trouble("wave-1"), code_trouble("May")
    ('', 'is a word of the command line')
    """
    if not _CODE.fullmatch(code):
        return "must begin with a letter and hold only letters, digits, dots, dashes and underscores"
    if code.lower() in RESERVED:
        return "is a word of the command line"
    return ""

"""Words that speak of bad pieces."""

import re

_ALWAYS = re.compile(r"\b(?:scrap|rework|reject)\w*", re.IGNORECASE)
_BESIDE_A_NUMBER = re.compile(
    r"\b(?:redo\w*|redid|remak\w+|remade|strip\w*|bad|fault\w*|blotch\w*|defect\w*|broken|spoil\w*|crack\w*|scratch\w*"
    r"|dent(?:s|ed)?|waste\w*|ruin\w*|lost|no\s+good|not\s+good)\b",
    re.IGNORECASE,
)
_MONTH = "(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*"
_DATE = re.compile(
    rf"\b\d{{4}}-\d\d-\d\d\b|\b\d{{1,2}}(?:st|nd|rd|th)?[\s-]*{_MONTH}\b(?:[\s-]*\d{{4}}\b)?|\b{_MONTH}\s+\d{{1,2}}\b"
    r"|\b\d{1,2}[./]\d{1,2}[./]\d{2,4}\b",
    re.IGNORECASE,
)
_NUMBER = re.compile(
    r"\d|\b(?:two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twenty|thirty|forty|fifty|sixty|seventy"
    r"|eighty|ninety|hundreds?|dozens?|half|third|quarter|fifth|tenth)\b",
    re.IGNORECASE,
)


def tells_rejects(text: str) -> bool:
    """Whether a text speaks of scrap, rework or rejects, or has a word for bad or redone beside a number, not of a date.

    Examples
    --------
    >>> tells_rejects("redo the 15 blotchy ones"), tells_rejects("redo the artwork by 27 Nov")
    (True, False)
    """
    if _ALWAYS.search(text):
        return True
    return bool(_BESIDE_A_NUMBER.search(text) and _NUMBER.search(_DATE.sub(" ", text)))

"""Lengths said to run from a deposit, a drawing or a proof: what the clock may have to wait for."""

import re
from collections.abc import Iterator, Sequence

from tracker.plan.model import Job, Supplier

_FROM = r"\b(?:after|from|once|upon|on receipt of|nach|ab)\b.*"
_WAITS_FOR = {
    "payment": re.compile(_FROM + r"(?:deposit|payment|prepa|paid|anzahlung)", re.IGNORECASE),
    "drawing": re.compile(_FROM + r"(?:drawing|zeichnung)", re.IGNORECASE),
    "proof": re.compile(_FROM + r"(?:proof|artwork|sample approval)", re.IGNORECASE),
    "material": re.compile(_FROM + r"(?:material|parts in)", re.IGNORECASE),
}


def clocks_told(jobs: Sequence[Job], suppliers: Sequence[Supplier]) -> Iterator[str]:
    """A remark for each outside job whose lead, as heard, runs from what its clock does not wait for."""
    outside = {one.code for one in suppliers if not one.inhouse}
    for job in jobs:
        missing = [
            what
            for what, words in _WAITS_FOR.items()
            if words.search(job.said) and what not in (job.clock or ())
        ]
        if missing and job.supplier in outside:
            yield (
                f"'{job.said}': does {job.code} wait for {' and '.join(missing)} before its days begin? then:"
                f" tracker set {job.code} clock+={','.join(missing)}"
            )

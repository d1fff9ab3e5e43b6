"""Which fields of a fact mean something for its kind; checks, plan files and their tables agree through this."""

from collections.abc import Mapping
from dataclasses import dataclass

GIVEN_WHAT = ("payment", "drawing", "proof", "material", "balance", "papers", "day1")
COMMON_FIELDS = frozenset({"on", "kind", "logged", "note"})
COUNTS = ("good", "rework", "scrap")


@dataclass(frozen=True, slots=True)
class FactFields:
    """The ``Fact`` attributes a kind must have and those it may have, in the order they are written."""

    needs: tuple[str, ...]
    takes: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        """Needed ones first."""
        return (*self.needs, *self.takes)


_JOB = FactFields(("job",))
_ABOUT = ("job", "shipment", "supplier")

FACT_FIELDS: Mapping[str, FactFields] = {
    "ordered": FactFields(("job",), ("quantity",)),
    "given": FactFields(("job", "what"), ("day",)),
    "started": _JOB,
    "promised": FactFields(("job", "day"), ("good", "worst", "means", "exactly", "words")),
    "made": FactFields(("job",), ("good", "part")),
    "left": FactFields(("job",), ("good",)),
    "in": FactFields(("job",), (*COUNTS, "count", "part", "ref", "closes")),
    "sorted": FactFields(("job",), (*COUNTS, "part")),
    "finished": _JOB,
    "passed": _JOB,
    "failed": _JOB,
    "paused": FactFields(("job",), ("day",)),
    "resumed": _JOB,
    "called_off": _JOB,
    "posted": FactFields(("shipment",), ("good", "part")),
    "told": FactFields(("shipment",), ("day", "first", "words")),
    "decided": FactFields((), (*_ABOUT, "option")),
    "called": FactFields(("supplier",), ("job", "day")),
    "note": FactFields((), _ABOUT),
    "mailed": FactFields(("supplier",)),
    "scrapped": FactFields(("part", "scrap"), ("job",)),
}

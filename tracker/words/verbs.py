"""The logging verbs: what each is about, which clauses it takes, and how its help reads."""

from dataclasses import dataclass
from typing import Literal

About = Literal["job", "part", "shipment", "supplier", "anything"]
COUNT_WORDS = ("good", "rework", "scrap", "count")
TEXT_CLAUSES = {"note": "note", "said": "said", "words": "said"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Verb:
    """One logging verb.

    ``date`` says whether a bare date after the subjects is needed or may stand (it looks forward), and
    ``number`` which count a bare number means, ``alone`` which it means where no other count stands beside it.
    ``what`` lists condition words, the first being the default. ``text`` is what a bare text is kept as: a note,
    or the words as said. ``clauses`` are the further words it takes; all verbs take ``on DATE`` and ``note TEXT``.
    """

    name: str
    kind: str
    about: About
    help: str
    example: str
    clauses: frozenset[str] = frozenset()
    date: Literal["", "may", "must"] = ""
    number: str = ""
    alone: str = ""
    what: tuple[str, ...] = ()
    text: Literal["", "note", "said"] = ""


def _verb(name: str, about: About, help_: str, example: str, **rest: object) -> Verb:
    kind = str(rest.pop("kind", name.replace("-", "_")))
    clauses = frozenset(str(rest.pop("clauses", "")).split())
    return Verb(name=name, kind=kind, about=about, help=help_, example=example, clauses=clauses, **rest)  # type: ignore[arg-type]


_ALL = (
    _verb("ordered", "job", "An order went out.", "ordered boxes 250 on mon", number="quantity"),
    _verb("paid", "job", "A payment was sent; bank days are added.", "paid boxes", kind="given", what=("payment", "balance")),
    _verb("approved", "job", "We approved a proof, a drawing or papers.", "approved boxes proof", kind="given",
          what=("proof", "drawing", "papers")),
    _verb("gave", "job", "Material, a drawing or papers went out, or they wrote down their day 1.",
          "gave boxes day1 4dec", kind="given", date="may", clauses="for",
          what=("material", "drawing", "papers", "proof", "payment", "balance", "day1")),
    _verb("started", "job", "Work has begun.", "started finish-natural on mon"),
    _verb("promised", "job", "They gave a date.", 'promised licence 4dec said "Friday for sure"', date="must",
          clauses="for said words worst leaves hand exactly good", number="good"),
    _verb("made", "job", "Ready at their door.", "made magnets 520", number="good", clauses="good of again"),
    _verb("left", "job", "On its way, whole or a number of pieces.", "left glass-sea on 24sep", number="good", clauses="good again"),
    _verb("in", "job", "A delivery is here, whole or part; a number alone is counted, not judged.",
          "in finish-natural 52 rework 5 scrap 3 rest thu ref 4471", number="good", alone="count", clauses="good rework scrap count of ref rest last again"),
    _verb("sorted", "job", "Pieces counted before are now judged.", "sorted finish-natural 52 rework 5 scrap 3",
          number="good", clauses="good rework scrap of again"),
    _verb("scrap", "part", "Pieces were found bad after they had come in.", "scrap housing-graphite 3 found-at wave-2-build",
          kind="scrapped", number="scrap", clauses="scrap of found-at again"),
    _verb("finished", "job", "The work is done.", "finished trial"),
    _verb("passed", "job", "A gate passed.", "passed fit-check", text="note"),
    _verb("failed", "job", "A gate failed.", 'failed fit-check "bezel bore tight"', text="note"),
    _verb("paused", "job", "Work stopped; until names the first day it may go on.", "paused trial until 7dec",
          date="may", clauses="until"),
    _verb("resumed", "job", "Work goes on, or a job called off is wanted again.", "resumed trial"),
    _verb("called-off", "job", "The job is no longer wanted; its links are dropped.", "called-off rework-graphite"),
    _verb("posted", "shipment", "Units were posted to backers.", "posted wave-1 24", number="good", clauses="of again"),
    _verb("told", "shipment", "We told backers a date, a span of dates, or words.",
          'told wave-1 10jan..20jan said "mid-January"', date="may", clauses="for said words", text="said"),
    _verb("decided", "anything", "A decision, in a few words.", 'decided boxes "pay the deposit today"', text="note"),
    _verb("called", "supplier", "We called a supplier.", "called marlgate again thu", date="may", clauses="again", text="note"),
    _verb("mailed", "supplier", "A mail went out to a supplier (mail writes one).", "mailed varne", text="note"),
    _verb("note", "anything", "A note on a job, a supplier, a shipment or the run.", 'note boxes "ask for no unders"', text="note"),
)  # fmt: skip

VERBS = {verb.name: verb for verb in _ALL}

"""A mail to one supplier: what was said, what passed, what came in, what must stop, what we owe.

It holds nothing of other suppliers, no money, no date of a shipment and no spare days.
"""

from dataclasses import dataclass, replace
from datetime import date

from tracker.report import mail_facts, mail_standing
from tracker.report.logged import NO_ENTRIES, Entries
from tracker.report.mail_case import Case, Reach, case_of
from tracker.report.mail_rows import (
    CameRow,
    ChangeRow,
    GoAheadRow,
    LeftOutRow,
    NotedRow,
    OursRow,
    OwingRow,
    PromisedRow,
    ReadyRow,
    SilenceRow,
    StopRow,
)
from tracker.report.names import PLAIN_WORDS, before_the_number
from tracker.report.picture import Picture

_MOST_WORDS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Mail:
    """One mail, ready to be worded; without any rows there is nothing to write.

    ``reach`` and ``since`` say where the news begins (see ``News``); ``about`` names the run, ``greeting`` the person
    their contact begins with, if it does. ``left_out`` is for our own eyes.
    """

    today: date
    supplier: str
    greeting: str
    about: str
    reach: Reach
    since: date
    stops: tuple[StopRow, ...] = ()
    go_aheads: tuple[GoAheadRow, ...] = ()
    changes: tuple[ChangeRow, ...] = ()
    promised: tuple[PromisedRow, ...] = ()
    noted: tuple[NotedRow, ...] = ()
    ours: tuple[OursRow, ...] = ()
    silences: tuple[SilenceRow, ...] = ()
    late_inputs: tuple[ReadyRow, ...] = ()
    came: tuple[CameRow, ...] = ()
    owing: tuple[OwingRow, ...] = ()
    left_out: tuple[LeftOutRow, ...] = ()

    @property
    def nothing_new(self) -> bool:
        """Whether there is nothing to write."""
        rows = (self.stops, self.go_aheads, self.changes, self.promised, self.noted, self.ours, self.silences)
        return not any((*rows, self.late_inputs, self.came, self.owing))


def mail(picture: Picture, supplier: str, since: date | None = None, entries: Entries = NO_ENTRIES) -> Mail:
    """Gather what to write to ``supplier``, not our own bench.

    The news begins after the last mail logged, or on the day ``since`` (inclusive); where no mail was ever logged it
    is the present matter. Of ``entries``, facts corrected after that mail are news again. What still stands (shut gates, dates without news, late inputs, what we owe) is repeated
    in every mail that has news, and makes one by itself where there is no earlier mail to have said it.
    """
    case = case_of(picture, supplier, since, entries)
    stops = mail_standing.shut_gates(case)
    silences = tuple(mail_standing.silences(case, stops))
    late_inputs = tuple(mail_standing.late_inputs(case, stops))
    product, code = picture.plan.run.product, picture.plan.run.code
    blank = Mail(
        today=picture.today,
        supplier=supplier,
        greeting=_person(case, supplier),
        about=case.discretion.allowed(product) or case.discretion.allowed(code),
        reach=case.news.reach,
        since=case.news.since,
    )
    said = replace(
        blank,
        go_aheads=tuple(mail_standing.go_aheads(case, stops)),
        changes=tuple(mail_facts.changes(case)),
        promised=tuple(mail_facts.promised(case, stops)),
        noted=tuple(mail_facts.noted(case)),
        ours=tuple(mail_facts.ours(case)),
        came=tuple(mail_facts.came(case)),
        left_out=tuple(case.left_out),
    )
    fresh = any(is_fresh for _, is_fresh in (*stops.values(), *silences, *late_inputs))
    if said.nothing_new and not fresh and case.news.reach == "last mail":
        return blank
    return replace(
        said,
        stops=tuple(row for row, _ in stops.values()),
        silences=tuple(row for row, _ in silences),
        late_inputs=tuple(row for row, _ in late_inputs),
        owing=tuple(mail_standing.owing(case, stops)),
    )


def _person(case: Case, supplier: str) -> str:
    """The name their contact begins with, such as ``Dave`` of ``Dave, +44 ...``; nothing for a desk or a number."""
    contact = case.picture.plan.supplier_by_code[supplier].contact
    name = case.discretion.allowed(before_the_number(contact))
    words = name.split()
    named = all(word[0].isalpha() and not word[0].islower() for word in words)
    plain = any(word.casefold().strip(".") in PLAIN_WORDS for word in words)
    return name if 0 < len(words) <= _MOST_WORDS and named and not plain else ""

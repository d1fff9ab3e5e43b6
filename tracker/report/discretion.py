"""What a text for one supplier may hold: nobody it should not name, and no money.

A text that may not stand is left out whole; nothing is ever cut out of its middle.
"""

from typing import Literal

from tracker.plan.model import Job, Plan
from tracker.report.money_words import speaks_of_money
from tracker.report.names import PLAIN_WORDS, names_of, pieces_of, spoken, telling, words_of

Trouble = Literal["", "names others", "speaks of money"]


class Discretion:
    """Judges texts meant for ``supplier``.

    What names another supplier: their code, name (also its words of four letters and more), public name, contact
    (also every name in it), unless plain words of the trade; and their jobs by code and names. What this supplier's
    own codes, names and contact hold as well gives nothing away; words of this supplier's own jobs only excuse words
    of others' jobs. Our own bench is no other supplier.
    """

    def __init__(self, plan: Plan, supplier: str) -> None:
        own = plan.supplier_by_code[supplier]
        self._own_words = spoken(names_of(own))
        own_jobs = (name for job in plan.jobs if job.supplier == supplier for name in _names_of_job(job))
        self._own_work = f"{self._own_words} {spoken(own_jobs)}"
        others = [one for one in plan.suppliers if one.code != supplier and not one.inhouse]
        theirs = {one.code for one in others}
        plain = {*PLAIN_WORDS, *(word for job in plan.jobs for word in words_of(job.process))}
        self._people = telling(
            (name for one in others for name in (*names_of(one), *pieces_of(one, plain))), self._own_words
        )
        self._work = telling(
            (name for job in plan.jobs if job.supplier in theirs for name in _names_of_job(job)),
            self._own_work,
        )
        self._currency = plan.run.currency

    def trouble(self, text: str) -> Trouble:
        """Why ``text`` may not stand in a mail to this supplier; ``""`` where it may."""
        said = spoken((text,))
        if any(name in said for name in (*self._people, *self._work)):
            return "names others"
        return "speaks of money" if speaks_of_money(text, self._currency) else ""

    def allowed(self, text: str) -> str:
        """The text on one line, or ``""`` where it may not stand."""
        return "" if self.trouble(text) else " ".join(text.split())

    def job_name(self, job: Job) -> str:
        """What this supplier's job is called in a mail: its name, else its code; ``your work`` where both tell too much."""
        return self.allowed(job.name) or self.allowed(job.code) or "your work"


def _names_of_job(job: Job) -> tuple[str, ...]:
    return (job.code, job.name, job.public_name)

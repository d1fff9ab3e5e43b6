"""From a maker's table and what its columns hold to the jobs, suppliers and facts of a plan."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from tracker.errors import Problem, Refused
from tracker.plan.check_facts import fact_name
from tracker.plan.model import Fact, Job, Link, Plan
from tracker.planfile.faults import BadValue, bad
from tracker.planfile.gathering import Row as Entry
from tracker.planfile.grid import Value, cell_name
from tracker.sheet.answers import Answers
from tracker.sheet.clocks import clocks_told
from tracker.sheet.facts import noted, ordered, promised, status_told
from tracker.sheet.items import Items, plain
from tracker.sheet.lengths import STAND_IN, Subject, Words, lead_of, travel_of, words_about
from tracker.sheet.model import Chosen, Draft, Question, SheetTable, Skipped
from tracker.sheet.rows import Coded, Row, Sorted, code_rows, items_of, sort_rows
from tracker.sheet.suppliers import Suppliers, set_countries
from tracker.sheet.values import NOT_YET, cell_problem, day_of, error_in, pieces, text_of
from tracker.words.dates import DateReader, Looking


@dataclass(slots=True, kw_only=True)
class _Findings:
    """What is gathered while the rows are read."""

    problems: list[Problem] = field(default_factory=list)
    unreadable: set[str] = field(default_factory=set)
    questions: list[Question] = field(default_factory=list)
    chosen: list[Chosen] = field(default_factory=list)
    open_leads: set[str] = field(default_factory=set)
    jobs: list[Job] = field(default_factory=list)
    facts: list[Fact] = field(default_factory=list)

    def add(self, place: str, error: BadValue, *spoilt: str) -> None:
        """Keep the faults of a cell; ``spoilt`` are the codes that cannot be read in full for it."""
        self.problems += cell_problem(place, error)
        self.unreadable.update(spoilt)

    def raised(self, what: Chosen | Question | None) -> None:
        """Keep a choice or a question."""
        if isinstance(what, Question):
            self.questions.append(what)
        elif what is not None:
            self.chosen.append(what)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Setting:
    """What all rows are read against."""

    plan: Plan
    codes: frozenset[str]
    items: Items
    suppliers: Suppliers
    words: Words
    reader: DateReader
    today: date


def draft(
    table: SheetTable,
    roles: Mapping[int, str],
    *,
    plan: Plan,
    answers: Answers,
    source: str,
    today: date,
) -> Draft:
    """Make jobs, suppliers and facts of a sheet's rows.

    Parameters
    ----------
    table : SheetTable
        The table with the maker's own headings.
    roles : mapping of int to str
        What the columns hold, by their place among the headings; others are not looked at.
    plan : Plan
        What is stored: its jobs and suppliers are found again by code or name and keep what the sheet does not say.
    answers : Answers
        What was said about leads and countries.
    source : str
        The file's name, which begins the place of every problem.
    today : date
        The status date; promises and notes of the sheet count as given on it.

    Returns
    -------
    Draft
        The entries, with all problems and everything that still needs a word.

    Raises
    ------
    Refused
        If a column that is read holds a formula whose value was never worked out; the message names the cell.
    """
    _refuse_unworked(table, roles)
    found = _Findings()
    rows = sort_rows(table, roles, plan, source)
    found.problems += rows.problems
    coded, chosen = code_rows(rows.rows, plan)
    found.chosen += chosen
    suppliers = Suppliers(plan, (plan.run.code, *plan.job_by_code, *plan.shipment_by_code, *coded))
    theirs = _supplied(coded, suppliers, found)
    items = Items(items_of(coded, plan), {one.words: one.row for one in rows.skipped})
    for place, error in set_countries(suppliers, answers.countries):
        found.add(place, error)
    words, faults = words_about(answers, items, suppliers)
    for place, error in faults:
        found.add(place, error)
    reader = DateReader(today=today, order=plan.run.dates, earliest=plan.run.start)
    setting = _Setting(
        plan=plan,
        codes=frozenset(coded),
        items=items,
        suppliers=suppliers,
        words=words,
        reader=reader,
        today=today,
    )
    for code, (row, job) in coded.items():
        subject = Subject(code=code, row=row, supplier=theirs[code], stored=job)
        found.jobs.append(_job(subject, setting, found))
        found.facts += _dated(subject, setting, found)
    return _drafted(table, coded, rows, theirs, setting, found)


def _refuse_unworked(table: SheetTable, roles: Mapping[int, str]) -> None:
    cells = sorted((row, at) for row, at in table.unworked if at in roles)
    if cells:
        row, at = cells[0]
        more = f" (and {len(cells) - 1} more)" if len(cells) > 1 else ""
        raise Refused(
            f"sheet {table.sheet}, {cell_name(row - 1, table.columns[at])}{more}: a formula whose value was never worked out",
            hint="open the file in a spreadsheet program and save it, then read it again",
        )


def _drafted(
    table: SheetTable,
    coded: Coded,
    rows: Sorted,
    theirs: Mapping[str, str],
    setting: _Setting,
    found: _Findings,
) -> Draft:
    suppliers = tuple(setting.suppliers.found.values())
    return Draft(
        plan=Plan(
            run=setting.plan.run, suppliers=suppliers, jobs=tuple(found.jobs), facts=tuple(found.facts)
        ),
        rows={code: row.number for code, (row, _) in coded.items()},
        entries=_entries({code: row for code, (row, _) in coded.items()}, theirs, found.facts),
        problems=tuple(found.problems),
        unreadable=frozenset(found.unreadable),
        questions=tuple(found.questions),
        chosen=tuple(found.chosen),
        open_leads=frozenset(found.open_leads),
        skipped=tuple(sorted((*rows.skipped, *_notes(table)), key=lambda one: one.row)),
        remarks=(
            *setting.suppliers.remarks,
            *_unlinked(found.jobs, setting.plan, found.unreadable),
            *clocks_told(found.jobs, suppliers),
            *status_told(coded, setting.plan, setting.today),
        ),
        without_country=tuple(one.code for one in suppliers if not one.country),
    )


def _unlinked(jobs: Sequence[Job], stored: Plan, unreadable: Collection[str]) -> Iterator[str]:
    """A remark where no job waits for any other, so that the forecast begins them all at once."""
    if len(jobs) > 1 and "" not in unreadable and not any(job.after for job in (*jobs, *stored.jobs)):
        yield (
            "no job here waits for another, so all begin at once; say what each waits for in a column headed Needs,"
            f" or later: tracker set {jobs[-1].code} after={jobs[0].code}"
        )


def _notes(table: SheetTable) -> Iterator[Skipped]:
    """Lines of one cell that were taken for titles or notes when the table was found."""
    for row in table.left_out:
        words = next((text_of(cell) for cell in row.cells if text_of(cell)), "")
        yield Skipped(row=row.number, words=words, why="a title or a note")


def _entries(
    rows: Mapping[str, Row], theirs: Mapping[str, str], facts: Iterable[Fact]
) -> dict[str, tuple[Entry, ...]]:
    """The rows of jobs, of suppliers (the first that names them) and of facts, by what problems call them."""
    jobs = {
        code: Entry(number=row.number, values={}, place=row.short, cells=_cells(row))
        for code, row in rows.items()
    }
    found = {f"job {code}": (entry,) for code, entry in jobs.items()}
    for code, supplier in theirs.items():
        found.setdefault(f"supplier {supplier}", (jobs[code],))
    return {**found, **{f"fact {fact_name(fact)}": (jobs[fact.job],) for fact in facts}}


def _cells(row: Row) -> dict[str, str]:
    """The columns by the key of a plan that they fill."""
    return {_KEYS.get(role, role): row.cell(role) for role in row.columns}


_KEYS = {"item": "name", "not-before": "not_before"}
_NAME_ONE = "write one ('screw maker' will do until you have one), or 'us' for work of your own"


def _supplied(coded: Coded, suppliers: Suppliers, found: _Findings) -> dict[str, str]:
    """Each job's supplier by code, with the contact and country its row gives; ``""`` where none can be read."""
    theirs: dict[str, str] = {}
    for code, (row, job) in coded.items():
        name = row.text("supplier") or (job.supplier if job else "")
        theirs[code] = ""
        if not name and not row.has("supplier"):
            found.unreadable.update((code, ""))
            continue
        try:
            if name.lower() in NOT_YET:
                raise bad("has no supplier", _NAME_ONE)
            if error := error_in(name):
                raise error
            theirs[code] = suppliers.code_of(name)
        except BadValue as error:
            found.add(row.where("supplier"), error, code, "")
            continue
        suppliers.add_contact(theirs[code], row.text("contact"))
        country = row.text("country")
        if country.lower() not in NOT_YET:
            try:
                suppliers.add_country(theirs[code], country)
            except BadValue as error:
                found.add(row.where("country"), error)
    return theirs


def _job(subject: Subject, setting: _Setting, found: _Findings) -> Job:
    """The job of a row, on top of the stored one where there is one."""
    row, stored = subject.row, subject.stored
    lead, said, raised = lead_of(subject, setting.words)
    found.raised(raised)
    if lead is None and stored is None:
        found.open_leads.add(subject.code)
    travel, raised = travel_of(subject, setting.words)
    found.raised(raised)
    job = stored or Job(code=subject.code, supplier=subject.supplier, lead=STAND_IN)
    changes: dict[str, Any] = {
        "name": "" if stored and plain(row.name) == plain(stored.code) else row.text("item") or row.name,
        "supplier": subject.supplier,
        "lead": lead,
        "said": "; ".join(filter(None, (said, row.text("said")))),
        "travel": travel,
        "process": row.text("process"),
        "quantity": _value(subject, "quantity", found, pieces),
        "not_before": _value(
            subject, "not-before", found, lambda value: day_of(value, setting.reader, "forward")
        ),
        "after": _value(subject, "after", found, lambda value: _links(value, job, setting)),
    }
    if stored and lead not in (None, stored.lead) and not said:
        job = replace(job, said="")
    return replace(job, **{key: value for key, value in changes.items() if value not in ("", None)})


def _dated(subject: Subject, setting: _Setting, found: _Findings) -> tuple[Fact, ...]:
    """New facts of a row."""
    plan, today, code = setting.plan, setting.today, subject.code
    facts: list[Fact] = []

    def log(value: Value, fact: Callable[..., Iterator[Fact]], looking: Looking) -> None:
        day = day_of(value, setting.reader, looking)
        facts.extend(fact(code, day, plan, today) if day else ())

    _value(subject, "ordered", found, lambda value: log(value, ordered, "back"))
    _value(subject, "promised", found, lambda value: log(value, promised, "forward"))
    return (*facts, *noted(code, subject.row.text("note"), plan, today))


def _value(subject: Subject, role: str, found: _Findings, read: Callable[[Value], Any]) -> Any:
    """What a cell holds, None where it cannot be read: its faults are kept."""
    try:
        return read(subject.row.value(role))
    except BadValue as error:
        found.add(subject.row.where(role), error, subject.code, *([""] if role == "after" else ()))
        return None


def _links(value: Value, job: Job, setting: _Setting) -> tuple[Link, ...] | None:
    """The links a cell names, those stored already as they are, and stored ones to jobs the sheet does not hold.

    None where it says nothing at all; a word for nothing, such as none, takes all links away.
    """
    text = text_of(value)
    if not text:
        return None
    known = {link.job: link for link in job.after}
    named = setting.items.codes_in(text)
    if not named:
        return ()
    elsewhere = tuple(link for link in job.after if link.job not in {*setting.codes, *named})
    return (*(known.get(code, Link(job=code)) for code in named), *elsewhere)

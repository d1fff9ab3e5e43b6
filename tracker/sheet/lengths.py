"""Leads and travel of a sheet's rows: the reading to plan with, and who chose it."""

from dataclasses import dataclass

from tracker.plan.model import Job
from tracker.plan.span import NO_DAYS, Lead, Span, Unit
from tracker.planfile.faults import BadValue, bad
from tracker.sheet.answers import Answers, Word
from tracker.sheet.items import Items
from tracker.sheet.leads import Heard, read_days
from tracker.sheet.model import AS_BEFORE, Chosen, Question
from tracker.sheet.rows import Row
from tracker.sheet.suppliers import Suppliers
from tracker.sheet.values import NOT_YET, is_nothing, text_of

STAND_IN = Lead(1, 1, 1, "wd")


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """What was said about leads beforehand: units of groups, of suppliers and of jobs, by code."""

    answers: Answers
    by_job: dict[str, Word]
    by_supplier: dict[str, Unit]


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """The job a length belongs to: its code, row, item, supplier, and the stored job where there is one."""

    code: str
    row: Row
    supplier: str
    stored: Job | None


def words_about(
    answers: Answers, items: Items, suppliers: Suppliers
) -> tuple[Words, list[tuple[str, BadValue]]]:
    """Look up the jobs and suppliers that ``leads`` names; faults come with the words typed."""
    by_job: dict[str, Word] = {}
    by_supplier: dict[str, Unit] = {}
    faults = []
    for name, word in answers.named.items():
        try:
            supplier = suppliers.known(name)
            if supplier and not items.knows(name):
                by_supplier[supplier] = _unit(supplier, word)
            else:
                by_job[items.one_in_sheet(name)] = word
        except BadValue as error:
            faults.append((f"leads {name}", error))
    return Words(answers=answers, by_job=by_job, by_supplier=by_supplier), faults


def _unit(supplier: str, word: Word) -> Unit:
    if isinstance(word, Lead):
        raise bad(
            f"{supplier} is a supplier; a lead is set job by job", f"write {supplier}=wd or {supplier}=cd"
        )
    return word


def lead_of(subject: Subject, words: Words) -> tuple[Lead | None, str, Chosen | Question | None]:
    """The lead to plan with (None: keep the stored one), the words to keep, and the choice or question they raise."""
    heard = _heard(subject.row, "lead", words.answers)
    said = "" if heard.exact else heard.said
    word = words.by_job.get(subject.code)
    if isinstance(word, Lead):
        return word, said, _chosen(subject, heard.said, str(word), "as you said")
    if not heard.said and (subject.stored is not None or not subject.row.has("lead")):
        return None, "", None
    lead, why = heard.lead, ""
    if lead is None:
        unit, why = (word, "as you said") if word else _unit_for(subject, heard, words)
        lead = heard.read_as(unit) if unit else None
    elif word and lead.unit != word and lead.high:
        return None, said, _question(subject, _contradicted(heard, f"{subject.code}={word}"), "lead")
    if lead is None:
        return None, said, _as_before(subject, heard) or _question(subject, heard, "lead")
    return lead, said, None if heard.is_plain else _chosen(subject, heard.said, str(lead), why)


def _contradicted(heard: Heard, typed: str) -> Heard:
    """A clear length for which another unit was typed."""
    return Heard(
        said=heard.said, trouble=f"says {heard.lead}, but leads {typed}", remedy="take one of the two out"
    )


def _as_before(subject: Subject, heard: Heard) -> Chosen | None:
    """The stored lead, where these words were given it at an earlier read or it is one of their readings."""
    stored = subject.stored
    if stored is None or not isinstance(stored.lead, Lead):
        return None
    kept = stored.said == heard.said or stored.said.startswith(f"{heard.said}; ")
    if not kept and stored.lead not in (heard.working, heard.calendar):
        return None
    return _chosen(subject, heard.said, str(stored.lead), AS_BEFORE)


def travel_of(subject: Subject, words: Words) -> tuple[Span | None, Chosen | Question | None]:
    """The travel to plan with (None: keep the stored one), and the choice or question it raises.

    Of a range the long end counts.
    """
    if text_of(subject.row.value("travel")).lower() in NOT_YET:
        return None if text_of(subject.row.value("travel")) in ("", "?") else NO_DAYS, None
    heard = _heard(subject.row, "travel", words.answers)
    word = words.answers.travel.get(subject.code) or words.answers.groups.get("travel")
    why = "as you said"
    if isinstance(word, Lead):
        return _span(word), _chosen(subject, heard.said, f"{_span(word)} on the road", why)
    lead = heard.lead
    if lead is None:
        unit: Unit | None = word
        if unit is None:
            unit, why = _unit_for(subject, heard, words)
        lead = heard.read_as(unit) if unit else None
    elif heard.is_plain and lead.low == lead.high:
        return _span(lead), None
    else:
        why = ""
    if lead:
        return _span(lead), _chosen(subject, heard.said, f"{_span(lead)} on the road", why)
    stored = subject.stored
    if stored is not None and stored.travel in [_span(one) for one in (heard.working, heard.calendar) if one]:
        return None, _chosen(subject, heard.said, f"{stored.travel} on the road", AS_BEFORE)
    return None, _question(subject, heard, "travel")


def _heard(row: Row, role: str, answers: Answers) -> Heard:
    value = row.value(role)
    unit = row.text("unit") if role == "lead" else ""
    heard = Heard() if is_nothing(value) else read_days(value, row.heading(role), unit)
    if heard.kind == "numbers" and answers.numbers_are:
        return read_days(f"{heard.said} {answers.numbers_are}")
    return heard


def _unit_for(subject: Subject, heard: Heard, words: Words) -> tuple[Unit | None, str]:
    """The unit given to a supplier's lengths or to a group of them, and by which words."""
    groups = words.answers.groups
    if heard.kind is None:
        return None, ""
    if subject.supplier in words.by_supplier:
        unit = words.by_supplier[subject.supplier]
        return unit, f"{subject.supplier}={unit}"
    for group in (heard.kind, "all"):
        if group in groups:
            return groups[group], f"{group}={groups[group]}"
    return None, ""


def _span(lead: Lead) -> Span:
    return Span(lead.high if lead.likely is None else lead.likely, lead.unit)


def _chosen(subject: Subject, said: str, read_as: str, why: str) -> Chosen:
    return Chosen(row=subject.row.number, job=subject.code, said=said, read_as=read_as, why=why)


def _question(subject: Subject, heard: Heard, role: str) -> Question:
    return Question(
        place=subject.row.where(role),
        row=subject.row.number,
        job=subject.code,
        item=subject.row.name,
        supplier=subject.supplier,
        is_travel=role == "travel",
        heard=heard,
    )

"""What ``read`` says of the jobs and suppliers that a maker's own sheet would make; all of it on standard error."""

from collections.abc import Iterable, Sequence

from tracker.cli.session import say
from tracker.cli.sheet_talk import MOST_ROWS, more_line, own_paper, shortened
from tracker.plan.model import Job
from tracker.render.paper import Paper
from tracker.render.words import full_day, plural
from tracker.sheet.model import AS_BEFORE, Chosen, Draft, Question

MOST_ALIKE = 3
_ITEM, _WORDS, _LENGTH, _WIDE = 36, 28, 12, 110
_COUNTED = {"days": "in days", "weeks": "in weeks", "numbers": "without a unit"}


def tell_draft(draft: Draft, stored: frozenset[str]) -> None:
    """The suppliers and jobs made, the readings chosen, and what is left open or left out."""
    sheet = own_paper()
    _suppliers(draft, stored, sheet)
    _jobs(draft, stored, sheet)
    shown = [job for job in draft.plan.jobs if job.code not in stored][:MOST_ROWS]
    _chosen([one for one in draft.chosen if not any(_in_table(one, job) for job in shown)], sheet)
    _questions(draft.questions, sheet)
    for remark in draft.remarks:
        sheet.line(remark)
    if draft.without_country:
        pairs = " ".join(f"{code}=GB" for code in draft.without_country)
        sheet.line(
            f"{plural(len(draft.without_country), 'supplier has', 'suppliers have')} no country, so no public holidays;"
            f" add, with each one's own code for GB: countries {pairs}"
        )
    _skipped(draft, sheet)
    say(sheet.text())


def _suppliers(draft: Draft, stored: frozenset[str], sheet: Paper) -> None:
    new = [one for one in draft.plan.suppliers if one.code not in stored]
    if not new:
        return
    sheet.line(f"{plural(len(new), 'new supplier')}:")
    rows = [
        (one.code, one.name, one.country or "no country", "our own" if one.inhouse else one.contact)
        for one in new
    ]
    sheet.table(("", "", "", ""), rows)


def _jobs(draft: Draft, stored: frozenset[str], sheet: Paper) -> None:
    new = [job for job in draft.plan.jobs if job.code not in stored]
    if not new:
        return
    shows = {"item": sheet.width >= _WIDE, "pcs": any(job.quantity for job in new)}
    columns = ["row", "job", "item", "supplier", "pcs", "lead", "waits for"]
    columns = [name for name in columns if shows.get(name, True)]
    sheet.line(f"{plural(len(new), 'new job')}:")
    rows = []
    for job in new[:MOST_ROWS]:
        cells = {
            "row": str(draft.rows[job.code]),
            "job": job.code,
            "item": shortened(job.name, _ITEM),
            "supplier": job.supplier,
            "pcs": str(job.quantity or "-"),
            "lead": _lead(job, draft),
            "waits for": _waits(job),
        }
        rows.append([cells[name] for name in columns])
    sheet.table(columns, rows)
    more_line(len(new), sheet)


def _lead(job: Job, draft: Draft) -> str:
    """The lead, the words it was read from where they are short, and the travel; a question mark where one is open."""
    asked = {
        one.is_travel: f"{shortened(one.heard.said, _LENGTH)} ?".lstrip()
        for one in draft.questions
        if one.job == job.code
    }
    if job.code in draft.open_leads:
        lead = asked.get(False, "?")
    else:
        words = next((one.said for one in draft.chosen if _in_table(one, job)), "")
        lead = f"{job.lead} ({words})" if words else str(job.lead)
    road = asked.get(True, str(job.travel) if job.travel.days else "")
    return f"{lead} +{road}" if road else lead


def _in_table(one: Chosen, job: Job) -> bool:
    """Whether the words of a lead are short enough to stand in the table of new jobs."""
    return one.job == job.code and one.read_as == str(job.lead) and 0 < len(one.said) <= _LENGTH


def _waits(job: Job) -> str:
    """What a job waits for: others, and a day it may not start before."""
    waits = [link.job for link in job.after]
    waits += [f"not before {full_day(job.not_before)}"] if job.not_before else []
    return ", ".join(waits) or "-"


def tell_chosen(chosen: Iterable[Chosen]) -> None:
    """The readings chosen by what was just answered."""
    sheet = own_paper()
    _chosen(tuple(chosen), sheet)
    say(sheet.text())


def _chosen(every: Sequence[Chosen], sheet: Paper) -> None:
    """The readings chosen now; those chosen at an earlier read are only counted."""
    chosen = [one for one in every if one.why != AS_BEFORE]
    if len(every) > len(chosen):
        sheet.line(f"{plural(len(every) - len(chosen), 'length is', 'lengths are')} read as before")
    if not chosen:
        return
    sheet.line("read as:")
    rows = [
        (
            f"row {one.row}",
            one.job,
            f"'{shortened(one.said, _WORDS)}'" if one.said else "nothing",
            one.read_as,
            one.why,
        )
        for one in chosen[:MOST_ROWS]
    ]
    sheet.table(("", "", "", "", ""), rows)
    more_line(len(chosen), sheet)


def _questions(questions: Sequence[Question], sheet: Paper) -> None:
    if not questions:
        return
    sheet.line("these need a word (wd = their working days, cd = calendar days):")
    for like in _alike(questions):
        shown = like if len(like) <= MOST_ALIKE else like[:1]
        for question in shown:
            sheet.line(question_text(question), indent=2)
        if len(like) > len(shown):
            sheet.line(f"and so {len(like) - 1} more {_COUNTED[like[0].heard.kind or '']}", indent=4)


def _alike(questions: Sequence[Question]) -> list[list[Question]]:
    """Questions by what one word can answer; those with no reading yet, in the end, each by itself."""
    groups: dict[tuple[bool, str], list[Question]] = {}
    for one in questions:
        if one.heard.kind:
            groups.setdefault((one.is_travel, one.heard.kind), []).append(one)
    return [*groups.values(), *([one] for one in questions if not one.heard.kind)]


def question_text(question: Question) -> str:
    """``row 9 boxes '20 days': wd (20wd) or cd (20cd)?``."""
    heard = question.heard
    what = " on the road" if question.is_travel else ""
    start = f"row {question.row} {question.job}"
    if heard.kind:
        more = "; or are these weeks?" if heard.kind == "numbers" else "?"
        return f"{start} '{heard.said}'{what}: wd ({heard.working}) or cd ({heard.calendar}){more}"
    return f"{start}: {heard.trouble or 'no lead'}; how long is it{what}?"


def _skipped(draft: Draft, sheet: Paper) -> None:
    if not draft.skipped:
        return
    sheet.line(f"{plural(len(draft.skipped), 'row')} left out:")
    for one in draft.skipped[:MOST_ROWS]:
        words = f" '{shortened(' '.join(one.words.split()), _ITEM)}'" if one.words else ""
        sheet.line(f"row {one.row}{words}: {one.why}", indent=2)
    more_line(len(draft.skipped), sheet)

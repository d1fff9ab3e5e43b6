"""What was said, done, changed and delivered since the last mail, from the facts that are news."""

from collections.abc import Container, Iterator, Mapping, Sequence

from tracker.plan.fact_fields import COUNTS
from tracker.plan.model import Fact, Job
from tracker.report.counts import count_row
from tracker.report.mail_case import Case
from tracker.report.mail_rows import CameRow, Change, ChangeRow, NotedRow, OursRow, PromisedRow

_STEPS = ("started", "made", "left", "finished", "passed", "failed")
_COUNTED = ("in", "sorted")
_CHANGES: Mapping[str, Change] = {"called_off": "called off", "paused": "paused", "resumed": "resumed"}


def promised(case: Case, stopped: Container[str]) -> Iterator[PromisedRow]:
    """For each open job the date that counts, where it was given since and is still to come; none of stopped jobs."""
    for job in case.jobs:
        lot = case.open_lot(job)
        if lot is None or job.code in stopped or case.picture.forecast.progress(lot).promise is None:
            continue
        *earlier, live = _promises(case, job)
        given_since = any(fact is live for fact in case.news.facts)
        if given_since and live.day is not None and live.day >= case.picture.today:
            before = earlier[-1].day if earlier else None
            yield PromisedRow(
                job=case.name(job),
                day=live.day,
                means=live.means or case.picture.plan.supplier_by_code[job.supplier].dates_mean,
                given=live.on,
                words=case.text(job, live.words, "words"),
                before=None if before == live.day else before,
                worst=live.worst,
                pieces=live.good,
            )


def _promises(case: Case, job: Job) -> list[Fact]:
    """The job's promises up to today by the day given, the one that counts last."""
    facts = case.picture.plan.facts_by_job.get(job.code, ())
    return [fact for fact in facts if fact.kind == "promised" and fact.day and fact.on <= case.picture.today]


def noted(case: Case) -> Iterator[NotedRow]:
    """How far each job is by its last step logged since, unless something of it came on that day or later."""
    for job in case.jobs:
        steps = [fact for fact in case.news.of(job.code) if _is_step(fact)]
        came = [fact.on for fact in case.news.of(job.code) if fact.kind == "in"]
        if not steps or (came and came[-1] >= steps[-1].on):
            continue
        last = steps[-1]
        kind = last.what or last.kind
        yield NotedRow(job=case.name(job), kind=kind, on=last.on, day=last.day, pieces=last.good)


def _is_step(fact: Fact) -> bool:
    return fact.kind in _STEPS or (fact.kind == "given" and fact.what == "day1")


def ours(case: Case) -> Iterator[OursRow]:
    """Orders placed and conditions given since, of open jobs."""
    for job in case.jobs:
        if case.open_lot(job) is None:
            continue
        for fact in case.news.of(job.code):
            if fact.kind == "ordered":
                yield OursRow(job=case.name(job), what="order", on=fact.on, pieces=fact.quantity)
            elif fact.kind == "given" and fact.what != "day1":
                yield OursRow(job=case.name(job), what=fact.what, on=fact.on, pieces=None)


def changes(case: Case) -> Iterator[ChangeRow]:
    """Each job's last call-off, pause or resumption since."""
    for job in case.jobs:
        last = next((fact for fact in reversed(case.news.of(job.code)) if fact.kind in _CHANGES), None)
        if last is not None:
            yield ChangeRow(job=case.name(job), kind=_CHANGES[last.kind], on=last.on, until=last.day)


def came(case: Case) -> Iterator[CameRow]:
    """Every delivery and every later judgement since, oldest first within a job."""
    for job in case.jobs:
        facts = [fact for fact in case.news.of(job.code) if fact.kind in _COUNTED]
        if not facts:
            continue
        counts = count_row(case.picture, job.code)
        for fact, unjudged in zip(facts, _still_unjudged(facts, counts.unjudged), strict=True):
            last = fact is facts[-1] and case.open_lot(job) is not None
            yield _came(case, job, fact, unjudged, counts.to_come if last else None)


def _still_unjudged(facts: Sequence[Fact], unjudged: int) -> list[int]:
    """Of each delivery's pieces counted but not judged, those not judged since; the oldest are judged first."""
    found = []
    for fact in reversed(facts):
        found.append(min(fact.count or 0, max(0, unjudged)))
        unjudged -= fact.count or 0
    return found[::-1]


def _came(case: Case, job: Job, fact: Fact, unjudged: int, to_come: int | None) -> CameRow:
    good, rework, scrap = (getattr(fact, name) or 0 for name in COUNTS)
    ref = case.text(job, fact.ref, "delivery note")
    return CameRow(
        job=case.name(job),
        on=fact.on,
        judged_later=fact.kind == "sorted",
        received=fact.pieces,
        good=good,
        rework=rework,
        scrap=scrap,
        unjudged=unjudged,
        ref=ref,
        remark=case.text(job, fact.note, f"note on {ref}" if ref else "note"),
        to_come=to_come or None,
        closes=fact.closes,
        corrects=case.news.corrects(fact),
    )

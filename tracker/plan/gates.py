"""Gates and their second attempts: which check opens a gate, and which jobs run only after a failure."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from tracker.plan.model import Fact, Job, Outcome, Plan
from tracker.plan.progress import latest_results


@dataclass(frozen=True, slots=True, kw_only=True)
class Gates:
    """How the plan's gates stand.

    ``opener`` gives, for each gate of a family (a gate and its retries), the one whose pass opens it now.
    ``failed_on`` gives the day of a gate's latest result when that was a failure. ``dormant`` jobs are not
    needed as things stand: they wait for a failure that has not come, or are a second attempt not called for and not begun.
    """

    opener: Mapping[str, str]
    failed_on: Mapping[str, int]
    dormant: frozenset[str]


NO_GATES = Gates(opener={}, failed_on={}, dormant=frozenset())


def gates_of(plan: Plan, today: date, *, as_planned: bool = False) -> Gates:
    """Read how the plan's gates stand on ``today``, with what is foreseen; ``as_planned`` looks at no facts."""
    families = _families(plan)
    if not families:
        return NO_GATES
    until = plan.known_by(today)
    facts = () if as_planned else tuple(fact for fact in plan.facts if fact.on <= until)
    results = latest_results(facts)
    called_off = _called_off(facts)
    touched = {fact.job for fact in facts if fact.kind != "note"}
    failed_on = {code: day for code, (day, _, outcome) in results.items() if outcome == "fail"}
    opener: dict[str, str] = {}
    dormant = {
        job.code for job in plan.jobs if _waits_for_no_failure(job, failed_on) and job.code not in touched
    }
    for family in families.values():
        opening = _opening(family, results, called_off)
        opener.update(dict.fromkeys(family, opening))
        dormant.update(code for code in family[1:] if code != opening and code not in results)
    return Gates(opener=opener, failed_on=failed_on, dormant=frozenset(dormant))


def _families(plan: Plan) -> dict[str, list[str]]:
    """Gates by the first of their family, each family in plan order; a gate alone is a family of one."""
    jobs = plan.job_by_code
    families: dict[str, list[str]] = {}
    for job in plan.jobs:
        if job.gate or job.retry_of:
            families.setdefault(root_of(job, jobs), []).append(job.code)
    return {root: [root, *(code for code in codes if code != root)] for root, codes in families.items()}


def root_of(job: Job, jobs: Mapping[str, Job]) -> str:
    """The first gate of the family that ``job`` belongs to."""
    seen = {job.code}
    while job.retry_of in jobs and job.retry_of not in seen:
        job = jobs[job.retry_of]
        seen.add(job.code)
    return job.code


def _opening(
    family: list[str], results: Mapping[str, tuple[int, int, Outcome]], called_off: frozenset[str]
) -> str:
    """The latest pass; after a failure the first attempt still to come, else the failed one again."""
    known = {code: results[code] for code in family if code in results}
    if not known:
        return family[0]
    latest = max(known, key=lambda code: known[code])
    if known[latest][2] == "pass":
        return latest
    return next((code for code in family if code not in known and code not in called_off), latest)


def _called_off(facts: Iterable[Fact]) -> frozenset[str]:
    latest: dict[str, str] = {}
    for fact in sorted(facts, key=lambda one: one.on):
        if fact.kind in ("called_off", "resumed"):
            latest[fact.job] = fact.kind
    return frozenset(code for code, kind in latest.items() if kind == "called_off")


def _waits_for_no_failure(job: Job, failed_on: Mapping[str, int]) -> bool:
    return any(link.on == "fail" and link.job not in failed_on for link in job.after)

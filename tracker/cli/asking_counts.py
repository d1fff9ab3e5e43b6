"""Carrying out the asking verbs about parts; each imports only the report it prints."""

from tracker.cli.loading import load
from tracker.cli.session import put_view
from tracker.errors import Refused, UsageError
from tracker.plan.model import Plan


def show_need(today: str, *, as_json: bool) -> None:
    """What is needed."""
    from tracker.render.need_text import write_need
    from tracker.report.need import need_view

    view = need_view(load(today).picture)
    put_view(view, lambda paper: write_need(view, paper), as_json=as_json)


def show_where(word: str, today: str, *, as_json: bool) -> None:
    """Where the pieces of a part, or of all a job makes, are."""
    from tracker.render.where_text import write_where
    from tracker.report.where import where

    loaded = load(today)
    view = where(loaded.picture, _counted_code(loaded.plan, word))
    put_view(view, lambda paper: write_where(view, paper), as_json=as_json)


def _counted_code(plan: Plan, word: str) -> str:
    """The part, or the job that makes some, that a word stands for; the beginning of a part wins over that of a job."""
    from tracker.words.codes import codes_meant, find_code

    if not plan.parts:
        raise Refused(
            "this run counts no parts yet, so no piece has a place",
            hint="add one, then say who makes it: tracker add part housing; tracker set JOB makes=housing",
        )
    is_job = word.lower() in (code.lower() for code in plan.job_by_code)
    if not is_job and codes_meant(word, plan.part_by_code):
        return find_code(word, plan.part_by_code, "part")
    code = find_code(word, (*plan.part_by_code, *plan.job_by_code), "part or job")
    if code in plan.job_by_code and not plan.makes_of(plan.job_by_code[code]):
        raise UsageError(
            f"{code} makes no part",
            hint=f"say which with 'tracker set {code} makes=PART'; its page: tracker {code}",
        )
    return code

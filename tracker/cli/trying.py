"""Carrying out ``try``: read the words, forecast the plan as it would be, answer; nothing is written."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from tracker.cli.loading import Loaded, load
from tracker.cli.session import put_view, session
from tracker.errors import TrackerError
from tracker.render.try_text import write_span, write_try
from tracker.report.picture import Picture
from tracker.report.span import SpanView, span_report
from tracker.report.trying import TryView, try_report
from tracker.schedule.forecast import Forecast
from tracker.trying.model import TryOut
from tracker.trying.reading import read_try
from tracker.trying.span import TriedSpan, span_of


def try_words(words: Sequence[str], today: str, *, as_json: bool) -> None:
    """Answer what the words would do, on each day of a span where there is one."""
    loaded = load(today)
    span = span_of(words, loaded.plan, loaded.picture.today)
    if span is not None:
        table = _tabulated(loaded, span)
        put_view(table, lambda paper: write_span(table, paper), as_json=as_json)
        return
    view = _answered(loaded, words, typed_today=bool(today or session.today))
    put_view(view, lambda paper: write_try(view, paper), as_json=as_json)


def _answered(loaded: Loaded, words: Sequence[str], *, typed_today: bool) -> TryView:
    day = loaded.picture.today
    tried = read_try(words, loaded.plan, day)
    after = Picture(Forecast(tried.plan, day))
    view = try_report(loaded.picture, after, tried.facts, (*tried.edits, *tried.remarks), tried.touched)
    return replace(view, answer=replace(view.answer, typed_today=typed_today))


def _tabulated(loaded: Loaded, span: TriedSpan) -> SpanView:
    tried = [(day, _try(loaded, span, day)) for day in span.days]
    today = loaded.picture.today
    first = tried[0][1]
    return span_report(
        loaded.picture,
        [(day, Forecast(one.plan, today)) for day, one in tried],
        _beyond(loaded, span),
        first.facts,
        (*first.edits, *first.remarks),
    )


def _try(loaded: Loaded, span: TriedSpan, day: date) -> TryOut:
    return read_try(span.on(day), loaded.plan, loaded.picture.today)


def _beyond(loaded: Loaded, span: TriedSpan) -> Forecast | None:
    """The day after the span; None where nothing can be tried on it."""
    try:
        tried = _try(loaded, span, span.last + timedelta(days=1))
        return Forecast(tried.plan, loaded.picture.today)
    except TrackerError:
        return None

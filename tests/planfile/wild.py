"""Facts with every field their kind has, and texts of any characters."""

from datetime import date

from hypothesis import strategies as st

from tracker.plan.fact_fields import FACT_FIELDS, GIVEN_WHAT
from tracker.plan.model import Fact, Link, Told
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import DayRate, HourRate, Lead, Span

texts = st.text(max_size=30)
codes = st.from_regex(r"[A-Za-z][A-Za-z0-9._-]{0,8}", fullmatch=True)
days = st.dates(date(1990, 1, 1), date(2100, 12, 31))
spans = st.builds(Span, st.integers(0, 3650), st.sampled_from(("wd", "cd")))
counts = st.integers(0, 10**9)
means = st.sampled_from(("in hand", "leaves"))
positive = st.fractions(min_value=0, max_value=10**6, max_denominator=10**6)

_VALUES = {
    "job": codes, "shipment": codes, "supplier": codes, "part": codes, "option": codes, "what": st.sampled_from(GIVEN_WHAT), "day": days,
    "first": days, "worst": days, "means": means, "exactly": st.just(True), "words": texts, "good": counts,
    "rework": counts, "scrap": counts, "count": counts, "quantity": counts, "ref": texts, "closes": st.just(True),
    "note": texts,
}  # fmt: skip


@st.composite
def facts(draw):
    """A fact with what its kind needs and any of what it may have."""
    kind = draw(st.sampled_from(tuple(FACT_FIELDS)))
    shape = FACT_FIELDS[kind]
    some = draw(st.lists(st.sampled_from((*shape.takes, "note")), unique=True))
    values = {name: draw(_VALUES[name]) for name in dict.fromkeys((*shape.needs, *some))}
    return Fact(on=draw(days), kind=kind, logged=draw(days), **values)


@st.composite
def leads(draw):
    """A lead in each of its forms, or a rate with exact numbers."""
    low, likely, high = sorted(draw(st.tuples(*[st.integers(0, 3650)] * 3)))
    unit = draw(st.sampled_from(("wd", "cd")))
    return draw(
        st.sampled_from(
            (Lead(low, None, high, unit), Lead(low, likely, high, unit), Lead(low, low, low, unit))
        )
        | st.builds(DayRate, setup=st.integers(0, 3650), per_day=positive)
        | st.builds(
            HourRate,
            setup_h=positive,
            minutes_each=positive,
            hours_per_day=positive,
            machines=st.integers(-1, 99),
        )
    )


links = st.builds(
    Link,
    job=codes,
    kind=st.sampled_from(("finish-start", "start-start", "finish-finish")),
    lag=spans,
    on=st.sampled_from(("pass", "fail")),
)
tolds = st.builds(Told, on=days, last=days, first=st.none() | days, words=texts)
shares = st.fractions(min_value=0, max_value=1, max_denominator=10**6)
lots = st.sampled_from((None, "shipments")) | counts | st.lists(counts, min_size=1, max_size=4).map(tuple)
some_codes = st.lists(codes, unique=True, min_size=1, max_size=4)


@st.composite
def parts(draw):
    """A part with anything its fields can hold."""
    return Part(
        code=draw(codes), name=draw(texts), public_name=draw(texts), unit=draw(texts), here=draw(positive),
        spares=draw(counts), moq=draw(st.none() | counts), multiple=draw(st.none() | counts),
    )  # fmt: skip


@st.composite
def takes(draw):
    """Uses of several parts, some for pieces of one part only."""
    into = st.just("") | codes
    return tuple(Take(part=part, per=draw(positive), into=draw(into)) for part in draw(some_codes))


@st.composite
def makes(draw):
    """One part without a share, or several with theirs."""
    if draw(st.booleans()):
        return (Make(part=draw(codes)),)
    return tuple(Make(part=part, quantity=draw(counts)) for part in draw(some_codes))


@st.composite
def contents(draw):
    """What a shipment may hold."""
    return tuple(Content(part=part, quantity=draw(counts)) for part in draw(some_codes))

"""The tables of a plan file and their keys: the one place that knows them."""

from collections.abc import Collection, Mapping

from tracker.plan.fact_fields import FACT_FIELDS, GIVEN_WHAT
from tracker.plan.model import (
    FACT_KINDS,
    Fact,
    Job,
    PlannedJob,
    PlannedShipment,
    PublicHolidays,
    Run,
    Shipment,
    Supplier,
)
from tracker.plan.options import Option
from tracker.plan.parts import Part
from tracker.plan.span import DayRate, HourRate, Lead
from tracker.planfile.compound import CLOSURE_FORM, LINK_FORM, RATE_FORM, TOLD_FORM, tells_span
from tracker.planfile.contents import held, settle
from tracker.planfile.forms import (
    CODE,
    DATE,
    FLAG,
    LEAD,
    NUMBER,
    SPAN,
    TEXT,
    WHOLE,
    WORD,
    Form,
    choice,
    list_of,
)
from tracker.planfile.lot_forms import LOTS, TOLERANCE, YIELD
from tracker.planfile.part_forms import CONTENTS, MAKES, TAKES, UNITS
from tracker.planfile.tables import Field, Table

_MEANS = choice("in hand", "leaves")
_CODE_KEY = Field("code", CODE, example='"boxes"', is_fixed=True)
_QUANTITY = Field("quantity", WHOLE, example="240")

RUN = Table(
    "run",
    Run,
    (
        _CODE_KEY,
        Field("product", TEXT),
        _QUANTITY,
        Field("currency", WORD),
        Field("start", DATE, example="2026-06-15"),
        Field("today", DATE),
        Field("dates", choice("day first", "month first")),
        Field("unit", UNITS),
    ),
)
SUPPLIER = Table(
    "supplier",
    Supplier,
    (
        _CODE_KEY,
        Field("name", TEXT),
        Field("country", WORD),
        Field("subdivision", WORD),
        Field("workdays", WORD),
        Field("closures", list_of(CLOSURE_FORM)),
        Field("opens", list_of(DATE)),
        Field("dates_mean", _MEANS),
        Field("bank", SPAN),
        Field("contact", TEXT),
        Field("public_name", TEXT),
        Field("inhouse", FLAG),
    ),
)
PART = Table(
    "part",
    Part,
    (
        _CODE_KEY,
        Field("name", TEXT),
        Field("public_name", TEXT),
        Field("unit", WORD),
        Field("here", NUMBER),
        Field("spares", WHOLE),
        Field("moq", WHOLE),
        Field("multiple", WHOLE),
    ),
)
JOB = Table(
    "job",
    Job,
    (
        _CODE_KEY,
        Field("name", TEXT),
        Field("public_name", TEXT),
        Field("supplier", CODE, example='"CODE"'),
        Field("process", WORD),
        Field("lead", LEAD, example='"12wd" (their working days) or "45cd" (calendar days)', holds=Lead),
        Field("rate", RATE_FORM, "lead", holds=(DayRate, HourRate)),
        Field("said", TEXT),
        Field("after", list_of(LINK_FORM)),
        Field("takes", TAKES),
        Field("makes", MAKES),
        Field("quantity", WHOLE),
        Field("yield", YIELD, "yields"),
        Field("lots", LOTS),
        Field("one_by_one", FLAG),
        Field("serves", list_of(CODE)),
        Field("rerun", FLAG),
        Field("rework_of", WORD),
        Field("unders", TOLERANCE),
        Field("overs", TOLERANCE),
        Field("travel", SPAN),
        Field("not_before", DATE),
        Field("clock", list_of(CODE)),
        Field("leave_when", list_of(CODE)),
        Field("gate", FLAG),
        Field("retry_of", WORD),
    ),
)
SHIPMENT = Table(
    "shipment",
    Shipment,
    (
        _CODE_KEY,
        Field("name", TEXT),
        Field("public_name", TEXT),
        _QUANTITY,
        Field("part", CODE, "contents", holds=str),
        Field("contents", CONTENTS, holds=tuple),
        Field("after", list_of(CODE)),
        Field("told", list_of(TOLD_FORM)),
    ),
    settle=settle,
    instead={"quantity": "contents"},
    views={"contents": held},
)
OPTION = Table(
    "option",
    Option,
    (
        _CODE_KEY,
        Field("words", TEXT, example='"set boxes lead=12wd"'),
        Field("cost", TEXT),
        Field("on", DATE, example="2026-11-24"),
    ),
)
PLANNED_JOB = Table(
    "row of the first plan",
    PlannedJob,
    (
        Field("job", CODE, is_fixed=True),
        Field("start", DATE, example="2026-06-15"),
        Field("finish", DATE, example="2026-06-15"),
        Field("arrives", DATE, example="2026-06-15"),
    ),
)
PLANNED_SHIPMENT = Table(
    "row of the first plan",
    PlannedShipment,
    (Field("shipment", CODE, is_fixed=True), Field("date", DATE, example="2026-12-11")),
)
PUBLIC_HOLIDAYS = Table(
    "set of public holidays",
    PublicHolidays,
    (
        Field("country", CODE, example='"GB"', is_fixed=True),
        Field("subdivision", WORD, is_fixed=True),
        Field("first_year", WHOLE, example="2025"),
        Field("last_year", WHOLE, example="2032"),
        Field("days", list_of(DATE)),
    ),
)

_FACT_FORMS: Mapping[str, Form] = {
    "job": CODE,
    "shipment": CODE,
    "supplier": CODE,
    "part": CODE,
    "option": CODE,
    "what": choice(*GIVEN_WHAT),
    "day": DATE,
    "first": DATE,
    "worst": DATE,
    "means": _MEANS,
    "exactly": FLAG,
    "words": TEXT,
    "good": WHOLE,
    "rework": WHOLE,
    "scrap": WHOLE,
    "count": WHOLE,
    "quantity": WHOLE,
    "ref": TEXT,
    "closes": FLAG,
    "note": TEXT,
}
_FACT_KEYS = {"day": "for", "closes": "last"}
_OWN_KEYS = {
    ("paused", "day"): "until",
    ("called", "day"): "again",
    ("promised", "words"): "said",
}
_EXAMPLES = {
    "for": "2026-12-04",
    "first": "2027-01-10",
    "last": "2027-01-20",
    "what": '"payment"',
    "scrap": "3",
}


def subjects(kind: str) -> tuple[str, ...]:
    """The keys that say what a fact of this kind is about."""
    return ("part",) if kind == "scrapped" else ("job", "shipment", "supplier", "option")


def _fact_table(kind: str, *, told_span: bool = False) -> Table:
    shape = FACT_FIELDS[kind]
    attrs = [attr for attr in shape.all if attr not in ("note", *subjects(kind))]
    keys = _FACT_KEYS
    if kind == "told":
        attrs = ["first", "day", "words"] if told_span else ["day", "words"]
        keys = {"day": "last"} if told_span else keys
    own = [
        Field(name, _FACT_FORMS[attr], attr, _EXAMPLES.get(name, ""))
        for attr in attrs
        for name in [_OWN_KEYS.get((kind, attr), keys.get(attr, attr))]
    ]
    about = [
        Field(attr, CODE, example='"CODE"', is_fixed=True) for attr in shape.all if attr in subjects(kind)
    ]
    return Table(
        f"fact '{kind}'",
        Fact,
        (
            Field("on", DATE, example="2026-11-10", is_fixed=True),
            *about,
            Field("kind", choice(*FACT_KINDS), is_fixed=True),
            *own,
            Field("note", TEXT, example='"..."'),
            Field("logged", DATE),
        ),
        also_needs=(*shape.needs, "first") if told_span else shape.needs,
        follows={"logged": "on"},
    )


_FACTS: Mapping[str, Table] = {kind: _fact_table(kind) for kind in FACT_KINDS}
_TOLD_SPAN = _fact_table("told", told_span=True)
FACT_TABLES = (*_FACTS.values(), _TOLD_SPAN)
"""Every table a fact can be written as."""


def fact_table(kind: str, keys: Collection[str] = ()) -> Table:
    """The table of a kind of fact; for ``told`` the keys say whether it is a day or a span."""
    return _TOLD_SPAN if kind == "told" and tells_span(keys) else _FACTS[kind]


def table_of_fact(fact: Fact) -> Table:
    """The table a fact is written as."""
    return fact_table(fact.kind, () if fact.first is None else ("first",))

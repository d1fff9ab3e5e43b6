"""A second source: which open work it takes the place of, and what follows it then."""

from dataclasses import replace

import pytest

from tests.build import BENCH, SHOP, day, fact, plan
from tracker.errors import Refused, UsageError
from tracker.plan.model import Link, Shipment
from tracker.plan.parts import Content, Make, Part, Take
from tracker.schedule.forecast import Forecast
from tracker.trying.reading import read_try

OTHER = replace(SHOP, code="other", name="Other Works", contact="Ann")
SUPPLIERS = (BENCH, SHOP, OTHER)
CARRIED = "rings:5@shop licence:9@shop air:4@shop boards:3@shop build:2 pack:1 | rings>licence licence>air air>build boards>build build>pack"
DONE = (fact("in", "rings", 0, closes=True),)


def tried(known, words, today=0, **more):
    return read_try(words.split(), known, day(today), **more)


def plain(facts=DONE, text=CARRIED, **more):
    return plan(text, facts=facts, suppliers=SUPPLIERS, **more)


def counted():
    """The same run with parts: rings are made, carried and built in; what is built is sent."""
    makes = {
        "rings": {"makes": (Make(part="ring-made"),), "quantity": 100},
        "air": {"takes": (Take(part="ring-made"),), "makes": (Make(part="ring"),), "quantity": 100},
        "boards": {"makes": (Make(part="board"),), "quantity": 100},
        "build": {
            "takes": (Take(part="ring"), Take(part="board")),
            "makes": (Make(part="unit"),),
            "after": (),
        },
        "pack": {"takes": (Take(part="unit"),), "makes": (Make(part="packed"),), "after": ()},
    }
    sent = Shipment(code="wave-1", quantity=50, contents=(Content(part="packed", quantity=50),))
    known = plain((fact("in", "rings", 0, good=100),), jobs=makes, shipments=(sent,))
    codes = ("ring-made", "ring", "board", "unit", "packed")
    return replace(known, parts=tuple(Part(code=code) for code in codes))


def called_off(found):
    return {one.job for one in found.plan.facts if one.kind == "called_off"}


def arrives(found, code, today=0):
    forecast = Forecast(found.plan, day(today))
    return forecast.times.arrive[forecast.lot_of(code)] - day(0).toordinal()


@pytest.mark.parametrize("known", [plain(), counted()], ids=["without parts", "with parts"])
def test_of_a_job_that_is_done_the_jobs_that_only_carry_it_on_are_replaced(known):
    """Ordered on day 0, day 1 is 1; 10 days end on 10, 2 on the road 12, 2 of checking 14, 2 of building 16."""
    found = tried(known, "instead rings by other lead 10cd travel 2cd check 2cd")
    assert called_off(found) == {"licence", "air"}
    assert found.touched == ("rings-other", "check-rings-other")
    assert [arrives(found, code) for code in ("rings-other", "check-rings-other", "build")] == [12, 14, 16]
    assert "in place of licence and air" in found.edits[-1]
    assert found.edits[0] == "job rings-other added: other, lead 10cd, travel 2cd, ordered Mon 1 Jun 2026"


def test_without_parts_what_followed_waits_for_the_check_with_its_lag():
    known = plain(text=CARRIED.replace("air>build", "air>build+3cd"))
    found = tried(known, "instead rings by other lead 10cd check 2cd")
    assert [(link.job, link.lag.days) for link in found.plan.job_by_code["build"].after] == [
        ("check-rings-other", 3),
        ("boards", 0),
    ]
    assert found.edits[-1] == "in place of licence and air; build waits for check-rings-other now"


def test_with_parts_the_check_makes_the_part():
    found = tried(counted(), "instead rings by other lead 10cd check 2cd")
    assert found.plan.job_by_code["rings-other"].makes == ()
    assert [make.part for make in found.plan.job_by_code["check-rings-other"].makes] == ["ring"]
    assert found.edits[-1] == "in place of licence and air; brings ring for build"


def test_of_a_part_the_makers_and_the_open_work_that_leads_to_nothing_else_are_replaced():
    found = tried(counted(), "instead ring 80 by other lead 10cd")
    assert called_off(found) == {"licence", "air"}
    job = found.plan.job_by_code["ring-other"]
    assert (job.quantity, job.after, [make.part for make in job.makes]) == (80, (), ["ring"])


def test_a_maker_that_delivered_some_keeps_the_rest():
    known = counted()
    known = replace(known, facts=(*known.facts, fact("in", "air", 0, good=20)))
    assert called_off(tried(known, "instead ring by other lead 10cd")) == set()


def test_an_open_job_is_replaced_alone_and_its_inputs_are_waited_for():
    found = tried(plain(), "instead air by other lead 2cd")
    assert called_off(found) == {"air"}
    job = found.plan.job_by_code["air-other"]
    assert [link.job for link in job.after] == ["licence"]
    assert arrives(found, "air-other") == arrives(found, "licence") + 2


def test_an_open_job_hands_on_what_it_takes_makes_and_puts_in():
    found = tried(counted(), "instead air by other lead 2cd")
    old, job = (found.plan.job_by_code[code] for code in ("air", "air-other"))
    assert (job.takes, job.makes, job.quantity) == (old.takes, old.makes, old.quantity)


def test_the_stretch_ends_before_our_own_bench():
    known = plain(text="rings:5@shop licence:9@shop build:2 pack:1 | rings>licence licence>build build>pack")
    assert called_off(tried(known, "instead rings by other lead 10cd")) == {"licence"}


def test_the_stretch_ends_where_another_job_joins_it():
    text = "rings:5@shop licence:9@shop primer:2@shop coat:3@shop build:2 | rings>licence licence>coat primer>coat coat>build"
    found = tried(plain(text=text), "instead rings by other lead 10cd")
    assert called_off(found) == {"licence"}
    assert [link.job for link in found.plan.job_by_code["coat"].after] == ["rings-other", "primer"]


def test_work_that_leads_to_something_else_too_goes_on():
    known = counted()
    audit = replace(known.job_by_code["boards"], code="audit", makes=(), after=(Link(job="licence"),))
    found = tried(replace(known, jobs=(*known.jobs, audit)), "instead ring by other lead 10cd")
    assert called_off(found) == {"air"}


def test_a_shipment_that_waited_for_it_waits_for_the_new_one():
    known = plain(text="rings:5@shop licence:9@shop | rings>licence")
    found = tried(known, "instead rings by other lead 10cd")
    assert found.plan.shipments[0].after == ("rings-other",)


def test_a_new_supplier_is_added_in_the_same_try():
    with pytest.raises(UsageError) as refused:
        tried(plain(), "instead rings by newco lead 10cd")
    assert "add supplier newco and instead" in refused.value.hint
    found = tried(plain(), "add supplier newco and instead rings by newco lead 10cd")
    assert arrives(found, "rings-newco") == 10


def test_a_supplier_may_be_named_by_a_contact():
    assert "rings-other" in tried(plain(), "instead rings by Ann lead 10cd").plan.job_by_code


def test_it_is_ordered_on_the_day_it_is_decided():
    found = tried(plain(), "instead rings by other lead 10cd check 2cd", begins=day(5))
    assert arrives(found, "rings-other") == 15
    assert [one.on for one in found.plan.facts if one.kind == "ordered"] == [day(5)]
    assert found.edits[0].endswith("ordered Sat 6 Jun 2026")


def test_by_our_own_bench_it_needs_no_order():
    found = tried(plain(), "instead rings by bench lead 10cd")
    assert not any(one.kind == "ordered" for one in found.plan.facts)
    assert "ordered" not in found.edits[0]


@pytest.mark.parametrize(
    ("words", "error", "message"),
    [
        ("instead", UsageError, "instead of which job or part?"),
        ("instead rings", UsageError, "instead needs by and lead"),
        ("instead rings by other", UsageError, "instead needs lead"),
        ("instead rings by other lead", UsageError, "lead needs a word after it"),
        ("instead rings by other lead 10", UsageError, "lead: "),
        ("instead rings many by other lead 10cd", UsageError, "after rings comes a number of pieces, or 'by'"),
        ("instead nothing by other lead 10cd", UsageError, "there is no job or part 'nothing'"),
        ("called-off air and instead air by other lead 2cd", Refused, "air was called off"),
        ("set air gate=true and instead air by other lead 2cd", Refused, "air is a gate"),
        ("in air and in licence and instead rings by other lead 2cd", Refused, "rings is done, and no open job only carries on"),
    ],
)  # fmt: skip
def test_what_cannot_be_replaced_is_refused(words, error, message):
    with pytest.raises(error) as refused:
        tried(plain(), words)
    assert refused.value.message.startswith(message)
    assert refused.value.hint


def test_a_check_without_a_bench_of_ours_names_who_could():
    known = replace(plain(), suppliers=(replace(BENCH, inhouse=False), SHOP, OTHER))
    with pytest.raises(Refused) as refused:
        tried(known, "instead rings by other lead 10cd check 2cd")
    assert (
        refused.value.hint
        == "name who does: tracker try instead rings 100 by other lead 10cd check other 2cd"
    )
    assert tried(known, "instead rings by other lead 10cd check other 2cd").touched[1] == "check-rings-other"


def two_of_a_build(taken):
    """A build that makes units of two kinds out of rings, of which ``taken`` go into the shipment."""
    both = (Make(part="plain", quantity=40), Make(part="gilt", quantity=60))
    jobs = {
        "rings": {"makes": (Make(part="ring"),), "quantity": 200},
        "build": {"takes": (Take(part="ring"),), "makes": both, "after": ()},
    }
    sent = Shipment(
        code="wave-1",
        quantity=30 * len(taken),
        contents=tuple(Content(part=code, quantity=30) for code in taken),
    )
    known = plan("rings:5@shop build:2", jobs=jobs, suppliers=SUPPLIERS, shipments=(sent,))
    return replace(known, parts=tuple(Part(code=code) for code in ("ring", "plain", "gilt")))


def test_a_maker_of_another_part_that_is_taken_goes_on_with_what_leads_to_it():
    found = tried(two_of_a_build(("plain", "gilt")), "instead gilt by other lead 10cd")
    assert called_off(found) == set()
    assert found.edits[1:] == (
        "beside build",
        "build goes on, since other parts come of it",
    )


def test_a_maker_of_another_part_that_nobody_takes_is_replaced():
    found = tried(two_of_a_build(("gilt",)), "instead gilt by other lead 10cd")
    assert called_off(found) == {"rings", "build"}


def test_another_part_counts_as_taken_only_by_work_that_stays():
    """A finish makes gilt units, too, out of plain ones: both are made needless, and the plain ones with them."""
    known = two_of_a_build(("gilt",))
    finish = replace(
        known.job_by_code["build"], code="finish", takes=(Take(part="plain"),), makes=(Make(part="gilt"),)
    )
    more = replace(known, jobs=(*known.jobs, finish))
    assert called_off(tried(more, "instead gilt by other lead 10cd")) == {"rings", "build", "finish"}
    engraved = replace(finish, code="engrave", makes=(Make(part="engraved"),))
    sent = replace(known.shipments[0], after=("engrave",))
    kept = replace(
        more, parts=(*more.parts, Part(code="engraved")), jobs=(*more.jobs, engraved), shipments=(sent,)
    )
    assert called_off(tried(kept, "instead gilt by other lead 10cd")) == {"finish"}

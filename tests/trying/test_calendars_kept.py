"""A calendar changed by a try holds from the day after it is decided; day 0 is Monday 1 June 2026."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from tests.build import SHOP, day, plan
from tracker.plan.calendars import calendars_of
from tracker.plan.model import Closure
from tracker.schedule.forecast import Forecast
from tracker.trying.calendars_kept import as_it_was_up_to
from tracker.trying.reading import read_try

days = st.integers(-20, 50).map(day)
closures = st.tuples(days, st.integers(0, 9)).map(
    lambda one: Closure(first=one[0], last=day((one[0] - day(0)).days + one[1]))
)
shops = st.builds(
    lambda workdays, shut, opens: replace(SHOP, workdays=workdays, closures=tuple(shut), opens=tuple(opens)),
    st.sampled_from(("mon-fri", "mon-sat", "tue,thu")),
    st.lists(closures, max_size=3),
    st.lists(days, max_size=4, unique=True),
)


def with_shop(shop):
    return plan("a:5wd@shop", suppliers=(shop,))


def worked(known, first, last):
    calendar = calendars_of(known)["shop"]
    return [calendar.is_working(day(n).toordinal()) for n in range(first, last)]


@given(before=shops, after=shops, decided=st.integers(-10, 40))
def test_up_to_the_day_it_is_decided_the_old_calendar_holds_then_the_new_one(before, after, decided):
    old, new = with_shop(before), with_shop(after)
    kept = as_it_was_up_to(day(decided), old, new)
    assert worked(kept, -40, decided + 1) == worked(old, -40, decided + 1)
    assert worked(kept, decided + 1, 90) == worked(new, decided + 1, 90)


@given(shop=shops, decided=st.integers(-10, 40))
def test_a_calendar_left_alone_stays_the_same(shop, decided):
    known = with_shop(shop)
    assert as_it_was_up_to(day(decided), known, known) is known


def finish(known, words, decided):
    tried = read_try(words.split(), known, day(0), begins=day(decided))
    forecast = Forecast(tried.plan, day(0))
    return forecast.times.finish[forecast.lot_of("a")] - day(0).toordinal()


def test_a_closure_cut_short_stays_shut_up_to_the_day_it_is_decided():
    """Shut Wed 3 to Fri 12 June, five days' work from Tue 2: without it to Mon 8. Decided on Mon 8, the shop works
    again from Tue 9: Tue 2, then 9 to 12."""
    known = plan("a:5wd@shop", suppliers=(replace(SHOP, closures=(Closure(first=day(2), last=day(11)),)),))
    assert [finish(known, "set shop closures=", decided) for decided in (0, 1, 7, 12)] == [7, 7, 11, 17]


def test_a_new_closure_shuts_nobody_before_it_is_decided():
    """Five days from Tue 2 June. Shut Wed 3 to Fri 5: Tue 2, then 8 to 11; decided on Thu 4, only Fri 5 is lost."""
    known = plan("a:5wd@shop")
    words = "set shop closures=2026-06-03..2026-06-05"
    assert [finish(known, words, decided) for decided in (0, 3, 4)] == [10, 8, 7]


def test_a_supplier_added_has_its_own_calendar_at_once():
    found = read_try(
        ["add", "supplier", "newco", "closures=2026-06-03"], plan("a:5wd@shop"), day(0), begins=day(9)
    )
    assert found.plan.supplier_by_code["newco"].closures[0].first == day(2)

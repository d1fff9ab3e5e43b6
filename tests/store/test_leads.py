from hypothesis import given

from tests.plans import leads
from tracker.store.leads import lead_text, read_lead


@given(leads())
def test_any_lead_or_rate_reads_back_equal(lead):
    assert read_lead(lead_text(lead)) == lead

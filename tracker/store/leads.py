"""Lead times and rates as stored text: ``12wd`` as in plan files, a rate as JSON with exact fractions."""

import json
from fractions import Fraction

from tracker.plan.span import DayRate, HourRate, Lead, parse_lead


def lead_text(lead: Lead | DayRate | HourRate) -> str:
    """The text a lead or rate is stored as; ``read_lead`` gives back an equal one."""
    if isinstance(lead, Lead):
        return str(lead)
    if isinstance(lead, DayRate):
        return json.dumps({"setup": lead.setup, "per_day": str(lead.per_day)})
    return json.dumps(
        {
            "setup_h": str(lead.setup_h),
            "minutes_each": str(lead.minutes_each),
            "hours_per_day": str(lead.hours_per_day),
            "machines": lead.machines,
        }
    )


def read_lead(text: str) -> Lead | DayRate | HourRate:
    """Read what ``lead_text`` wrote.

    Examples
    --------
    >>> read_lead('{"setup": 1, "per_day": "25/2"}').days(25)
    3
    """
    if not text.startswith("{"):
        return parse_lead(text)
    rate = json.loads(text)
    if "per_day" in rate:
        return DayRate(setup=rate["setup"], per_day=Fraction(rate["per_day"]))
    return HourRate(
        setup_h=Fraction(rate["setup_h"]),
        minutes_each=Fraction(rate["minutes_each"]),
        hours_per_day=Fraction(rate["hours_per_day"]),
        machines=rate["machines"],
    )

"""Public holidays by country and subdivision (ISO 3166), resolved once with the ``holidays`` library and kept.

Only days of the library's ``public`` category count, days taken in lieu included. Kept days never change, so
a newer library moves no date of a run that has begun.
"""

from collections.abc import Iterator
from dataclasses import replace

from tracker.errors import PlanProblems, Problem
from tracker.plan.known import FIRST_YEAR, LAST_YEAR
from tracker.plan.model import Plan, PublicHolidays
from tracker.plan.nearest import nearest

_YEARS_BEFORE, _YEARS_AFTER = 1, 6


def resolve(country: str, subdivision: str, first_year: int, last_year: int) -> PublicHolidays:
    """Look up the public holidays of whole years, both years included.

    Parameters
    ----------
    country : str
        Two capitals of ISO 3166-1, such as ``GB``.
    subdivision : str
        The part of ISO 3166-2 after the dash, such as ``ENG``; ``""`` gives the days common to the country.
    first_year, last_year : int
        The years wanted, both included.

    Returns
    -------
    PublicHolidays
        The days in rising order, weekends among them.

    Raises
    ------
    PlanProblems
        If the country or the subdivision is unknown; the nearest known one is named.

    Examples
    --------
    >>> [day.isoformat() for day in resolve("GB", "ENG", 2026, 2026).days][:3]
    ['2026-01-01', '2026-04-03', '2026-04-06']
    """
    from holidays import country_holidays

    problem = _place_problem(country, subdivision, place="public holidays")
    if problem is not None:
        raise PlanProblems((problem,), what=f"country {country}")
    years = range(first_year, last_year + 1)
    found = country_holidays(country, subdiv=subdivision or None, years=years)
    return PublicHolidays(
        country=country,
        subdivision=subdivision,
        first_year=first_year,
        last_year=last_year,
        days=tuple(sorted(day for day in found if day.year in years)),
    )


def check_holidays(plan: Plan) -> tuple[Problem, ...]:
    """Problems of the countries that ``with_holidays`` would have to resolve; none when all are kept."""
    return tuple(
        problem
        for country, subdivision, supplier in _places(plan)
        if _missing_years(plan, country, subdivision)
        and (problem := _place_problem(country, subdivision, place=f"supplier {supplier}")) is not None
    )


def with_holidays(plan: Plan) -> Plan:
    """Add the public holidays that suppliers need and that are not kept yet.

    They reach from the year before the run starts to the sixth year after. Kept days stay as they are; years
    that are missing are added to them.

    Raises
    ------
    PlanProblems
        If countries or subdivisions are unknown; all of them are listed.
    """
    problems = check_holidays(plan)
    if problems:
        raise PlanProblems(problems)
    kept = {(row.country, row.subdivision): row for row in plan.holidays}
    for country, subdivision, _ in _places(plan):
        years = _missing_years(plan, country, subdivision)
        if years:
            row = kept.get((country, subdivision))
            kept[country, subdivision] = _widened(row, country, subdivision, years)
    holidays = tuple(kept.values())
    return plan if holidays == plan.holidays else replace(plan, holidays=holidays)


def national_only(before: Plan | None, after: Plan) -> tuple[str, ...]:
    """Remarks on suppliers, new or changed, whose country has regional holidays while no region is named."""
    from holidays import country_holidays

    known = before.supplier_by_code if before else {}
    found = []
    for supplier in after.suppliers:
        if not supplier.country or supplier.subdivision or known.get(supplier.code) == supplier:
            continue
        regions = country_holidays(supplier.country).subdivisions
        if regions:
            found.append(
                f"{supplier.code}: only the days common to all of {supplier.country} count as public holidays; "
                f"name a region for more, for example: tracker set {supplier.code} subdivision={regions[0]}"
            )
    return tuple(found)


def _widened(row: PublicHolidays | None, country: str, subdivision: str, years: list[int]) -> PublicHolidays:
    fresh = resolve(country, subdivision, years[0], years[-1])
    if row is None:
        return fresh
    added = [day for day in fresh.days if not row.first_year <= day.year <= row.last_year]
    return replace(
        row,
        first_year=min(row.first_year, years[0]),
        last_year=max(row.last_year, years[-1]),
        days=tuple(sorted((*row.days, *added))),
    )


def _places(plan: Plan) -> Iterator[tuple[str, str, str]]:
    """Each country and subdivision once, with the first supplier that names it."""
    seen: set[tuple[str, str]] = set()
    for supplier in plan.suppliers:
        where = (supplier.country, supplier.subdivision)
        if supplier.country and where not in seen:
            seen.add(where)
            yield (*where, supplier.code)


def _missing_years(plan: Plan, country: str, subdivision: str) -> list[int]:
    """Years to resolve, rising; with kept years they make one unbroken row."""
    year = plan.run.start.year
    needed = range(max(FIRST_YEAR, year - _YEARS_BEFORE), min(LAST_YEAR, year + _YEARS_AFTER) + 1)
    for row in plan.holidays:
        if (row.country, row.subdivision) == (country, subdivision):
            whole = range(min(needed[0], row.first_year), max(needed[-1], row.last_year) + 1)
            return [y for y in whole if not row.first_year <= y <= row.last_year]
    return list(needed)


def _place_problem(country: str, subdivision: str, *, place: str) -> Problem | None:
    from holidays import list_supported_countries

    known = list_supported_countries(include_aliases=False)
    if country not in known:
        close = nearest(country, known)
        return Problem(
            place=f"{place}, country",
            found=f"there is no country '{country}'",
            remedy=(f"did you mean {close}? " if close else "")
            + "write two capitals of ISO 3166, such as GB or DE",
        )
    parts = _parts(country, known[country])
    if not subdivision or subdivision in parts.values():
        return None
    close = parts.get(nearest(subdivision, parts), "")
    return Problem(
        place=f"{place}, subdivision",
        found=f"{country} has no subdivision '{subdivision}'",
        remedy=f"did you mean {close}?" if close else _choices(country, parts),
    )


def _parts(country: str, codes: list[str]) -> dict[str, str]:
    """Codes of the country's subdivisions, by code and by the names the library knows."""
    from holidays import country_holidays

    names = getattr(country_holidays(country), "subdivisions_aliases", {})
    return {**names, **{code: code for code in codes}}


def _choices(country: str, parts: dict[str, str]) -> str:
    codes = sorted(set(parts.values()))
    return f"write one of {', '.join(codes)}" if codes else f"leave it out: {country} is looked up as a whole"

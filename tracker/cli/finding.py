"""Looking up codes for the first word of a command."""

from tracker.cli.session import session
from tracker.errors import TrackerError


def codes_beginning(word: str) -> list[str]:
    """Codes of jobs, suppliers, shipments, parts and options that begin with ``word``; none where there is no database."""
    from tracker.store.database import reading
    from tracker.store.load import has_plan, load_plan

    try:
        store = session.open()
    except TrackerError:
        return []
    with reading(store) as connection:
        if not has_plan(connection):
            return []
        plan = load_plan(connection)
    codes = (
        *plan.job_by_code,
        *plan.supplier_by_code,
        *plan.shipment_by_code,
        *plan.part_by_code,
        *plan.option_by_code,
    )
    return [code for code in codes if code.lower().startswith(word.lower())]

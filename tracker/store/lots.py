"""How a job's quantity is cut into lots, as stored text: ``4``, ``[100, 75]`` or ``"shipments"``, in JSON."""

import json

from tracker.plan.parts import LotRule


def lots_text(lots: LotRule | None) -> str | None:
    """The text a rule is stored as; ``read_lots`` gives back an equal one."""
    return None if lots is None else json.dumps(lots)


def read_lots(text: str | None) -> LotRule | None:
    """Read what ``lots_text`` wrote.

    Examples
    --------
    >>> read_lots("[100, 75]"), read_lots(lots_text("shipments"))
    ((100, 75), 'shipments')
    """
    lots = None if text is None else json.loads(text)
    return tuple(lots) if isinstance(lots, list) else lots

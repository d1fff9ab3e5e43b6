"""Facts that a later entry corrected: what they said before, and which entry changed them."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, select

from tracker.plan.model import Fact
from tracker.store.diary import read_changes, read_diary, undone_by
from tracker.store.replay import Replay, fact_of
from tracker.store.schema import TABLES


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """A fact as it was until entry ``entry`` corrected it."""

    entry: int
    was: Fact


def corrections(connection: Connection, replay: Replay | None = None) -> dict[int, tuple[Correction, ...]]:
    """Corrections in effect by the fact's place among the plan's facts, oldest first; with ``replay`` as of where it stands."""
    if replay is None:
        table = TABLES["fact"].c
        ids: Sequence[int] = connection.execute(select(table.id).order_by(table.id)).scalars().all()
        entries = read_diary(connection)
    else:
        ids, entries = replay.fact_ids(), replay.gone_through
    places = {str(number): place for place, number in enumerate(ids)}
    found: defaultdict[int, list[Correction]] = defaultdict(list)
    changes = read_changes(connection, corrected="fact")
    undone = undone_by([(one.number, one.undoes) for one in entries])
    in_effect = {one.number for one in entries if one.undoes is None and one.number not in undone}
    for number in sorted(changes.keys() & in_effect):
        for change in changes[number]:
            if change.before and change.key in places:
                found[places[change.key]].append(Correction(entry=number, was=fact_of(change.before)))
    return {place: tuple(rows) for place, rows in found.items()}

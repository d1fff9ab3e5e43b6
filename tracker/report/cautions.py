"""One plain caution for each process that can hurt someone; the tracker records and reminds, others decide.

Common practice, no source, except where named: the pointers are to those who are responsible.
"""

_ACID = (
    "acid, caustic and dye baths: work for the finisher only; ask for their data sheets and follow local codes. "
    "A coated surface no longer conducts: earth contacts must be masked on the drawing."
)
_MACHINING = (
    "coolant mist, swarf and fine metal dust harm skin, lungs and eyes and can burn: follow the shop's own "
    "instructions and local codes; never blow swarf off with compressed air."
)
_MAGNETS = (
    "strong magnets: swallowed ones injure the gut, they disturb pacemakers, and they shatter; keep them counted "
    "and away from children, and ask the maker for the handling sheet."
)
_MAGNETS_BY_AIR = (
    "magnets by air may be dangerous goods, in the parcel and in the finished product: the carrier's trained "
    "shipper measures and decides before anything is booked."
)
_LITHIUM = (
    "lithium cells carry transport, packing and child-protection rules that change every year: ask the carrier's "
    "trained shipper, the cell maker's test summary and local codes."
)
_MAINS = (
    "mains or radio equipment: a test laboratory and licensed practice decide; a report covers only the unit and "
    "drawing letter tested."
)
_LASER = "laser work can blind and burn: enclosed machines and trained people only, by local codes."
_SOLVENTS = (
    "solvents burn and harm lungs and skin: ask for the data sheet; ventilation and storage by local codes."
)
_AIR = (
    "air freight: magnets and cells, loose or in products, are for the carrier's trained shipper to accept."
)

_BY_PROCESS = {
    "acid-finishing": _ACID,
    "anodizing": _ACID,
    "plating": _ACID,
    "machining": _MACHINING,
    "milling": _MACHINING,
    "turning": _MACHINING,
    "magnets": _MAGNETS,
    "magnets-by-air": _MAGNETS_BY_AIR,
    "lithium-cells": _LITHIUM,
    "batteries": _LITHIUM,
    "mains": _MAINS,
    "radio": _MAINS,
    "test-laboratory": _MAINS,
    "laser": _LASER,
    "solvents": _SOLVENTS,
    "painting": _SOLVENTS,
    "cleaning": _SOLVENTS,
    "air-freight": _AIR,
}


def caution_for(process: str) -> str:
    """The caution for a job's process, or ``""``; unknown processes have none."""
    return _BY_PROCESS.get(process.strip().lower().replace(" ", "-"), "")


def processes_with_cautions() -> tuple[str, ...]:
    """The process words that bring a caution, in alphabetical order."""
    return tuple(sorted(_BY_PROCESS))

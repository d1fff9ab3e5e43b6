"""Published and constructed answers for drag, as data; lengths and drags in days."""

from dataclasses import dataclass, field


@dataclass(frozen=True, kw_only=True)
class Drags:
    """What each job costs in days, on one network; jobs not named cost nothing."""

    name: str
    title: str
    source: str
    evidence: str
    status: str
    jobs: tuple[tuple[str, int, str], ...]
    drag: dict[str, int]
    total_float: dict[str, int] = field(default_factory=dict)
    notes: str = ""


DRAGS = (
    Drags(
        name="D01-drag-wiki",
        title="Devaux drag on an eight-activity network",
        source="S. A. Devaux, Total Project Control (1999); worked example on Wikipedia, Critical path drag",
        evidence="read in a stored text",
        status="confirmed",
        notes="lengths and links of F, G and H were chosen to give the floats read",
        jobs=(
            ("A", 10, ""),
            ("B", 20, "A"),
            ("C", 5, "B"),
            ("D", 10, "C F"),
            ("E", 20, "D G H"),
            ("F", 10, "A"),
            ("G", 5, "C"),
            ("H", 15, "A"),
        ),
        drag={"A": 10, "B": 15, "C": 5, "D": 5, "E": 20},
        total_float={"F": 15, "G": 5, "H": 20},
    ),
    Drags(
        name="D04-drag-taylor",
        title="Drag on the seven-arc network of A04",
        source="Rule from Devaux, applied to the Taylor network",
        evidence="constructed here from a published rule",
        status="constructed",
        jobs=(
            ("n1-2", 7, ""),
            ("n1-3", 10, ""),
            ("n2-4", 6, "n1-2"),
            ("n3-4", 5, "n1-3"),
            ("n3-5", 4, "n1-3"),
            ("n4-5", 3, "n2-4 n3-4"),
            ("n5-6", 2, "n3-5 n4-5"),
        ),
        drag={"n1-3": 2, "n3-4": 2, "n4-5": 3, "n5-6": 2},
    ),
    Drags(
        name="D05-drag-two-paths",
        title="Two critical paths: every drag is zero",
        source="Rule from Devaux, applied to the two-critical-path figure",
        evidence="constructed here from a published rule",
        status="constructed",
        jobs=(
            ("A", 3, ""),
            ("B", 4, ""),
            ("C", 3, "B"),
            ("D", 1, "A"),
            ("E", 3, "A"),
            ("F", 3, "D"),
        ),
        drag={"A": 0, "B": 0, "C": 0, "D": 0, "F": 0},
    ),
)

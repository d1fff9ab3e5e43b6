"""Published and constructed networks with their answers, as data.

Times are instants from 0: a job with ES 6 and EF 16 starts on the seventh day and is ready on the sixteenth.
A row reads: job, length, jobs it waits for, ES, EF, LS, LF, total float, free float. Codes that began with a
digit have an ``n`` before it. ``status`` says how far the answers were confirmed: constructed and recomputed
ones are weaker than confirmed ones.
"""

from dataclasses import dataclass, field

Row = tuple[str, int, str, int, int, int, int, int, int]


@dataclass(frozen=True, kw_only=True)
class Network:
    """One network: where it comes from, its rows, and which jobs and chains set its length."""

    name: str
    title: str
    source: str
    evidence: str
    status: str
    duration: int
    rows: tuple[Row, ...]
    critical: str
    chains: tuple[str, ...] = ()
    notes: str = ""


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


NETWORKS = (
    Network(
        name="A01-reliable",
        title="Fourteen-activity construction job (excavate ... interior fixtures)",
        source="F. S. Hillier & G. J. Lieberman, Introduction to Operations Research (7th-10th ed.), project-management chapter, Reliable Construction Co. prototype example",
        evidence="part read in a stored text, part from memory",
        status="matches memory",
        duration=44,
        rows=(
            ("A", 2, "", 0, 2, 0, 2, 0, 0),
            ("B", 4, "A", 2, 6, 2, 6, 0, 0),
            ("C", 10, "B", 6, 16, 6, 16, 0, 0),
            ("D", 6, "C", 16, 22, 20, 26, 4, 0),
            ("E", 4, "C", 16, 20, 16, 20, 0, 0),
            ("F", 5, "E", 20, 25, 20, 25, 0, 0),
            ("G", 7, "D", 22, 29, 26, 33, 4, 0),
            ("H", 9, "E G", 29, 38, 33, 42, 4, 0),
            ("I", 7, "C", 16, 23, 18, 25, 2, 2),
            ("J", 8, "F I", 25, 33, 25, 33, 0, 0),
            ("K", 4, "J", 33, 37, 34, 38, 1, 1),
            ("L", 5, "J", 33, 38, 33, 38, 0, 0),
            ("M", 2, "H", 38, 40, 42, 44, 4, 4),
            ("N", 6, "K L", 38, 44, 38, 44, 0, 0),
        ),
        critical="A B C E F J L N",
        chains=("A B C E F J L N",),
    ),
    Network(
        name="A02-prototype",
        title="Seven-activity design / buy / make / assemble job",
        source="Course handout, Example 1 (design prototype, obtain materials, order parts, manufacture, two assemblies, final assembly), Tables 1-2",
        evidence="read in a stored text",
        status="confirmed",
        duration=16,
        rows=(
            ("A", 6, "", 0, 6, 0, 6, 0, 0),
            ("B", 2, "A", 6, 8, 6, 8, 0, 0),
            ("C", 2, "A", 6, 8, 7, 9, 1, 0),
            ("D", 3, "B", 8, 11, 8, 11, 0, 0),
            ("F", 2, "C", 8, 10, 9, 11, 1, 1),
            ("E", 4, "D F", 11, 15, 11, 15, 0, 0),
            ("G", 1, "E", 15, 16, 15, 16, 0, 0),
        ),
        critical="A B D E G",
        chains=("A B D E G",),
    ),
    Network(
        name="A04-taylor5",
        title="Seven-arc activity-on-arrow network",
        source="B. W. Taylor III, Introduction to Management Science (9th ed.), ch. 8, problem 5 (instructor solution and back-of-book answer)",
        evidence="read in a stored text",
        status="confirmed",
        duration=20,
        rows=(
            ("n1-2", 7, "", 0, 7, 2, 9, 2, 0),
            ("n1-3", 10, "", 0, 10, 0, 10, 0, 0),
            ("n2-4", 6, "n1-2", 7, 13, 9, 15, 2, 2),
            ("n3-4", 5, "n1-3", 10, 15, 10, 15, 0, 0),
            ("n3-5", 4, "n1-3", 10, 14, 14, 18, 4, 4),
            ("n4-5", 3, "n2-4 n3-4", 15, 18, 15, 18, 0, 0),
            ("n5-6", 2, "n3-5 n4-5", 18, 20, 18, 20, 0, 0),
        ),
        critical="n1-3 n3-4 n4-5 n5-6",
        chains=("n1-3 n3-4 n4-5 n5-6",),
    ),
    Network(
        name="A06-taylor7",
        title="Eight-activity network",
        source="B. W. Taylor III, Introduction to Management Science (9th ed.), ch. 8, problem 7 (back-of-book answer)",
        evidence="read in a stored text",
        status="confirmed",
        duration=34,
        rows=(
            ("n1", 10, "", 0, 10, 0, 10, 0, 0),
            ("n2", 7, "", 0, 7, 5, 12, 5, 0),
            ("n3", 15, "n1", 10, 25, 10, 25, 0, 0),
            ("n4", 4, "n1", 10, 14, 14, 18, 4, 0),
            ("n5", 6, "n2", 7, 13, 12, 18, 5, 1),
            ("n6", 12, "n2", 7, 19, 13, 25, 6, 6),
            ("n7", 7, "n4 n5", 14, 21, 18, 25, 4, 4),
            ("n8", 9, "n3 n6 n7", 25, 34, 25, 34, 0, 0),
        ),
        critical="n1 n3 n8",
        chains=("n1 n3 n8",),
    ),
    Network(
        name="A09-slides41",
        title="Eleven-activity lecture example",
        source="Lecture slides on network scheduling (slide deck 3283910)",
        evidence="read in a stored text",
        status="confirmed",
        duration=41,
        rows=(
            ("A", 4, "", 0, 4, 0, 4, 0, 0),
            ("B", 6, "A", 4, 10, 4, 10, 0, 0),
            ("C", 3, "A", 4, 7, 22, 25, 18, 0),
            ("D", 6, "B", 10, 16, 10, 16, 0, 0),
            ("E", 14, "D", 16, 30, 16, 30, 0, 0),
            ("F", 5, "C", 7, 12, 25, 30, 18, 18),
            ("G", 2, "E F", 30, 32, 30, 32, 0, 0),
            ("H", 2, "G", 32, 34, 33, 35, 1, 1),
            ("I", 3, "G", 32, 35, 32, 35, 0, 0),
            ("J", 4, "H I", 35, 39, 35, 39, 0, 0),
            ("K", 2, "J", 39, 41, 39, 41, 0, 0),
        ),
        critical="A B D E G I J K",
        chains=("A B D E G I J K",),
    ),
    Network(
        name="A11-pinto",
        title="Ten-activity exercise",
        source="J. K. Pinto, Project Management: Achieving Competitive Advantage, ch. 10, exercise 1",
        evidence="read in a stored text",
        status="confirmed",
        duration=46,
        rows=(
            ("A", 5, "", 0, 5, 0, 5, 0, 0),
            ("B", 6, "A", 5, 11, 5, 11, 0, 0),
            ("C", 2, "A", 5, 7, 9, 11, 4, 4),
            ("D", 4, "A", 5, 9, 13, 17, 8, 8),
            ("E", 6, "B C", 11, 17, 11, 17, 0, 0),
            ("F", 6, "D E", 17, 23, 17, 23, 0, 0),
            ("G", 12, "F", 23, 35, 23, 35, 0, 0),
            ("H", 4, "G", 35, 39, 35, 39, 0, 0),
            ("I", 6, "F", 23, 29, 33, 39, 10, 10),
            ("J", 7, "H I", 39, 46, 39, 46, 0, 0),
        ),
        critical="A B E F G H J",
        chains=("A B E F G H J",),
    ),
    Network(
        name="A12-norton",
        title="Eight-activity installation job, normal times",
        source="Anderson, Sweeney, Williams et al., An Introduction to Management Science / Quantitative Methods for Business, project-scheduling chapter, Norton Industries problem",
        evidence="read in a stored text",
        status="confirmed",
        duration=21,
        rows=(
            ("A", 3, "", 0, 3, 1, 4, 1, 0),
            ("B", 6, "", 0, 6, 0, 6, 0, 0),
            ("C", 2, "A", 3, 5, 4, 6, 1, 1),
            ("D", 5, "B C", 6, 11, 6, 11, 0, 0),
            ("E", 4, "D", 11, 15, 11, 15, 0, 0),
            ("F", 3, "E", 15, 18, 15, 18, 0, 0),
            ("G", 9, "B C", 6, 15, 9, 18, 3, 3),
            ("H", 3, "F G", 18, 21, 18, 21, 0, 0),
        ),
        critical="B D E F H",
        chains=("B D E F H",),
    ),
    Network(
        name="A13-portavac",
        title="Ten-activity product-launch job (expected times)",
        source="Anderson, Sweeney, Williams, Camm & Martin, An Introduction to Management Science, ch. 9, Porta-Vac project",
        evidence="part read in a stored text, part from memory",
        status="matches memory",
        duration=17,
        rows=(
            ("A", 6, "", 0, 6, 0, 6, 0, 0),
            ("B", 2, "", 0, 2, 4, 6, 4, 4),
            ("C", 3, "A", 6, 9, 10, 13, 4, 0),
            ("D", 5, "A", 6, 11, 7, 12, 1, 0),
            ("E", 3, "A B", 6, 9, 6, 9, 0, 0),
            ("F", 2, "C", 9, 11, 13, 15, 4, 4),
            ("G", 3, "D", 11, 14, 12, 15, 1, 1),
            ("H", 4, "B E", 9, 13, 9, 13, 0, 0),
            ("I", 2, "H", 13, 15, 13, 15, 0, 0),
            ("J", 2, "F G I", 15, 17, 15, 17, 0, 0),
        ),
        critical="A E H I J",
        chains=("A E H I J",),
    ),
    Network(
        name="A14-paper",
        title="Eight-activity pollution-control installation",
        source='J. Heizer & B. Render, Operations Management, ch. 3 (Milwaukee Paper); same data reprinted as "Durango Paper"',
        evidence="part read in a stored text, part from memory",
        status="confirmed",
        notes="lengths of the chains that do not set the date are not worked out by the engine",
        duration=15,
        rows=(
            ("A", 2, "", 0, 2, 0, 2, 0, 0),
            ("B", 3, "", 0, 3, 1, 4, 1, 0),
            ("C", 2, "A", 2, 4, 2, 4, 0, 0),
            ("D", 4, "A B", 3, 7, 4, 8, 1, 1),
            ("E", 4, "C", 4, 8, 4, 8, 0, 0),
            ("F", 3, "C", 4, 7, 10, 13, 6, 6),
            ("G", 5, "D E", 8, 13, 8, 13, 0, 0),
            ("H", 2, "F G", 13, 15, 13, 15, 0, 0),
        ),
        critical="A C E G H",
        chains=("A C E G H",),
    ),
    Network(
        name="A15-floats9",
        title="Nine-arc network with a dummy; three kinds of float",
        source="AtoZmath, worked example on critical path with total, free and independent float",
        evidence="part read in a stored text, part from memory",
        status="input read, result recomputed",
        notes="the third kind, independent float, is not worked out by the engine",
        duration=32,
        rows=(
            ("n1-2", 4, "", 0, 4, 0, 4, 0, 0),
            ("n2-3", 6, "n1-2", 4, 10, 4, 10, 0, 0),
            ("n2-4", 2, "n1-2", 4, 6, 8, 10, 4, 4),
            ("n3-4", 0, "n2-3", 10, 10, 10, 10, 0, 0),
            ("n3-6", 2, "n2-3", 10, 12, 19, 21, 9, 9),
            ("n4-5", 7, "n2-4 n3-4", 10, 17, 10, 17, 0, 0),
            ("n5-6", 4, "n4-5", 17, 21, 17, 21, 0, 0),
            ("n6-7", 8, "n3-6 n5-6", 21, 29, 21, 29, 0, 0),
            ("n7-8", 3, "n6-7", 29, 32, 29, 32, 0, 0),
        ),
        critical="n1-2 n2-3 n3-4 n4-5 n5-6 n6-7 n7-8",
        chains=("n1-2 n2-3 n3-4 n4-5 n5-6 n6-7 n7-8",),
    ),
    Network(
        name="A18-twocritical",
        title="Six activities with two critical paths",
        source="Wikipedia, Critical path method (figure caption: five milestones, six activities, two critical paths B-C and A-D-F, 7 months, E has one month of float)",
        evidence="part read in a stored text, part from memory",
        status="confirmed",
        duration=7,
        rows=(
            ("A", 3, "", 0, 3, 0, 3, 0, 0),
            ("B", 4, "", 0, 4, 0, 4, 0, 0),
            ("C", 3, "B", 4, 7, 4, 7, 0, 0),
            ("D", 1, "A", 3, 4, 3, 4, 0, 0),
            ("E", 3, "A", 3, 6, 4, 7, 1, 1),
            ("F", 3, "D", 4, 7, 4, 7, 0, 0),
        ),
        critical="A B C D F",
        chains=(
            "A D F",
            "B C",
        ),
    ),
    Network(
        name="A19-pdm14",
        title="Fourteen activities with start-to-start links",
        source='Online course module "Network Construction - Precedence Diagram Method" (Mar 2019), activity list and relationships',
        evidence="part read in a stored text, part from memory",
        status="input read, result recomputed",
        duration=38,
        rows=(
            ("A", 2, "", 0, 2, 0, 2, 0, 0),
            ("B", 10, ">>A", 0, 10, 4, 14, 4, 0),
            ("C", 13, "A", 2, 15, 10, 23, 8, 0),
            ("D", 12, "A", 2, 14, 2, 14, 0, 0),
            ("E", 12, "B", 10, 22, 15, 27, 5, 1),
            ("F", 7, "B", 10, 17, 14, 21, 4, 0),
            ("G", 10, "D", 14, 24, 23, 33, 9, 1),
            ("H", 16, "D", 14, 30, 14, 30, 0, 0),
            ("I", 6, "F", 17, 23, 21, 27, 4, 0),
            ("J", 12, "C >>G", 15, 27, 23, 35, 8, 8),
            ("K", 5, ">>I", 17, 22, 22, 27, 5, 1),
            ("L", 8, "E I K", 23, 31, 27, 35, 4, 4),
            ("M", 5, "H", 30, 35, 30, 35, 0, 0),
            ("N", 3, "G J L M", 35, 38, 35, 38, 0, 0),
        ),
        critical="A D H M N",
    ),
    Network(
        name="A21-navy",
        title="Six-activity Seabee network with a 3-day lag",
        source="U.S. Navy, Seabee planning manuals NAVEDTRA 14233 and 14045 (construction scheduling chapters, Fig. 2-13 / 2-31)",
        evidence="part read in a stored text, part from memory",
        status="partly confirmed",
        notes="the lengths of 1050, 1060, 1070 and 1080 were chosen to keep the facts read",
        duration=22,
        rows=(
            ("n1010", 3, "", 0, 3, 0, 3, 0, 0),
            ("n1020", 7, "n1010", 3, 10, 5, 12, 2, 1),
            ("n1040", 8, "n1010", 3, 11, 3, 11, 0, 0),
            ("n1050", 4, "n1020 n1040", 11, 15, 12, 16, 1, 1),
            ("n1060", 5, "n1040", 11, 16, 11, 16, 0, 0),
            ("n1070", 2, "n1050 n1060", 16, 18, 16, 18, 0, 0),
            ("n1080", 1, "n1070+3cd", 21, 22, 21, 22, 0, 0),
        ),
        critical="n1010 n1040 n1060 n1070 n1080",
    ),
)

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

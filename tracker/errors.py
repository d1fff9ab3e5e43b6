"""Every error the tracker raises on purpose, as one tree in a module that imports nothing of ours.

::

    TrackerError            exit code 1: refused, nothing changed
    ├── Refused             one thing stands in the way
    ├── PlanProblems        an input has problems; all of them are listed
    ├── StoreError          the database is missing, foreign, newer or busy
    └── UsageError          exit code 2: the words of a command cannot be read

Exit codes of the program: 0 done, 1 refused or failed, 2 usage, 3 the answer is "no" (only where a
command documents it).
"""

from dataclasses import dataclass

EXIT_REFUSED = 1
EXIT_USAGE = 2
EXIT_NO = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong with an input: where it is, what was found against what was expected, the remedy."""

    place: str
    found: str
    remedy: str = ""

    def __str__(self) -> str:
        """Read as one line: place, finding, then the remedy after a semicolon."""
        return f"{self.place}: {self.found}" + (f"; {self.remedy}" if self.remedy else "")


class TrackerError(Exception):
    """Something the user can put right; ``hint`` names a remedy that works."""

    exit_code = EXIT_REFUSED

    def __init__(self, message: str, *, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


class Refused(TrackerError):  # noqa: N818 - reads as what happened
    """A command that cannot be carried out as it stands."""


class StoreError(TrackerError):
    """The database cannot be opened, read or written."""


class UsageError(TrackerError):
    """The words of a command cannot be read."""

    exit_code = EXIT_USAGE


class PlanProblems(TrackerError):  # noqa: N818 - holds several problems
    """All problems of one input, in the order of the input."""

    def __init__(self, problems: tuple[Problem, ...], *, what: str = "the plan") -> None:
        self.problems = problems
        count = "1 problem" if len(problems) == 1 else f"{len(problems)} problems"
        super().__init__(f"{what} has {count}; nothing was written")

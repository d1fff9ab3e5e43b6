"""What is alike among shipments, so that it is said once."""

from collections.abc import Hashable, Iterable, Sequence
from typing import TypeVar

Said = TypeVar("Said", bound=Hashable)


def alike(pairs: Iterable[tuple[str, Said]]) -> list[tuple[tuple[str, ...], Said]]:
    """Names under what is said of them, both in the order in which they come first.

    Examples
    --------
    >>> alike([("wave-1", 6), ("wave-2", 14), ("wave-3", 6)])
    [(('wave-1', 'wave-3'), 6), (('wave-2',), 14)]
    """
    found: dict[Said, list[str]] = {}
    for name, said in pairs:
        found.setdefault(said, []).append(name)
    return [(tuple(names), said) for said, names in found.items()]


def begun_alike(paths: Iterable[Sequence[str]]) -> tuple[str, ...]:
    """The steps with which all paths begin.

    Examples
    --------
    >>> begun_alike([("build", "pack-1"), ("build", "pack-1", "pack-2"), ("build", "pack-1")])
    ('build', 'pack-1')
    """
    common = []
    for steps in zip(*paths, strict=False):
        if len(set(steps)) > 1:
            break
        common.append(steps[0])
    return tuple(common)

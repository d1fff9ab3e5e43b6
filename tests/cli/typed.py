"""Command lines as they stand on the screen, the program's name and quotes and all."""

import shlex

NAMES = ("tracker", "trk")
WIDE = 200


def words_of(line):
    """The words behind the program's name."""
    name, *words = shlex.split(line)
    assert name in NAMES, line
    return words


def typed(program, line, **options):
    """What the program prints when ``line`` is typed on a terminal wide enough to wrap nothing."""
    return program.out(*words_of(line), **{"width": WIDE, **options})


def type_all(program, lines):
    """Type a text of lines, one after the other."""
    for line in filter(str.strip, lines.splitlines()):
        typed(program, line)


def refused(program, line, exit_code=1):
    """The message of a line that must fail and change nothing."""
    return program.refuses(*words_of(line), exit_code=exit_code)

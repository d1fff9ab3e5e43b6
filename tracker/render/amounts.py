"""Numbers of pieces, or of what a part is measured in, as words."""

from fractions import Fraction

from tracker.render.words import plural


def amount_text(number: Fraction | int, unit: str = "") -> str:
    """A number short, with its unit where it has one; pieces stand alone.

    Examples
    --------
    >>> amount_text(Fraction(25, 2), "m"), amount_text(240)
    ('12.5 m', '240')
    """
    whole = Fraction(number)
    text = str(whole.numerator) if whole.denominator == 1 else f"{float(whole):.10g}"
    return f"{text} {unit}" if unit else text


def spares_text(number: Fraction | int, unit: str = "") -> str:
    """So many spares: ``1 spare``, ``4 spares``, ``2.5 m of spares``."""
    return f"{amount_text(number, unit)} of spares" if unit else plural(int(number), "spare")

"""How far a predicted mass may be off: a flat part of it, by how the material was made."""

from fractions import Fraction

from shopapp.bench.errors import Refused

SPREADS = {"cast": Fraction(5, 100), "wrought": Fraction(2, 100)}


def spread(made: str) -> Fraction:
    """The part by which a predicted removal may be off; common practice, no source.

    made: cast or wrought [text]

    Returns: the spread to either side, as a part of the prediction [1].
    Limits: density and casting skin together; it knows nothing of the sizes.
    Raises: Refused for another word.

    >>> spread("cast")
    Fraction(1, 20)
    """
    if made not in SPREADS:
        raise Refused("Say how the material was made: cast or wrought.")
    return SPREADS[made]


def low_high(mass: float, part: Fraction | float) -> tuple[float, float]:
    """The two ends of a prediction with its spread; common practice, no source.

    Formula: m (1 - s), m (1 + s)

    mass: the prediction [g]
    part: the spread to either side, as a part of it [1]

    Returns: low end, high end, neither rounded [g].

    >>> low_high(1000.0, Fraction(1, 20))
    (950.0, 1050.0)
    """
    return mass - mass * float(part), mass + mass * float(part)

"""Learning curves: every doubling of the number of pieces takes the same part of the time.

Two conventions go by that name. Crawford's curve is the time of each single piece, Wright's is the mean of all pieces
so far. The same rate means different hours in the two, so each function says whose it is.
"""

import math

from shopapp.bench.errors import Impossible


def _piece(number: int, least: int = 1) -> int:
    if number < least:
        raise Impossible("Pieces are counted from 1, and the last one is not before the first.")
    return number


def _time(minutes: float) -> float:
    if not (minutes > 0 and math.isfinite(minutes)):
        raise Impossible("Type the minutes of the known piece: a number above nothing.")
    return minutes


def slope(rate: float) -> float:
    """The exponent of a learning curve (formula from memory; checked by the AFIT learning-curve manual).

    Formula: b = log2 r

    rate: what a doubling leaves of the time, 0.85 for 85 % [share]

    Returns: the exponent, nothing or less [1].
    Limits: a rate above 0 up to 1.
    Raises: Impossible outside these limits.

    >>> round(slope(0.85), 7)
    -0.2344653
    """
    if not 0 < rate <= 1:
        raise Impossible("A learning rate is from above 0 to 100 %: 85 % leaves .85 of the time at every doubling.")
    return math.log2(rate)


def piece_time(known_min: float, rate: float, piece: int, known: int = 1) -> float:
    """The time of one piece of a run, by Crawford's curve (from memory; checked by the AFIT manual).

    Formula: y = t (n / m)^b

    known_min: what the known piece took [min]
    rate: what a doubling leaves of the time [share]
    piece: which piece is asked for, from 1 [count]
    known: which piece took the known time, from 1 [count]

    Returns: the time of that piece [min].
    Limits: the same work without a long break between.
    Raises: Impossible for a piece under 1 or a rate outside its limits.

    >>> round(piece_time(100, 0.85, 125), 5)
    32.23647
    """
    ratio = _piece(piece) / _piece(known)
    return _time(known_min) * math.pow(ratio, slope(rate))


def run_time(known_min: float, rate: float, last: int, first: int = 1, known: int = 1) -> float:
    """The time of a run of pieces by Crawford's curve, summed one by one (from memory; checked by the AFIT manual).

    Formula: sum of t (n / m)^b from the first piece to the last

    known_min: what the known piece took [min]
    rate: what a doubling leaves of the time [share]
    last: last piece of the run [count]
    first: first piece of the run [count]
    known: which piece took the known time [count]

    Returns: the time of them all [min].
    Limits: exact; a job shop's runs, not millions.
    Raises: Impossible for pieces out of order or a rate outside its limits.

    >>> round(run_time(100, 0.85, 125), 3)
    5201.085
    """
    _piece(last, _piece(first))
    return math.fsum(piece_time(known_min, rate, n, known) for n in range(first, last + 1))


def run_time_about(known_min: float, rate: float, last: int, first: int = 1) -> float:
    """The midpoint formula for the time of a run by Crawford's curve, a check of the sum (from memory; AFIT manual).

    The manual's page prints 5202.998 for its example; its own formula gives 5202.988, figures exchanged. The formula
    is followed, and the shop's figures are the exact sum of run_time, 5201.085.

    Formula: t [(N + 1/2)^(1+b) - (M - 1/2)^(1+b)] / (1 + b)

    known_min: what the first piece of all took [min]
    rate: what a doubling leaves of the time, above a half [share]
    last: last piece of the run [count]
    first: first piece of the run [count]

    Returns: the time of them all, about [min].
    Limits: within 0.2 % from 50 pieces on at 80 % and flatter; off by percents for a handful.
    Raises: Impossible for pieces out of order or a rate of a half and less.

    >>> round(run_time_about(100, 0.85, 125), 3)
    5202.988
    """
    _piece(last, _piece(first))
    power = 1 + slope(rate)
    if power <= 0:
        raise Impossible("The midpoint formula needs a rate above 50 %. Take the sum instead.")
    return _time(known_min) * (math.pow(last + 0.5, power) - math.pow(first - 0.5, power)) / power


def wright_time(first_min: float, rate: float, last: int, first: int = 1) -> float:
    """The time of a run by Wright's curve, the mean of all pieces so far (from memory; checked by the AFIT manual).

    Formula: t (N^(1+b) - (M - 1)^(1+b)); one piece: first and last the same

    first_min: what the first piece of all took [min]
    rate: what a doubling leaves of the mean [share]
    last: last piece of the run [count]
    first: first piece of the run [count]

    Returns: the time of them all [min].
    Limits: a rate above a half, or the total would shrink as pieces are added.
    Raises: Impossible for pieces out of order or a rate outside its limits.

    >>> round(wright_time(110, 0.885, 2200, first=2200), 5)
    23.34001
    """
    _piece(last, _piece(first))
    power = 1 + slope(rate)
    if power <= 0:
        raise Impossible("By the mean of all pieces a rate is above 50 %: look at the rate again.")
    return _time(first_min) * (math.pow(last, power) - math.pow(first - 1, power))


def wright_rate(first_min: float, total_min: float, pieces: int) -> float:
    """The rate at which so many pieces took so long, by Wright's curve (from memory; checked by the AFIT manual).

    Formula: r = 2^b, b = ln(T / (t N)) / ln N

    first_min: what the first piece took [min]
    total_min: what all of them took [min]
    pieces: how many, two or more [count]

    Returns: the rate [share].
    Limits: no more in all than the first piece's time for every piece.
    Raises: Impossible for one piece, or for a run that got slower.

    >>> round(wright_rate(80, 8250, 250), 7)
    0.8947908
    """
    if pieces < 2:
        raise Impossible("A learning rate needs two pieces or more.")
    part = _time(total_min) / (_time(first_min) * pieces)
    if part > 1:
        raise Impossible("The pieces took longer than the first one did: there is no learning in these times.")
    return math.pow(2, math.log(part) / math.log(pieces))

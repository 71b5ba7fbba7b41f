"""Truing a face: its tilt from readings at a stated diameter, and at which jaw to tap it in."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shopapp.bench.errors import Impossible
from shopapp.bench.quantities import show_length
from shopapp.bench.truing import NOTHING, SLACK, USUAL_LIMIT, circle, moves, thin


@dataclass(frozen=True)
class Face:
    """A face read at a diameter [mm, degrees]: its tilt, where it is high, the taps, and the sentences.

    A tap is a jaw and how far the reading there has to drop if the piece rocks about its middle.
    """

    run_out: float
    tilt: float
    high_at: float
    diameter: float
    taps: tuple[tuple[int, float], ...]
    out_of_flat: float | None
    within: bool
    words: tuple[str, ...]


def run_out_at(run_out: float, read_at: float, at: float) -> float:
    """The run-out of a tilted face at another diameter than it was read at (common practice, no source).

    Formula: run-out · D / D_read

    run_out: as read, full indicator movement [mm]
    read_at: the diameter it was read at [mm]
    at: the diameter that is asked for [mm]

    Returns: the run-out there [mm].
    Limits: a flat face.
    Raises: Impossible for a diameter of nothing to read at.

    >>> round(run_out_at(0.0127, 127.0, 158.75), 6)
    0.015875
    """
    if not read_at > 0 or at < 0:
        raise Impossible("Say at which diameter the face was read: it is above 0.")
    return run_out * at / read_at


def _at_jaws(readings: Sequence[float | None], angles: Sequence[float] | None) -> dict[int, float]:
    """The readings that were taken right at a jaw."""
    places = [360 * i / len(readings) for i in range(len(readings))] if angles is None else angles
    return {
        round(angle / 90) % 4 + 1: value
        for angle, value in zip(places, readings, strict=True)
        if value is not None and abs(angle / 90 - round(angle / 90)) < SLACK
    }


def _why(at_jaws: dict[int, float], jaw: int, by: float) -> str:
    """Half of the difference where it is that; else the plane through all readings, also where a jaw was not read."""
    across = (jaw + 1) % 4 + 1
    if jaw not in at_jaws:
        return "it was not read, the other readings say so"
    if across in at_jaws and abs((at_jaws[jaw] - at_jaws[across]) / 2 - by) < SLACK:
        return f"half of what it and jaw {across} differ"
    return "by the plane through all readings"


def face(
    readings: Sequence[float | None],
    diameter: float,
    angles: Sequence[float] | None = None,
    limit: float = USUAL_LIMIT,
    unit: str = "in",
) -> Face:
    """A face read at one diameter: its tilt, and at which jaw to tap it in (common practice, no source).

    Formula: tilt = 2·sqrt(a² + b²) / D, a and b as of the least-squares circle; half of what opposite jaws differ by

    readings: in order round the face, None where one is skipped [mm]
    diameter: at which they were read [mm]
    angles: where each was read, evenly spaced from jaw 1 if not given [deg]
    limit: of run-out at that diameter [mm]
    unit: in or mm, for the words [word]

    Returns: run-out, tilt, where it is high, taps, what is not tilt, sentences [mm, deg].
    Limits: small angles; what is left beside the tilt is a face that is not flat.
    Raises: Refused for readings that make no plane, Impossible for no diameter.

    >>> round(face([0.0762, 0, -0.0762, 0], 203.2).tilt, 6)
    0.042972
    """
    if not diameter > 0:
        raise Impossible("Say at which diameter the face was read: it is above 0.")
    if limit < 0:
        raise Impossible("A limit of run-out is 0 or more.")
    plane = circle(readings, angles)
    within = max(plane.run_out, plane.read) <= limit + SLACK
    taps = () if plane.run_out <= limit + SLACK else tuple((m.tighten, m.by) for m in moves(plane))
    at = show_length(diameter, unit)
    at_jaws = _at_jaws(readings, angles)
    words = [f"Tap at jaw {jaw} until it drops by {thin(by, unit)}: {_why(at_jaws, jaw, by)}."
             for jaw, by in taps if thin(by, unit) != NOTHING]  # fmt: skip
    out = thin(plane.run_out, unit)
    words.append(f"Face run-out {out} at {at}." if out != NOTHING else f"The face does not tilt, read at {at}.")
    if plane.out_of_round is not None and thin(plane.out_of_round, unit) != NOTHING:
        words.append(f"{thin(plane.out_of_round, unit)} is not tilt: tapping cannot help that.")
    if taps:
        words.append("Then read the outside again: a tapped face moves it.")
    tilt = math.degrees(math.atan(plane.run_out / diameter))
    return Face(plane.run_out, tilt, plane.direction, diameter, taps, plane.out_of_round, within, tuple(words))

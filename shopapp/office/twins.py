"""Twins: two pieces with the same cuts, weighed on one scale, held against each other; sharper than the drawing."""

from dataclasses import dataclass

from shopapp.bench import weighing as bench
from shopapp.office.jobs import PieceFacts
from shopapp.office.weighing import Weighed, same_cuts


@dataclass(frozen=True)
class TwinWords:
    """What two twin pieces say of each other."""

    numbers: str
    removal: str
    finish: str
    words: str
    swapped: bool


def pairs(pieces: list[PieceFacts], told: dict[int, Weighed]) -> list[TwinWords]:
    """Each pair of pieces of one part that were weighed in and out on one scale, held against each other."""
    whole = [p for p in pieces if told[p.id].before and told[p.id].after and p.part]
    found = []
    for i, a in enumerate(whole):
        for b in whole[i + 1 :]:
            if a.part == b.part and same_cuts(told[a.id], told[b.id]):
                found.append(_pair(a, b, told[a.id], told[b.id]))
    return found


def _pair(a: PieceFacts, b: PieceFacts, wa: Weighed, wb: Weighed) -> TwinWords:
    division = max(wa.before.division_g, wb.before.division_g)
    test = bench.twins(wa.before.grams, wa.after.grams, wb.before.grams, wb.after.grams, division, wa.before.unit)
    return TwinWords(f"{a.number} and {b.number}", test.removal, test.finish, test.words, test.swapped)

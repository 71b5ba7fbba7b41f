"""What is said below a piece's weights: another material, what would explain a difference, sharper ways to weigh."""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlmodel import Session

from shopapp.bench import explain
from shopapp.office import cutting, density, ways, weighing, workings
from shopapp.office.density import DensityFacts
from shopapp.office.jobs import PieceFacts
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.weighing import Weighed

COARSE = "scale too coarse"


@dataclass(frozen=True)
class Finding:
    """What the weights of one piece bring up, each in words, and the working behind all of it."""

    density: DensityFacts | None = None
    explained: tuple[str, ...] = ()
    sharper: str = ""
    between: tuple[str, ...] = ()
    workings: tuple[WorkingSheet, ...] = ()

    @property
    def material(self) -> str:
        """The sentence about the material, where the weight does not fit it."""
        return self.density.words if self.density and not self.density.fits else ""


def of_pieces(db: Session, pieces: Sequence[PieceFacts], told: dict[int, Weighed]) -> dict[int, Finding]:
    """What is found for each of these pieces, by its row; `told` may hold their twins too."""
    plans = cutting.newest_plans(db, {piece.job_id for piece in pieces})
    found = {}
    for piece in pieces:
        weighed = told[piece.id]
        plan = plans.get((piece.job_id, piece.variant_id or 0))
        made_of = density.of_reading(db, piece, weighed.before)
        alike = sum(one.job_id == piece.job_id and one.variant_id == piece.variant_id for one in pieces)
        sharper = ""
        if weighed.verdict == COARSE and weighed.before and weighed.predicted_g:
            sharper = ways.sharper(db, pieces=alike, each_g=weighed.before.grams, predicted_g=weighed.predicted_g)
        explained = weighing.explained(db, piece, told)
        found[piece.id] = Finding(
            made_of, explained, sharper, ways.between(weighed, plan), _workings(weighed, made_of, explained, sharper)
        )
    return found


def of_explanations(explained: Sequence[str]) -> tuple[WorkingSheet, ...]:
    """How the list of what would explain a difference is found."""
    return (workings.of(explain.explain, figure="what would explain it"),) if explained else ()


def _workings(
    weighed: Weighed, made_of: DensityFacts | None, explained: Sequence[str], sharper: str
) -> tuple[WorkingSheet, ...]:
    return (
        *weighed.workings, *of_explanations(explained), *(ways.working() if sharper else ()),
        *(made_of.workings if made_of else ()),
    )  # fmt: skip

"""What a piece is made of, told by its weight: the density that a weighed and drawn piece implies, before it is cut."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from sqlmodel import Session

from shopapp.bench import densities, quantities, together
from shopapp.bench.densities import Implied
from shopapp.bench.errors import BenchError
from shopapp.bench.materials import MATERIALS, Material
from shopapp.bench.rounding import fixed, significant
from shopapp.office import cutting, drawing, parts, predicting, shopbook, workings
from shopapp.office.drawing import BodyTyped
from shopapp.office.jobs import PieceFacts
from shopapp.office.parts import VariantFacts
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.weighing import ReadingFacts, Weighed


@dataclass(frozen=True)
class DensityFacts:
    """What the weight says of the material: whether it is the one in the book, in words, and how that was found."""

    fits: bool
    words: str
    workings: tuple[WorkingSheet, ...]


def of_reading(db: Session, piece: PieceFacts, before: ReadingFacts | None) -> DensityFacts | None:
    """The density that a weight before the cuts implies; nothing where the piece is not drawn, or not weighed."""
    if before is None:
        return None
    return of_weight(db, piece, before.grams, before.division_g, f"{before.text} on {before.scale_words}")


def of_pieces(db: Session, pieces: Iterable[PieceFacts], told: dict[int, Weighed]) -> dict[int, DensityFacts]:
    """What the weight before says of each piece that is drawn, by the row of the piece."""
    found = ((piece.id, of_reading(db, piece, told[piece.id].before)) for piece in pieces)
    return {piece_id: facts for piece_id, facts in found if facts}


def of_weight(db: Session, piece: PieceFacts, grams: float, division_g: float, said: str) -> DensityFacts | None:
    """The same for a weight that is only typed yet; `said` is the reading in words."""
    if piece.variant_id is None:
        return None
    _, body = cutting.body_of(db, piece.variant_id)
    variant = parts.variant(db, piece.variant_id)
    sized = _volume(body.to_json(), variant.made) if body else None
    if sized is None:
        return None
    weighed, claimed = together.read(grams, division_g), claimed_of(variant)
    found = densities.implied(weighed.grams, weighed.u, *sized)
    rows = (*(row for key, row in MATERIALS.items() if key != variant.material), claimed)
    words = densities.material_told(found, claimed, rows)
    fits = any(fit.fits for fit in densities.fits(found, (claimed,)))
    return DensityFacts(fits, f"{words}.", _workings(variant, claimed, found, sized, said))


def of_typed(db: Session, piece: PieceFacts, scale_id: int, typed: str) -> DensityFacts | None:
    """The same for what is typed on a scale just now, as soon as it can be read."""
    scale = next((row for row in shopbook.scales(db) if row.id == scale_id), None)
    if scale is None:
        return None
    try:
        grams = quantities.mass(typed, scale.unit).amount
    except BenchError:
        return None
    said = f"{quantities.show_mass(grams, scale.unit)} on {scale.name}, shows {scale.division} {scale.unit}"
    return of_weight(db, piece, grams, float(scale.division_g), said) if grams > 0 else None


def claimed_of(variant: VariantFacts) -> Material:
    """The material in the book, with the variant's own density and a range that holds it."""
    nominal, low, high = predicting.density_range(variant)
    return replace(MATERIALS[variant.material], nominal=nominal, low=low, high=high)


@lru_cache(maxsize=256)
def _volume(typed: str, made: str) -> tuple[float, float] | None:
    """Volume of a drawing with its uncertainty [mm3]; a kept drawing never changes, so its text is its key."""
    drawn, problems = drawing.read_body(BodyTyped.from_json(typed))
    if drawn.body is None or problems:
        return None
    try:
        volume, u = densities.drawn_volume(drawn.body, predicting.AS_IT_CAME[made])
    except BenchError:
        return None
    return (volume, u) if volume > 0 else None


def _workings(
    variant: VariantFacts, claimed: Material, found: Implied, sized: tuple[float, float], said: str
) -> tuple[WorkingSheet, ...]:
    volume, u = sized
    size = f"{significant(volume / 1000, 4)} cm³ ± {significant(2 * u / 1000, 2)} cm³"
    density = f"{fixed(found.density, 2)} g/cm³ ± {significant(found.expanded, 1)} g/cm³"
    range_words = f"{claimed.nominal:g} ({claimed.low:g} to {claimed.high:g}) g/cm³"
    material = ((f"density of {claimed.words}", range_words), ("its source", claimed.source))
    sizes = (("drawn sizes", f"±{predicting.AS_IT_CAME[variant.made]:g} mm; common practice, no source"),)
    return (
        workings.of(
            densities.implied, figure="density", value=density, inputs=(("weighed", said), ("volume", size))
        ),
        workings.of(densities.drawn_volume, figure="volume", value=size, inputs=sizes),
        workings.of(densities.fits, figure="does it fit", value=variant.material_words, inputs=material),
    )  # fmt: skip

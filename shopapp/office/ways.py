"""Finer ways to weigh: several alike pieces at once, another scale, and the weight between two sides."""

from sqlmodel import Session

from shopapp.bench import quantities, together, weighing
from shopapp.office import shopbook, workings
from shopapp.office.cutting import PlanFacts
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.weighing import Weighed


def sharper(db: Session, *, pieces: int, each_g: float, predicted_g: float) -> str:
    """Which ways of weighing could judge a removal that one scale alone is too coarse for."""
    scales = shopbook.scales(db)
    known = [together.Scale(one.name, float(one.division_g), float(one.capacity_g)) for one in scales]
    units = {one.name: one.unit for one in scales}
    able = [
        way for way in together.ways(max(pieces, 1), each_g, known)
        if weighing.can_judge_by(predicted_g, way.expanded_g)
    ]  # fmt: skip
    if not able:
        return "No scale of the shop can judge this, nor all pieces at once: a finer scale is wanted."
    said = [f"{way.words}, good to ±{quantities.show_mass(way.expanded_g, units[way.scale])} each" for way in able[:2]]
    first = f"Sharper: {'; or '.join(said)}."
    if any(way.at_once > 1 for way in able[:2]):
        first += " At once wants both weights, before and after the cuts, and tells the average alone."
    return first


def working() -> tuple[WorkingSheet, ...]:
    """How sharp each way is."""
    return (workings.of(together.ways, figure="sharper ways"),)


def between(weighed: Weighed, plan: PlanFacts | None) -> tuple[str, ...]:
    """What each side took, where the piece was weighed between them, beside what the drawing says of the sides."""
    before, after = weighed.before, weighed.after
    if before is None or not weighed.between:
        return ()
    middle = weighed.between[-1]
    first = together.removed(
        together.read(before.grams, before.division_g), together.read(middle.grams, middle.division_g)
    )

    def show(grams: float) -> str:
        return quantities.show_mass(grams, before.unit)

    said = [f"Up to the weight between {show(first.grams)} came off, good to ±{show(first.expanded)}."]
    if after:
        rest = together.removed(
            together.read(middle.grams, middle.division_g), together.read(after.grams, after.division_g)
        )
        said.append(f"After it {show(rest.grams)}, good to ±{show(rest.expanded)}; the two share a reading.")
    sides = plan.removal.sides if plan else ()
    if sides:
        said.append("By the drawing: " + ", ".join(f"side {side} {text}" for side, text in sides) + ".")
    return tuple(said)

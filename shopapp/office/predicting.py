"""How sure a prediction is: the density's honest range, and what each size was told or measured to."""

from collections.abc import Sequence

from shopapp.bench import explain, together, uncertainty
from shopapp.bench.cuts import Cut
from shopapp.bench.inputs import Where
from shopapp.bench.materials import MATERIALS
from shopapp.bench.uncertainty import Prediction
from shopapp.office.drawing import Drawn
from shopapp.office.parts import VariantFacts

AS_IT_CAME = {"cast": 0.8, "wrought": 0.13}
"""How far a drawn size may be off [mm]: on a raw casting a 32nd, on stock .005 in; common practice, no source."""

AS_PLANNED = {"cast": 0.4, "wrought": 0.13}
"""How far a planned size may turn out otherwise [mm]: on a casting a 64th; common practice, no source."""


def density_range(variant: VariantFacts) -> tuple[float, float, float]:
    """Nominal, least and most density [g/cm3]; a density of the shop's own widens the table's range to hold it."""
    nominal = float(variant.density)
    material = MATERIALS[variant.material]
    return nominal, min(material.low, nominal), max(material.high, nominal)


def half_widths(variant: VariantFacts, cuts: Sequence[Cut]) -> dict[Where, float]:
    """The sizes that this job turns are known better than those the piece came with."""
    planned = AS_PLANNED[variant.made]
    return {("cut", i, name): planned for i, cut in enumerate(cuts) for name in cut.sizes if name != "from"}


def predict(variant: VariantFacts, drawn: Drawn, cuts: Sequence[Cut]) -> Prediction:
    """What the cuts take off, and how sure that is."""
    return uncertainty.predict(
        drawn.body, cuts, *density_range(variant), AS_IT_CAME[variant.made], half_widths(variant, cuts)
    )


def explanations(
    variant: VariantFacts,
    drawn: Drawn,
    cuts: Sequence[Cut],
    *,
    before_g: float,
    after_g: float,
    division_g: float,
    twins: Sequence[tuple[float, float]],
    unit: str,
) -> tuple[str, ...]:
    """What would each alone explain that scale and drawing differ, the most plausible first."""
    removed = together.removed(together.read(before_g, division_g), together.read(after_g, division_g))
    reading = explain.Reading(removed, division_g, before_g, after_g, tuple(twins))
    found = explain.explain(
        drawn.body, cuts, density_range(variant), AS_IT_CAME[variant.made], reading, unit, half_widths(variant, cuts)
    )
    return tuple(one.words for one in found[:5])

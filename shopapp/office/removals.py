"""What the bench found, put on sheets: the rows and figures of a removal, and the half-section as a drawing."""

import math
from collections.abc import Callable, Sequence

from shapely import Geometry, MultiPolygon, Polygon, box, union_all

from shopapp.bench import quantities, rounding
from shopapp.bench.cuts import CUT_KINDS, Cut, CutTake, Removal, removal
from shopapp.bench.errors import BenchError
from shopapp.bench.holes import Void, extent
from shopapp.bench.materials import MATERIALS
from shopapp.bench.remains import Clearance
from shopapp.bench.uncertainty import Prediction
from shopapp.office import predicting
from shopapp.office.drawing import Drawn, Typed
from shopapp.office.parts import VariantFacts
from shopapp.office.sheets.removal import RemovalSheet, TakeRow
from shopapp.office.sheets.section import KeepOutMark, Loop, Patch, SectionSheet, SizeMark

__all__ = ["BenchError", "sheets"]

Show = Callable[[float], str]
"""Writes grams in the unit that the pieces are weighed in."""


def sheets(
    variant: VariantFacts,
    drawn: Drawn,
    cuts: list[Cut],
    rows: list[Typed],
    *,
    unit: str,
    pieces: int = 1,
    mass_unit: str | None = None,
) -> tuple[RemovalSheet, SectionSheet]:
    """The removal of these cuts and its drawing; refuses what cannot be cut or drawn."""
    found = removal(drawn.body, cuts, float(variant.density), drawn.keeps, drawn.web, drawn.wall)
    weigh_in = mass_unit or ("lb" if unit == "in" else "g")
    sure = predicting.predict(variant, drawn, cuts)
    return _removal_sheet(variant, found, sure, rows, unit, weigh_in, pieces), _section(variant, drawn, found, unit)


def _removal_sheet(
    variant: VariantFacts, found: Removal, sure: Prediction, rows: list[Typed], unit: str, weigh_in: str, pieces: int
) -> RemovalSheet:
    worth = float(quantities.mass("1", weigh_in).base)
    low, high = max(sure.low, 0.0), sure.high
    about, least, most = rounding.about(found.mass / worth, low / worth, high / worth)

    def show(grams: float) -> str:
        return quantities.show_mass(grams, weigh_in)

    def whole(grams: float | None) -> str:
        """The whole part's mass, no finer than its density is known."""
        if grams is None:
            return ""
        best, thin, thick = predicting.density_range(variant)
        return f"{rounding.about(*(grams / worth * one / best for one in (best, thin, thick)))[0]} {weigh_in}"

    return RemovalSheet(
        rows=tuple(_row(take, row, show) for take, row in zip(found.takes, rows, strict=True)),
        sides=tuple((side, show(grams)) for side, grams in found.sides.items()),
        grams=found.mass,
        low_g=low,
        high_g=high,
        about=f"{about} {weigh_in}",
        range_text=f"{least} to {most} {weigh_in}",
        before_text=whole(found.before),
        after_text=whole(found.after),
        inertia_text=_inertia(found.inertia),
        web_text=quantities.show_length(found.web_left, unit) if found.web_left is not None else "",
        wall_text=quantities.show_length(found.wall_left, unit) if found.wall_left is not None else "",
        clearances=tuple(_clear(gap, unit) for gap in found.clearances),
        refusals=found.refusals,
        hints=found.hints,
        working=_working(variant, found, sure, rows, show),
        material_text=variant.material_words,
        pieces=pieces,
        set_text=show(found.mass * pieces) if pieces > 1 else "",
    )


def _row(take: CutTake, row: Typed, show: Show) -> TakeRow:
    return TakeRow(take.side, CUT_KINDS[row.kind].words, row.as_said(), take.mass, show(take.mass))


def _clear(gap: Clearance, unit: str) -> str:
    left = quantities.show_length(abs(gap.left_mm), unit)
    if gap.left_mm < 0:
        return f"{gap.name}: cut into by {left}"
    least = quantities.show_length(gap.least_mm, unit)
    return f"{gap.name}: {left} clear, least is {least}"


def _inertia(grams_mm2: float) -> str:
    return f"{rounding.significant(grams_mm2 / 1e6, 3)} g·m²" if grams_mm2 else ""


def _working(variant: VariantFacts, found: Removal, sure: Prediction, rows: list[Typed], show: Show) -> tuple[str, ...]:
    alone = math.fsum(take.alone_mass for take in found.takes)
    lines = [
        f"Metal really there: {rounding.significant(found.volume / 1000, 5)} cm³ × {variant.density} g/cm³ "
        f"({variant.material_words}) = {show(found.mass)}."
    ]
    lines += [
        f"Cut {i + 1}, side {take.side}: {CUT_KINDS[row.kind].words}, {row.as_said()}: "
        f"{rounding.significant(take.volume / 1000, 4)} cm³, {show(take.mass)}"
        + (f" (alone it would be {show(take.alone_mass)})" if take.alone_mass - take.mass > 0.5 else "")
        for i, (take, row) in enumerate(zip(found.takes, rows, strict=True))
    ]
    if alone - found.mass > 0.5:
        lines.append(f"Counted each alone the cuts come to {show(alone)}; where they overlap the metal counts once.")
    lines.append(
        "Volume of a turned ring: V = 2π ∫∫ r dr dz over the section, as an exact sum over its edges; "
        "holes by the angle that is missing at each radius."
    )
    _, least, most = predicting.density_range(variant)
    lines.append(
        f"How sure: U = 2u = {show(sure.expanded)}, u² = Σ(slope × u of each size)² (GUM 5.1.2). "
        f"Density {least:g} to {most:g} g/cm³: {MATERIALS[variant.material].source}. "
        f"Drawn sizes ±{predicting.AS_IT_CAME[variant.made]:g} mm, "
        f"planned ones ±{predicting.AS_PLANNED[variant.made]:g} mm: common practice, no source."
    )
    lines.append("Most of it comes from: " + "; ".join(f"{c.name} ±{show(2 * c.u)}" for c in sure.contributions[:3]))
    return tuple(lines)


def _section(variant: VariantFacts, drawn: Drawn, found: Removal, unit: str) -> SectionSheet:
    removed = tuple(patch for take in found.takes for patch in patches(take.region))
    stays = patches(found.stays)
    metal = union_all([found.stays, *(take.region for take in found.takes)])
    gaps = {gap.name: gap for gap in found.clearances}
    return SectionSheet(
        title=f"{variant.part}, {variant.name}",
        unit=unit,
        stays=stays,
        removed=removed,
        voids=tuple(loop for void in (drawn.body.voids if drawn.body else ()) for loop in _void(void, metal)),
        keep_outs=tuple(
            KeepOutMark(
                name=keep.name, z=keep.z, inner=keep.inner, outer=keep.outer,
                left_text=_left(gaps.get(keep.name), keep.least, unit),
                ok=keep.name not in gaps or gaps[keep.name].ok,
            )
            for keep in drawn.keeps
        ),
        sizes=_sizes(found, unit),
        note=variant.material_words,
    )  # fmt: skip


def _left(gap: Clearance | None, least: float, unit: str) -> str:
    """How near the cuts come; where none comes near, how far the tool has to stay away."""
    if gap is None or not math.isfinite(gap.left_mm):
        return f"stay {quantities.show_length(least, unit)} clear" if least else "do not touch"
    left = quantities.show_length(abs(gap.left_mm), unit)
    return f"{left} clear" if gap.left_mm >= 0 else f"cut into by {left}"


def patches(region: Geometry) -> tuple[Patch, ...]:
    """The areas of a region as loops of (z, r) points [mm]."""
    if isinstance(region, Polygon):
        polygons = [region] if not region.is_empty else []
    elif isinstance(region, MultiPolygon):
        polygons = list(region.geoms)
    else:
        polygons = [piece for piece in getattr(region, "geoms", ()) if isinstance(piece, Polygon)]
    return tuple(Patch(_loop(p.exterior.coords), tuple(_loop(hole.coords) for hole in p.interiors)) for p in polygons)


def _loop(points: Sequence[tuple[float, float]]) -> Loop:
    return tuple((round(float(z), 6), round(float(r), 6)) for z, r in points)


def _bounds(regions: list[Geometry]) -> tuple[float, float, float, float]:
    boxes = [region.bounds for region in regions if not region.is_empty]
    return (
        min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)
    )  # fmt: skip


def _void(void: Void, metal: Geometry) -> tuple[Loop, ...]:
    """A void's outlines in the plane of the section, where it meets metal."""
    z0, r0, z1, r1 = extent(void)
    low, _, high, top = metal.bounds
    return tuple(patch.outer for patch in patches(metal & box(max(z0, low), r0, min(z1, high), min(r1, top))))


def _sizes(found: Removal, unit: str) -> tuple[SizeMark, ...]:
    """The sizes that a lathe hand looks for first: largest diameter and length, after the cuts and before."""
    cut = [take.region for take in found.takes if not take.region.is_empty]
    boxes = [] if found.stays.is_empty else [(found.stays.bounds, False)]
    if cut:
        boxes.append((_bounds([found.stays, *cut]), bool(boxes)))
    marks: dict[tuple[float, ...], SizeMark] = {}
    for (z0, _, z1, r1), before in boxes:
        wide = SizeMark("diameter", (z1, r1), (z0, r1), _plain(2 * r1, unit), before)
        long = SizeMark("length", (z0, r1), (z1, r1), _plain(z1 - z0, unit), before)
        marks.setdefault((round(r1, 6),), wide)
        marks.setdefault((round(z0, 6), round(z1, 6)), long)
    return tuple(marks.values())


def _plain(mm: float, unit: str) -> str:
    return quantities.show_length(mm, unit).removesuffix(f" {unit}")

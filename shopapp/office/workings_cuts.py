"""The working behind what cuts take off: mass, spread, what each cut takes, what is left, inertia, web and wall."""

from shopapp.bench import cuts, holes, remains, solids, uncertainty
from shopapp.office import workings
from shopapp.office.sheets.removal import RemovalSheet
from shopapp.office.sheets.working import WorkingSheet


def of_removal(told: RemovalSheet) -> tuple[WorkingSheet, ...]:
    """Every figure of a removal, with the cuts as typed."""
    if not told.rows:
        return of_body(told)
    typed = tuple(
        (f"cut {i + 1}, side {row.side}", f"{row.words}, {row.sizes_as_typed}") for i, row in enumerate(told.rows)
    )
    takes = tuple((f"cut {i + 1}", row.text) for i, row in enumerate(told.rows))
    sides = tuple((f"side {side}", text) for side, text in told.sides)
    material = (("material", f"{told.material_text} g/cm³"),)
    return (
        workings.of(
            uncertainty.predict, figure="comes off each", value=f"{told.about}, {told.range_text}",
            inputs=(*typed, *material),
        ),
        workings.of(cuts.removal, figure="what each cut takes", inputs=(*takes, *sides)),
        *_volumes(),
        *_left(told),
    )  # fmt: skip


def of_body(told: RemovalSheet) -> tuple[WorkingSheet, ...]:
    """The mass of a part as drawn."""
    if not told.before_text:
        return ()
    inputs = (("material", f"{told.material_text} g/cm³"),)
    return (
        workings.of(cuts.mass_of, figure="weighs about", value=told.before_text, inputs=inputs),
        *_volumes(),
    )


def _volumes() -> tuple[WorkingSheet, ...]:
    return (
        workings.of(solids.volume, figure="volume of what is turned"),
        workings.of(holes.missing, figure="holes, keyways, pockets and slots"),
    )


def _left(told: RemovalSheet) -> tuple[WorkingSheet, ...]:
    """What is left after the cuts, as far as each is shown."""
    found = []
    if told.after_text:
        weights = (("before, as drawn", told.before_text), ("comes off", told.about))
        found.append(workings.of(cuts.mass_of, figure="left", value=told.after_text, inputs=weights))
    if told.set_text:
        each = (("each", told.about), ("pieces", str(told.pieces)))
        found.append(workings.of(cuts.removal, figure=f"off all {told.pieces}", value=told.set_text, inputs=each))
    if told.inertia_text:
        found.append(workings.of(solids.moment, figure="inertia off", value=told.inertia_text))
    for name, text in (("web left", told.web_text), ("wall left", told.wall_text)):
        if text:
            found.append(workings.of(remains.thinnest, figure=name, value=text))
    if told.clearances:
        inputs = tuple(("edge", words) for words in told.clearances)
        found.append(workings.of(remains.clearances, figure="clear of the edges", inputs=inputs))
    return tuple(found)

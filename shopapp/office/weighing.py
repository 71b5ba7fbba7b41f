"""Weigh in, weigh out: readings are only added, a wrong one is struck through; the scale decides what may be said."""

from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction

from sqlmodel import Session, select

from shopapp.bench import quantities, rounding, together
from shopapp.bench import weighing as bench
from shopapp.bench.errors import BenchError
from shopapp.office import cutting, history, jobs, plausible, predicting, shopbook, workings_scale
from shopapp.office import zero as scale_zero
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import PieceFacts
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.tables.people import Person
from shopapp.office.tables.shopbook import Scale
from shopapp.office.tables.weighing import Reading, Strike

DOUBTED = ("look again", "does not add up")


@dataclass(frozen=True)
class Shown:
    """What a scale showed, as it was written down, struck or not."""

    id: int
    phase: str
    typed: str
    unit: str
    grams: float
    division: str
    scale_id: int
    scale: str
    zero_seen: bool
    zero: str | None
    note: str
    initials: str
    at: datetime
    struck: str | None

    @property
    def text(self) -> str:
        """The reading with its unit, as typed, or less what the scale showed with nothing on it."""
        return scale_zero.less(self.typed, self.zero, self.unit, self.grams, self.division)

    @property
    def zero_words(self) -> str:
        """What is known of the scale's zero: nothing, that it was seen, or what it showed and was taken off."""
        return scale_zero.said(self.typed, self.zero or ("0" if self.zero_seen else ""), self.unit)

    @property
    def division_g(self) -> float:
        """The scale's division at that time [g]."""
        return quantities.mass(self.division, self.unit).amount

    @property
    def scale_words(self) -> str:
        """The scale and what it shows: "bench dial, shows 0.5 lb"."""
        return f"{self.scale}, shows {self.division} {self.unit}"


@dataclass(frozen=True)
class ReadingFacts(Shown):
    """One reading of one piece."""

    piece_id: int


@dataclass(frozen=True)
class Weighed:
    """What the scale says of one piece: readings that stand, the verdict, and its twin."""

    before: ReadingFacts | None = None
    after: ReadingFacts | None = None
    between: tuple[ReadingFacts, ...] = ()
    struck: tuple[ReadingFacts, ...] = ()
    removed_g: float | None = None
    removed_text: str = ""
    predicted_g: float | None = None
    predicted_text: str = ""
    verdict: str = ""
    verdict_words: str = ""
    workings: tuple[WorkingSheet, ...] = ()


@dataclass(frozen=True)
class Judged:
    """What a weight says while it is typed: in both units, the scale's question, the verdict it would get."""

    echo: str = ""
    question: str = ""
    fitness: str = ""
    verdict: str = ""
    words: str = ""
    explained: tuple[str, ...] = ()
    workings: tuple[WorkingSheet, ...] = ()


def weigh(
    db: Session, *, piece_id: int, scale_id: int, phase: str, typed: str, zero_seen: bool = False, zero: str = "",
    less_zero: bool = False, heavier: str = "", note: str = "", now: datetime, by: int,
) -> int:  # fmt: skip
    """Write a reading down; gives its row's id. A reading off the scale's division is asked about, and so is one that
    grew, and a scale that does not show `zero` with nothing on it.

    `less_zero`: the reading is kept less what the scale showed then; `heavier`: why the piece weighs more than before.
    """
    piece = jobs.piece_row(db, piece_id)
    scale = scale_of(db, scale_id)
    zero = zero.strip() or ("0" if zero_seen else "")
    grams = scale_zero.taken_off(read(typed, scale), zero, scale, less_zero=less_zero)
    standing = _known(readings(db, piece_id))
    plausible.fits(phase, piece, standing, scale, note=note, read_at=now)
    if grew := plausible.grew(phase, float(grams), standing):
        if not heavier.strip():
            raise TryAgain({"heavier": f"{grew} If it is so, write why."})
        note = f"{note.strip()}; heavier all the same: {heavier.strip()}".removeprefix("; ")
    row = Reading(
        piece_id=piece_id, scale_id=scale_id, phase=phase, typed=" ".join(typed.split()), unit=scale.unit,
        grams=float(grams), division=scale.division, zero_seen=bool(zero), zero=zero or None, note=note.strip(),
        by_id=by, at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    said = f"{phase}: {with_unit(row.typed, scale.unit)} on {scale.name}"
    said += f", less {scale_zero.words(zero, scale.unit)} at zero" if scale_zero.grams(zero, scale.unit) else ""
    said += f"; {row.note}" if row.note else ""
    history.write(db, now=now, by=by, act="weighed", words=said, job_id=piece.job_id, piece_id=piece_id)
    return row.id


def _known(rows: list[ReadingFacts]) -> list[plausible.Known]:
    standing = [row for row in rows if row.struck is None]
    return [plausible.Known(r.phase, r.grams, r.text, r.unit, r.division, r.scale_id, r.scale) for r in standing]


def with_unit(typed: str, unit: str) -> str:
    """A reading with its unit, which is not said twice where it was typed."""
    return typed if any(c.isalpha() or c == "#" for c in typed) else f"{typed} {unit}"


def read(typed: str, scale: shopbook.ScaleFacts) -> Fraction:
    """The grams of a typed reading that this scale can show."""
    try:
        reading = quantities.mass(typed, scale.unit)
        if reading.base <= 0:
            raise TryAgain({"reading": "A piece weighs something. Read the scale again."})
        if reading.base > scale.capacity_g:
            raise TryAgain(
                {"reading": f"{scale.name} carries {scale.capacity} {scale.unit}. Use a scale that carries more."}
            )
        unit_g = quantities.mass("1", scale.unit).base
        bench.snap(reading.base / unit_g, Fraction(scale.division), scale.unit)
    except BenchError as refusal:
        raise TryAgain({"reading": str(refusal)}) from refusal
    return reading.base


def strike(db: Session, *, reading_id: int, reason: str, now: datetime, by: int) -> None:
    """Strike a wrong reading through; it stays in the book with the reason beside it."""
    if not reason.strip():
        raise TryAgain({"reason": "Write why this reading is wrong; both stay in the book."})
    row = db.get(Reading, reading_id)
    if row is None:
        raise NotHere("That reading is not in the book.")
    if db.exec(select(Strike.id).where(Strike.reading_id == reading_id)).first():
        raise InTheWay("That reading is struck through already.")
    db.add(Strike(reading_id=reading_id, reason=reason.strip(), by_id=by, at=now))
    db.flush()
    job_id = jobs.piece_row(db, row.piece_id).job_id
    words = f"{row.phase} {with_unit(row.typed, row.unit)} struck through: {reason.strip()}"
    history.write(db, now=now, by=by, act="struck", words=words, job_id=job_id, piece_id=row.piece_id)


def readings(db: Session, piece_id: int) -> list[ReadingFacts]:
    """Every reading of a piece in the order written, struck ones among them."""
    return _readings(db, [piece_id])


def of_pieces(db: Session, pieces: list[PieceFacts]) -> dict[int, Weighed]:
    """What the scale says of each of these pieces, by the row of the piece."""
    rows = _readings(db, [piece.id for piece in pieces])
    plans = cutting.newest_plans(db, {piece.job_id for piece in pieces})
    unit = shopbook.the_shop(db).unit
    told = {}
    for piece in pieces:
        mine = [row for row in rows if row.piece_id == piece.id]
        plan = plans.get((piece.job_id, piece.variant_id or 0))
        told[piece.id] = _weighed(mine, plan, "lb" if unit == "in" else "g")
    return told


def against(db: Session, piece_id: int, plan: "cutting.PlanFacts | None") -> Weighed:
    """What the scale says of a piece against a prediction of its own: the one by its sizes as measured."""
    unit = shopbook.the_shop(db).unit
    return _weighed(_readings(db, [piece_id]), plan, "lb" if unit == "in" else "g")


def _weighed(rows: list[ReadingFacts], plan: "cutting.PlanFacts | None", unit: str) -> Weighed:
    standing = [row for row in rows if row.struck is None]
    before = next((row for row in standing if row.phase == "before"), None)
    after = next((row for row in standing if row.phase == "after"), None)
    judged: dict[str, object] = {}
    unit = before.unit if before else unit
    if plan:
        judged |= {"predicted_g": plan.grams, "predicted_text": by_drawing(plan, unit) if before else plan.about}
    if before and after:
        off = _off(before, after)
        text = off_text(before, after, off.grams)
        judged |= {"removed_g": off.grams, "removed_text": text, "workings": _off_working(before, after, text)}
        if plan:
            judged |= _judge(before, after, plan, unit)
    return Weighed(
        before=before, after=after, between=tuple(row for row in standing if row.phase == "between"),
        struck=tuple(row for row in rows if row.struck is not None), **judged,
    )  # fmt: skip


def _off(before: ReadingFacts, after: ReadingFacts) -> together.Weighed:
    return together.removed(
        together.read(before.grams, before.division_g), together.read(after.grams, after.division_g)
    )


def _off_working(before: ReadingFacts, after: ReadingFacts, text: str) -> tuple[WorkingSheet, ...]:
    good_to = quantities.show_mass(_off(before, after).expanded, before.unit)
    said = [f"{row.text} on {row.scale_words}" for row in (before, after)]
    return workings_scale.of_off(said[0], said[1], text, good_to)


def off_text(before: Shown, after: Shown, off: float) -> str:
    """What came off, with as many places as the scale shows."""
    places = max(len(row.division.partition(".")[2]) for row in (before, after))
    return quantities.show_mass(off, before.unit, places)


def _judge(before: ReadingFacts, after: ReadingFacts, plan: "cutting.PlanFacts", unit: str) -> dict[str, object]:
    off = _off(before, after)
    sure = plan.spread * plan.grams
    said = bench.verdict_by(off.grams, off.expanded, plan.grams, sure, bench.can_judge_by(plan.grams, off.expanded))

    def show(grams: float) -> str:
        return quantities.show_mass(grams, unit)

    about = by_drawing(plan, unit)
    words = {
        "agrees": f"Off by the scale {show(said.removed_g)}, by the drawing {about}. They agree.",
        "look again": f"Off by the scale {show(said.removed_g)}, by the drawing {about}: "
        f"{show(abs(said.difference_g))} apart. Look again: the tag, the scale, a size.",
        "does not add up": f"Off by the scale {show(said.removed_g)}, by the drawing {about}: "
        f"{show(abs(said.difference_g))} apart. That does not add up. Stop and find out before it goes further.",
        "scale too coarse": f"{before.scale} shows {before.division} {before.unit}; {about} is too little for it "
        "to judge. Use a finer scale, or weigh several pieces together.",
    }[said.word]
    told = (
        ("weighed", f"{show(said.removed_g)} ±{show(off.expanded)}"),
        ("predicted", f"{show(plan.grams)} ±{show(sure)} (U = 2u, density and sizes; GUM 5.1.2)"),
        ("apart", f"{show(said.difference_g)}, explained ±{show(said.uncertainty_g)}"),
        ("shop's own rule", "a scale whose own U is more than half of what comes off is too coarse"),
    )
    sheets = workings_scale.of_verdict(said.word, rounding.fixed(said.normalised, 2), told)
    sheets = (*_off_working(before, after, show(said.removed_g)), *sheets)
    return {"verdict": said.word, "verdict_words": words, "workings": sheets}


def by_drawing(plan: "cutting.PlanFacts", unit: str) -> str:
    """What the drawing says, in the unit that the piece is weighed in, no finer than it deserves."""
    worth, sure = float(quantities.WORTH[unit]), plan.spread * plan.grams
    return f"{rounding.about(*((plan.grams + side) / worth for side in (0.0, -sure, sure)))[0]} {unit}"


def judge(
    db: Session, *, piece: PieceFacts, scale_id: int | None, phase: str, typed: str, zero: str = ""
) -> Judged:  # fmt: skip
    """A reading as it would be judged if it were written down now, less `zero`; nothing is written."""
    scale = next((row for row in shopbook.scales(db) if row.id == scale_id), None)
    if scale is None:
        return Judged(question="Choose the scale that the piece lies on." if typed.strip() else "")
    plan = cutting.plan(db, piece.job_id, piece.variant_id or 0)
    fitness = scale_fitness(db, plan.grams)[scale.id] if plan else ""
    if not typed.strip():
        return Judged(fitness=fitness)
    try:
        grams = float(scale_zero.taken_off(read(typed, scale), zero, scale, less_zero=True))
    except TryAgain as refusal:
        return Judged(fitness=fitness, question=str(refusal))
    echo = quantities.echo_mass(quantities.mass(typed, scale.unit))
    standing = [row for row in readings(db, piece.id) if row.struck is None]
    before = next((row for row in standing if row.phase == "before"), None)
    if phase in plausible.ORDER and (grew := plausible.grew(phase, grams, _known(standing))):
        return Judged(echo, grew, fitness)
    if phase != "after" or plan is None or before is None:
        return Judged(echo, fitness=fitness)
    told = {"typed": typed, "unit": scale.unit, "grams": grams, "division": scale.division, "zero": zero}
    after = replace(before, phase="after", **told)
    told = _judge(before, after, plan, before.unit)
    found: tuple[str, ...] = ()
    if told["verdict"] in DOUBTED:
        found = _explained(db, plan, before, after, _twins_of(db, piece, before))
    return Judged(echo, "", fitness, str(told["verdict"]), str(told["verdict_words"]), found, told["workings"])


def explained(db: Session, piece: PieceFacts, told: dict[int, Weighed]) -> tuple[str, ...]:
    """Where scale and drawing do not agree: what would each alone explain it, the most plausible first."""
    weighed = told[piece.id]
    if weighed.verdict not in DOUBTED or not (weighed.before and weighed.after):
        return ()
    plan = cutting.plan(db, piece.job_id, piece.variant_id or 0)
    return _explained(db, plan, weighed.before, weighed.after, _twins_of(db, piece, weighed.before)) if plan else ()


def _twins_of(db: Session, piece: PieceFacts, before: ReadingFacts) -> list[tuple[float, float]]:
    """Before and after of every other piece of its job that was to be cut the same and lay on the same scale [g]."""
    pieces = [one for one in jobs.pieces(db, piece.job_id) if one.part == piece.part]
    told = of_pieces(db, pieces)
    mine = replace(told[piece.id], before=before)
    return [
        (row.before.grams, row.after.grams)
        for key, row in told.items()
        if key != piece.id and row.before and row.after and same_cuts(mine, row)
    ]


def _explained(
    db: Session,
    plan: "cutting.PlanFacts",
    before: ReadingFacts,
    after: ReadingFacts,
    twins: list[tuple[float, float]],
) -> tuple[str, ...]:
    variant, drawn, cuts = cutting.as_cut(db, plan)
    try:
        return predicting.explanations(
            variant, drawn, cuts, before_g=before.grams, after_g=after.grams,
            division_g=max(before.division_g, after.division_g), twins=twins,
            unit=plan.typed.unit,
        )  # fmt: skip
    except BenchError:
        return ()


def still_to_weigh(pieces: list[PieceFacts], told: dict[int, Weighed], phase: str) -> list[PieceFacts]:
    """The pieces that want a weight before their cuts, or after them, by number."""
    if phase == "before":
        return [p for p in pieces if p.custody == "rack" and told[p.id].before is None]
    return [p for p in pieces if p.custody in ("chuck", "checked") and told[p.id].before and not told[p.id].after]


def same_cuts(a: Weighed, b: Weighed) -> bool:
    """Whether two pieces, each weighed before on one scale, are to lose the same."""
    if a.predicted_g is None or b.predicted_g is None:
        return False
    return abs(a.predicted_g - b.predicted_g) <= 0.02 * a.predicted_g and a.before.scale_id == b.before.scale_id


def scale_fitness(db: Session, predicted_g: float) -> dict[int, str]:
    """For each scale a sentence: whether it can judge a removal of that size."""
    told = {}
    for scale in shopbook.scales(db):
        able = bench.can_judge(predicted_g, float(scale.division_g))
        good_to = quantities.show_mass(0.8165 * float(scale.division_g), scale.unit)
        told[scale.id] = (
            f"{scale.name} can judge this: two weighings are good to ±{good_to}."
            if able
            else f"{scale.name} is too coarse to judge this: two weighings are good to ±{good_to} only."
        )
    return told


def _readings(db: Session, piece_ids: list[int]) -> list[ReadingFacts]:
    rows = db.exec(
        select(
            Reading.id, Reading.phase, Reading.typed, Reading.unit, Reading.grams, Reading.division,
            Reading.scale_id, Scale.name, Reading.zero_seen, Reading.zero, Reading.note, Person.initials, Reading.at,
            Strike.reason, Reading.piece_id,
        )
        .join(Scale, Scale.id == Reading.scale_id)
        .join(Person, Person.id == Reading.by_id)
        .outerjoin(Strike, Strike.reading_id == Reading.id)
        .where(Reading.piece_id.in_(piece_ids))
        .order_by(Reading.id)
    )  # fmt: skip
    return [ReadingFacts(*row) for row in rows]


def scale_of(db: Session, scale_id: int) -> shopbook.ScaleFacts:
    """The scale that was chosen; refused where it is none of the shop's."""
    found = [scale for scale in shopbook.scales(db) if scale.id == scale_id]
    if not found:
        raise TryAgain({"scale": "Choose the scale that the piece lies on."})
    return found[0]

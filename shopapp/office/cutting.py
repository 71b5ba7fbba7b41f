"""Cuts on paper: what they take off, tried while a number is typed and kept with the same sum."""

from dataclasses import dataclass, field
from datetime import datetime

from sqlmodel import Session, func, select

from shopapp.bench import clash, quantities
from shopapp.bench.cuts import Cut
from shopapp.office import drawing, history, jobs, parts, removals
from shopapp.office.drawing import BodyTyped, CutsTyped, Drawn
from shopapp.office.errors import NotHere, TryAgain
from shopapp.office.parts import VariantFacts
from shopapp.office.sheets.canon import read, to_json
from shopapp.office.sheets.removal import RemovalSheet
from shopapp.office.sheets.section import SectionSheet
from shopapp.office.tables.cutting import CutPlan
from shopapp.office.tables.parts import Body


@dataclass(frozen=True)
class PlanFacts:
    """A kept version of the cuts for one variant in one job; its documents are read only when asked for."""

    id: int
    job_id: int
    variant_id: int
    version: int
    grams: float
    spread: float
    about: str
    at: datetime
    typed_text: str
    removal_text: str
    section_text: str

    @property
    def typed(self) -> CutsTyped:
        """The cuts as typed."""
        return CutsTyped.from_json(self.typed_text)

    @property
    def removal(self) -> RemovalSheet:
        """What they take off, as predicted when they were kept."""
        return read(RemovalSheet, self.removal_text)

    @property
    def section(self) -> SectionSheet:
        """The drawing as it was then."""
        return read(SectionSheet, self.section_text)


@dataclass(frozen=True)
class Tried:
    """What typed cuts come to: the sheets to show, and what wants mending by field."""

    removal: RemovalSheet | None
    section: SectionSheet | None
    problems: dict[str, str] = field(default_factory=dict)
    question: str = ""


def body_of(db: Session, variant_id: int) -> tuple[int | None, BodyTyped | None]:
    """The newest drawing of a variant and its row, or nothing where none was made."""
    row = db.exec(
        select(Body.id, Body.typed).where(Body.variant_id == variant_id).order_by(Body.version.desc())
    ).first()
    return (row[0], BodyTyped.from_json(row[1])) if row else (None, None)


def try_body(variant: VariantFacts, typed: BodyTyped) -> Tried:
    """A drawing as far as it is typed, with its mass."""
    drawn, problems = drawing.read_body(typed)
    return _tried(variant, drawn, CutsTyped(typed.unit), problems)


def keep_body(db: Session, *, variant_id: int, typed: BodyTyped, now: datetime, by: int) -> int:
    """Keep a drawing as the variant's next version; every older one stays."""
    variant = parts.variant(db, variant_id)
    tried = try_body(variant, typed)
    if tried.problems:
        raise TryAgain(tried.problems)
    if tried.section is None:
        raise TryAgain({"part_0_outside": "Type at least one ring: its outside, and from where to where it goes."})
    if tried.removal.refusals:
        raise TryAgain({"": " ".join(tried.removal.refusals)})
    last = db.exec(select(func.max(Body.version)).where(Body.variant_id == variant_id)).one() or 0
    kept = typed.filled().to_json()
    row = Body(variant_id=variant_id, version=last + 1, unit=typed.unit, typed=kept, by_id=by, at=now)
    db.add(row)
    db.flush()
    words = f"{variant.part}, {variant.name}: drawing {row.version}, {tried.removal.before_text}"
    history.write(db, now=now, by=by, act="drawing", words=words)
    return row.id


def try_cuts(db: Session, *, variant_id: int, typed: CutsTyped, pieces: int = 1, mass_unit: str | None = None) -> Tried:
    """What the cuts take off, by the same sum that keeps them."""
    variant = parts.variant(db, variant_id)
    _, body = body_of(db, variant_id)
    drawn, problems = drawing.read_body(body) if body else (Drawn(None), {})
    return _tried(variant, drawn, typed, problems, pieces, mass_unit)


def _tried(
    variant: VariantFacts, drawn: Drawn, typed: CutsTyped, problems: dict[str, str], pieces: int = 1,
    mass_unit: str | None = None,
) -> Tried:  # fmt: skip
    cuts, rows, cut_problems = drawing.read_cuts(typed)
    problems = {**problems, **cut_problems}
    question = web_question(typed)
    if drawn.body is None and not cuts:
        return Tried(None, None, problems, question)
    try:
        removal, section = removals.sheets(
            variant, drawn, cuts, rows, unit=typed.unit, pieces=pieces, mass_unit=mass_unit
        )
    except removals.BenchError as refusal:
        return Tried(None, None, {**problems, "": str(refusal)}, question)
    return Tried(removal, section, problems, question)


def as_cut(db: Session, plan: PlanFacts) -> tuple[VariantFacts, Drawn, list[Cut]]:
    """A kept plan as the bench works with it: the variant, its drawing then, the cuts."""
    row = db.exec(select(Body.typed).join(CutPlan, CutPlan.body_id == Body.id).where(CutPlan.id == plan.id)).first()
    drawn = drawing.read_body(BodyTyped.from_json(row))[0] if row else Drawn(None)
    return parts.variant(db, plan.variant_id), drawn, drawing.read_cuts(plan.typed)[0]


def web_question(typed: CutsTyped) -> str:
    """A question where the web was measured and noted as two different sizes."""
    if not (typed.web.strip() and typed.web_note.strip()):
        return ""
    try:
        measured = quantities.length(typed.web, typed.unit)
        said = clash.statements(typed.web_note)
    except removals.BenchError:
        return ""
    found = [clash.clash(measured, other, 0.05) for other in said]
    return next((one.words for one in found if one), "")


def keep_cuts(db: Session, *, job_id: int, variant_id: int, typed: CutsTyped, now: datetime, by: int) -> int:
    """Use these cuts: keep them as the next version, with the prediction and the drawing frozen."""
    alike = [piece for piece in jobs.pieces(db, job_id) if piece.variant_id == variant_id]
    if not alike:
        raise NotHere("No piece of this job is of that variant.")
    tried = try_cuts(db, variant_id=variant_id, typed=typed, pieces=len(alike))
    problems = dict(tried.problems)
    if tried.question:
        problems["web_note"] = tried.question
    if tried.removal is None or not tried.removal.rows:
        problems = problems or {"cut_0_to": "Type at least one cut with its sizes."}
    elif tried.removal.refusals:
        problems[""] = " ".join(tried.removal.refusals)
    if problems:
        raise TryAgain(problems)
    last = db.exec(
        select(func.max(CutPlan.version)).where(CutPlan.job_id == job_id, CutPlan.variant_id == variant_id)
    ).one()
    row = CutPlan(
        job_id=job_id, variant_id=variant_id, version=(last or 0) + 1, body_id=body_of(db, variant_id)[0],
        unit=typed.unit, typed=typed.to_json(), grams=tried.removal.grams,
        spread=tried.removal.sure_g / tried.removal.grams,
        about=tried.removal.about,
        removal=to_json(tried.removal), section=to_json(tried.section), by_id=by, at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    words = f"cuts {row.version} for {parts.variant(db, variant_id).name}: about {tried.removal.about} off each"
    history.write(db, now=now, by=by, act="cuts", words=words, job_id=job_id)
    return row.id


def newest_plans(db: Session, job_ids: set[int]) -> dict[tuple[int, int], PlanFacts]:
    """The newest cuts of each variant in each of these jobs."""
    newest = (
        select(func.max(CutPlan.id))
        .where(CutPlan.job_id.in_(job_ids), CutPlan.basis == "planned")
        .group_by(CutPlan.job_id, CutPlan.variant_id)
    )
    return {(plan.job_id, plan.variant_id): plan for plan in _plans(db, CutPlan.id.in_(newest))}


def plan(db: Session, job_id: int, variant_id: int) -> PlanFacts | None:
    """The newest cuts for a variant in a job."""
    return newest_plans(db, {job_id}).get((job_id, variant_id))


def last_plan(db: Session, variant_id: int, *, but_job: int = 0) -> PlanFacts | None:
    """The newest cuts for a variant in any other job, to begin from."""
    found = db.exec(
        select(func.max(CutPlan.id)).where(
            CutPlan.variant_id == variant_id, CutPlan.job_id != but_job, CutPlan.basis == "planned"
        )
    ).one()
    return _plans(db, CutPlan.id == found)[0] if found else None


def measured_plan(db: Session, piece_id: int) -> PlanFacts | None:
    """The newest prediction of a piece by its sizes as measured."""
    found = db.exec(
        select(func.max(CutPlan.id)).where(CutPlan.piece_id == piece_id, CutPlan.basis == "measured")
    ).one()
    return _plans(db, CutPlan.id == found)[0] if found else None


def _plans(db: Session, where: object) -> list[PlanFacts]:
    rows = db.exec(
        select(
            CutPlan.id, CutPlan.job_id, CutPlan.variant_id, CutPlan.version, CutPlan.grams, CutPlan.spread,
            CutPlan.about, CutPlan.at, CutPlan.typed, CutPlan.removal, CutPlan.section,
        ).where(where).order_by(CutPlan.id)
    )  # fmt: skip
    return [PlanFacts(*row) for row in rows]

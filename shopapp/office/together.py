"""Alike pieces weighed at once: one reading for all of them, and the sharper word it gives of their average.

It stands beside the readings of the single pieces and is never divided among them: at once tells the mean alone, and a
piece still wants its own weight, which tells it from its twin.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy import null
from sqlmodel import Session, select

from shopapp.bench import quantities, rounding
from shopapp.bench import together as bench
from shopapp.bench import weighing as judging
from shopapp.office import cutting, history, jobs, plausible, shopbook, weighing, workings_scale
from shopapp.office.cutting import PlanFacts
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import PieceFacts
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.shopbook import ScaleFacts
from shopapp.office.tables.jobs import Job, Piece
from shopapp.office.tables.people import Person
from shopapp.office.tables.shopbook import Scale
from shopapp.office.tables.together import JointPiece, JointReading, JointStrike
from shopapp.office.tracks import HERE
from shopapp.office.weighing import Judged

PHASES = ("before", "after")
ALIKE = 0.02
"""By how much the removals foreseen of two pieces may differ, as a part of one, for the two to be weighed at once."""


@dataclass(frozen=True)
class Member:
    """A piece that lay on the scale with others."""

    id: int
    number: str
    job_id: int
    variant_id: int | None


@dataclass(frozen=True)
class JointFacts(weighing.Shown):
    """One reading of several pieces at once."""

    members: tuple[Member, ...]


@dataclass(frozen=True)
class Jointly:
    """What the scale says of pieces that were weighed at once: readings that stand, and the verdict on the average."""

    before: JointFacts | None = None
    after: JointFacts | None = None
    struck: tuple[JointFacts, ...] = ()
    removed_text: str = ""
    each_text: str = ""
    good_to: str = ""
    verdict: str = ""
    verdict_words: str = ""
    workings: tuple[WorkingSheet, ...] = ()

    @property
    def standing(self) -> tuple[JointFacts, ...]:
        """The readings that stand, before and after."""
        return tuple(row for row in (self.before, self.after) if row)

    @property
    def numbers(self) -> str:
        """The pieces: "1161-1 and 1161-2"."""
        return numbers((self.standing or self.struck)[0].members) if self.standing or self.struck else ""

    @property
    def off_words(self) -> str:
        """What came off each on the average, for a line of last times."""
        return f"{self.each_text} each, {self.numbers} together" if self.each_text else ""


def numbers(pieces: Sequence[Member] | Sequence[PieceFacts]) -> str:
    """Pieces in words: "1161-1, 1161-2 and 1161-3"."""
    said = [piece.number for piece in pieces]
    return " and ".join([", ".join(said[:-1]), said[-1]] if len(said) > 1 else said)


def all_of(count: int) -> str:
    """How many lie on the scale: "both", "all 3"."""
    return "both" if count == 2 else f"all {count}"


def alike(db: Session, piece: PieceFacts, every: Sequence[PieceFacts]) -> tuple[PieceFacts, ...]:
    """The pieces of the job that can lie on the scale with this one, itself among them; none where it has no twin.

    Alike are pieces of one variant, or of one part with the same removal foreseen; those that are here.
    """
    plans = cutting.newest_plans(db, {piece.job_id})

    def off(one: PieceFacts) -> float:
        plan = plans.get((one.job_id, one.variant_id or 0))
        return plan.grams if plan else 0.0

    mine = off(piece)
    found = [
        one for one in every
        if one.custody in HERE and one.worked and one.variant_id and piece.variant_id and (
            one.variant_id == piece.variant_id
            or (one.part == piece.part and mine > 0 and abs(off(one) - mine) <= ALIKE * mine)
        )
    ]  # fmt: skip
    return tuple(found) if len(found) > 1 and piece in found else ()


def wanted(jointly: Jointly, group: Sequence[PieceFacts]) -> str:
    """Which weight of all at once can be taken next: before, after, or none."""
    if len(group) < 2:
        return ""
    if jointly.before is None:
        return "before" if all(piece.custody == "rack" for piece in group) else ""
    together = {member.id for member in jointly.before.members} <= {piece.id for piece in group}
    return "after" if jointly.after is None and together else ""


def weigh(
    db: Session, *, piece_ids: Sequence[int], scale_id: int, phase: str, typed: str, zero_seen: bool = False,
    note: str = "", now: datetime, by: int,
) -> int:  # fmt: skip
    """Write down what several alike pieces weigh at once; gives the row's id. It is no reading of any one of them."""
    pieces = _on_the_scale(db, piece_ids)
    scale = weighing.scale_of(db, scale_id)
    grams = weighing.read(typed, scale)
    _phase_fits(db, phase, pieces, scale, note)
    _no_heavier(db, phase, pieces, float(grams), note)
    row = JointReading(
        scale_id=scale_id, phase=phase, typed=" ".join(typed.split()), unit=scale.unit, grams=float(grams),
        division=scale.division, zero_seen=zero_seen, note=note.strip(), by_id=by, at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    db.add_all([JointPiece(joint_id=row.id, piece_id=piece.id) for piece in pieces])
    said = f"{phase}, {numbers(pieces)} at once: {weighing.with_unit(row.typed, scale.unit)} on {scale.name}"
    said += f"; {row.note}" if row.note else ""
    for piece in pieces:
        history.write(db, now=now, by=by, act="weighed", words=said, job_id=piece.job_id, piece_id=piece.id)
    return row.id


def _on_the_scale(db: Session, piece_ids: Sequence[int]) -> tuple[PieceFacts, ...]:
    """The pieces in the order of their numbers, refused where they are not alike and here."""
    if len(set(piece_ids)) < 2:
        raise TryAgain({"pieces": "At once takes two pieces or more. Weigh a single one on its own strip."})
    every = jobs.pieces(db, jobs.piece_row(db, piece_ids[0]).job_id)
    pieces = tuple(piece for piece in every if piece.id in set(piece_ids))
    if any(piece.custody == "expected" for piece in pieces):
        raise InTheWay("Not all of these pieces are here yet. Take them in first: look at their signs.")
    if len(pieces) < len(set(piece_ids)) or not set(pieces) <= set(alike(db, pieces[0], every)):
        raise InTheWay("These pieces are not alike, so their average says nothing. Weigh each on its own.")
    return pieces


def _phase_fits(db: Session, phase: str, pieces: Sequence[PieceFacts], scale: ScaleFacts, note: str) -> None:
    if phase not in PHASES:
        raise TryAgain({"phase": "Say whether this is before or after the cuts."})
    told = of_pieces(db, pieces)
    if any(getattr(told[piece.id], phase) for piece in pieces):
        raise TryAgain(
            {"reading": f"The weight {phase} of all at once is written down. Strike it through first, with a reason."}
        )
    if phase == "before":
        if any(piece.custody != "rack" for piece in pieces) and not note.strip():
            raise TryAgain({"note": "The first chip has been cut. Say why the weight before is written only now."})
        return
    before = told[pieces[0].id].before
    if before is None or {member.id for member in before.members} != {piece.id for piece in pieces}:
        raise TryAgain(
            {"reading": "These were not weighed at once before the cuts, so nothing can be taken from it. Weigh each."}
        )
    if before.scale_id != scale.id and not note.strip():
        raise TryAgain({"note": f"They were weighed in on {before.scale}. Use the same scale, or say why not."})


def _no_heavier(db: Session, phase: str, pieces: Sequence[PieceFacts], grams: float, note: str) -> None:
    """Pieces only get lighter by cutting; where a reading says otherwise, the note says why."""
    known = [
        plausible.Known(row.phase, row.grams, row.text, row.unit, row.division, row.scale_id, row.scale)
        for row in of_pieces(db, pieces)[pieces[0].id].standing
    ]
    if not note.strip() and (grew := plausible.grew(phase, grams, known)):
        raise TryAgain({"note": f"{grew} If it is so, write why."})


def strike(db: Session, *, joint_id: int, reason: str, now: datetime, by: int) -> None:
    """Strike a wrong joint reading through; it stays in the book with the reason beside it."""
    if not reason.strip():
        raise TryAgain({"reason": "Write why this reading is wrong; both stay in the book."})
    row = next((one for one in _readings(db, [joint_id])), None)
    if row is None:
        raise NotHere("That reading is not in the book.")
    if row.struck is not None:
        raise InTheWay("That reading is struck through already.")
    db.add(JointStrike(joint_id=joint_id, reason=reason.strip(), by_id=by, at=now))
    db.flush()
    words = f"{row.phase}, {numbers(row.members)} at once, {row.text} struck through: {reason.strip()}"
    for one in row.members:
        history.write(db, now=now, by=by, act="struck", words=words, job_id=one.job_id, piece_id=one.id)


def of_pieces(db: Session, pieces: Sequence[PieceFacts]) -> dict[int, Jointly]:
    """What was weighed at once with others, by the row of each of these pieces."""
    ids = [piece.id for piece in pieces]
    found = set(db.exec(select(JointPiece.joint_id).where(JointPiece.piece_id.in_(ids))).all())
    rows = _readings(db, found) if found else []
    plans = cutting.newest_plans(db, {one.job_id for row in rows for one in row.members}) if rows else {}
    told = {}
    for piece_id in ids:
        mine = [row for row in rows if any(one.id == piece_id for one in row.members)]
        told[piece_id] = _jointly(mine, plans)
    return told


def _jointly(rows: Sequence[JointFacts], plans: dict[tuple[int, int], PlanFacts]) -> Jointly:
    standing = {row.phase: row for row in rows if row.struck is None}
    before, after = standing.get("before"), standing.get("after")
    told = Jointly(before=before, after=after, struck=tuple(row for row in rows if row.struck is not None))
    if before is None or after is None:
        return told
    return _judged(told, before, after, [plans.get((one.job_id, one.variant_id or 0)) for one in before.members])


def _judged(told: Jointly, before: JointFacts, after: JointFacts, plans: Sequence[PlanFacts | None]) -> Jointly:
    """With what came off each on the average; and the verdict, where every piece has a removal foreseen."""
    n, unit = len(before.members), before.unit
    off = bench.removed(bench.read(before.grams, before.division_g), bench.read(after.grams, after.division_g))
    one = bench.each(off, n)
    text, good_to = weighing.off_text(before, after, off.grams), _good_to(one.expanded, unit)
    each = quantities.show_mass(one.grams, unit, len(good_to.split()[0].partition(".")[2]))
    sheets = workings_scale.of_each(
        *(f"{row.text} on {row.scale_words}" for row in (before, after)), str(n), each, good_to
    )
    told = replace(told, removed_text=text, each_text=each, good_to=good_to, workings=sheets)
    foreseen = [plan for plan in plans if plan]
    return _verdict(told, one, foreseen, before) if len(foreseen) == n else told


def _good_to(grams: float, unit: str) -> str:
    """An uncertainty with the two figures that it deserves (GUM 7.2.6): "0.20 lb"."""
    return f"{rounding.significant(quantities.exact(grams) / quantities.WORTH[unit], 2)} {unit}"


def _verdict(told: Jointly, one: bench.Weighed, plans: Sequence[PlanFacts], before: JointFacts) -> Jointly:
    """One density and one drawing stand behind all of them: what they are good to does not shrink with the number."""
    grams = sum(plan.grams for plan in plans) / len(plans)
    sure = sum(plan.spread * plan.grams for plan in plans) / len(plans)
    said = judging.verdict_by(one.grams, one.expanded, grams, sure, judging.can_judge_by(grams, one.expanded))
    about = weighing.by_drawing(plans[0], before.unit)

    def show(mass: float) -> str:
        return quantities.show_mass(mass, before.unit)

    found = f"On the average {told.each_text} ±{told.good_to} came off each, by the drawing {about}"
    words = {
        judging.AGREES: f"{found}. They agree; how the pieces differ is not in it.",
        judging.LOOK: f"{found}: {show(abs(said.difference_g))} apart. Look again: the tags, the scale, a size.",
        judging.NOT: f"{found}: {show(abs(said.difference_g))} apart. That does not add up. Stop and find out before "
        "they go further.",
        judging.COARSE: f"{before.scale} shows {before.division} {before.unit}; {about} of each is too little for it "
        "to judge, even all at once. Use a finer scale.",
    }[said.word]
    inputs = (
        ("weighed, each", f"{told.each_text} ±{told.good_to}"),
        ("predicted, each", f"{show(grams)} ±{show(sure)} (U = 2u, density and sizes; GUM 5.1.2)"),
        ("apart", f"{show(said.difference_g)}, explained ±{show(said.uncertainty_g)}"),
    )
    sheets = workings_scale.of_verdict(said.word, rounding.fixed(said.normalised, 2), inputs)
    return replace(told, verdict=said.word, verdict_words=words, workings=(*told.workings, *sheets))


def judge(db: Session, *, pieces: Sequence[PieceFacts], scale_id: int | None, phase: str, typed: str) -> Judged:
    """A reading of all at once as it would be judged if it were written down now; nothing is written."""
    scale = next((row for row in shopbook.scales(db) if row.id == scale_id), None)
    if not pieces:
        return Judged()
    if scale is None:
        return Judged(question="Choose the scale that the pieces lie on." if typed.strip() else "")
    good_to = bench.each(bench.less(*[bench.read(0.0, float(scale.division_g))] * 2), len(pieces)).expanded
    fitness = f"Two weighings of {all_of(len(pieces))} on {scale.name} are good to ±"
    fitness += f"{_good_to(good_to, scale.unit)} each."
    if not typed.strip():
        return Judged(fitness=fitness)
    try:
        grams = float(weighing.read(typed, scale))
    except TryAgain as refusal:
        return Judged(fitness=fitness, question=str(refusal))
    echo = quantities.echo_mass(quantities.mass(typed, scale.unit))
    before = of_pieces(db, pieces[:1])[pieces[0].id].before if phase == "after" else None
    if before is None:
        return Judged(echo, fitness=fitness)
    plans = cutting.newest_plans(db, {piece.job_id for piece in pieces})
    after = replace(before, phase="after", typed=typed, unit=scale.unit, grams=grams, division=scale.division)
    told = _judged(Jointly(), before, after, [plans.get((one.job_id, one.variant_id or 0)) for one in before.members])
    return Judged(echo, "", fitness, told.verdict, told.verdict_words, (), told.workings)


def _readings(db: Session, joint_ids: Sequence[int] | set[int]) -> list[JointFacts]:
    rows = db.exec(
        select(
            JointReading.id, JointReading.phase, JointReading.typed, JointReading.unit, JointReading.grams,
            JointReading.division, JointReading.scale_id, Scale.name, JointReading.zero_seen, null(), JointReading.note,
            Person.initials, JointReading.at, JointStrike.reason,
        )
        .join(Scale, Scale.id == JointReading.scale_id)
        .join(Person, Person.id == JointReading.by_id)
        .outerjoin(JointStrike, JointStrike.joint_id == JointReading.id)
        .where(JointReading.id.in_(joint_ids))
        .order_by(JointReading.id)
    ).all()  # fmt: skip
    members: dict[int, list[Member]] = {row[0]: [] for row in rows}
    lain = db.exec(
        select(JointPiece.joint_id, Piece.id, Job.no, Piece.n, Piece.job_id, Piece.variant_id)
        .join(Piece, Piece.id == JointPiece.piece_id)
        .join(Job, Job.id == Piece.job_id)
        .where(JointPiece.joint_id.in_(members))
        .order_by(Job.no, Piece.n)
    )
    for joint_id, piece_id, no, n, job_id, variant_id in lain:
        members[joint_id].append(Member(piece_id, f"{no}-{n}", job_id, variant_id))
    return [JointFacts(*row, members=tuple(members[row[0]])) for row in rows]

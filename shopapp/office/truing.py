"""Truing in the chuck: indicator readings of outside, face and bore, as found and as left, judged while typed."""

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field
from datetime import datetime

from sqlmodel import Session, select

from shopapp.bench import indicator, quantities, truing, truing_face, truing_order
from shopapp.bench.errors import BenchError
from shopapp.bench.indicator import MINUS
from shopapp.bench.outline import outline
from shopapp.bench.quantities import show_length
from shopapp.office import chuck, cutting, drawing, history, jobs
from shopapp.office.errors import NotHere, TryAgain
from shopapp.office.tables.cutrun import ChuckSetting, Truing
from shopapp.office.tables.people import Person

SURFACES = {"outside": "outside", "face": "face", "bore": "inside"}
STAGES = {"found": "as found", "left": "as left"}
READS = {"tenth": "tenths", "thou": "thou", "mm": "mm"}
"""What the figures of an indicator mean; a tenth is .0001 in."""
PLACES = (4, 8)
_SKIPPED = {"/", "skip", "x"}
_EMPTY = {"", "+", *MINUS}
"""A sign by itself is a reading that is only begun."""


@dataclass(frozen=True)
class TruingTyped:
    """Readings as typed, in order round the piece from jaw 1; a stroke where a place was skipped."""

    reads: str
    readings: tuple[str, ...]
    diameter: str = ""
    unit: str = "in"
    limit: str = ""

    def to_json(self) -> str:
        """The document as kept."""
        return json.dumps(asdict(self), ensure_ascii=False, sort_keys=True)

    @classmethod
    def from_json(cls, text: str) -> "TruingTyped":
        """A kept document read back."""
        told = json.loads(text)
        return cls(readings=tuple(told.pop("readings")), **told)


@dataclass(frozen=True)
class Judged:
    """What readings say: run-out by the offset and as read [mm], out-of-round, what each jaw does, the sentences."""

    offset_mm: float
    read_mm: float
    oval_mm: float | None
    diameter_mm: float | None
    direction: float | None
    jaws: tuple[tuple[int, str], ...]
    words: tuple[str, ...]
    within: bool

    @property
    def arrow_says(self) -> str:
        """What the arrow in the picture points at."""
        return "it is high there" if self.diameter_mm else "its centre lies that way"


@dataclass(frozen=True)
class Tried:
    """Readings as far as they are typed: marks for the picture, what they say once all are there, how they were read,
    what to mend."""

    marks: tuple[tuple[float, str], ...]
    judged: Judged | None = None
    waiting: str = ""
    read_as: str = ""
    problems: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class TruingFacts:
    """Readings of one surface in the book."""

    id: int
    piece_id: int
    setting_id: int | None
    setting_n: int | None
    surface: str
    stage: str
    datum: bool
    typed_text: str
    eccentric_mm: float | None
    oval_mm: float | None
    initials: str
    at: datetime

    @property
    def typed(self) -> TruingTyped:
        """The readings as typed."""
        return TruingTyped.from_json(self.typed_text)

    @property
    def judged(self) -> Judged:
        """What they say, by the same sum that kept them."""
        found = judge(self.surface, self.typed).judged
        if found is None:
            raise NotHere("These readings cannot be read any more.")
        return found


@dataclass(frozen=True)
class Standing:
    """A piece's truing as it stands: lines for the record, what to read next, which surface counts."""

    found: str = ""
    left: str = ""
    next_surface: str = "outside"
    next_words: str = "Read the outside."
    datum: str = ""
    datum_words: str = ""
    rows: tuple[TruingFacts, ...] = ()


def judge(surface: str, typed: TruingTyped, *, pitch: float | None = None, rim: float | None = None) -> Tried:
    """What the readings say as far as they are typed, without writing anything.

    `pitch` is that of the jaw screws [mm], `rim` the diameter of the piece's rim [mm], for the face's run-out there.
    """
    if typed.reads not in READS:
        return Tried((), problems={"reads": "Say what the indicator reads: tenths, thou or mm."})
    problems: dict[str, str] = {}
    values = [_reading(problems, i, text, typed.reads) for i, text in enumerate(typed.readings)]
    angles = [360 * i / len(values) for i in range(len(values))] if values else []
    marks = tuple(
        (angle, "–" if text.strip().casefold() in _SKIPPED else text.strip())
        for angle, text in zip(angles, typed.readings, strict=True)
    )  # fmt: skip
    diameter, limit = _diameter(problems, typed), _limit(problems, typed)
    if surface not in SURFACES:
        problems["surface"] = "Say what was read: the outside, a face, or inside a bore."
    waiting = _still_wanted(typed, surface)
    if problems or waiting:
        return Tried(marks, waiting=waiting, problems=problems)
    unit, shown = _unit(typed), [None if value is None else value.amount for value in values]
    try:
        if surface == "face":
            found = _face(shown, diameter, angles, limit, unit, rim)
        else:
            found = _round(shown, angles, surface == "bore", limit, pitch, unit)
    except BenchError as refusal:
        return Tried(marks, problems={"r0": str(refusal)})
    allowed = show_length(limit, unit, 4 if unit == "in" else 3).lstrip("0" if unit == "in" else "")
    return Tried(marks, found, read_as=f"Read as {indicator.row(values, unit)}; run-out allowed {allowed}.")


def _still_wanted(typed: TruingTyped, surface: str) -> str:
    empty = sum(text.strip() in _EMPTY for text in typed.readings)
    if empty:
        return f"{empty} of {len(typed.readings)} places still to read."
    return "Type at which diameter the face was read." if surface == "face" and not typed.diameter.strip() else ""


def _reading(problems: dict[str, str], i: int, text: str, reads: str) -> quantities.Quantity | None:
    """What an indicator shows, over or under its zero; None where nothing was read."""
    said = text.strip()
    if said in _EMPTY or said.casefold() in _SKIPPED:
        return None
    try:
        return indicator.reading(said, reads)
    except BenchError as refusal:
        problems[f"r{i}"] = str(refusal)
        return None


def _diameter(problems: dict[str, str], typed: TruingTyped) -> float:
    """Where the face was read [mm]; nothing while it is not typed."""
    if not typed.diameter.strip():
        return 0.0
    try:
        return quantities.length(typed.diameter, typed.unit).amount
    except BenchError as refusal:
        problems["diameter"] = str(refusal)
        return 0.0


def _limit(problems: dict[str, str], typed: TruingTyped) -> float:
    """The run-out that is allowed [mm]: the usual one while none is typed."""
    if not typed.limit.strip():
        return truing.USUAL_LIMIT
    try:
        limit = indicator.reading(typed.limit, typed.reads).amount
    except BenchError as refusal:
        problems["limit"] = str(refusal)
        return truing.USUAL_LIMIT
    if limit < 0:
        problems["limit"] = "A run-out allowed is 0 or more. Type it without the minus."
    return limit


def _round(
    values: Sequence[float | None], angles: list[float], inside: bool, limit: float, pitch: float | None, unit: str
) -> Judged:
    found = truing.true_up(values, angles, inside, limit, pitch, unit)
    ring = found.circle
    jaws = {move.loosen: "loosen" for move in found.moves} | {
        move.tighten: f"tighten {truing.thin(move.by, unit).split(' (')[0]}"
        for move in found.moves if truing.thin(move.by, unit) != truing.NOTHING
    }  # fmt: skip
    direction = None if found.centred else ring.direction
    told = tuple(sorted(jaws.items()))
    return Judged(ring.run_out, ring.read, ring.out_of_round, None, direction, told, found.words, found.within)


def _face(
    values: Sequence[float | None], diameter: float, angles: list[float], limit: float, unit: str, rim: float | None
) -> Judged:
    found = truing_face.face(values, diameter, angles, limit, unit)
    words = found.words
    if rim and abs(rim - diameter) > truing.TENTH and truing.thin(found.run_out, unit) != truing.NOTHING:
        there = truing_face.run_out_at(found.run_out, diameter, rim)
        words = (*words, f"At the rim, Ø {show_length(rim, unit)}, that is {truing.thin(there, unit)}.")
    known = [value for value in values if value is not None]
    jaws = tuple((jaw, f"tap {truing.thin(by, unit).split(' (')[0]}") for jaw, by in found.taps)
    direction = found.high_at if found.taps else None
    read = max(known) - min(known)
    return Judged(found.run_out, read, found.out_of_flat, diameter, direction, jaws, words, found.within)


def keep(
    db: Session, *, piece_id: int, surface: str, stage: str, typed: TruingTyped, datum: bool = False,
    setting_id: int | None = None, now: datetime, by: int,
) -> int:  # fmt: skip
    """Keep readings of a surface, as found or as left; gives their row's id."""
    piece = jobs.piece_row(db, piece_id)
    tried = judge(surface, typed)
    problems = dict(tried.problems)
    if stage not in STAGES:
        problems["stage"] = "Say whether that is as found or as left: press one of the two buttons."
    if tried.judged is None and not problems:
        problems["r0" if any(text.strip() in _EMPTY for text in typed.readings) else "diameter"] = tried.waiting
    if datum and surface == "face":
        problems["datum"] = "The datum is the outside or the bore."
    if setting_id is not None:
        setting = db.get(ChuckSetting, setting_id)
        if setting is None or setting.job_id != piece.job_id:
            raise NotHere("That setting is not in this job.")
    if problems or tried.judged is None:
        raise TryAgain(problems)
    row = Truing(
        piece_id=piece_id, setting_id=setting_id, surface=surface, stage=stage, datum=datum, typed=typed.to_json(),
        eccentric_mm=tried.judged.offset_mm / 2, oval_mm=tried.judged.oval_mm, by_id=by, at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    line = truing_order.set_up_line([_check(surface, tried.judged.read_mm, tried.judged)], _unit(typed))
    words = f"{STAGES[stage]}: {line}{', the datum' if datum else ''}"
    history.write(db, now=now, by=by, act="trued", words=words, job_id=piece.job_id, piece_id=piece_id)
    return row.id


def of_piece(db: Session, piece_id: int) -> list[TruingFacts]:
    """All readings of a piece in the order taken."""
    rows = db.exec(
        select(
            Truing.id, Truing.piece_id, Truing.setting_id, ChuckSetting.n, Truing.surface, Truing.stage, Truing.datum,
            Truing.typed, Truing.eccentric_mm, Truing.oval_mm, Person.initials, Truing.at,
        )
        .join(Person, Person.id == Truing.by_id)
        .outerjoin(ChuckSetting, ChuckSetting.id == Truing.setting_id)
        .where(Truing.piece_id == piece_id)
        .order_by(Truing.id)
    )  # fmt: skip
    return [TruingFacts(*row) for row in rows]


def standing(db: Session, piece_id: int, setting_id: int | None = None) -> Standing:
    """How a piece's truing stands in one setting; without a setting, what was read beside any.

    Whether to go on is judged by the offset, which the jaws can help; the record has what the indicator showed.
    """
    rows = [row for row in of_piece(db, piece_id) if row.setting_id == setting_id]
    if not rows:
        return Standing()
    unit = _unit(rows[-1].typed)
    by_offset = _checks(rows)
    found = {stage: [row for row in rows if row.stage == stage] for stage in STAGES}
    lines = {
        stage: truing_order.set_up_line([_check(r.surface, r.judged.read_mm, r.judged) for r in some], unit)
        for stage, some in found.items()
    }  # fmt: skip
    following = truing_order.next_to_read(by_offset, bore=has_bore(db, piece_id), unit=unit)
    counts = next((row.surface for row in reversed(rows) if row.datum), "")
    return Standing(
        lines["found"], lines["left"], following.surface, following.words, counts,
        _datum_words(by_offset, counts, unit), tuple(rows),
    )  # fmt: skip


def last_left(db: Session, piece_id: int) -> str:
    """The newest set-up of a piece as it was left, in whichever setting that was: a line, or nothing."""
    left = [row for row in of_piece(db, piece_id) if row.stage == "left"]
    mine = [row for row in left if row.setting_id == left[-1].setting_id]
    checks = [_check(row.surface, row.judged.read_mm, row.judged) for row in mine]
    return truing_order.set_up_line(checks, _unit(mine[-1].typed)) if mine else ""


def _unit(typed: TruingTyped) -> str:
    return "mm" if typed.reads == "mm" else "in"


def _check(surface: str, found: float, judged: Judged) -> truing_order.Check:
    return truing_order.Check(surface, found, None, judged.diameter_mm)


def _checks(rows: Sequence[TruingFacts]) -> list[truing_order.Check]:
    """Found and left of a surface as one check by its offset; what was left without being found stands by itself."""
    checks: list[truing_order.Check] = []
    for row in rows:
        judged, limit = row.judged, _limit({}, row.typed)
        before = checks[-1] if checks else None
        if row.stage == "left" and before and before.surface == row.surface and before.left is None:
            was, now = before.found, judged.offset_mm
            checks[-1] = truing_order.Check(row.surface, was, now, judged.diameter_mm, limit)
        else:
            checks.append(truing_order.Check(row.surface, judged.offset_mm, None, judged.diameter_mm, limit))
    return checks


def _datum_words(checks: Sequence[truing_order.Check], counts: str, unit: str) -> str:
    last = {check.surface: check for check in checks}
    if not {"outside", "bore"} <= last.keys():
        return ""
    outside, bore = last["outside"], last["bore"]
    most = truing.USUAL_LIMIT if outside.limit is None else outside.limit
    return truing_order.datum(outside.now, bore.now, most, counts or None, unit, bore.limit).words


def has_bore(db: Session, piece_id: int) -> bool:
    """Whether its drawing has a bore through to the end; taken for granted where nothing is drawn."""
    metal = _drawn(db, piece_id)
    return metal is None or metal[1] > 0


def rim(db: Session, piece_id: int) -> float | None:
    """The diameter of its rim by the drawing [mm]."""
    metal = _drawn(db, piece_id)
    return metal and 2 * metal[3]


def _drawn(db: Session, piece_id: int) -> tuple[float, float, float, float] | None:
    """From and to along the axis and from it, of the piece as drawn [mm]."""
    variant_id = jobs.piece_row(db, piece_id).variant_id
    body = cutting.body_of(db, variant_id)[1] if variant_id else None
    read = drawing.read_body(body)[0].body if body else None
    if read is None:
        return None
    z1, r1, z2, r2 = outline(read.parts).bounds
    return z1, r1, z2, r2


def pitch_of(db: Session, setting_id: int | None) -> float | None:
    """The pitch of the jaw screws on the machine of a setting [mm], if it is known."""
    found = chuck.settings_where(db, ChuckSetting.id == setting_id)
    machine = chuck.machine_of(db, found[0].machine_id) if found else None
    return machine.pitch_mm if machine else None

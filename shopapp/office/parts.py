"""Parts and their look-alike variants, told apart by signs; one sign of each decides."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, func, select

from shopapp.bench import quantities
from shopapp.bench.errors import BenchError
from shopapp.bench.materials import MATERIALS
from shopapp.office import history
from shopapp.office.errors import NotHere, TryAgain
from shopapp.office.folding import folded
from shopapp.office.tables.jobs import Piece
from shopapp.office.tables.parts import Part, Sign, Variant


@dataclass(frozen=True)
class PartFacts:
    """A kind of thing that comes in."""

    id: int
    name: str
    note: str
    not_done: str


@dataclass(frozen=True)
class SignFacts:
    """Something to look for on a piece."""

    id: int
    variant_id: int
    words: str
    deciding: bool


@dataclass(frozen=True)
class VariantFacts:
    """One of the look-alikes; density in g/cm3 as exact text."""

    id: int
    part_id: int
    part: str
    name: str
    material: str
    made: str
    density: str
    unit: str
    note: str
    signs: tuple[SignFacts, ...] = ()

    @property
    def deciding(self) -> str:
        """The words of the sign that decides."""
        return next((sign.words for sign in self.signs if sign.deciding), "")

    @property
    def material_words(self) -> str:
        """The material as it is said."""
        return f"{MATERIALS[self.material].words} {self.density}" if self.material in MATERIALS else self.material


def materials() -> dict[str, str]:
    """The materials that can be chosen: key to words with the nominal density."""
    return {key: f"{m.words}, {m.nominal:g} g/cm³" for key, m in MATERIALS.items()}


def keep_part(
    db: Session, *, name: str, note: str = "", not_done: str = "", part_id: int | None = None, now: datetime, by: int
) -> int:
    """Enter a part, or write over what the book has of one."""
    same = db.exec(select(Part.id).where(Part.folded == folded(name))).first()
    if not name.strip():
        raise TryAgain({"name": "Name the part as the shop speaks of it, such as reverse wheel."})
    if same is not None and same != part_id:
        raise TryAgain({"name": "A part of that name is in the book. Add a variant to it, or choose another name."})
    row = db.get(Part, part_id) if part_id else Part(name="", folded="")
    if row is None:
        raise NotHere("That part is not in the book.")
    row.name, row.folded, row.note, row.not_done = name.strip(), folded(name), note.strip(), not_done.strip()
    db.add(row)
    db.flush()
    history.write(db, now=now, by=by, act="part", words=row.name)
    return row.id


def keep_variant(
    db: Session,
    *,
    part_id: int,
    name: str,
    material: str,
    density: str,
    unit: str,
    signs: list[str],
    deciding: int = 0,
    note: str = "",
    variant_id: int | None = None,
    now: datetime,
    by: int,
) -> int:
    """Enter a variant with its signs, the deciding one by its place in the list."""
    seen = [" ".join(words.split()) for words in signs]
    _variant_stands(db, part_id, name, material, seen, deciding, variant_id)
    row = db.get(Variant, variant_id) if variant_id else Variant(
        part_id=part_id, name="", folded="", material="", made="", density=""
    )  # fmt: skip
    if row is None:
        raise NotHere("That variant is not in the book.")
    row.name, row.note, row.unit, row.material = name.strip(), note.strip(), unit, material
    row.made = MATERIALS[material].made
    row.density = _density(density, material)
    row.folded = folded(f"{_part_name(db, part_id)} {row.name}")
    db.add(row)
    db.flush()
    _write_signs(db, row.id, seen, deciding)
    history.write(db, now=now, by=by, act="variant", words=f"{row.name}: {seen[deciding]}")
    return row.id


def _variant_stands(
    db: Session, part_id: int, name: str, material: str, signs: list[str], deciding: int, variant_id: int | None
) -> None:
    problems = {} if name.strip() else {"name": "Name the variant by what is seen on it, such as six-pocket."}
    if material not in MATERIALS:
        problems["material"] = "Choose the material; its density predicts the weight."
    decider = signs[deciding] if 0 <= deciding < len(signs) else ""
    if not decider:
        problems["sign_0"] = "Write the sign that decides: what a person sees on this one and not on its twin."
    wanted = {folded(words) for words in signs if words}
    for other in variants(db, part_id):
        if other.id == variant_id:
            continue
        if folded(other.name) == folded(name):
            problems["name"] = f"{other.part} has a variant {other.name} already. Choose another name."
        theirs = {folded(sign.words) for sign in other.signs}
        shared = decider if folded(decider) in theirs else other.deciding if folded(other.deciding) in wanted else ""
        if shared:
            problems["sign_0"] = (
                f"{name.strip()} and {other.name} cannot be told apart by that: both show "
                f"“{shared}”. Write a sign that only one of them has."
            )
    if problems:
        raise TryAgain(problems)


def _density(text: str, material: str) -> str:
    if not text.strip():
        return f"{MATERIALS[material].nominal:g}"
    try:
        value = quantities.number(text)
    except BenchError as refusal:
        raise TryAgain({"density": str(refusal)}) from refusal
    if not 0.1 <= value <= 25:
        raise TryAgain({"density": "Density is in g/cm³: iron is about 7.1, steel 7.85, aluminium 2.7."})
    return f"{float(value):g}"


def _write_signs(db: Session, variant_id: int, signs: list[str], deciding: int) -> None:
    """Signs that pieces were told by stay, in their place; others go with their words, new ones come behind."""
    rows = {row.words: row for row in db.exec(select(Sign).where(Sign.variant_id == variant_id))}
    place = max((row.place for row in rows.values()), default=-1)
    for index, words in enumerate(signs):
        if not words:
            continue
        if words not in rows:
            place += 1
            rows[words] = Sign(variant_id=variant_id, place=place, words=words)
        rows[words].deciding = index == deciding
        db.add(rows[words])
    told_by = set(db.exec(select(Piece.sign_seen).where(Piece.sign_seen.in_([row.id for row in rows.values()]))).all())
    for words, row in rows.items():
        if words in signs:
            continue
        row.deciding = False
        if row.id in told_by:
            db.add(row)
        else:
            db.delete(row)
    db.flush()


def _part_name(db: Session, part_id: int) -> str:
    return part(db, part_id).name


def part(db: Session, part_id: int) -> PartFacts:
    """The part."""
    row = db.exec(select(Part.id, Part.name, Part.note, Part.not_done).where(Part.id == part_id)).first()
    if row is None:
        raise NotHere("That part is not in the book.")
    return PartFacts(*row)


def parts(db: Session) -> list[tuple[PartFacts, int]]:
    """Every part with the number of its variants, by name."""
    rows = db.exec(
        select(Part.id, Part.name, Part.note, Part.not_done, func.count(Variant.id))
        .outerjoin(Variant, Variant.part_id == Part.id)
        .group_by(Part.id, Part.name, Part.note, Part.not_done, Part.folded)
        .order_by(Part.folded)
    )
    return [(PartFacts(*row[:4]), row[4]) for row in rows]


def variants(db: Session, part_id: int) -> list[VariantFacts]:
    """The look-alikes of a part with their signs, the deciding sign first."""
    return _variants(db, Variant.part_id == part_id)


def variant(db: Session, variant_id: int) -> VariantFacts:
    """One variant with its signs."""
    found = _variants(db, Variant.id == variant_id)
    if not found:
        raise NotHere("That variant is not in the book.")
    return found[0]


def some(db: Session, variant_ids: list[int]) -> list[VariantFacts]:
    """These variants, by part and name."""
    return _variants(db, Variant.id.in_(variant_ids))


def all_variants(db: Session) -> list[VariantFacts]:
    """Every variant of every part, by part and name."""
    return _variants(db, Variant.id > 0)


def _variants(db: Session, where: object) -> list[VariantFacts]:
    rows = db.exec(
        select(
            Variant.id, Variant.part_id, Part.name, Variant.name, Variant.material, Variant.made, Variant.density,
            Variant.unit, Variant.note,
        ).join(Part, Part.id == Variant.part_id).where(where).order_by(Variant.folded)
    ).all()  # fmt: skip
    signs = db.exec(
        select(Sign.id, Sign.variant_id, Sign.words, Sign.deciding)
        .where(Sign.variant_id.in_([row[0] for row in rows]))
        .order_by(Sign.deciding.desc(), Sign.place)
    ).all()
    return [VariantFacts(*row, signs=tuple(SignFacts(*s) for s in signs if s[1] == row[0])) for row in rows]

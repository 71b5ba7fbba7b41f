"""Photos: made small, turned upright, with nothing left in them of where and with what they were taken."""

import hashlib
import io
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from PIL import Image, ImageOps
from sqlmodel import Session, select

from shopapp.office import history, jobs
from shopapp.office.errors import NotHere, TryAgain
from shopapp.office.tables.parts import Sign
from shopapp.office.tables.people import Person
from shopapp.office.tables.photos import Photo

KINDS = {
    "intake": "as it came in",
    "damage": "damage",
    "sign": "the sign",
    "trouble": "trouble at the cut",
    "question": "with a question",
    "finished": "finished",
    "paper_back": "back of the paper ticket",
}
"""What a photo shows."""

FORMATS = ("JPEG", "PNG", "WEBP")
LONGEST = 2000
"""The longest side that is kept [pixels]."""
MOST_PIXELS = 60_000_000
"""More than any phone in the shop takes; opened, that many would fill the memory."""
MOST_BYTES = 25_000_000
SMALL = 360
"""The longest side as a photo is shown among others [pixels]."""
_QUALITY = 82


class Kept(NamedTuple):
    """A photo as it is kept: made small before the transaction that keeps it begins, since that takes its time."""

    jpeg: bytes
    wide: int
    high: int


@dataclass(frozen=True)
class PhotoFacts:
    """A photo without its bytes."""

    id: int
    what: str
    job_id: int | None
    piece_id: int | None
    sign_id: int | None
    sha256: str
    wide: int
    high: int
    words: str
    initials: str
    at: datetime

    @property
    def said(self) -> str:
        """What it shows, in words: its own, or what kind it is."""
        return self.words or KINDS[self.what]


def keep(
    db: Session, *, what: str, photo: Kept, job_id: int | None = None, piece_id: int | None = None,
    sign_id: int | None = None, words: str = "", now: datetime, by: int,
) -> int:  # fmt: skip
    """Keep a photo of a piece, a job or a sign; gives its row's id. The same photo sent twice is kept once."""
    if what not in KINDS:
        raise TryAgain({"what": "Say what the photo shows: the piece as it came, damage, a sign."})
    job_id = _of_what(db, job_id, piece_id, sign_id)
    digest = hashlib.sha256(photo.jpeg).hexdigest()
    same = select(Photo.id).where(
        Photo.sha256 == digest, Photo.what == what, Photo.job_id == job_id, Photo.piece_id == piece_id,
        Photo.sign_id == sign_id,
    )  # fmt: skip
    if (known := db.exec(same).first()) is not None:
        return known
    row = Photo(
        what=what, job_id=job_id, piece_id=piece_id, sign_id=sign_id, sha256=digest, jpeg=photo.jpeg,
        wide=photo.wide, high=photo.high, words=words.strip(), by_id=by, at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    said = f"photo: {row.words or KINDS[what]}"
    history.write(db, now=now, by=by, act="photo", words=said, job_id=job_id, piece_id=piece_id)
    return row.id


def _of_what(db: Session, job_id: int | None, piece_id: int | None, sign_id: int | None) -> int | None:
    """The job that the photo belongs to; refused where it is a photo of nothing."""
    if piece_id is not None:
        return jobs.piece_row(db, piece_id).job_id
    if sign_id is not None and db.get(Sign, sign_id) is None:
        raise NotHere("That sign is not in the book.")
    if job_id is not None:
        return jobs.job_row(db, job_id).id
    if sign_id is None:
        raise TryAgain({"photo": "Say what this is a photo of: a piece, a job or a sign."})
    return None


def made_small(raw: bytes) -> Kept:
    """The photo as it is kept, with its sides: upright, at most 2000 pixels long, and nothing in it but the picture.

    Some tenths of a second of work for a phone's photo: never inside a writer's transaction.
    """
    if not raw:
        raise TryAgain({"photo": "The photo is empty. Take it again."})
    if len(raw) > MOST_BYTES:
        raise TryAgain({"photo": "The photo is over 25 MB. Set the camera to a smaller size and take it again."})
    try:
        picture = Image.open(io.BytesIO(raw), formats=FORMATS)
    except Exception as error:
        if isinstance(error, Image.DecompressionBombError | Image.DecompressionBombWarning):
            raise TryAgain({"photo": _TOO_WIDE}) from error
        raise TryAgain({"photo": "This is no photo that can be read. Send a JPEG, PNG or WebP."}) from error
    if picture.width * picture.height > MOST_PIXELS:
        raise TryAgain({"photo": _TOO_WIDE})
    try:
        clean = _clean(picture)
    except Exception as error:  # a broken file can break the decoder in any of its parts
        raise TryAgain({"photo": "The photo did not come through whole. Send it again."}) from error
    kept = io.BytesIO()
    clean.save(kept, "JPEG", quality=_QUALITY)
    return Kept(kept.getvalue(), clean.width, clean.height)


_TOO_WIDE = "The photo has more than 60 million pixels. Set the camera to a smaller size and take it again."


def _clean(picture: Image.Image) -> Image.Image:
    """A fresh picture on white, so that nothing that came along with the old one can be carried over."""
    picture.draft("RGB", (LONGEST, LONGEST))
    picture.load()
    upright = ImageOps.exif_transpose(picture)
    if upright.mode in ("LA", "PA", "RGBA") or "transparency" in upright.info:
        upright = upright.convert("RGBA")
    elif upright.mode != "RGB":
        upright = upright.convert("RGB")
    upright.thumbnail((LONGEST, LONGEST), Image.Resampling.LANCZOS)
    clean = Image.new("RGB", upright.size, "white")
    clean.paste(upright, mask=upright if upright.mode == "RGBA" else None)
    return clean


def of_piece(db: Session, piece_id: int) -> list[PhotoFacts]:
    """The photos of a piece in the order taken."""
    return _listed(db, Photo.piece_id == piece_id)


def of_pieces(db: Session, piece_ids: list[int]) -> dict[int, list[PhotoFacts]]:
    """The photos of several pieces, by the row of the piece."""
    told: dict[int, list[PhotoFacts]] = {piece_id: [] for piece_id in piece_ids}
    for photo in _listed(db, Photo.piece_id.in_(piece_ids)):
        told[photo.piece_id or 0].append(photo)
    return told


def of_job(db: Session, job_id: int) -> list[PhotoFacts]:
    """The photos of a job and of its pieces in the order taken."""
    return _listed(db, Photo.job_id == job_id)


def of_sign(db: Session, sign_id: int) -> list[PhotoFacts]:
    """The reference photos of a sign, the newest first."""
    return _listed(db, Photo.sign_id == sign_id)[::-1]


def _listed(db: Session, where: object) -> list[PhotoFacts]:
    rows = db.exec(
        select(
            Photo.id, Photo.what, Photo.job_id, Photo.piece_id, Photo.sign_id, Photo.sha256, Photo.wide, Photo.high,
            Photo.words, Person.initials, Photo.at,
        ).join(Person, Person.id == Photo.by_id).where(where).order_by(Photo.id)
    )  # fmt: skip
    return [PhotoFacts(*row) for row in rows]


def of_signs(db: Session, sign_ids: list[int]) -> dict[int, list[PhotoFacts]]:
    """The reference photos of several signs, by the row of the sign, the newest first."""
    told: dict[int, list[PhotoFacts]] = {sign_id: [] for sign_id in sign_ids}
    for photo in _listed(db, Photo.sign_id.in_(sign_ids))[::-1]:
        told[photo.sign_id or 0].append(photo)
    return told


def small(raw: bytes, longest: int = SMALL) -> bytes:
    """A kept photo as it is shown among others, or on a paper."""
    picture = Image.open(io.BytesIO(raw), formats=("JPEG",))
    picture.draft("RGB", (longest, longest))
    picture.thumbnail((longest, longest), Image.Resampling.LANCZOS)
    kept = io.BytesIO()
    picture.save(kept, "JPEG", quality=_QUALITY)
    return kept.getvalue()


def jpeg(db: Session, photo_id: int) -> tuple[bytes, str]:
    """The bytes of a photo and their hash."""
    row = db.exec(select(Photo.jpeg, Photo.sha256).where(Photo.id == photo_id)).first()
    if row is None:
        raise NotHere("That photo is not in the book.")
    return row[0], row[1]

"""Photos as they are kept."""

import io
import struct
import zlib

import pytest
from PIL import Image
from sqlmodel import Session

from shopapp.office import history, parts, photos
from shopapp.office.errors import NotHere, TryAgain
from tests.cast import PHOTO, a_photo
from tests.makers import Shop, make_job, make_variant, pieces_of

# CIPA DC-008 (Exif 2.32), 4.6.4 and 4.6.6: the tags of the orientation, of the camera and of the place.
ORIENTATION, MAKE, PLACE_TAGS = 0x0112, 0x010F, 0x8825
LATITUDE = {1: "N", 2: (45.0, 12.0, 30.5), 3: "W", 4: (63.0, 34.0, 1.0)}


def opened(jpeg: bytes) -> Image.Image:
    picture = Image.open(io.BytesIO(jpeg))
    picture.load()
    return picture


def from_a_phone(wide: int, high: int, turned: int = 1) -> bytes:
    """A photo with its left half red, its place, its camera, a colour profile and a remark."""
    picture = Image.new("RGB", (wide, high), "blue")
    picture.paste("red", (0, 0, wide // 2, high))
    exif = Image.Exif()
    exif[ORIENTATION], exif[MAKE] = turned, "Brackphone"
    exif.get_ifd(PLACE_TAGS).update(LATITUDE)
    raw = io.BytesIO()
    picture.save(raw, "JPEG", exif=exif, icc_profile=b"profile of the phone", comment=b"in the yard")
    return raw.getvalue()


def header_only(wide: int, high: int) -> bytes:
    """A PNG that says it is so large and holds a few bytes. W3C PNG, 11.2.1 and 11.2.3: IHDR and IDAT."""
    said = b"\x89PNG\r\n\x1a\n"
    for name, body in (
        (b"IHDR", struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)),
        (b"IDAT", zlib.compress(bytes(1000))),
        (b"IEND", b""),
    ):
        said += struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
    return said


def test_twelve_million_pixels_with_a_place_become_two_thousand_without_one(db: Session, shop: Shop) -> None:
    raw = from_a_phone(4000, 3000)
    assert opened(raw).getexif().get_ifd(PLACE_TAGS)[1] == "N"
    (piece,) = pieces_of(db, make_job(db, shop, pieces=1))
    photo_id = photos.keep(
        db, what="intake", photo=photos.made_small(raw), piece_id=piece.id, words="front", **shop.at()
    )
    jpeg, digest = photos.jpeg(db, photo_id)
    kept = opened(jpeg)
    assert (kept.format, kept.size, len(kept.getexif())) == ("JPEG", (2000, 1500), 0)
    assert not {"exif", "icc_profile", "comment"} & set(kept.info)
    assert not [word for word in (b"Brackphone", b"GPS", b"Exif", b"profile of", b"yard") if word in jpeg]
    (fact,) = photos.of_piece(db, piece.id)
    assert (fact.sha256, fact.wide, fact.high, fact.said, fact.initials) == (digest, 2000, 1500, "front", "MB")
    assert history.of_piece(db, piece.id)[0].words == "photo: front"


# Exif 2.32, 4.6.4 A: what was the left of the scene is, with 6, at the top of the stored rows; with 3, at the right.
@pytest.mark.outside("from memory: Exif 2.32, 4.6.4 A")
@pytest.mark.parametrize(
    ("turned", "size", "red_at"),
    [(1, (80, 60), (10, 30)), (3, (80, 60), (70, 30)), (6, (60, 80), (30, 10)), (8, (60, 80), (30, 70))],
)
def test_a_turned_photo_stands_upright(turned: int, size: tuple[int, int], red_at: tuple[int, int]) -> None:
    jpeg, wide, high = photos.made_small(from_a_phone(80, 60, turned))
    red, _, blue = opened(jpeg).getpixel(red_at)
    assert ((wide, high), red > 200, blue < 60) == (size, True, True)


def test_a_transparent_picture_lies_on_white(db: Session, shop: Shop) -> None:
    raw = io.BytesIO()
    Image.new("RGBA", (40, 30), (0, 0, 0, 0)).save(raw, "PNG")
    jpeg, *_ = photos.made_small(raw.getvalue())
    assert min(opened(jpeg).getpixel((20, 15))) > 250


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_tiny_photo_is_not_made_larger(kind: str) -> None:
    assert photos.made_small(a_photo(1, 1, kind=kind))[1:] == (1, 1)
    assert photos.made_small(a_photo(5000, 1, kind=kind))[1:] == (2000, 1)


@pytest.mark.parametrize("mode", ["L", "P", "CMYK", "1"])
def test_pictures_of_other_colours_become_photos(mode: str) -> None:
    raw = io.BytesIO()
    Image.new(mode, (20, 20)).save(raw, "JPEG" if mode == "CMYK" else "PNG")
    assert opened(photos.made_small(raw.getvalue())[0]).mode == "RGB"


def test_the_same_photo_sent_twice_is_kept_once_and_another_stands_beside_it(db: Session, shop: Shop) -> None:
    first, second = pieces_of(db, make_job(db, shop))
    told = {"what": "intake", "photo": photos.made_small(PHOTO), **shop.at()}
    once = photos.keep(db, piece_id=first.id, **told)
    assert photos.keep(db, piece_id=first.id, **told) == once
    assert photos.keep(db, piece_id=second.id, **told) != once
    photos.keep(db, piece_id=first.id, **{**told, "photo": photos.made_small(a_photo(colour="black"))})
    assert [len(found) for found in photos.of_pieces(db, [first.id, second.id]).values()] == [2, 1]
    assert len(photos.of_job(db, first.job_id)) == 3


def test_a_sign_shows_its_newest_photo_first(db: Session, shop: Shop) -> None:
    sign = parts.variant(db, make_variant(db, shop)).signs[0]
    ids = [
        photos.keep(db, what="sign", photo=photos.made_small(a_photo(colour=colour)), sign_id=sign.id, **shop.at())
        for colour in ("gray", "black")
    ]
    assert [photo.id for photo in photos.of_sign(db, sign.id)] == ids[::-1]
    assert photos.of_sign(db, sign.id)[0].said == "the sign"


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "Take it again"),
        (b"BM" + bytes(60), "Send a JPEG, PNG or WebP"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "Send a JPEG, PNG or WebP"),
        (a_photo(kind="GIF"), "Send a JPEG, PNG or WebP"),
        (from_a_phone(800, 600)[:3000], "did not come through whole"),
        (a_photo(200, 200, kind="PNG")[:-40], "did not come through whole"),
        (header_only(50, 50), "did not come through whole"),
        (header_only(8000, 8000), "60 million pixels"),
        (header_only(10_000, 10_000), "60 million pixels"),
        (header_only(60_000, 60_000), "60 million pixels"),
        (bytes(25_000_001), "over 25 MB"),
    ],
    ids=["empty", "bitmap", "drawing", "gif", "cut", "cut-png", "short", "large", "warned", "bomb", "bytes"],
)
def test_what_is_no_whole_photo_is_refused_with_what_to_do(raw: bytes, said: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        photos.made_small(raw)
    assert said in refusal.value.problems["photo"]


def test_a_photo_is_of_something_and_says_what_it_shows(db: Session, shop: Shop) -> None:
    with pytest.raises(TryAgain, match="what the photo shows"):
        photos.keep(db, what="holiday", photo=photos.made_small(PHOTO), **shop.at())
    with pytest.raises(TryAgain, match="a piece, a job or a sign"):
        photos.keep(db, what="intake", photo=photos.made_small(PHOTO), **shop.at())
    for thing in ("piece_id", "job_id", "sign_id"):
        with pytest.raises(NotHere):
            photos.keep(db, what="intake", photo=photos.made_small(PHOTO), **{thing: 99}, **shop.at())
    with pytest.raises(NotHere):
        photos.jpeg(db, 99)


def test_a_photo_among_others_is_small_and_of_the_same_shape(db: Session, shop: Shop) -> None:
    small = photos.small(a_photo(wide=1600, high=1200))
    assert Image.open(io.BytesIO(small)).size == (360, 270)
    assert Image.open(io.BytesIO(photos.small(PHOTO))).size == (32, 24)


def test_signs_have_their_photos_newest_first(db: Session, shop: Shop) -> None:
    variant = parts.variant(db, make_variant(db, shop))
    first, second = (sign.id for sign in variant.signs)
    kept = [
        photos.keep(db, what="sign", photo=photos.made_small(a_photo(colour=shade)), sign_id=first, **shop.at())
        for shade in ("red", "blue")
    ]
    found = photos.of_signs(db, [first, second])
    assert [photo.id for photo in found[first]] == kept[::-1]
    assert found[second] == []

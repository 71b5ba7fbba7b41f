"""Makes what a test needs to be in the book, by the same verbs that the shop uses."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlmodel import Session

from shopapp.office import (
    condition,
    customers,
    cutting,
    handover,
    intake,
    jobs,
    mishaps,
    parts,
    people,
    photos,
    quotes,
    shopbook,
    weighing,
)
from shopapp.office.drawing import BodyTyped, CutsTyped
from shopapp.office.jobs import JobFacts, PieceAsk, PieceFacts
from shopapp.office.pricing import PricingTyped, SettingTyped
from tests import cast

AN_HOUR = PricingTyped(pieces="2", settings=(SettingTyped("side A", "40", "10", "10"),))
"""Seventy minutes for two pieces."""


@dataclass(frozen=True)
class Shop:
    """The shop of a test: who acts, and the scales by name."""

    by: int
    scales: dict[str, int]

    def at(self, now: datetime = cast.NOON) -> dict[str, Any]:
        """What every verb is told: when, and by whom."""
        return {"now": now, "by": self.by}


def make_shop(db: Session, **told: object) -> Shop:
    """The shop with a rate of $60.00 an hour, 5 % tax and three scales."""
    by = people.add(db, **cast.TURNER, now=cast.NOON)
    at: dict[str, Any] = {"now": cast.NOON, "by": by}
    shopbook.change(db, **{**cast.SHOP, **told}, **at)
    shopbook.add_rate(db, valid_from=date(2030, 1, 1), cents_per_hour=6000, **at)
    shopbook.add_tax(db, valid_from=date(2030, 1, 1), percent="5", **at)
    return Shop(by, {name: shopbook.add_scale(db, name=name, **facts, **at) for name, facts in cast.SCALES.items()})


def make_customer(db: Session, shop: Shop, **told: object) -> int:
    """A customer; the cider mill where nothing else is told."""
    return customers.keep(db, **{**cast.MILL, **told}, **shop.at())


def make_part(db: Session, shop: Shop, **told: Any) -> int:
    """The press plate."""
    return parts.keep_part(db, **{"name": cast.PLATE, **told}, **shop.at())


def make_variant(db: Session, shop: Shop, *, body: BodyTyped | None = cast.DISC, **told: Any) -> int:
    """A variant with its drawing: the plain plate where nothing else is told."""
    if "part_id" not in told:
        known = [part.id for part, _ in parts.parts(db)]
        told["part_id"] = known[0] if known else make_part(db, shop)
    variant_id = parts.keep_variant(db, **{**cast.PLAIN, **cast.STEEL, **told}, **shop.at())
    if body:
        cutting.keep_body(db, variant_id=variant_id, typed=body, **shop.at())
    return variant_id


def the_mill(db: Session, shop: Shop) -> int:
    """The cider mill, entered where it is not in the book yet."""
    known = [one.id for one in customers.listing(db) if one.name == cast.MILL["name"]]
    return known[0] if known else make_customer(db, shop)


def the_plain_plate(db: Session, shop: Shop) -> int:
    """The plain press plate, entered where it is not in the book yet."""
    known = [one.id for one in parts.all_variants(db) if one.name == cast.PLAIN["name"]]
    return known[0] if known else make_variant(db, shop)


def make_job(db: Session, shop: Shop, *, pieces: int | tuple[PieceAsk, ...] = 2, **told: Any) -> JobFacts:
    """A job with so many pieces of one variant, or with these pieces, still expected."""
    customer_id = told.pop("customer_id", None) or the_mill(db, shop)
    variant_id = told.pop("variant_id", None) or the_plain_plate(db, shop)
    asks = (PieceAsk(variant_id, "machine", "press 1"),) * pieces if isinstance(pieces, int) else pieces
    told = {"title": "skim press plates", "pieces": asks, **shop.at(), **told}
    return jobs.by_no(db, jobs.open_job(db, customer_id=customer_id, **told))


def pieces_of(db: Session, job: JobFacts) -> list[PieceFacts]:
    """The pieces of a job as they are now."""
    return jobs.pieces(db, job.id)


def take_everything_in(db: Session, shop: Shop, job: JobFacts) -> list[PieceFacts]:
    """Every piece comes through the door: its photo is taken, it is looked at, and its deciding sign is seen."""
    for piece in pieces_of(db, job):
        photos.keep(db, what="intake", photo=photos.made_small(cast.PHOTO), piece_id=piece.id, **shop.at())
        condition.look(db, piece_id=piece.id, answers={"cracked": "no"}, **shop.at())
        sign = parts.variant(db, piece.variant_id).signs[0]
        intake.take_in(db, piece_id=piece.id, sign_id=sign.id, place="B2", **shop.at())
    return pieces_of(db, job)


def keep_cuts(db: Session, shop: Shop, job: JobFacts, typed: CutsTyped = cast.SKIM) -> int:
    """The cuts for the variant of the job's first piece."""
    return cutting.keep_cuts(
        db, job_id=job.id, variant_id=pieces_of(db, job)[0].variant_id, typed=typed, **shop.at()
    )  # fmt: skip


def weigh(
    db: Session, shop: Shop, piece: PieceFacts, phase: str, typed: str, scale: str = "spring", **told: Any
) -> int:
    """A reading of a piece."""
    return weighing.weigh(
        db, piece_id=piece.id, scale_id=shop.scales[scale], phase=phase, typed=typed, **{**shop.at(), **told}
    )  # fmt: skip


def quote(db: Session, shop: Shop, job: JobFacts, typed: PricingTyped = AN_HOUR, **told: Any) -> str:
    """An issued quote; gives its number."""
    at = {**shop.at(), **told}
    quote_id = quotes.keep_draft(db, job_id=job.id, typed=typed, **at)
    return quotes.issue(db, quote_id=quote_id, **at)


def agree(db: Session, shop: Shop, job: JobFacts, typed: PricingTyped = AN_HOUR) -> None:
    """An issued quote, and the customer's yes to it."""
    quote(db, shop, job, typed)
    quotes.go_ahead(db, job_id=job.id, said_by="Marn", how="phone", **shop.at())


def cut(db: Session, shop: Shop, pieces: list[PieceFacts], before: str = "26.5", after: str = "23") -> None:
    """Pieces in the rack are weighed, cut, weighed again and checked."""
    for piece in pieces:
        weigh(db, shop, piece, "before", before)
        intake.move(db, piece_id=piece.id, to="chuck", **shop.at())
        weigh(db, shop, piece, "after", after)
        intake.move(db, piece_id=piece.id, to="checked", reason="seen by eye", **shop.at())


def spoil(db: Session, shop: Shop, piece: PieceFacts, story: str = "bored too wide") -> None:
    """A piece that lies in the shop is spoiled; they are told, and it is settled who pays."""
    told = {"whom": "Marn", "said": "so be it", "who_pays": "we do"}
    mishaps.spoil(db, piece_id=piece.id, story=story, **told, **shop.at())


def send_back(db: Session, shop: Shop, piece: PieceFacts, reason: str = "cracked") -> None:
    """A piece in the rack goes back uncut."""
    mishaps.send_back(db, piece_id=piece.id, reason=reason, **shop.at())


def fetch(db: Session, shop: Shop, *pieces: PieceFacts, now: datetime = cast.NOON) -> None:
    """Checked pieces of one job go onto the pick-up shelf, and every one of these is taken home."""
    for piece in pieces:
        if piece.custody == "checked":
            intake.move(db, piece_id=piece.id, to="shelf", **shop.at(now))
    ids = [piece.id for piece in pieces]
    handover.hand_over(db, job_id=pieces[0].job_id, piece_ids=ids, taken_by="Marn", **shop.at(now))


def finished_job(db: Session, shop: Shop, *, pieces: int = 2, **told: Any) -> JobFacts:
    """A job with agreed quote and kept cuts, every piece checked."""
    job = make_job(db, shop, pieces=pieces, **told)
    keep_cuts(db, shop, job)
    agree(db, shop, job)
    cut(db, shop, take_everything_in(db, shop, job))
    return job


def ready_job(db: Session, shop: Shop, **told: Any) -> JobFacts:
    """A finished job whose pieces lie on the pick-up shelf, announced."""
    job = finished_job(db, shop, **told)
    handover.announce(db, job_id=job.id, **shop.at())
    return job


def done_job(db: Session, shop: Shop, *, pieces: int = 1, **told: Any) -> JobFacts:
    """A job with every piece on the pick-up shelf, in few strokes: nothing weighed, no quote, no photo; to be billed
    by hand."""
    job = make_job(db, shop, pieces=pieces, **told)
    for piece in pieces_of(db, job):
        sign = parts.variant(db, piece.variant_id).signs[0]
        intake.take_in(db, piece_id=piece.id, sign_id=sign.id, **shop.at())
        for to in ("chuck", "checked", "shelf"):
            intake.move(db, piece_id=piece.id, to=to, reason="he waits", **shop.at())
    return job


def twin_job(db: Session, shop: Shop, *weights: tuple[str, str]) -> JobFacts:
    """Two look-alikes with the same cuts, weighed in and out on one scale."""
    asks = (PieceAsk(make_variant(db, shop)), PieceAsk(make_variant(db, shop, **cast.LIPPED)))
    job = make_job(db, shop, pieces=asks)
    for piece, (before, after) in zip(take_everything_in(db, shop, job), weights, strict=True):
        cutting.keep_cuts(db, job_id=job.id, variant_id=piece.variant_id, typed=cast.SKIM, **shop.at())
        weigh(db, shop, piece, "before", before, "counter")
        weigh(db, shop, piece, "after", after, "counter")
    return job

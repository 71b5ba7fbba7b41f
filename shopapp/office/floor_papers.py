"""What is printed when pieces come in, as the book has it now: stub, two tags a piece, job ticket."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from sqlmodel import Session

from shopapp.bench import money, quantities
from shopapp.office import (
    condition,
    customers,
    cutrun,
    cutting,
    finish,
    floor_cards,
    gate,
    history,
    jobs,
    lasttime,
    papers,
    parts,
    photos,
    phrases,
    quotes,
    shopbook,
    sizes,
    trouble,
    weighing,
)
from shopapp.office.cutting import PlanFacts
from shopapp.office.errors import InTheWay
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.sheets.blank import BlankSheet
from shopapp.office.sheets.letterhead import Letterhead, Party
from shopapp.office.sheets.stub import StubPiece, StubSheet
from shopapp.office.sheets.tags import Tag, TagsSheet
from shopapp.office.sheets.ticket import TicketKind, TicketPiece, TicketSheet, WebRow
from shopapp.office.shopbook import ShopFacts
from shopapp.office.tables.jobs import Piece
from shopapp.office.tracks import HERE
from shopapp.office.weighing import Weighed


@dataclass(frozen=True)
class _Made:
    """What every paper of a job says alike."""

    job: JobFacts
    shop: ShopFacts
    letterhead: Letterhead
    party: Party
    issued_on: str
    drawn_by: str
    not_done: tuple[str, ...]
    address: str
    number: str

    def head(self) -> dict[str, object]:
        """The first fields of each of these sheets."""
        return {
            "letterhead": self.letterhead, "party": self.party, "job_no": str(self.job.no), "title": self.job.title,
            "issued_on": self.issued_on, "drawn_by": self.drawn_by, "not_done": self.not_done,
            "number": self.number,
        }  # fmt: skip

    def of_piece(self, piece: PieceFacts) -> str:
        """The whole address that opens a piece."""
        return f"{self.address}/pieces/{piece.number}" if self.address else ""

    def of_job(self) -> str:
        """The whole address that opens the job."""
        return f"{self.address}/jobs/{self.job.no}" if self.address else ""


def intake(
    db: Session, *, job_id: int, address: str = "", came_at: datetime | None = None, now: datetime, by: int
) -> str:  # fmt: skip
    """Freeze stub, tags and job ticket of the pieces that are here; gives their number.

    `address`: where the app is reached, for the codes; `came_at`: when it really was, where it is entered afterwards.
    """
    job = jobs.by_id(db, job_id)
    here = [piece for piece in jobs.pieces(db, job_id) if piece.custody in HERE and piece.fate != "sent_back"]
    if not here:
        raise InTheWay("No piece of this job is here yet. Look at each piece and choose the sign that you see on it.")
    number = f"{job.no}-T{papers.count(db, 'stub', job_id=job_id) + 1}"
    made, late = _made(db, job, number, address, now, by), _late(db, came_at, now)
    weighed = weighing.of_pieces(db, here)
    for sheet in (
        _stub(db, made, here, weighed, late),
        _tags(made, here),
        _ticket(db, made, here, weighed, late),
    ):
        papers.freeze(db, sheet, number=number, job_id=job_id, now=now, by=by)
    words = f"stub, tags and job ticket {number}: {', '.join(piece.number for piece in here)}"
    history.write(db, now=now, by=by, act="paper", words=words, job_id=job_id)
    return number


def blank(db: Session, *, now: datetime, by: int, pieces: int = 2) -> BlankSheet:
    """A blank ticket for a day without power; it belongs to no job, so it is not kept."""
    shop = shopbook.the_shop(db)
    return BlankSheet(
        letterhead=shop.letterhead(), issued_on=str(shop.today(now)), drawn_by=history.initials(db, by), pieces=pieces,
        looked_for=tuple(condition.WORDS.values()),
        scales=tuple(f"{one.name}: {one.division} to {one.capacity} {one.unit}" for one in shopbook.scales(db)),
        watch=cutrun.CAUTIONS, terms=phrases.printed(db, shop.today(now), "storage"), not_done=shop.not_done_lines(),
    )  # fmt: skip


def _made(db: Session, job: JobFacts, number: str, address: str, now: datetime, by: int) -> _Made:
    shop = shopbook.the_shop(db)
    return _Made(
        job, shop, shop.letterhead(), customers.one(db, job.customer_id).party(), str(shop.today(now)),
        history.initials(db, by), quotes.not_done(db, job.id), address.rstrip("/"), number,
    )  # fmt: skip


def _late(db: Session, came_at: datetime | None, now: datetime) -> str:
    if came_at is None or came_at == now:
        return ""
    zone = ZoneInfo(shopbook.the_shop(db).zone)
    return f"It came in {_moment(came_at, zone)} and was entered {_moment(now, zone)}."


def _moment(at: datetime, zone: ZoneInfo) -> str:
    there = at.astimezone(zone)
    return f"{there.day} {there:%b %Y, %H:%M}"


def _asked(job: JobFacts) -> dict[str, str]:
    return {"asked": job.asked, "wanted": str(job.wanted_by or ""), "promised": str(job.promised_on or "")}


def _goes(piece: PieceFacts) -> str:
    return "the customer's shelf" if piece.goes_to == "shelf" else piece.machine


def _stub(
    db: Session, made: _Made, here: list[PieceFacts], weighed: dict[int, Weighed], late: str
) -> StubSheet:  # fmt: skip
    taken = photos.of_pieces(db, [piece.id for piece in here])
    bits = condition.bits_of(db, [piece.id for piece in here])
    rows = []
    for piece in here:
        worth, before = condition.declared(db, piece.id), weighed[piece.id].before
        looked = condition.standing(db, piece.id)
        rows.append(
            StubPiece(
                number=piece.number, name=piece.name, sign=piece.sign_seen or "",
                condition=tuple((condition.WORDS[one.word], condition.ANSWERS[one.answer]) for one in looked),
                declared=money.show(worth.cents, made.shop.currency) if worth and worth.cents else "",
                risk=condition.RISKS[worth.risk] if worth else "",
                loose=tuple(bit.words for bit in bits if bit.piece_id == piece.id),
                photos=_counted(photo.what for photo in taken[piece.id] if photo.what in ("intake", "damage")),
                goes_to=_goes(piece), weight=f"{before.text}, {before.scale_words}" if before else "",
                note=piece.note,
            )
        )  # fmt: skip
    day = made.shop.today(max(piece.moved_at for piece in here))
    return StubSheet(
        **made.head(), pieces=tuple(rows), address=made.of_job(), **_asked(made.job), late=late,
        terms=phrases.printed(db, day, "storage", "terms"), phrases=phrases.printed(db, day, "workmanship"),
    )  # fmt: skip


def _counted(whats: Iterable[str]) -> tuple[str, ...]:
    """How many photos of what: "2 as it came in"."""
    told = list(whats)
    return tuple(f"{told.count(what)} {photos.KINDS[what]}" for what in dict.fromkeys(told))


def _tags(made: _Made, here: list[PieceFacts]) -> TagsSheet:
    tags = tuple(
        Tag(
            number=piece.number, name=piece.name, sign=piece.sign_seen or "", goes_to=_goes(piece),
            promised=str(made.job.promised_on or ""), place=piece.place, address=made.of_piece(piece),
        )
        for piece in here
    )  # fmt: skip
    return TagsSheet(**made.head(), tags=tags)


def _ticket(
    db: Session, made: _Made, here: list[PieceFacts], weighed: dict[int, Weighed], late: str
) -> TicketSheet:  # fmt: skip
    job = made.job
    plans = cutting.newest_plans(db, {job.id})
    bits = condition.bits_of(db, [piece.id for piece in here])
    alike: dict[int, list[PieceFacts]] = {}
    for piece in here:
        alike.setdefault(piece.variant_id or 0, []).append(piece)
    alike.pop(0, None)
    old = [piece.rework_of for piece in here if piece.rework_of]
    again = [piece.number for piece in jobs.pieces_where(db, Piece.id.in_(old))] if old else []
    return TicketSheet(
        **made.head(), **_asked(job), address=made.of_job(), order_number=job.order_number,
        pieces=tuple(
            _on_the_slip(db, piece, weighed[piece.id], tuple(bit.words for bit in bits if bit.piece_id == piece.id))
            for piece in here
        ),
        kinds=tuple(_kind(db, made, some, plans.get((job.id, variant_id))) for variant_id, some in alike.items()),
        settings=floor_cards.of_job(db, job.id),
        rush=f"+{made.shop.rush_percent} %" if job.rush else "", tie=", ".join(again), watch=cutrun.CAUTIONS, late=late,
        weights_note=_weights_note(db, [plan for plan in plans.values() if plan.variant_id in alike]),
    )  # fmt: skip


def _on_the_slip(db: Session, piece: PieceFacts, weighed: Weighed, loose: tuple[str, ...]) -> TicketPiece:
    before = weighed.before
    return TicketPiece(
        number=piece.number, name=piece.name, sign=piece.sign_seen or "", goes_to=_goes(piece), place=piece.place,
        before=before.text if before else "", scale=before.scale if before else "", predicted=weighed.predicted_text,
        condition=condition.summary(condition.standing(db, piece.id)), loose=loose,
        waived=gate.waived_words(db, piece.id), note=piece.note,
    )  # fmt: skip


def _kind(db: Session, made: _Made, some: list[PieceFacts], plan: PlanFacts | None) -> TicketKind:
    own = parts.variant(db, some[0].variant_id or 0)
    twins = [one for one in parts.variants(db, own.part_id) if one.id != own.id]
    last = next((one for one in lasttime.of_variant(db, own.id, most=6) if one.job_no != made.job.no), None)
    told = [last.off, last.verdict, f"{last.minutes} min" if last.minutes else ""] if last else []
    last_time = f"{last.number}, {', '.join(text for text in told if text) or 'not weighed'}" if last else ""
    check = finish.check(db, some[0].id)
    return TicketKind(
        name=f"{own.part}, {own.name}", pieces=tuple(piece.number for piece in some), sign=own.deciding,
        signs=tuple(sign.words for sign in own.signs if not sign.deciding),
        twins=tuple((one.name, one.deciding) for one in twins), section=plan.section if plan else None,
        removal=plan.removal if plan else None,
        keep_outs=tuple(f"{mark.name}: {mark.left_text}" for mark in plan.section.keep_outs) if plan else (),
        webs=_webs(db, some, plan),
        checks=tuple(
            (line.words, line.planned or "tick") for line in check.lines if line.kind in ("size", "tick")
        ),
        last_time=last_time, trouble=tuple(line.words for line in trouble.of_variant(db, own.id, most=3)),
    )  # fmt: skip


def _webs(db: Session, some: list[PieceFacts], plan: PlanFacts | None) -> tuple[WebRow, ...]:
    """Web and wall as the cuts leave them, where the drawing names a least one or somebody measured it."""
    _, body = cutting.body_of(db, some[0].variant_id or 0)
    if plan is None or body is None:
        return ()
    measured = [size for piece in some for size in sizes.of_piece(db, piece.id)]
    rows = []
    for name, typed, left, least in (
        ("web", plan.typed.web, plan.removal.web_text, body.web_least),
        ("wall", "", plan.removal.wall_text, body.wall_least),
    ):
        mine = next((size.echo for size in measured if gate.is_before(size.name, name)), "")
        before = sizes.echo(typed, plan.typed.unit) or mine
        if left and (before or least.strip()):
            bound = sizes.echo(least, body.unit).partition(" · ")[0]
            rows.append(WebRow(name.capitalize(), before, _take(before, left, plan.typed.unit), left, bound))
    return tuple(rows)


def _take(before: str, left: str, unit: str) -> str:
    """What comes off a web that was measured."""
    if not before:
        return ""
    was, stays = (quantities.length(text.partition(" · ")[0]) for text in (before, left))
    return quantities.show_length(was.amount - stays.amount, unit)


def _weights_note(db: Session, plans: list[PlanFacts]) -> str:
    """Which scale can judge what is foreseen."""
    if not plans:
        return ""
    least = min(plans, key=lambda plan: plan.grams)
    return " ".join(weighing.scale_fitness(db, least.grams).values())

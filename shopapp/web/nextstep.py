"""The one thing to do next, for a piece and for a job; the page's main button says it and leads there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from shopapp.office.jobs import PieceFacts
from shopapp.office.tracks import FINAL
from shopapp.office.weighing import Weighed


@dataclass(frozen=True)
class Step:
    """What the button says, and the route it leads to; with `to` it moves the piece there at once."""

    words: str
    route: str
    path: dict[str, int]
    part: str = ""
    to: str = ""


@dataclass(frozen=True)
class Now:
    """What is known of a job when its next step is looked for."""

    no: int
    pieces: Sequence[PieceFacts] = ()
    weighed: Mapping[int, Weighed] = field(default_factory=dict)
    planned: frozenset[int] = frozenset()
    ended: bool = False
    stopped: bool = False
    known_price: str = ""
    quoted: bool = False
    agreed: bool = False
    announced: bool = False
    to_bill: bool = False
    bill_when: str = "ready"
    pays_at_once: bool = True
    unpaid: bool = False
    run: tuple[int, int] | None = None
    """The first setting that is not done and the first piece in it, where settings are planned."""


FIRST = ("chuck", "expected", "rack")
"""The lathe is freed first; then everything that came is taken in, before anything is weighed."""


def of_piece(piece: PieceFacts, weighed: Weighed, planned: frozenset[int]) -> Step | None:
    """What this piece wants next, while it has not reached the end of its way."""
    at = {"no": piece.job_no, "n": piece.n}
    if piece.custody == "expected":
        return Step(f"Take in {piece.number}", "pieces.page", at)
    if piece.custody == "rack":
        if weighed.before is None:
            return Step(f"Weigh in {piece.number}", "weighing.page", at)
        if piece.variant_id and piece.variant_id not in planned:
            return Step("Draw the cuts", "cutting.page", {"no": piece.job_no, "variant_id": piece.variant_id})
        return Step(f"{piece.number} into the chuck", "pieces.move", at, to="chuck")
    if piece.custody == "chuck":
        if weighed.before and weighed.after is None:
            return Step(f"Weigh out {piece.number}", "weighing.page", at)
        return Step(f"{piece.number} is checked", "pieces.move", at, to="checked")
    return None


def of_job(now: Now) -> Step | None:
    """What the whole job wants next; nothing once it is closed and paid."""
    at = {"no": now.no}
    if now.ended:
        lies = any(piece.custody == "shelf" for piece in now.pieces)
        return Step("Hand over", "handover.page", at) if lies else None
    if now.stopped:
        return Step("Write down the answer", "jobs.page", at, "#stops")
    if not now.pieces:
        return Step("Add a piece", "jobs.page", at, "#add-piece")
    talked = now.agreed or any(piece.custody == "chuck" for piece in now.pieces)
    return (None if talked else _until_agreed(now, at)) or _at_the_bench(now) or _at_the_counter(now, at)


def _until_agreed(now: Now, at: dict[str, int]) -> Step | None:
    if all(piece.custody in FINAL for piece in now.pieces):
        return None
    if now.quoted:
        return Step("They say go ahead", "quotes.page", at, "#go-ahead")
    if now.known_price:
        return Step(now.known_price, "quotes.known", at, to="draft")
    undrawn = [piece.variant_id for piece in now.pieces if piece.variant_id and piece.variant_id not in now.planned]
    if undrawn:
        return Step("Draw the cuts", "cutting.page", {**at, "variant_id": undrawn[0]})
    return Step("Price it", "quotes.page", at)


def _at_the_bench(now: Now) -> Step | None:
    if now.run and any(piece.custody == "chuck" for piece in now.pieces):
        setting, n = now.run
        words = f"Run: setting {setting}, {now.no}-{n}"
        return Step(words, "cutrun.setting", {"no": now.no, "n": setting}, f"?piece={n}")
    for custody in FIRST:
        here = [piece for piece in now.pieces if piece.custody == custody]
        # All are weighed in before the first goes into the chuck, so that twins can be held against each other.
        here.sort(key=lambda piece: now.weighed[piece.id].before is not None)
        if here and custody == "expected":
            only = f" {here[0].number}" if len(here) == 1 else f" {len(here)} pieces"
            return Step(f"Take in{only}", "intake.page", {"no": now.no})
        for piece in here:
            if step := of_piece(piece, now.weighed[piece.id], now.planned):
                return step
    return None


def _at_the_counter(now: Now, at: dict[str, int]) -> Step | None:
    custody = {piece.custody for piece in now.pieces}
    if "checked" in custody or ("shelf" in custody and not now.announced):
        return Step("Announce that it is ready", "handover.page", at)
    on_shelf = "shelf" in custody
    if now.to_bill and not (on_shelf and now.bill_when == "fetched"):
        return Step("Bill it", "invoices.draft", at)
    if now.unpaid and (now.pays_at_once or not on_shelf):
        return Step("Take payment", "payments.page", at)
    if on_shelf:
        return Step("Hand over", "handover.page", at)
    return None

"""The one thing to do next, for a piece and for a job; the page's main button says it and leads there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from shopapp.office import checking, chuck, finish
from shopapp.office.database import Session
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
class AtLathe:
    """How far the work on a piece under the tool is: the first setting it waits in (0: none), whether settings are
    planned at all, whether its final check was begun, and what that check still wants."""

    setting: int = 0
    has_settings: bool = False
    begun: bool = False
    open: tuple[str, ...] = ()


@dataclass(frozen=True)
class Now:
    """What is known of a job when its next step is looked for."""

    no: int
    pieces: Sequence[PieceFacts] = ()
    weighed: Mapping[int, Weighed] = field(default_factory=dict)
    lathe: Mapping[int, AtLathe] = field(default_factory=dict)
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


def at_lathe(db: Session, pieces: Sequence[PieceFacts]) -> dict[int, AtLathe]:
    """How far the work is, of each piece that is in the chuck."""
    found = {}
    for piece in pieces:
        if piece.custody == "chuck":
            runs = chuck.of_job(db, piece.job_id).settings
            waits = [run.setting.n for run in runs if any(one.piece.id == piece.id for one in run.waiting)]
            check = finish.check(db, piece.id)
            begun = any(line.done for line in check.lines if line.kind != "truing")
            found[piece.id] = AtLathe((waits or [0])[0], bool(runs), begun, checking.still_open(check))
    return found


def of_piece(piece: PieceFacts, weighed: Weighed, planned: frozenset[int], lathe: AtLathe | None = None) -> Step | None:
    """What this piece wants next, while it has not reached the end of its way."""
    at = {"no": piece.job_no, "n": piece.n}
    if piece.custody == "expected":
        return Step(f"Take in {piece.number}", "intake.page", {"no": piece.job_no}, f"#h-{piece.n}")
    if piece.custody == "rack":
        if weighed.before is None:
            return Step(f"Weigh in {piece.number}", "weighing.page", at)
        if piece.variant_id and piece.variant_id not in planned:
            return Step("Draw the cuts", "cutting.page", {"no": piece.job_no, "variant_id": piece.variant_id})
        return Step(f"{piece.number} into the chuck", "pieces.move", at, to="chuck")
    return _under_the_tool(piece, weighed, planned, lathe or AtLathe()) if piece.custody == "chuck" else None


def _under_the_tool(piece: PieceFacts, weighed: Weighed, planned: frozenset[int], lathe: AtLathe) -> Step:
    """It is cut, looked over, weighed, and then it is checked; who planned no settings is not held up by them."""
    at, job = {"no": piece.job_no, "n": piece.n}, {"no": piece.job_no}
    if not lathe.begun and weighed.after is None:
        if lathe.setting:
            words = f"Run: setting {lathe.setting}, {piece.number}"
            return Step(words, "cutrun.setting", {**job, "n": lathe.setting}, f"?piece={piece.n}")
        if not lathe.has_settings and piece.variant_id in planned:
            return Step("Settings and cut run", "cutrun.page", job)
    if lathe.open and not lathe.begun:
        return Step(f"Final check of {piece.number}", "finish.page", at)
    if weighed.before and weighed.after is None:
        return Step(f"Weigh out {piece.number}", "weighing.page", at)
    if any(checking.NOT_ADDING_UP in words for words in lathe.open):
        return Step(f"{piece.number} {checking.NOT_ADDING_UP}: look again", "finish.page", at)
    if lathe.open:
        return Step(f"Final check of {piece.number}, go on", "finish.page", at)
    return Step(f"{piece.number} is checked", "pieces.move", at, to="checked")


def also(now: Now, step: Step | None) -> Step | None:
    """What may well come first all the same: the pieces stand at the door while the price is still talked over."""
    coming = [piece for piece in now.pieces if piece.custody == "expected"]
    if now.ended or not coming or (step and step.route == "intake.page"):
        return None
    return _take_in(now, coming)


def _take_in(now: Now, coming: Sequence[PieceFacts]) -> Step:
    only = f" {coming[0].number}" if len(coming) == 1 else f" {len(coming)} pieces"
    return Step(f"Take in{only}", "intake.page", {"no": now.no})


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
            return _take_in(now, here)
        for piece in here:
            if step := of_piece(piece, now.weighed[piece.id], now.planned, now.lathe.get(piece.id)):
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

"""The piece card: gathered once, shown by every form that stands on it."""

from dataclasses import dataclass

from starlette.responses import Response

from shopapp.office import (
    condition,
    cutting,
    findings,
    gate,
    history,
    jobs,
    lasttime,
    mishaps,
    parts,
    photos,
    sizes,
    together,
    weighing,
    workings_scale,
)
from shopapp.office.gate import Fact
from shopapp.office.jobs import PieceFacts
from shopapp.office.parts import VariantFacts
from shopapp.office.photos import PhotoFacts
from shopapp.office.tracks import CUSTODY, MOVES
from shopapp.web import nextstep
from shopapp.web.desk import Desk
from shopapp.web.forms import Form
from shopapp.web.jobsheet import GOES, VERDICTS

UNITS = ("in", "mm")
WORDS = {
    "rack": "Back to the rack",
    "chuck": "Into the chuck",
    "checked": "It is checked",
    "shelf": "Onto the pick-up shelf",
}
"""What the buttons say; taking in, handing over and what goes wrong have forms of their own."""
RISKS = (("customer", "the customer"), ("shop", "the shop"))
SIDES = ("front", "back", "edge")
"""The photos that are wanted of every piece, beside one of any damage."""
FORMS = ("take_in", "move", "measure", "photo", "look", "worth")


@dataclass(frozen=True)
class ToDo:
    """A fact of the gate as the card shows it: what to do where it is not there, and the way to it."""

    fact: Fact
    waived: bool
    href: str


def card(desk: Desk, no: int, n: int, *, all_kinds: bool = False, **sent: Form) -> Response:
    """One piece, its whole life; a form that wants mending comes back with what was typed."""
    piece = jobs.piece(desk.db, no, n)
    every = jobs.pieces(desk.db, piece.job_id)
    told = weighing.of_pieces(desk.db, every)
    weighed = told[piece.id]
    lines = history.of_piece(desk.db, piece.id)
    own = parts.variant(desk.db, piece.variant_id) if piece.variant_id else None
    planned = frozenset(variant_id for _, variant_id in cutting.newest_plans(desk.db, {piece.job_id}))
    last = lasttime.of_variant(desk.db, own.id, most=6) if own else []
    last = [time for time in last if time.number != piece.number][:5]
    forms = {name: sent.get(name) or Form(typed=_typed(name, piece)) for name in FORMS}
    kinds = look_alikes(desk, own, all_kinds)
    todo, lathe = _gate(desk, piece), nextstep.at_lathe(desk.db, [piece]).get(piece.id)
    return desk.page(
        "pieces/page.html", sheet=piece.number, here="job", job_no=no, piece=piece, job=jobs.by_no(desk.db, no),
        own=own, weighed=weighed, readings=weighing.readings(desk.db, piece.id), lines=lines, forms=forms,
        sizes=sizes.of_piece(desk.db, piece.id), unit=own.unit if own else desk.shop.unit, goes=GOES,
        instruments=[(name, name) for name in sizes.instruments(desk.db)], custody=CUSTODY, verdicts=VERDICTS,
        kinds=kinds, seen_photos=sign_photos(desk, kinds), all_kinds=all_kinds, moves=_moves(piece), todo=todo,
        missing=[one for one in todo if not one.fact.ok and not one.waived],
        last=last, last_working=workings_scale.of_last(lasttime.offs(last)),
        finding=findings.of_pieces(desk.db, every, told)[piece.id],
        warnings=[line.words for line in lines if line.act == "look-alike"],
        step=nextstep.of_piece(piece, weighed, planned, lathe), fresh=lambda: Form().once,
        still_open=lathe.open if lathe else (),
        problems=next((form.problems for form in sent.values() if form.problems), {}),
        newest=history.newest_of_piece(desk.db, piece.id), photos=photos.of_piece(desk.db, piece.id),
        looked=condition.standing(desk.db, piece.id), worth=condition.declared(desk.db, piece.id),
        bits=condition.bits_of(desk.db, [piece.id]), risks=RISKS, words=condition.WORDS, answers=condition.ANSWERS,
        jointly=together.of_pieces(desk.db, [piece])[piece.id],
        spoiled=mishaps.spoiled(desk.db, piece.id), reworks=mishaps.reworks(desk.db, [piece.id]),
        old=mishaps.puts_right(desk.db, piece), question="",
    )  # fmt: skip


def look_alikes(desk: Desk, own: VariantFacts | None, all_kinds: bool = False) -> list[tuple[str, list[VariantFacts]]]:
    """Those that can be mistaken for each other, by part: the look-alikes of the part asked for, or all."""
    if own and not all_kinds:
        return [(own.part, parts.variants(desk.db, own.part_id))]
    groups: dict[str, list[VariantFacts]] = {}
    for variant in parts.all_variants(desk.db):
        groups.setdefault(variant.part, []).append(variant)
    return list(groups.items())


def sign_photos(desk: Desk, kinds: list[tuple[str, list[VariantFacts]]]) -> dict[int, list[PhotoFacts]]:
    """The reference photos of every sign that can be chosen."""
    return photos.of_signs(desk.db, [sign.id for _, some in kinds for one in some for sign in one.signs])


def _typed(name: str, piece: PieceFacts) -> dict[str, str]:
    if name == "take_in":
        return {"goes_to": piece.goes_to, "machine": piece.machine, "place": piece.place, "note": piece.note}
    return {"place": piece.place} if name == "move" else {}


def _moves(piece: PieceFacts) -> list[tuple[str, str]]:
    return [] if piece.fate else [(to, WORDS[to]) for to in MOVES[piece.custody]]


def _gate(desk: Desk, piece: PieceFacts) -> list[ToDo]:
    """The six facts before the first chip, while the piece is in the rack; and what it was cut without, ever after."""
    if piece.custody == "expected":
        return []
    waived = set(gate.waived_words(desk.db, piece.id))
    at = {"no": piece.job_no, "n": piece.n}
    ways = {
        "sign": "#sign-again", "weight": desk.url("weighing.page", **at), "photos": "#photos", "condition": "#look",
        "web": "#sizes", "go_ahead": desk.url("quotes.page", no=piece.job_no) + "#go-ahead",
    }  # fmt: skip
    facts = gate.gate(desk.db, piece.id)
    return [ToDo(fact, fact.printed in waived and bool(fact.printed), ways[fact.key]) for fact in facts]

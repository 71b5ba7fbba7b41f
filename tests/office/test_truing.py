"""Readings of the indicator: judged while typed, kept as typed, said in the record."""

import pytest
from sqlmodel import Session

from shopapp.office import chuck, cutting, equipment, history, jobs, truing
from shopapp.office.drawing import BodyTyped, Typed
from shopapp.office.errors import NotHere, TryAgain
from shopapp.office.truing import TruingTyped
from tests import makers
from tests.makers import Shop

TENTH = 0.00254  # .0001 in


def tenths(*readings: str, **told: str) -> TruingTyped:
    return TruingTyped("tenth", readings, **told)


def a_piece(db: Session, shop: Shop) -> int:
    return makers.pieces_of(db, makers.make_job(db, shop))[0].id


def keep(db: Session, shop: Shop, piece_id: int, surface: str, stage: str, *readings: str, **told: object) -> int:
    typed = tenths(*readings, diameter="5.0" if surface == "face" else "")
    return truing.keep(db, piece_id=piece_id, surface=surface, stage=stage, typed=typed, **told, **shop.at())


# Half the difference of opposite jaws: (20 - -16)/2 = 18 and (4 - 0)/2 = 2 tenths; common practice, no source.
def test_four_readings_say_which_jaw_to_loosen_and_which_to_tighten() -> None:
    found = truing.judge("outside", tenths("+20", "+4", "-16", "0")).judged
    assert found
    assert found.words[0] == "Loosen 3, tighten 1, until 1 drops by 18 tenths (.0018 in)."
    assert found.words[1] == "Then loosen 4, tighten 2, until 2 drops by 2 tenths (.0002 in)."
    assert found.jaws == ((1, "tighten 18 tenths"), (2, "tighten 2 tenths"), (3, "loosen"), (4, "loosen"))
    assert found.offset_mm == pytest.approx(2 * 18.1107703 * TENTH)  # 2·sqrt(18² + 2²)
    assert not found.within


def test_in_a_bore_the_words_are_turned_round() -> None:
    found = truing.judge("bore", tenths("20", "4", "-16", "0")).judged
    assert found
    assert found.words[0] == "Loosen 1, tighten 3, until 1 drops by 18 tenths (.0018 in)."
    assert dict(found.jaws)[1] == "loosen"


def test_out_of_round_is_told_apart_from_off_centre() -> None:
    found = truing.judge("outside", tenths("4", "-4", "4", "-4")).judged
    assert found
    assert found.words[:2] == ("Centred.", "8 tenths (.0008 in) out-of-round: the jaws cannot help that.")
    assert (found.jaws, found.direction) == ((), None)


# .0005 in at 5.0 in is .00063 in at 6.250 in: it grows with the diameter.
def test_a_face_is_said_at_its_diameter_and_at_the_rim() -> None:
    found = truing.judge("face", tenths("2.5", "0", "-2.5", "0", diameter="5.0"), rim=158.75).judged
    assert found
    assert found.words[-1] == "At the rim, Ø 6.250 in, that is 6.3 tenths (.00063 in)."
    tapped = truing.judge("face", tenths("12", "0", "0", "0", diameter="5.0")).judged
    assert tapped
    assert tapped.words[0].startswith("Tap at jaw 1 until it drops by 6 tenths")
    assert tapped.words[-1] == "Then read the outside again: a tapped face moves it."
    assert (tapped.arrow_says, found.arrow_says) == ("it is high there",) * 2


def test_the_key_is_told_where_the_screw_is_known() -> None:
    found = truing.judge("outside", tenths("16", "0", "-16", "0"), pitch=1.27).judged
    assert found
    assert "(12° of the key)" in found.words[0]


@pytest.mark.parametrize(
    ("reads", "readings", "waiting"),
    [
        ("tenth", ("", "", "", ""), "4 of 4 places still to read."),
        ("tenth", ("20", "4", "-", ""), "2 of 4 places still to read."),
        ("mm", (".02", "/", "", "0"), "1 of 4 places still to read."),
    ],
)
def test_half_typed_readings_wait(reads: str, readings: tuple[str, ...], waiting: str) -> None:
    tried = truing.judge("outside", TruingTyped(reads, readings))
    assert (tried.judged, tried.waiting, tried.problems) == (None, waiting, {})


def test_a_place_at_a_keyway_is_skipped() -> None:
    tried = truing.judge("bore", TruingTyped("mm", (".02", "/", "-.02", "0")))
    assert tried.judged
    assert [text for _, text in tried.marks] == [".02", "–", "-.02", "0"]
    assert "Three readings left make an exact circle" in tried.judged.words[-1]


def test_eight_places_see_an_oval_between_the_jaws() -> None:
    found = truing.judge("outside", tenths("0", "6", "0", "-6", "0", "6", "0", "-6")).judged
    assert found
    assert found.oval_mm == pytest.approx(12 * TENTH)
    assert [angle for angle, _ in truing.judge("outside", tenths(*"01234567")).marks][:3] == [0, 45, 90]


def test_a_limit_of_ones_own_is_held_to() -> None:
    readings = ("12", "0", "0", "0")
    told = [truing.judge("outside", tenths(*readings, limit=limit)).judged for limit in ("", "20")]
    assert [one and one.within for one in told] == [False, True]


@pytest.mark.parametrize("reads", ["thou", "tenth", "mm"])
def test_readings_typed_in_inches_are_never_called_centred(reads: str) -> None:
    tried = truing.judge("outside", TruingTyped(reads, (".0018", ".0002", "-.0018", "0")))
    assert tried.judged is None
    assert "If it is in inches, type" in tried.problems["r0"]
    meant = truing.judge("outside", TruingTyped(reads, (".0018 in", ".0002 in", "-.0018 in", "0")))
    assert meant.judged
    assert meant.judged.read_mm == pytest.approx(36 * TENTH)


def test_how_they_were_read_and_what_is_allowed_is_said_back() -> None:
    assert truing.judge("outside", tenths("20", "4", "-16", "/")).read_as == (
        "Read as +.0020, +.0004, -.0016, – in; run-out allowed .0005 in."
    )  # fmt: skip
    metric = truing.judge("bore", TruingTyped("mm", (".02", "0", "-.02", "0"), limit=".05"))
    assert metric.read_as == "Read as +0.020, 0.000, -0.020, 0.000 mm; run-out allowed 0.050 mm."
    asked = truing.judge("outside", TruingTyped("thou", ("1", "0", "-1", "0"), limit=".0005"))
    assert "If it is in inches, type 0.5" in asked.problems["limit"]


# Both are within 2 thou, the limit that was typed with them, and out of the usual half thou.
def test_a_limit_typed_with_the_readings_holds_for_what_to_read_next_and_for_the_datum(
    db: Session, shop: Shop
) -> None:  # fmt: skip
    piece_id = a_piece(db, shop)
    typed = tenths("5", "0", "-5", "0", limit="20")
    for surface in ("outside", "bore"):
        truing.keep(db, piece_id=piece_id, surface=surface, stage="left", typed=typed, **shop.at())
    stands = truing.standing(db, piece_id)
    assert (stands.next_surface, stands.datum_words) == ("face", "Outside and bore both run true.")
    keep(db, shop, piece_id, "bore", "left", "5", "0", "-5", "0")
    assert truing.standing(db, piece_id).datum_words.startswith("Outside true, bore out 0.0010 in")


@pytest.mark.parametrize(
    ("surface", "typed", "field"),
    [
        ("outside", tenths("1", "0", "0", "0", limit="-5"), "limit"),
        ("outside", tenths("x1", "0", "0", "0"), "r0"),
        ("outside", tenths("/", "/", "0", "0"), "r0"),
        ("outside", TruingTyped("feet", ("0",) * 4), "reads"),
        ("face", tenths("1", "0", "0", "0", diameter="wide"), "diameter"),
        ("rim", tenths("1", "0", "0", "0"), "surface"),
        ("outside", tenths("1", "0", "0", "0", limit="much"), "limit"),
        ("outside", tenths("1", "0", "0", ""), "r0"),
        ("face", tenths("1", "0", "0", "0"), "diameter"),
    ],
)
def test_what_cannot_be_read_is_not_kept(
    db: Session, shop: Shop, surface: str, typed: TruingTyped, field: str
) -> None:  # fmt: skip
    piece_id = a_piece(db, shop)
    with pytest.raises(TryAgain) as refusal:
        truing.keep(db, piece_id=piece_id, surface=surface, stage="left", typed=typed, **shop.at())
    assert field in refusal.value.problems
    assert truing.of_piece(db, piece_id) == []


@pytest.mark.parametrize(("surface", "told"), [("outside", {"stage": "later"}), ("face", {"datum": True})])
def test_a_stage_is_found_or_left_and_no_face_is_the_datum(
    db: Session, shop: Shop, surface: str, told: dict[str, object]
) -> None:  # fmt: skip
    given = {"piece_id": a_piece(db, shop), "surface": surface, "typed": tenths("1", "0", "0", "0", diameter="5")}
    with pytest.raises(TryAgain) as refusal:
        truing.keep(db, **{**given, "stage": "left", **told}, **shop.at())
    assert list(refusal.value.problems) == list(told)


def test_readings_stay_as_typed_and_the_day_book_has_them(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    keep(db, shop, piece_id, "outside", "left", "+2", "0", "-2", "0", datum=True)
    (row,) = truing.of_piece(db, piece_id)
    assert (row.surface, row.stage, row.datum, row.initials) == ("outside", "left", True, "MB")
    assert row.typed == tenths("+2", "0", "-2", "0")
    assert (row.eccentric_mm, row.oval_mm) == (pytest.approx(2 * TENTH), pytest.approx(0, abs=1e-9))
    assert history.of_piece(db, piece_id)[0].words == "as left: outside 0.0004 in, the datum"


def test_the_order_is_outside_face_outside_again_bore(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    went = [truing.standing(db, piece_id).next_surface]
    for surface, stage, high in (
        ("outside", "found", "18"), ("outside", "left", "2"), ("face", "found", "9"), ("face", "left", "1"),
        ("outside", "found", "2"), ("bore", "found", "1"),
    ):  # fmt: skip
        keep(db, shop, piece_id, surface, stage, high, "0", f"-{high}", "0")
        went.append(truing.standing(db, piece_id).next_surface)
    assert went == ["outside", "outside", "face", "face", "outside", "bore", "done"]
    stands = truing.standing(db, piece_id)
    assert stands.left == "outside 0.0004 in, face 0.0002 in at 5.000 in"
    assert stands.found == "outside 0.0004 in, face 0.0018 in at 5.000 in, bore 0.0002 in"
    assert stands.next_words.startswith("All read.")
    assert truing.last_left(db, piece_id) == stands.left


def test_bore_against_outside_asks_which_one_counts(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    keep(db, shop, piece_id, "outside", "left", "1", "0", "-1", "0")
    keep(db, shop, piece_id, "bore", "found", "15", "0", "-15", "0")
    assert truing.standing(db, piece_id).datum_words == "Outside true, bore out 0.0030 in: which one counts?"
    keep(db, shop, piece_id, "bore", "found", "15", "0", "-15", "0", datum=True)
    stands = truing.standing(db, piece_id)
    assert (stands.datum, stands.datum_words) == (
        "bore", "Outside true, bore out 0.0030 in, and the bore counts: true the bore."
    )  # fmt: skip


def test_an_oval_piece_is_not_chased_for_ever(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    keep(db, shop, piece_id, "outside", "left", "8", "-8", "8", "-8")
    assert truing.standing(db, piece_id).next_surface == "face"
    assert truing.last_left(db, piece_id) == "outside 0.0016 in"


def test_each_setting_has_a_truing_of_its_own(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    makers.keep_cuts(db, shop, job)
    piece_id = makers.pieces_of(db, job)[0].id
    (one,) = chuck.sides(db, job.id)
    machine_id = equipment.add_machine(db, name="l", dial="radius", chuck_limit="9", screw="5 mm", **shop.at())
    chuck.plan(db, job_id=job.id, holds={(one.variant_id, "A"): "rim"}, machine_id=machine_id, **shop.at())
    setting_id = chuck.setting(db, job.id, 1).setting.id
    assert (truing.pitch_of(db, setting_id), truing.pitch_of(db, None)) == (5.0, None)
    keep(db, shop, piece_id, "outside", "left", "3", "0", "-3", "0")
    keep(db, shop, piece_id, "outside", "left", "1", "0", "-1", "0", setting_id=setting_id)
    assert truing.standing(db, piece_id, setting_id).left == "outside 0.0002 in"
    assert truing.standing(db, piece_id).left == "outside 0.0006 in"
    assert truing.last_left(db, piece_id) == "outside 0.0002 in"
    assert [row.setting_n for row in truing.of_piece(db, piece_id)] == [None, 1]
    stranger = makers.pieces_of(db, makers.make_job(db, shop))[0].id
    with pytest.raises(NotHere):
        keep(db, shop, stranger, "outside", "left", "1", "0", "-1", "0", setting_id=setting_id)


def test_millimetres_are_said_in_millimetres(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    typed = TruingTyped("mm", (".02", "0", "-.02", "0"))
    truing.keep(db, piece_id=piece_id, surface="outside", stage="left", typed=typed, **shop.at())
    assert truing.standing(db, piece_id).left == "outside 0.040 mm"


def test_rim_and_bore_come_from_the_drawing(db: Session, shop: Shop) -> None:
    piece = makers.pieces_of(db, makers.make_job(db, shop))[0]
    assert truing.rim(db, piece.id) == pytest.approx(8 * 25.4)
    assert truing.has_bore(db, piece.id)
    solid = BodyTyped("in", parts=(Typed("ring", {"outside": "8", "start": "0", "end": "2"}),))
    cutting.keep_body(db, variant_id=piece.variant_id, typed=solid, **shop.at())
    assert not truing.has_bore(db, piece.id)
    bare = makers.make_job(db, shop, pieces=(jobs.PieceAsk(),))
    unknown = makers.pieces_of(db, bare)[0].id
    assert (truing.rim(db, unknown), truing.has_bore(db, unknown)) == (None, True)
    assert truing.last_left(db, unknown) == ""

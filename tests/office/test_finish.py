"""The final check of a piece."""

import math
from dataclasses import replace

import pytest
from sqlmodel import Session

from shopapp.office import cutting, finish, history, jobs, photos, predicting, sizes, truing, weighing
from shopapp.office.drawing import BodyTyped, CutsTyped, Typed
from shopapp.office.errors import NotHere, TryAgain
from shopapp.office.truing import TruingTyped
from tests.cast import DISC, GUARDED, PHOTO
from tests.makers import Shop, finished_job, keep_cuts, make_job, make_variant, pieces_of

# Invented cuts: the outside on both sides to a shoulder, a face, a bore, a groove, a bevel.
CUTS = CutsTyped(
    "in",
    (
        Typed("turn", {"to": "7.900", "end": ".800"}, "A"),
        Typed("turn", {"to": "7.900", "start": "1.200"}, "B"),
        Typed("face", {"depth": ".250"}, "A"),
        Typed("bore", {"to": "2-1/8"}, "A"),
        Typed("groove", {"to": "7.750", "start": ".95", "end": "1.05"}, "B"),
        Typed("bevel", {"corner": "1/16", "diameter": "7.900"}, "A"),
    ),
)
PI4 = math.pi / 4
INCH3_CM3 = 16.387064  # NIST SP 811, B.8


def planned_piece(
    db: Session, shop: Shop, cuts: CutsTyped | None = CUTS, body: BodyTyped | None = DISC
) -> jobs.PieceFacts:
    job = make_job(db, shop, pieces=1, variant_id=make_variant(db, shop, body=body))
    if cuts:
        keep_cuts(db, shop, job, cuts)
    return pieces_of(db, job)[0]


def measure(db: Session, shop: Shop, piece_id: int, instrument: str = "caliper", **told: str) -> None:
    for name, typed in told.items():
        facts = {"name": name.replace("_", " "), "typed": typed, "unit": "in", "instrument": instrument}
        sizes.measure(db, piece_id=piece_id, **facts, **shop.at())


def left(db: Session, shop: Shop, piece_id: int, *readings: str) -> None:
    typed = TruingTyped("tenth", readings)
    truing.keep(db, piece_id=piece_id, surface="outside", stage="left", typed=typed, **shop.at())


def line(db: Session, piece_id: int, words: str) -> finish.CheckLine:
    return next(one for one in finish.check(db, piece_id).lines if one.words == words)


def test_what_is_to_be_measured_comes_from_the_cuts(db: Session, shop: Shop) -> None:
    found = finish.check(db, planned_piece(db, shop).id)
    assert [(one.words, one.planned) for one in found.lines if one.kind == "size"] == [
        ("outside A", "7.900 in"), ("shoulder A", "0.800 in"), ("outside B", "7.900 in"), ("shoulder B", "1.200 in"),
        ("bore A", "2.125 in"), ("groove bottom B", "7.750 in"), ("length left", "1.750 in"),
    ]  # fmt: skip
    assert [(one.kind, one.words) for one in found.lines if one.kind != "size"] == [
        ("tick", "bevel A: size 1/16, on Ø 7.900"), ("truing", "runout as left"),
        ("photo", "photo of the finished piece"),
    ]  # fmt: skip
    assert found.missing == tuple(one.words for one in found.lines)  # nothing is filled in from the plan
    assert {one.measured for one in found.lines} == {None}


def test_a_web_and_the_edges_that_the_drawing_names_are_on_the_list(db: Session, shop: Shop) -> None:
    piece = planned_piece(db, shop, CutsTyped("in", (Typed("face", {"depth": ".250"}, "A"),)), GUARDED)
    words = [one.words for one in finish.check(db, piece.id).lines]
    assert words[:2] == ["web left", "drain groove untouched"]


def test_two_sizes_of_one_name_are_told_apart(db: Session, shop: Shop) -> None:
    steps = (Typed("turn", {"to": "7.9", "end": ".8"}, "A"), Typed("turn", {"to": "7.5", "end": ".4"}, "A"))
    piece = planned_piece(db, shop, CutsTyped("in", steps))
    words = [one.words for one in finish.check(db, piece.id).lines if one.kind == "size"]
    assert words == ["outside A", "shoulder A", "outside A 2", "shoulder A 2"]


@pytest.mark.parametrize(
    ("typed", "said"),
    [("7.899", "−0.001 in"), ("7.904", "+0.004 in"), ("7.900", "as planned"), ("7 9/10", "as planned")],
)
def test_a_measured_size_stands_beside_the_planned_one(db: Session, shop: Shop, typed: str, said: str) -> None:
    piece = planned_piece(db, shop)
    measure(db, shop, piece.id, outside_A="8.000")
    measure(db, shop, piece.id, outside_A=typed)
    found = line(db, piece.id, "outside A")
    assert (found.measured.typed, found.measured.instrument, found.difference) == (typed, "caliper", said)
    assert "outside A" not in finish.check(db, piece.id).missing


@pytest.mark.parametrize(
    ("instrument", "planned", "said"),
    [("caliper", "1.051 in", "as planned"), ("micrometer", "1.0505 in", "+0.0005 in")],
)
def test_plan_and_difference_have_the_places_of_the_instrument(
    db: Session, shop: Shop, instrument: str, planned: str, said: str
) -> None:
    piece = planned_piece(db, shop, CutsTyped("in", (Typed("face", {"depth": ".9495"}, "A"),)))
    measure(db, shop, piece.id, instrument, length_left="1.051")
    found = line(db, piece.id, "length left")
    assert (found.planned, found.difference) == (planned, said)


@pytest.mark.parametrize(("high", "said"), [("2", "outside within"), ("60", "outside over")])
def test_the_run_out_as_left_says_its_figure_and_whether_it_is_within(
    db: Session, shop: Shop, high: str, said: str
) -> None:
    piece = planned_piece(db, shop)
    left(db, shop, piece.id, "0", str(int(high) // 2), high, str(int(high) // 2))
    found = line(db, piece.id, "runout as left")
    assert found.done
    assert f"{said} the run-out allowed (.0005 in" in found.planned
    assert found.planned.startswith(truing.last_left(db, piece.id))


def test_what_was_only_told_is_not_measured(db: Session, shop: Shop) -> None:
    piece = planned_piece(db, shop)
    measure(db, shop, piece.id, instrument="told, not measured", outside_A="7.900")
    assert "outside A" in finish.check(db, piece.id).missing


def test_a_list_that_is_done_misses_nothing(db: Session, shop: Shop) -> None:
    piece = planned_piece(db, shop)
    measure(db, shop, piece.id, outside_A="7.9", shoulder_A=".8", outside_B="7.9", shoulder_B="1.2", bore_A="2.125")
    measure(db, shop, piece.id, groove_bottom_B="7.75", length_left="1.75")
    for _ in range(2):
        finish.tick(db, piece_id=piece.id, what="bevel A: size 1/16, on Ø 7.900", **shop.at())
    left(db, shop, piece.id, "0", "1", "2", "1")
    photos.keep(db, what="finished", photo=photos.made_small(PHOTO), piece_id=piece.id, **shop.at())
    assert finish.check(db, piece.id).missing == ()
    assert [one.act for one in history.of_piece(db, piece.id)].count("ticked") == 1


def test_a_line_that_is_not_on_the_list_cannot_be_ticked(db: Session, shop: Shop) -> None:
    piece = planned_piece(db, shop)
    with pytest.raises(TryAgain, match="not on this piece's list"):
        finish.tick(db, piece_id=piece.id, what="polished", **shop.at())


# A ring's volume is pi/4 (D2 - d2) L: any table of solids.
@pytest.mark.outside("computed: volume of a ring")
def test_the_prediction_run_again_follows_the_sizes_as_measured(db: Session, shop: Shop) -> None:
    cuts = CutsTyped("in", (Typed("turn", {"to": "7.900"}, "A"), Typed("face", {"depth": ".250"}, "A")))
    piece = planned_piece(db, shop, cuts)
    measure(db, shop, piece.id, outside_A="7.880", length_left="1.740")
    finish.rerun(db, piece_id=piece.id, **shop.at())
    again = cutting.measured_plan(db, piece.id)
    volume = PI4 * ((8**2 - 2**2) * 2 - (7.88**2 - 2**2) * 1.74) * INCH3_CM3
    assert again.grams == pytest.approx(volume * 7.85, rel=1e-6)
    first = cutting.plan(db, piece.job_id, piece.variant_id)
    assert first.grams == pytest.approx(PI4 * ((8**2 - 2**2) * 2 - (7.9**2 - 2**2) * 1.75) * INCH3_CM3 * 7.85, rel=1e-6)
    assert (first.version, again.version) == (1, 2)


def test_a_bevel_goes_along_with_the_diameter_that_it_stands_on(db: Session, shop: Shop) -> None:
    turn, bevel = Typed("turn", {"to": "7.900"}, "A"), Typed("bevel", {"corner": "1/16", "diameter": "7.900"}, "A")
    piece = planned_piece(db, shop, CutsTyped("in", (turn, bevel)))
    measure(db, shop, piece.id, outside_A="7.880")
    finish.rerun(db, piece_id=piece.id, **shop.at())
    again = cutting.measured_plan(db, piece.id)
    # A 45° bevel c on radius R takes 2 pi (R - c/3) c²/2 (Pappus: the centroid of the corner lies at R - c/3).
    corner = 2 * math.pi * (3.94 - 1 / 48) / 16**2 / 2
    volume = PI4 * (8**2 - 7.88**2) * 2 + corner
    assert again.grams == pytest.approx(volume * INCH3_CM3 * 7.85, rel=1e-6)


@pytest.mark.outside("computed: volume of a ring")
def test_a_web_measured_before_counts_with_what_is_left_of_it(db: Session, shop: Shop) -> None:
    skim = CutsTyped("in", (Typed("face", {"depth": ".100"}, "A"), Typed("face", {"depth": ".150"}, "B")))
    piece = planned_piece(db, shop, skim, replace(DISC, web_least="1.500"))
    measure(db, shop, piece.id, web="2.030", web_left="1.770")  # .260 came off where .250 was planned
    finish.rerun(db, piece_id=piece.id, **shop.at())
    again = cutting.measured_plan(db, piece.id)
    assert again.grams == pytest.approx(PI4 * 60 * 0.26 * INCH3_CM3 * 7.85, rel=1e-6)
    sides = [row.grams for row in again.removal.rows]
    assert sides[1] / sides[0] == pytest.approx(1.5)


def test_the_first_prediction_stays_and_both_verdicts_are_told(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop, pieces=2)
    piece, other = pieces_of(db, job)
    planned = weighing.of_pieces(db, [piece])[piece.id]
    measure(db, shop, piece.id, length_left="1.500")
    finish.rerun(db, piece_id=piece.id, **shop.at())
    found = finish.check(db, piece.id)
    assert found.by_plan == planned == weighing.of_pieces(db, [piece])[piece.id]
    assert found.by_measured.predicted_g == pytest.approx(2 * planned.predicted_g)
    assert (found.by_plan.verdict, found.by_measured.verdict) == ("agrees", "does not add up")
    assert finish.check(db, other.id).by_measured is None
    assert cutting.last_plan(db, piece.variant_id).grams == pytest.approx(planned.predicted_g)
    keep_cuts(db, shop, job)
    assert cutting.plan(db, job.id, piece.variant_id).version == 3


@pytest.mark.parametrize(
    ("told", "said"),
    [({}, "Measure one of the list"), ({"web": "2.000"}, "Measure one of the list"),
     ({"length_left": "2.100"}, "Measure both again")],
)  # fmt: skip
def test_sizes_that_say_nothing_or_cannot_be_are_refused(
    db: Session, shop: Shop, told: dict[str, str], said: str
) -> None:
    piece = planned_piece(db, shop)
    measure(db, shop, piece.id, **told)
    with pytest.raises(TryAgain, match=said):
        finish.rerun(db, piece_id=piece.id, **shop.at())
    assert cutting.measured_plan(db, piece.id) is None


def test_a_piece_without_cuts_has_little_to_check_and_nothing_to_predict(db: Session, shop: Shop) -> None:
    piece = planned_piece(db, shop, None)
    found = finish.check(db, piece.id)
    assert [one.kind for one in found.lines] == ["truing", "photo"]
    with pytest.raises(TryAgain, match="Measure one of the list"):
        finish.rerun(db, piece_id=piece.id, **shop.at())
    for verb in (finish.check, lambda db, row: finish.rerun(db, piece_id=row, **shop.at())):
        with pytest.raises(NotHere):
            verb(db, 99)


def test_sizes_as_measured_that_leave_little_keep_all_of_the_uncertainty(db: Session, shop: Shop) -> None:
    cast = {"name": "cast", "signs": ["cast"], "material": "grey_iron", "density": "7.15"}
    job = make_job(db, shop, pieces=1, variant_id=make_variant(db, shop, **cast))
    keep_cuts(db, shop, job, CutsTyped("in", (Typed("turn", {"to": "7.990"}, "A"),)))
    piece = pieces_of(db, job)[0]
    measure(db, shop, piece.id, outside_A="7.995")
    finish.rerun(db, piece_id=piece.id, **shop.at())
    again = cutting.measured_plan(db, piece.id)
    variant, drawn, cuts = cutting.as_cut(db, again)
    sure = predicting.predict(variant, drawn, cuts)
    assert again.removal.low_g == 0
    assert again.spread * again.grams == pytest.approx(sure.expanded)

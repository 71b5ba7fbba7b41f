"""The drawing board: rows as typed, the half-section as they are typed, nothing lost on the way."""

import re

from shopapp.office import cutting
from shopapp.office.drawing import BodyTyped, KeepTyped, Typed
from shopapp.web.forms import Form
from shopapp.web.routes import drawing
from tests import cast, makers
from tests.web.conftest import LiveShop

RING = {
    "part_0_kind": "ring", "part_0_outside": "8", "part_0_inside": "2", "part_0_start": "0", "part_0_end": "2",
    "unit": "in",
}  # fmt: skip


HOLES = {"count": "4", "diameter": "1/2", "circle": "5"}


def make_variant(shop: LiveShop, body: BodyTyped | None = None) -> str:
    with shop.database.writing() as db:
        return f"/variants/{makers.make_variant(db, shop.maker, body=body)}/drawing"


def body_of(shop: LiveShop) -> BodyTyped | None:
    with shop.database.reading() as db:
        return cutting.body_of(db, 1)[1]


def figure(page: str) -> str:
    found = re.search(r'class="figure-value">([^<]*)<', page)
    return found[1].strip() if found else ""


def test_an_empty_board_has_rows_to_type_in(shop: LiveShop) -> None:
    page = shop.get(make_variant(shop)).text
    assert 'name="part_1_outside"' in page
    assert 'name="keep_0_name"' in page
    assert "appears here as you type" in page
    assert "<svg" not in page


def test_a_drawing_is_kept_and_comes_back_as_typed(shop: LiveShop) -> None:
    path = make_variant(shop)
    told = {**RING, "part_0_outside": '8"', "keep_0_name": "groove", "keep_0_z": "15 thou", "keep_0_side": "to"}
    answer = shop.post(path, **told, web_least="1-1/2")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/variants/1"
    page = shop.get(path).text
    for words in ("8&#34;", "15 thou", "1-1/2", "groove"):
        assert f'value="{words}"' in page
    assert re.search(r'<option value="to"\s+selected', page)


def test_rows_left_empty_are_left_out(shop: LiveShop) -> None:
    path = make_variant(shop)
    blank = {"part_1_kind": "ring", "part_2_kind": "holes", "keep_0_name": "", "keep_0_side": "from"}
    assert shop.post(path, **RING, **blank).status_code == 303
    body = body_of(shop)
    assert body is not None
    assert len(body.parts) == 1
    assert body.keeps == ()


def test_the_section_is_drawn_with_its_mass_while_it_is_typed(shop: LiveShop) -> None:
    path = make_variant(shop)
    answer = shop.get(f"{path}/section", **RING)
    assert answer.status_code == 200
    assert "<svg" in answer.text
    # pi/4 x (8 x 8 - 2 x 2) x 2 in3 of steel at 7.85 g/cm3 are 26.73 lb.
    assert figure(answer.text) == "26.73 lb"
    assert "<input" not in answer.text
    assert body_of(shop) is None


def test_a_half_typed_row_is_simply_not_drawn_yet(shop: LiveShop) -> None:
    path = make_variant(shop)
    holes = {"part_1_kind": "holes", "part_1_count": "4", "part_1_diameter": "1/", "part_1_circle": "5"}
    answer = shop.get(f"{path}/section", **RING, **holes)
    assert answer.status_code == 200
    assert figure(answer.text) == "26.73 lb"
    assert "Not drawn yet: row 2." in answer.text
    assert shop.get(f"{path}/section").status_code == 200


def test_a_row_whose_kind_is_changed_asks_for_other_sizes(shop: LiveShop) -> None:
    path = make_variant(shop)
    answer = shop.get(f"{path}/sizes", **{**RING, "part_0_kind": "cone"}, row="0")
    assert answer.status_code == 200
    assert 'name="part_0_outside_start"' in answer.text
    assert 'name="part_0_outside"' not in answer.text
    assert re.search(r'name="part_0_end" value="2"', answer.text)  # a length that both kinds ask for
    assert "<select" not in answer.text
    assert shop.get(f"{path}/sizes", **RING, row="7").status_code == 404


def test_one_more_row_comes_alone_and_live(shop: LiveShop) -> None:
    path = make_variant(shop)
    row = shop.get(f"{path}/more", **RING, add="part").text
    assert 'name="part_1_outside"' in row
    assert 'name="part_0_outside"' not in row
    assert 'name="keep_0_name"' in shop.get(f"{path}/more", **RING, add="keep").text
    assert shop.get(f"{path}/more", **RING, add="nothing").text == ""


def test_one_more_row_comes_without_script_too_and_nothing_is_lost(shop: LiveShop) -> None:
    path = make_variant(shop)
    told = {**RING, "part_0_outside": "8 <half", "keep_0_name": "lip", "web_least": ".5"}
    answer = shop.post(f"{path}/more", **told, add="part")
    assert answer.status_code == 200
    assert 'name="part_1_outside"' in answer.text
    for words in ("8 &lt;half", "lip", ".5"):
        assert f'value="{words}"' in answer.text
    assert 'name="keep_1_name"' in shop.post(f"{path}/more", **told, add="keep").text
    assert body_of(shop) is None


def test_a_board_holds_only_so_many_rows() -> None:
    body = BodyTyped("in", tuple(Typed("ring") for _ in range(drawing.MOST_ROWS)))
    assert drawing.grown(body, "part") == body


def test_what_cannot_be_read_is_told_beside_its_field_when_it_is_sent(shop: LiveShop) -> None:
    path = make_variant(shop)
    told = {**RING, "part_1_kind": "ring", "part_1_outside": "1,250 mm", "part_1_start": "0", "part_1_end": ""}
    answer = shop.post(path, **told)
    assert answer.status_code == 422
    for name in ("part_1_outside", "part_1_end"):
        assert f'id="f-{name}-problem"' in answer.text
    assert 'value="1,250 mm"' in answer.text
    assert body_of(shop) is None


def test_an_empty_drawing_is_asked_about(shop: LiveShop) -> None:
    answer = shop.post(make_variant(shop), part_0_kind="ring", unit="in")
    assert answer.status_code == 422
    assert "Type at least one ring" in answer.text
    assert 'name="part_0_outside"' in answer.text


def test_a_drawing_sent_twice_is_kept_once(shop: LiveShop) -> None:
    path = make_variant(shop)
    for _ in range(2):
        assert shop.post(path, **RING, once="d").status_code == 303
    with shop.database.writing() as db:
        _, body = cutting.body_of(db, 1)
        assert body
        newest = cutting.keep_body(db, variant_id=1, typed=body, now=shop.now, by=shop.by)
    assert newest == 2


def test_a_form_is_read_as_its_fields_were_made() -> None:
    body = BodyTyped(
        "mm", (Typed("holes", {"count": "4", "diameter": "5", "circle": "50", "start": "", "end": "", "first": "10"}),),
        (KeepTyped("rim", "3", "to", ".2", "", "90"),), "1", "", "2", "30",
    )  # fmt: skip
    assert drawing.read(Form(typed={**dict(drawing.as_fields(body)), "unit": "mm"}), "in") == body


def test_the_board_of_a_drawn_variant_shows_it(shop: LiveShop) -> None:
    page = shop.get(make_variant(shop, cast.GUARDED)).text
    assert "<svg" in page
    assert 'value="drain groove"' in page


def test_where_the_first_hole_stands_is_typed_in_degrees_and_comes_back(shop: LiveShop) -> None:
    path = make_variant(shop)
    holes = {"kind": "holes", **HOLES, "first": "22-1/2°"}
    rows = {**RING, **{f"part_1_{name}": text for name, text in holes.items()}}
    assert shop.post(path, **rows).status_code == 303
    page = shop.get(path).text
    assert 'value="22-1/2°"' in page
    label = page.index("first at")
    assert "°" in page[label : label + 600]


def test_holes_drawn_twice_are_said_on_the_board_and_not_kept(shop: LiveShop) -> None:
    path = make_variant(shop)
    rows = dict(RING)
    for i in (1, 2):
        rows |= {f"part_{i}_{name}": text for name, text in (*HOLES.items(), ("kind", "holes"))}
    assert "drawn twice" in shop.get(f"{path}/section", **rows).text
    answer = shop.post(path, **rows)
    assert answer.status_code == 422
    assert "drawn twice" in answer.text
    assert body_of(shop) is None

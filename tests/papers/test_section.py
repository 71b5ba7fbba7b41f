"""The half-section: true to scale, readable, and harmless whatever it is told."""

import re
from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree

import pytest
from shapely import LineString, Polygon, box, unary_union

from shopapp.office.sheets.section import KeepOutMark, SectionSheet
from shopapp.papers.section import section_paper, section_svg, section_words
from tests.papers.samples import INCH, patches, ring, size, wheel

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = r"(-?[\d.]+)"


def drawing(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def paths(svg: str, pen: str) -> list[str]:
    return [path.get("d", "") for path in drawing(svg).iter(f"{SVG}path") if path.get("class") == f"section-{pen}"]


def polygons(svg: str, pen: str) -> list[Polygon]:
    rings = [part for path in paths(svg, pen) for part in path.split("Z") if part]
    return [Polygon([tuple(map(float, point.split())) for point in part[1:].split("L")]) for part in rings]


def segments(svg: str, pen: str) -> list[tuple[float, float, float, float]]:
    strokes = re.findall(f"M{NUMBER} {NUMBER}l{NUMBER} {NUMBER}", "".join(paths(svg, pen)))
    return [tuple(map(float, stroke)) for stroke in strokes]


def texts(svg: str) -> list[tuple[str, Polygon]]:
    found = []
    for text in drawing(svg).iter(f"{SVG}text"):
        x, y, high = (float(text.get(name, "nan")) for name in ("x", "y", "font-size"))
        across, down = len(text.text or "") * high * 0.6 / 2, high * 0.4
        turned = "rotate(-90" in text.get("transform", "")
        middle = y - high * 0.35
        across, down = (down, across) if turned else (across, down)
        found.append((text.text or "", box(x - across, middle - down, x + across, middle + down)))
    return found


def test_the_drawing_is_true_to_scale_both_ways() -> None:
    svg = section_svg(wheel())
    left, top, right, bottom = unary_union(polygons(svg, "metal") + polygons(svg, "off")).bounds
    width, height, radius_of_bore = 2.5, (9.5 - 1.75) / 2, 1.75 / 2
    assert (right - left) / width == pytest.approx((bottom - top) / height, rel=1e-3)
    # the centre line lies at zero: one bore radius under the lowest metal
    assert -bottom == pytest.approx(radius_of_bore * (right - left) / width, abs=0.02)


def test_the_scale_bar_has_the_length_that_it_says() -> None:
    svg = section_svg(wheel())
    metal = unary_union(polygons(svg, "metal") + polygons(svg, "off")).bounds
    bar = [float(point.split()[0]) for point in paths(svg, "scale")[0][1:].split("L")]
    said = next(text for text, _ in texts(svg) if text.endswith(" in"))
    assert (max(bar) - min(bar)) / ((metal[2] - metal[0]) / 2.5) == pytest.approx(float(said.split()[0]), rel=1e-3)


def test_metal_is_hatched_inside_its_outline_at_45_degrees() -> None:
    svg = section_svg(wheel())
    metal = unary_union(polygons(svg, "metal")).buffer(0.02)
    strokes = segments(svg, "hatch")
    assert len(strokes) > 40
    for x, y, dx, dy in strokes:
        assert dy == -dx
        assert metal.covers(LineString([(x, y), (x + dx, y + dy)]))


def test_removed_metal_is_hatched_both_ways_and_denser() -> None:
    svg = section_svg(wheel())
    off = segments(svg, "off-hatch")
    assert {dy / dx for _, _, dx, dy in off} == {1.0, -1.0}
    lines = sum(2**0.5 * dx for _, _, dx, _ in off) / sum(area.area for area in polygons(svg, "off"))
    plain = sum(2**0.5 * dx for _, _, dx, _ in segments(svg, "hatch")) / sum(p.area for p in polygons(svg, "metal"))
    assert lines > 2 * plain


def test_no_hatch_crosses_a_void() -> None:
    svg = section_svg(wheel())
    hole = polygons(svg, "void")[0].buffer(-0.05)
    strokes = segments(svg, "hatch") + segments(svg, "off-hatch")
    assert not any(hole.intersects(LineString([(x, y), (x + dx, y + dy)])) for x, y, dx, dy in strokes)


@pytest.mark.parametrize("width", [360, 640, 1000])
def test_no_two_texts_touch(width: int) -> None:
    found = texts(section_svg(wheel(), width=width))
    assert len(found) == 13  # eleven sizes, one label for two like keep-outs, the scale bar
    assert [(a[0], b[0]) for a, b in combinations(found, 2) if a[1].intersects(b[1])] == []


def test_no_text_lies_on_metal() -> None:
    svg = section_svg(wheel())
    metal = unary_union(polygons(svg, "metal") + polygons(svg, "off"))
    assert [text for text, room in texts(svg) if room.intersects(metal)] == []


def test_everything_lies_inside_the_view() -> None:
    svg = section_svg(wheel())
    left, top, width, height = map(float, drawing(svg).get("viewBox", "").split())
    view = box(left, top, left + width, top + height)
    assert all(view.covers(room) for _, room in texts(svg))
    assert all(view.covers(area) for area in polygons(svg, "metal"))
    assert width >= 640


def test_crowded_sizes_find_levels_of_their_own() -> None:
    sleeve = SectionSheet("Sleeve", "in", patches(ring(2, 1, 0, 3)), sizes=tuple(
        size("length", (0, 1), (0.1 * n, 1), f"{0.1 * n:.3f}") for n in range(1, 13)
    ))  # fmt: skip
    found = texts(section_svg(sleeve))
    assert len(found) == 13
    assert [(a[0], b[0]) for a, b in combinations(found, 2) if a[1].intersects(b[1])] == []


def test_a_size_from_before_the_cuts_stands_in_brackets() -> None:
    assert "(Ø 9.500)" in [text for text, _ in texts(section_svg(wheel()))]


def test_a_keep_out_without_diameters_runs_over_all_the_metal() -> None:
    svg = section_svg(replace(wheel(), keep_outs=(KeepOutMark("jaw", INCH, None, None, "", ok=False),)))
    ys = [float(point.split()[1]) for point in paths(svg, "keep-bad")[0][1:].split("L")]
    metal = unary_union(polygons(svg, "metal") + polygons(svg, "off")).bounds
    assert min(ys) < metal[1]
    assert max(ys) >= metal[3]


def test_hostile_names_are_only_letters() -> None:
    bad = '</title><script>alert(1)</script>\x00"&'
    sheet = replace(wheel(), title=bad, note=bad, keep_outs=(KeepOutMark(bad * 9, 20.0, None, None, bad),),
                    sizes=(size("length", (0, 2), (1, 2), bad),))  # fmt: skip
    for svg in (section_svg(sheet), section_paper(sheet)[0]):
        tags = {element.tag.removeprefix(SVG) for element in drawing(svg).iter()}
        assert tags == {"svg", "title", "desc", "path", "text"}


def test_the_page_needs_no_inline_style() -> None:
    for svg in (section_svg(wheel()), section_svg(wheel(), theme_classes=False), section_paper(wheel())[0]):
        assert "style" not in svg
    assert "class=" not in section_svg(wheel(), theme_classes=False)


def test_the_picture_says_itself_in_words() -> None:
    root = drawing(section_svg(wheel()))
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title") == "Carriage reverse wheel, six-pocket"
    said = root.findtext(f"{SVG}desc") or ""
    assert "diameter 8.875" in said
    assert "Sizes before the cuts: diameter 9.500." in said
    assert "Keep out: pocket edge, .012 left." in section_words(wheel())


def test_only_cuts_and_nothing_at_all_are_drawn_too() -> None:
    only_cuts = replace(wheel(), stays=(), voids=())
    assert polygons(section_svg(only_cuts), "off")
    assert "no metal drawn yet" in section_svg(SectionSheet("Empty", "mm", ()))


@pytest.mark.outside("from memory: ISO 5455:1979, Table 1")
def test_the_paper_uses_a_standard_scale_and_keeps_it() -> None:
    # ISO 5455:1979, table 1 (from memory): 1:1, 1:2, 1:5, 1:10 and so on
    svg, words = section_paper(wheel(), wide_mm=100, high_mm=120)
    assert words == "1 : 2"
    root = drawing(svg)
    view = [float(number) for number in root.get("viewBox", "").split()]
    mm = float(root.get("width", "").removesuffix("mm")) / view[2]
    outlines = [path.get("d", "") for path in root.iter(f"{SVG}path") if path.get("fill-rule") == "evenodd"]
    xs = [float(x) for x in re.findall(rf"[ML]{NUMBER} ", "".join(outlines))]
    assert (max(xs) - min(xs)) * mm == pytest.approx(2.5 * INCH / 2, rel=2e-3)
    assert float(root.get("height", "").removesuffix("mm")) <= 120


@pytest.mark.bench
def test_drawing_the_wheel(benchmark: object) -> None:
    assert benchmark(section_svg, wheel()).startswith("<svg")

"""General tolerances and grades are those of the standards' tables, with their boundaries."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Refused
from shopapp.bench.tolerances import (
    general_angle,
    general_corner,
    general_length,
    general_runout,
    grade_formula,
    grade_table,
    graded,
    unstated,
)

# ISO 2768-1:1989, Table 1, verified (three independent copies agree; a fourth misprints c of the first two rows)
LENGTHS = [
    (0.5, 3, ".05 .1 .2 -"),
    (3, 6, ".05 .1 .3 .5"),
    (6, 30, ".1 .2 .5 1"),
    (30, 120, ".15 .3 .8 1.5"),
    (120, 400, ".2 .5 1.2 2.5"),
    (400, 1000, ".3 .8 2 4"),
    (1000, 2000, ".5 1.2 3 6"),
    (2000, 4000, "- 2 4 8"),
]


@pytest.mark.outside("verified: ISO 2768-1:1989, Table 1, three copies")
@pytest.mark.parametrize(("over", "upto", "row"), LENGTHS)
@pytest.mark.parametrize("name", "fmcv")
def test_a_length_has_the_tolerance_of_its_row(over: float, upto: float, row: str, name: str) -> None:
    value = row.split()["fmcv".index(name)]
    for size in (over + 0.001, (over + upto) / 2, upto):
        if value == "-":
            with pytest.raises(Refused, match="another class"):
                general_length(size, name)
        else:
            assert general_length(size, name) == float(value)


@pytest.mark.outside("verified: ISO 2768-1:1989, Table 1")
def test_thirty_belongs_to_the_row_that_ends_with_it() -> None:
    # ISO 2768-1: over A up to and including B, verified
    assert (general_length(30, "m"), general_length(30.001, "m")) == (0.2, 0.3)
    # 30 mm typed in inches, to ten figures
    assert general_length(1.1811023622 * 25.4, "m") == 0.2


@pytest.mark.outside("verified: ISO 2768-1:1989, note to its tables")
def test_under_half_a_millimetre_the_tolerance_is_written_beside_the_size() -> None:
    # ISO 2768-1, note to Tables 1 and 2, verified
    assert general_length(0.5) == 0.1
    for call in (general_length, general_corner):
        with pytest.raises(Refused, match="write one beside the size"):
            call(0.499)


@pytest.mark.outside("verified: ISO 2768-1:1989, Table 2, a sheet-metal shop's copy")
@pytest.mark.parametrize(
    ("size", "fine", "coarse"),
    # ISO 2768-1:1989, Table 2, verified in a sheet-metal shop's copy: f and m alike, c and v alike
    [(0.5, 0.2, 0.4), (3, 0.2, 0.4), (3.01, 0.5, 1), (6, 0.5, 1), (6.01, 1, 2), (50, 1, 2)],
)
def test_a_corner_has_the_tolerance_of_its_row(size: float, fine: float, coarse: float) -> None:
    assert general_corner(size, "f") == general_corner(size, "m") == fine
    assert general_corner(size, "c") == general_corner(size, "v") == coarse


@pytest.mark.outside("from memory: ISO 2768-1:1989, Table 3")
@pytest.mark.parametrize(
    ("leg", "minutes"),
    # ISO 2768-1:1989, Table 3, from memory: f, m, c, v; a page that merges c and v is not followed
    [
        (10, (60, 60, 90, 180)),
        (10.01, (30, 30, 60, 120)),
        (50, (30, 30, 60, 120)),
        (50.01, (20, 20, 30, 60)),
        (120, (20, 20, 30, 60)),
        (120.01, (10, 10, 15, 30)),
        (400, (10, 10, 15, 30)),
        (400.01, (5, 5, 10, 20)),
    ],
)
def test_an_angle_has_the_tolerance_of_its_shorter_leg(leg: float, minutes: tuple[int, ...]) -> None:
    assert [general_angle(leg, name) * 60 for name in "fmcv"] == pytest.approx(minutes, rel=1e-12)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        pytest.param("K", 0.2, marks=pytest.mark.outside("verified: ISO 2768-2:1989, class K")),
        pytest.param("H", 0.1, marks=pytest.mark.outside("from memory: ISO 2768-2:1989, class H")),
        pytest.param("L", 0.5, marks=pytest.mark.outside("from memory: ISO 2768-2:1989, class L")),
    ],
)
def test_runout_has_three_classes(name: str, value: float) -> None:
    assert general_runout(name) == value


# ISO 286-1, Table 1, verified in two copies: over, up to, IT5 to IT11 in thousandths of a millimetre
GRADES = [
    (0, 3, "4 6 10 14 25 40 60"),
    (3, 6, "5 8 12 18 30 48 75"),
    (6, 10, "6 9 15 22 36 58 90"),
    (10, 18, "8 11 18 27 43 70 110"),
    (18, 30, "9 13 21 33 52 84 130"),
    (30, 50, "11 16 25 39 62 100 160"),
    (50, 80, "13 19 30 46 74 120 190"),
    (80, 120, "15 22 35 54 87 140 220"),
    (120, 180, "18 25 40 63 100 160 250"),
    (180, 250, "20 29 46 72 115 185 290"),
    (250, 315, "23 32 52 81 130 210 320"),
    (315, 400, "25 36 57 89 140 230 360"),
    (400, 500, "27 40 63 97 155 250 400"),
]


@pytest.mark.outside("verified: ISO 286-1, Table 1, two copies")
@pytest.mark.parametrize(("over", "upto", "row"), GRADES)
def test_a_grade_is_that_of_the_table(over: float, upto: float, row: str) -> None:
    wanted = [int(figure) / 1000 for figure in row.split()]
    for size in (over + 0.001, (over + upto) / 2, upto):
        assert [grade_table(size, grade) for grade in range(5, 12)] == wanted


@pytest.mark.outside("computed: the formula of ISO 286-1")
@pytest.mark.parametrize(
    ("grade", "width"),
    # Computed from the published formula for 18 to 30 mm: D 23.2379, i 1.307375
    [(5, 9.15), (6, 13.07), (7, 20.92), (8, 32.68), (9, 52.30), (10, 83.67), (11, 130.74)],
)
def test_the_formula_gives_its_worked_row(grade: int, width: float) -> None:
    assert grade_formula(25, grade) * 1000 == pytest.approx(width, abs=0.005)


@pytest.mark.outside("verified: an encyclopedia's table of ISO 286-1")
@pytest.mark.parametrize(("size", "width"), [(10, 0.36), (100, 0.87)])
def test_the_formula_gives_it14(size: float, width: float) -> None:
    # An encyclopedia's table of ISO 286-1, verified in a copy: IT14
    assert grade_formula(size, 14) == pytest.approx(width, abs=0.005)


@pytest.mark.outside("computed: the formula of ISO 286-1 against its table")
@pytest.mark.parametrize(("over", "upto", "row"), GRADES)
def test_formula_and_table_agree_as_far_as_is_said(over: float, upto: float, row: str) -> None:
    # ISO 286-1: the table is normative. Agreement computed: 3 % above 18 mm, 5.5 % from 6, 9 % from 3, 14 % below
    most = 0.03 if over >= 18 else 0.055 if over >= 6 else 0.09 if over >= 3 else 0.14
    widths = [int(figure) / 1000 for figure in row.split()]
    offs = [grade_formula(upto, grade) / width - 1 for grade, width in enumerate(widths, 5)]
    assert max(abs(off) for off in offs) <= most
    if over < 3:
        assert min(offs) < -0.12


@pytest.mark.outside("verified: ISO 286-1, a copy")
@pytest.mark.parametrize(("low", "high"), [(5, 10), (6, 11), (9, 14), (11, 16)])
def test_five_grades_on_the_formula_is_ten_times_as_wide(low: int, high: int) -> None:
    # ISO 286-1, verified in a copy: from IT6 on every fifth grade is ten times the width; IT5 is 7 i, IT10 64 i
    ratio = grade_formula(100, high) / grade_formula(100, low)
    assert ratio == pytest.approx(64 / 7 if low == 5 else 10, rel=1e-12)


@given(st.floats(0.5, 4000), st.sampled_from("mc"))
def test_a_finer_class_is_never_wider_and_a_longer_length_never_narrower(size: float, name: str) -> None:
    assert general_length(size, "m") <= general_length(size, "c")
    assert general_length(size, name) >= general_length(max(0.5, size / 2), name)


@given(st.floats(0.1, 500), st.integers(5, 10))
def test_a_finer_grade_is_narrower(size: float, grade: int) -> None:
    assert grade_table(size, grade) < grade_table(size, grade + 1)
    assert graded(size, grade, "H").low == graded(size, grade, "h").high == size


def test_an_unstated_size_gets_its_limits_and_says_from_where() -> None:
    found = unstated(25, "f")
    assert (found.low, found.high) == (24.9, 25.1)
    assert "not stated: ISO 2768-1 fine" in found.words


def test_a_grade_lies_over_under_or_about_its_size() -> None:
    hole, shaft, about = (graded(40, 7, lies) for lies in ("H", "h", "js"))
    assert (hole.low, hole.high) == pytest.approx((40, 40.025))
    assert (shaft.low, shaft.high) == pytest.approx((39.975, 40))
    assert (about.low, about.high) == pytest.approx((39.9875, 40.0125))
    assert "H7: ISO 286-1" in hole.words


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: general_length(4001), "Over"),
        (lambda: general_length(30, "x"), "f, m, c, v"),
        (lambda: general_length(float("nan")), "write one"),
        (lambda: general_angle(0), "shorter leg"),
        (lambda: general_runout("Z"), "H, K, L"),
        (lambda: grade_table(501, 7), "ends at 500 mm"),
        (lambda: grade_table(25, 4), "IT5 to IT11"),
        (lambda: grade_table(0, 7), "above nothing"),
        (lambda: grade_formula(25, 19), "IT5 to IT18"),
        (lambda: graded(25, 7, "g"), "write the limits of g7 out"),
    ],
)
def test_outside_the_tables_it_says_what_to_do(call, says: str) -> None:
    with pytest.raises(Refused, match=says):
        call()

"""Dimensions choose the side with less metal to cross, and the shorter stands nearer."""

from shapely import box

from shopapp.office.sheets.section import KeepOutMark, SizeMark
from shopapp.papers.board import Board
from shopapp.papers.dimensions import dimension


def board_with(*sizes: SizeMark, keep_outs: tuple[KeepOutMark, ...] = ()) -> Board:
    board = Board(box(0, -200, 100, -40), 1.0, 0.0)
    dimension(board, sizes, keep_outs)
    return board


def middle(board: Board, text: str) -> tuple[float, float]:
    return next(words.middle for words in board.words if words.text == text)


def diameter(z: float, r: float, text: str) -> SizeMark:
    return SizeMark("diameter", (z, r), (z, 0), text)


def test_a_diameter_stands_on_the_side_of_its_edge() -> None:
    board = board_with(diameter(0, 100, "left"), diameter(100, 120, "right"))
    assert middle(board, "Ø left")[0] < 0
    assert middle(board, "Ø right")[0] > 100


def test_the_smaller_diameter_stands_nearer_to_the_metal() -> None:
    board = board_with(diameter(100, 200, "large"), diameter(100, 40, "small"))
    assert middle(board, "Ø small")[0] < middle(board, "Ø large")[0]


def test_a_text_longer_than_its_line_stands_under_the_centre_line() -> None:
    board = board_with(diameter(100, 40, "1.750 as it was typed"))
    words = board.words[0]
    assert words.box.top > 0


def test_a_length_high_on_the_body_is_measured_above_it() -> None:
    board = board_with(
        SizeMark("length", (0, 200), (100, 200), "over"), SizeMark("length", (0, 40), (100, 40), "under")
    )
    assert middle(board, "over")[1] < -200
    assert middle(board, "under")[1] > 0


def test_a_length_along_the_radius_has_an_arrow_at_both_ends() -> None:
    board = board_with(SizeMark("length", (100, 200), (100, 100), ".500"))
    assert sorted(arrow.tip[1] for arrow in board.arrows) == [-200, -100]
    assert {arrow.way for arrow in board.arrows} == {(0, -1), (0, 1)}


def test_the_same_size_twice_is_drawn_once() -> None:
    assert len(board_with(diameter(100, 200, "8"), diameter(100, 200, "8")).words) == 1


def test_like_keep_outs_share_one_label_between_their_lines() -> None:
    marks = tuple(KeepOutMark("pocket", z, 300, 400, ".012 left") for z in (40.0, 60.0))
    board = board_with(keep_outs=marks)
    assert [(words.text, words.middle[0]) for words in board.words] == [("pocket · .012 left", 50.0)]
    assert sum(stroke.pen == "keep" for stroke in board.strokes) == 2


def test_a_long_keep_out_name_is_wrapped_and_cut() -> None:
    board = board_with(keep_outs=(KeepOutMark("a very long name of a pocket " * 9, 40.0, 300, 400, ""),))
    assert len(board.words) == 3
    assert board.words[-1].text.endswith("…")

"""Words on the board take room, and others keep out of it."""

from shapely import box

from shopapp.papers.board import SIZE, Board, Box, Words, wide


def test_turned_words_take_the_same_room_on_end() -> None:
    lying, standing = Words("9.500", (0, 0), "size").box, Words("9.500", (0, 0), "size", turned=True).box
    assert (lying.right, lying.bottom) == (standing.bottom, standing.right)
    assert lying.right > lying.bottom


def test_letters_of_double_width_count_twice() -> None:
    assert wide("軸") == 2 * wide("x")
    assert wide("12345") > 5 * SIZE * 0.6


def test_boxes_that_come_nearer_than_the_gap_meet() -> None:
    assert Box(0, 0, 10, 10).meets(Box(11, 0, 20, 10))
    assert not Box(0, 0, 10, 10).meets(Box(13, 0, 20, 10))


def test_what_is_said_is_taken() -> None:
    board = Board(box(0, -10, 10, -5), 1.0, 0.0)
    words = Words(".350", (40, 40), "size")
    assert board.free(words.box)
    board.say(words)
    assert not board.free(words.box)


def test_the_bounds_hold_metal_lines_and_words() -> None:
    board = Board(box(0, -10, 10, -5), 2.0, 5.0)
    board.line("dim", (-7, 0), (3, 30))
    assert board.bounds() == Box(-7, -10, 10, 30)
    assert board.at((10.0, 4.0)) == (10.0, -8.0)

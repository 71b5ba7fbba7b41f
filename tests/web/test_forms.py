"""A form reads its fields and gathers what wants mending, losing nothing."""

import io
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from shopapp.office import photos
from shopapp.office.errors import TryAgain
from shopapp.web.forms import LONGEST, Form
from tests import cast


def form(**typed: str) -> Form:
    return Form(typed=typed)


def test_what_was_not_typed_is_empty() -> None:
    assert form()["who"] == ""
    assert form().words("who") == ""
    assert form().all("ticks") == []
    assert not form().ticked("zero")
    assert form(zero="yes").ticked("zero")


def test_needed_words_are_asked_for() -> None:
    sent = form(name="  ")
    assert sent.words("name", "A name, please.") == ""
    assert sent.problems == {"name": "A name, please."}


def test_words_without_end_are_not_taken() -> None:
    sent = form(note="x" * (LONGEST + 1), fits="x" * LONGEST)
    sent.words("fits")
    assert sent.problems == {}
    sent.words("note")
    assert "Shorten it" in sent.problems["note"]


def test_a_day_is_read_as_year_month_day() -> None:
    assert form(on="2026-03-31").day("on") == date(2026, 3, 31)
    assert form().day("on") is None
    for text in ("31.3.2026", "2026-02-30", "soon"):
        sent = form(on=text)
        assert sent.day("on") is None
        assert "year-month-day" in sent.problems["on"]


def test_a_whole_number_keeps_within_its_limits() -> None:
    assert form(n=" 7 ").whole("n") == 7
    assert form().whole("n", empty=30) == 30
    for text in ("400", "0", "1.5", "many"):
        sent = form(n=text)
        sent.whole("n", 1, 365)
        assert sent.problems["n"]


def test_money_is_whole_cents() -> None:
    assert form(price="$1,234.50").cents("price") == 123450
    assert form().cents("price", empty=5) == 5
    sent = form(price="dear")
    assert sent.cents("price") == 0
    assert sent.problems["price"]


def test_minutes_are_read_as_spoken() -> None:
    assert form(took="1h 30").minutes("took") == 90
    sent = form(took="a while")
    sent.minutes("took")
    assert sent.problems["took"]


def test_a_row_is_named_by_a_plain_number() -> None:
    assert form(scale="12").key("scale") == 12
    for text in ("", "x", "-1", "9" * 12, "1.0"):
        sent = form(scale=text)
        assert sent.key("scale", "Which scale?") is None
        assert sent.problems == {"scale": "Which scale?"}
    assert form(scale="x").key("scale") is None


def test_one_of_several_is_one_of_them() -> None:
    assert form(unit="mm").one_of("unit", ("in", "mm"), "Which?") == "mm"
    sent = form(unit="ell")
    sent.one_of("unit", ("in", "mm"), "Which?")
    assert sent.problems == {"unit": "Which?"}


def test_a_form_with_problems_stops_and_one_without_goes_on() -> None:
    form().check()
    sent = form(n="x")
    sent.whole("n")
    with pytest.raises(TryAgain) as refusal:
        sent.check()
    assert refusal.value.problems == sent.problems


def test_a_verbs_problems_stand_beside_those_of_reading() -> None:
    sent = form()
    sent.problems["a"] = "First."
    sent.take(TryAgain({"b": "Second."}))
    assert sent.problems == {"a": "First.", "b": "Second."}


def test_every_form_has_a_key_of_its_own() -> None:
    assert len({Form().once for _ in range(100)}) == 100


def test_a_line_break_is_one_however_it_was_sent() -> None:
    # HTML, 4.10.22.7: a form's own posting sends CR LF; what a script sends may hold LF only.
    assert form(note="two\r\nfeet").content == form(note="two\nfeet").content != form(note="two feet").content


def test_a_form_sent_anew_has_another_key_and_the_same_words() -> None:
    sent = Form(typed={"a": "1"}, once="k")
    before = sent.content
    sent.anew()
    assert sent.once != "k"
    assert sent.content == before


def test_photos_are_read_and_make_another_content() -> None:
    plain = Form(typed={"a": "1"}, once="k")
    red, blue, gray = (cast.a_photo(colour=colour) for colour in ("red", "blue", "gray"))
    with_photo = Form(typed={"a": "1"}, files={"photo": [io.BytesIO(red), io.BytesIO(blue)]}, once="k")
    other = Form(typed={"a": "1"}, files={"photo": [io.BytesIO(red), io.BytesIO(gray)]}, once="k")
    assert len({plain.content, with_photo.content, other.content}) == 3
    with_photo.make_small()
    assert with_photo.photos("photo") == [photos.made_small(one) for one in (red, blue)]
    plain.make_small()
    assert plain.photos("photo") == []


def test_every_photo_that_is_none_is_told_beside_its_own_field() -> None:
    files = {"front_1": [io.BytesIO(b"GIF89a")], "back_1": [io.BytesIO(cast.PHOTO)], "damage_2": [io.BytesIO(b"BM")]}
    sent = Form(typed={"a": "1"}, files=dict(files))
    sent.make_small()
    for name in ("front_1", "damage_2"):
        with pytest.raises(TryAgain, match="no photo that can be read") as refusal:
            sent.photos(name)
        assert set(refusal.value.problems) == {name}
    assert sent.photos("back_1") == [photos.made_small(cast.PHOTO)]


def test_a_moment_is_by_the_shops_own_clock() -> None:
    halifax = ZoneInfo("America/Halifax")
    form = Form(typed={"at": "2031-03-04T09:30", "odd": "noon"})
    told = form.moment("at", halifax)
    assert told is not None
    # Atlantic Standard Time is UTC-4 in winter (IANA time zone database).
    assert told.astimezone(UTC) == datetime(2031, 3, 4, 13, 30, tzinfo=UTC)
    assert form.moment("none", halifax) is None
    assert form.moment("odd", halifax) is None
    assert "such as 2026-03-31 14:05" in form.problems["odd"]

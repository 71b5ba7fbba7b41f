"""The papers' templates: everything escaped, nothing missing in silence."""

import pytest
from jinja2 import UndefinedError

from shopapp.papers.render import day, drawn, environment
from tests.papers.samples import wheel


def test_dates_are_written_so_that_no_one_swaps_day_and_month() -> None:
    assert day("2026-03-01") == "1 Mar 2026"
    assert day("when fetched") == "when fetched"


def test_names_from_outside_stay_letters() -> None:
    assert environment().from_string("{{ name }}").render(name="<b>&") == "&lt;b&gt;&amp;"


def test_an_unknown_name_is_a_fault() -> None:
    with pytest.raises(UndefinedError):
        environment().from_string("{{ nothing_of_the_kind }}").render()


def test_a_drawing_brings_the_words_of_its_scale() -> None:
    picture = drawn(wheel())
    assert picture["scale"] == "1 : 2"
    assert str(picture["svg"]).startswith("<svg")

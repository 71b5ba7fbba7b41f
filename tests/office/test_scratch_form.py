"""What a sum of the scratch sheet asks, and how typed text is read."""

from fractions import Fraction

import pytest

from shopapp.bench.errors import BenchError
from shopapp.bench.quantities import Quantity
from shopapp.office import scratch_form as form
from shopapp.office.scratch_form import Field, Told

INCHES, METRIC = ({"unit": unit, "weigh": "lb", "reads": "thou"} for unit in ("in", "mm"))


def test_the_unit_on_a_field_follows_its_kind_and_the_sizes() -> None:
    assert form.unit_on(Field("a", "A"), INCHES) == "in"
    assert form.unit_on(Field("a", "A", "speed"), INCHES) == "ft/min"
    assert form.unit_on(Field("a", "A", "speed"), METRIC) == "m/min"
    assert form.unit_on(Field("a", "A", "number", unit=("hp", "kW")), METRIC) == "kW"
    assert form.unit_on(Field("a", "A", "number", unit="°"), INCHES) == "°"
    assert form.unit_on(Field("a", "A", "reading"), INCHES) == "thou"
    assert form.unit_on(Field("a", "A", "text"), INCHES) == ""


def test_a_reading_may_lie_under_the_zero_of_the_indicator() -> None:
    for text, thou in (("-16", -16), ("−16", -16), ("+3", 3), ("- 2.5", -2.5), ("0", 0)):
        found = form.read(Field("r", "R", "reading"), text, "thou")
        assert isinstance(found, Quantity)
        assert found.amount == pytest.approx(thou * 0.0254)


@pytest.mark.parametrize("text", ["skip", "K", "keyway", "-", "–"])
def test_a_place_that_was_not_read_is_skipped(text: str) -> None:
    assert form.read(Field("r", "R", "reading"), text, "thou") == "skipped"


def test_a_list_is_parted_by_spaces_or_commas() -> None:
    listed = form.read(Field("list", "List", "rpms"), "70, 200;460  800 rpm", "rpm")
    assert listed == (Fraction(70), Fraction(200), Fraction(460), Fraction(800))
    assert form.read(Field("took", "Took", "times"), "90 1:30 1.5h", "min") == (Fraction(90),) * 3
    assert form.read(Field("took", "Took", "times"), "1h 30, 2h", "min") == (Fraction(90), Fraction(120))


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("count", "2.5"),
        ("count", "10001"),
        ("rpms", "70 fast"),
        ("rpms", "70, 1,200"),
        ("times", "90,5"),
        ("times", "1h 30 2h"),
        ("rpm", "100 sfm"),
        ("percent", "half"),
        ("length", "1,250"),
        ("money", "1.234"),
        ("reading", "--2"),
    ],
)
def test_what_cannot_be_read_says_what_to_type(kind: str, text: str) -> None:
    with pytest.raises(BenchError):
        form.read(Field("x", "X", kind), text, "in")


def test_a_reading_is_said_back_and_one_that_looks_like_inches_asked_about() -> None:
    one = Field("r0", "Jaw 1", "reading")
    assert form.echo(one, "-16", INCHES) == "-.0160 in · -0.406 mm"
    assert "If it is in inches, type" in form.echo(one, ".0018", INCHES)
    assert form.echo(one, "skip", INCHES) == ""


def test_inputs_are_told_as_typed_each_with_its_unit() -> None:
    asked = {
        one.name: one
        for one in (Field("a", "Wide"), Field("b", "Deep"), Field("c", "Kind", "choice", options=(("k", "a kind"),)))
    }
    told = Told(texts={"a": "7 3/8", "b": "22 mm", "c": "k"}, fields=asked, units=INCHES)
    assert told.typed("a", "b", "c", "d") == (("Wide", "7 3/8 in"), ("Deep", "22 mm"), ("Kind", "a kind"))


def test_lengths_and_weights_are_shown_in_the_unit_of_the_form() -> None:
    assert Told(units=INCHES).length(8.89) == "0.350"
    assert Told(units=INCHES).fine(8.89) == "0.3500"
    assert Told(units=METRIC).fine(8.89) == "8.890"
    assert Told(units=INCHES).mass(453.59237) == "1"


def test_minutes_are_said_to_what_they_deserve() -> None:
    assert [form.minutes(value) for value in (62.83, 1.633, 0.05123)] == ["62.8", "1.63", "0.051"]


def test_a_sum_without_end_is_stopped() -> None:
    with pytest.raises(BenchError, match="too many"):
        form.no_more_than(201, 200, "That is too many.")
    form.no_more_than(200, 200, "That is too many.")

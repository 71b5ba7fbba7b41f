"""What a machinist types, and what it is worth; or what is asked, or refused, and why."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench import quantities as q
from shopapp.bench.errors import Asked, BenchError
from tests.bench.typed import IN, LB, LENGTHS, MASSES, MONEY, NOT_READ, SPEEDS, TIMES, TOLERANCES

F = Fraction


def test_the_table_has_at_least_150_strings() -> None:
    tables = (LENGTHS, TOLERANCES, MASSES, TIMES, SPEEDS, MONEY, NOT_READ)
    assert sum(len(table) for table in tables) >= 150
    assert len({row[:2] for row in LENGTHS}) == len(LENGTHS)


@pytest.mark.parametrize(("text", "unit", "worth"), LENGTHS)
def test_a_length_is_worth_exactly_what_was_typed(text: str, unit: str | None, worth: F) -> None:
    found = q.length(text, unit)
    assert found.base == worth
    assert found.text == text.strip()
    assert found.value * q.WORTH[found.unit] == worth
    assert found.amount == pytest.approx(float(worth), rel=1e-15)


@pytest.mark.parametrize(("text", "unit", "value", "plus", "minus"), TOLERANCES)
def test_a_tolerance_is_kept_in_millimetres(text: str, unit: str | None, value: F, plus: F, minus: F) -> None:
    found = q.length(text, unit)
    assert (found.value, found.plus, found.minus) == (value, plus, minus)


@pytest.mark.parametrize(("text", "unit", "worth"), MASSES)
def test_a_weight_is_worth_exactly_what_was_typed(text: str, unit: str | None, worth: F) -> None:
    assert q.mass(text, unit).base == worth


@pytest.mark.parametrize(("text", "unit", "worth"), TIMES)
def test_a_time_is_minutes(text: str, unit: str, worth: int) -> None:
    assert q.minutes(text, unit).base == worth


@pytest.mark.parametrize(("text", "unit", "worth", "kept"), SPEEDS)
def test_a_speed_is_turns_or_metres_a_minute(text: str, unit: str | None, worth: F, kept: str) -> None:
    found = q.speed(text, unit)
    assert (found.base, found.unit) == (worth, kept)


@pytest.mark.parametrize(("text", "cents"), MONEY)
def test_money_is_whole_cents(text: str, cents: int) -> None:
    found = q.money(text)
    assert (found.base, found.value, found.unit) == (cents, cents, "cents")


@pytest.mark.parametrize(("reader", "text", "kind", "says"), NOT_READ)
def test_what_cannot_be_read_says_what_to_type(reader, text: str, kind: type[BenchError], says: str) -> None:
    with pytest.raises(kind) as caught:
        reader(text)
    assert says in str(caught.value)


def test_counts_and_shares_are_exact() -> None:
    assert q.whole("6") == q.whole("six") == 6
    assert q.number("1-1/2") == q.number("1,5") == F(3, 2)
    assert q.percent("6.25 %") == q.percent("6-1/4") == F(1, 16)


def test_a_part_of_a_percent_is_read_where_its_sign_stands() -> None:
    assert q.percent("1/2 %") == q.percent("half percent") == q.percent("0.5") == F(1, 200)


@pytest.mark.parametrize("text", ["9.25 ± 4 oz", "9.25 ± 100 g"])
def test_a_weight_is_never_read_in_the_unit_of_its_tolerance(text: str) -> None:
    with pytest.raises(Asked, match="Type its unit after it too"):
        q.mass(text, "lb")


def test_a_field_shows_a_unit_of_its_own_kind() -> None:
    with pytest.raises(ValueError, match="shows the unit"):
        q.length("5", "lb")


@pytest.mark.outside("verified: NIST SP 811, App. B, and pint")
def test_the_unit_library_agrees_with_the_definitions_of_1959() -> None:
    # International yard and pound agreement of 1959, as in NIST SP 811 (2008), App. B.6 and B.8:
    # 1 yd = 0.9144 m and 1 lb = 0.453 592 37 kg, both exact; NIST Handbook 44, App. C.
    assert q.WORTH["ft"] * 3 == F("914.4")
    assert q.WORTH["in"] * 36 == F("914.4")
    assert q.WORTH["lb"] == F("453.59237")
    assert q.WORTH["oz"] * 16 == F("453.59237")
    assert q.WORTH["ft/min"] == F("0.3048")
    assert [q.WORTH[word] for word in ("mm", "m", "g", "kg", "min", "h", "m/min")] == [1, 1000, 1, 1000, 1, 60, 1]


READERS = (
    lambda text: q.length(text, "in"), lambda text: q.length(text, "mm"), q.length, lambda text: q.mass(text, "lb"),
    q.mass, lambda text: q.speed(text, "rpm"), q.minutes, q.money, q.whole, q.number, q.percent,
)  # fmt: skip
SHOPPISH = st.text(alphabet="0123456789 .,/-+±'\"#ø½⅝inmftlbozkghuand", max_size=70)


@given(st.one_of(st.text(max_size=5000), SHOPPISH), st.sampled_from(READERS))
def test_any_text_at_all_is_a_finite_figure_or_a_sentence(text: str, reader) -> None:
    try:
        found = reader(text)
    except BenchError as refusal:
        found, said = None, str(refusal)
    else:
        said = "read."
    worth = found.base if isinstance(found, q.Quantity) else found
    assert said.endswith((".", "?"))
    assert 0 <= float(worth or 0) <= 1e12


PAIRS = (
    (q.mass, ("lb", "lbs", "#", "pounds"), ("oz", "oz.", " ozs"), LB, LB / 16),
    (q.length, ("ft", "foot", "'", "′"), ("in", "in.", '"', "″"), 12 * IN, IN),
    (q.mass, ("kg", "kilo"), ("g", " g", "gm."), F(1000), F(1)),
    (q.minutes, ("h", "hr", "hours"), ("min", "m", " mins."), F(60), F(1)),
)
JOINS = ("", " ", ". ", ", ", ",", " , ", ".", "-", " and ", ".,")


@given(st.sampled_from(PAIRS), st.integers(1, 30), st.integers(0, 11), st.sampled_from(JOINS), st.data())
def test_a_large_and_a_small_unit_are_read_whole_however_they_are_joined_or_sent_back(
    pair, large: int, small: int, join: str, data
) -> None:  # fmt: skip
    reader, larges, smalls, much, little = pair
    text = f"{large}{data.draw(st.sampled_from(larges))}{join}{small}{data.draw(st.sampled_from(smalls))}"
    try:
        found = reader(text)
    except BenchError:
        return
    mark = text[len(str(large))]
    meant = F(small, 10 ** len(str(small))) if join == "." and mark in "#'′" else small  # 6'.5" is half an inch
    assert found.base == large * much + meant * little


@given(st.integers(1000, 2_000_000), st.sampled_from("'’_´`·, \u00a0\u202f"))
def test_thousands_set_off_by_any_mark_are_read_whole_or_sent_back(number: int, mark: str) -> None:
    text = f"{number:,}".replace(",", mark)
    for reader in (lambda said: q.length(said, "mm"), lambda said: q.mass(said, "g"), q.money):
        try:
            found = reader(text)
        except BenchError:
            continue
        assert found.base == (number * 100 if found.unit == "cents" else number)


@given(st.integers(0, 3_900_000))
def test_what_is_shown_in_inches_reads_back_the_same(thou: int) -> None:
    mm = float(F(thou, 1000) * IN)
    assert q.length(q.show_length(mm, "in")).value == F(thou, 1000)


@given(st.integers(0, 9_999_999), st.sampled_from(["in", "mm", "ft", "m"]), st.integers(3, 6))
def test_a_shown_length_is_within_half_its_last_place(parts: int, unit: str, places: int) -> None:
    mm = parts / 1000
    shown = q.length(q.show_length(mm, unit, places)).base
    assert abs(shown - F(parts, 1000)) <= q.WORTH[unit] / 10**places / 2 + F(1, 10**9)


@given(st.integers(0, 9_999_999))
def test_a_shown_weight_reads_back_the_same(grams: int) -> None:
    assert q.mass(q.show_mass(float(grams), "g")).base == grams
    assert q.mass(q.show_mass(float(F(grams, 1000) * LB), "lb", 3)).value == F(grams, 1000)


@pytest.mark.parametrize(
    ("text", "echo"),
    [
        ("22 mm", "0.866 in · 22 mm · near 55/64 (.859)"),
        ("7 3/8 in", "7.375 in · 187.325 mm · = 7-3/8"),
        ("3/4 in", "0.750 in · 19.05 mm · = 3/4"),
        ("7 in", "7.000 in · 177.8 mm"),
        ("2 tenths", "0.0002 in · 0.00508 mm"),
        ("7-3/16 in", "7.1875 in · 182.563 mm · = 7-3/16"),
        ("0 mm", "0.000 in · 0 mm"),
        ("25 ±0.1 mm", "0.984 in · 25 mm · near 63/64 (.984) · 24.9 to 25.1 mm"),
        ("2.500 +.000/-.002 in", "2.500 in · 63.5 mm · = 2-1/2 · 2.498 to 2.500 in"),
    ],
)
def test_a_length_is_said_back_in_both_units(text: str, echo: str) -> None:
    assert q.echo_length(q.length(text)) == echo


@given(st.integers(1, 64 * 100))
def test_the_nearest_64th_of_a_64th_is_itself(parts: int) -> None:
    echo = q.echo_length(q.length(f"{parts}/64 in"))
    assert " near " not in echo
    if parts % 64:
        assert q.length(echo.split(" = ")[1], "in").value == F(parts, 64)


def test_a_weight_is_said_back_in_both_units() -> None:
    assert q.echo_mass(q.mass("8 lb 8 oz")) == "8.500 lb · 3.856 kg"
    assert q.echo_mass(q.mass("360 g")) == "0.794 lb · 360 g"


def test_something_is_never_shown_as_nothing() -> None:
    assert q.show_length(0.00508, "in") == "0.00020 in"
    assert q.show_length(0.0, "in") == "0.000 in"
    assert q.show_mass(0.2, "g") == "0.20 g"


@pytest.mark.bench
def test_reading_a_size_is_quick(benchmark) -> None:
    assert benchmark(q.length, "5-5/8", "in").value == F(45, 8)


HOSTILE = ("9" * 5000, "1," * 30, "1-" * 30, "1 1/" * 15, "a half and " * 5, "+-" * 30, " " * 5000, "½" * 60, "٣" * 60)


@pytest.mark.bench
def test_hostile_text_is_refused_as_quickly(benchmark) -> None:
    def all_of_them() -> int:
        refused = 0
        for text in HOSTILE:
            for reader in READERS:
                try:
                    reader(text)
                except BenchError:
                    refused += 1
        return refused

    assert benchmark(all_of_them) == len(HOSTILE) * len(READERS)

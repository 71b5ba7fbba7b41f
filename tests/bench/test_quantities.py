"""What a machinist types, and what it is worth; or what is asked, or refused, and why."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench import quantities as q
from shopapp.bench.errors import Asked, BenchError, Refused

F = Fraction

IN = F(254, 10)  # mm; NIST SP 811 (2008), App. B.8: 1 in = 25.4 mm exactly
LB = F(45359237, 100000)  # g; NIST SP 811, App. B.8, and NIST Handbook 44, App. C: 1 lb = 453.592 37 g exactly

# text, unit visible on the field, worth in mm. A tenth is .0001 in: common practice, no source.
LENGTHS = [
    ("5-5/8", "in", F(45, 8) * IN),
    ("5 5/8", "in", F(45, 8) * IN),
    ('5 5/8"', None, F(45, 8) * IN),
    ("5–5/8", "in", F(45, 8) * IN),
    ("5.625", "in", F(45, 8) * IN),
    ("5⁄8 in", None, F(5, 8) * IN),
    ("5⁷⁄₈", "in", F(47, 8) * IN),
    ("5.625 in.", None, F(45, 8) * IN),
    ("7-3/16", "in", F("182.5625")),
    ("7.1875 inches", None, F("182.5625")),
    (".015", "in", F("0.381")),
    (".25", "in", F("6.35")),
    ('1/4"', None, F("6.35")),
    ("3/32", "in", F(3, 32) * IN),
    ("9/8", "in", F(9, 8) * IN),
    ("15 thou", None, F("0.381")),
    ("5 thou", "mm", F("0.127")),
    (".018", "in", F("0.4572")),
    ("18 thou", "in", F("0.4572")),
    ("eighteen thousandths", "in", F("0.4572")),
    ("eighteen thousandths of an inch", None, F("0.4572")),
    ("half a thou", "in", F(5, 10000) * IN),
    ("half thou", "in", F(5, 10000) * IN),
    ("a thou and a half", "in", F(15, 10000) * IN),
    ("two and a half thou", "in", F(25, 10000) * IN),
    ("2-1/2 thou", "in", F(25, 10000) * IN),
    ("a hundred and twenty thou", "in", F(120, 1000) * IN),
    ("twenty-one thou", "in", F(21, 1000) * IN),
    ("two hundred five thou", "in", F(205, 1000) * IN),
    ("two tenths", "in", F(2, 10000) * IN),
    ("2 tenths", "in", F(2, 10000) * IN),
    ("2 tenths", None, F(2, 10000) * IN),
    ("3 tenths", "in", F("0.00762")),
    ("a tenth", "in", F(1, 10000) * IN),
    ("a tenth and a half", "in", F(15, 100000) * IN),
    ("1-1/2 tenths", "in", F(15, 100000) * IN),
    ("half a tenth", "in", F(5, 100000) * IN),
    ("half an inch", None, F(1, 2) * IN),
    ("half-inch", None, F(1, 2) * IN),
    ("a quarter inch", None, F(1, 4) * IN),
    ("a quarter of an inch", "mm", F(1, 4) * IN),
    ("five eighths inch", None, F(5, 8) * IN),
    ("5 sixteenths in", None, F(5, 16) * IN),
    ("three thirty-seconds inch", None, F(3, 32) * IN),
    ("three sixty-fourths of an inch", None, F(3, 64) * IN),
    ("an inch and a half", None, F(3, 2) * IN),
    ("1 and 1/2 in", None, F(3, 2) * IN),
    ("five", "mm", F(5)),
    ("16mm", "in", F(16)),
    ("16 mm", None, F(16)),
    ("13-mm", "in", F(13)),
    ("28 MM", "in", F(28)),
    ("5 IN", "mm", 5 * IN),
    ("12,7 mm", None, F("12.7")),
    ("0,5 mm", None, F(1, 2)),
    ("0,125 mm", None, F(1, 8)),
    (",5 mm", None, F(1, 2)),
    ("1,2500 in", None, F(5, 4) * IN),
    ("1,250.5 mm", None, F("1250.5")),
    ("1,2 cm", None, F(12)),
    ("25 µm", None, F(25, 1000)),
    ("2 m", None, F(2000)),
    ("3½", "in", F(7, 2) * IN),
    ("3 ½ in", None, F(7, 2) * IN),
    ("⅞", "in", F(7, 8) * IN),
    ("5-⅝", "in", F(45, 8) * IN),
    ("6'2\"", None, 74 * IN),
    ("6'2", "in", 74 * IN),
    ("6',2\"", "in", 74 * IN),
    ("6' 1/2", "in", F(145, 2) * IN),
    ("Ø.5", "in", IN / 2),
    ("6'-2\"", "in", 74 * IN),
    ("6′ 2″", "mm", 74 * IN),
    ("6' 2-1/2\"", None, F(149, 2) * IN),
    ("6 ft 2 in", None, 74 * IN),
    ("10'", None, 120 * IN),
    ("Ø2.5", "in", F(5, 2) * IN),
    ("⌀ 2.5 in", None, F(5, 2) * IN),
    ("dia. 2.5", "in", F(5, 2) * IN),
    ("2.5 dia.", "in", F(5, 2) * IN),
    ("5", "mm", F(5)),
    ("5", "in", 5 * IN),
    ("5.", "in", 5 * IN),
    ("+5", "in", 5 * IN),
    ("0", "in", F(0)),
    ("0.000", "mm", F(0)),
    ("  5  ", "mm", F(5)),
    ("5\u00a0mm", None, F(5)),
    ("100000 mm", None, F(100000)),
]

TOLERANCES = [
    ("1.250 ±.005", "in", F(5, 4), F("0.127"), F("0.127")),
    ("1.250 +/-.005", "in", F(5, 4), F("0.127"), F("0.127")),
    ("1.250 +-.005 in", None, F(5, 4), F("0.127"), F("0.127")),
    ("1.250 ± 5 thou", "in", F(5, 4), F("0.127"), F("0.127")),
    ("1.250 in ±.005", "mm", F(5, 4), F("0.127"), F("0.127")),
    ("1-1/4 ± 1/64", "in", F(5, 4), F(1, 64) * IN, F(1, 64) * IN),
    ("2.500 +.000/-.002", "in", F(5, 2), F(0), F("0.0508")),
    ("2.500 -.002/+.000", "in", F(5, 2), F(0), F("0.0508")),
    ("2.500 +.000 -.002", "in", F(5, 2), F(0), F("0.0508")),
    ("2.500 +0/-2 tenths", "in", F(5, 2), F(0), F("0.00508")),
    ("25 ±0,1 mm", "mm", F(25), F(1, 10), F(1, 10)),
    ("25 ±0,1 mm", None, F(25), F(1, 10), F(1, 10)),
    ("25 mm ±0,1 mm", "in", F(25), F(1, 10), F(1, 10)),
    ("25 ±1", "mm", F(25), F(1), F(1)),
    (".030 ±.010", "in", F(3, 100), F("0.254"), F("0.254")),
    ("2.500 +1/-2 thou", "in", F(5, 2), F("0.0254"), F("0.0508")),
    ("2.500 +5 thou/-0", "in", F(5, 2), F("0.127"), F(0)),
    ("10 ±2 in", "in", F(10), 2 * IN, 2 * IN),
    ("1.25 in ±0.1 mm", "mm", F(5, 4), F(1, 10), F(1, 10)),
    ("20 +.018/+.002 mm", None, F(20), F("0.018"), F("-0.002")),
]

MASSES = [
    ("8 lb 8 oz", None, F(17, 2) * LB),
    ("8# 8oz", None, F(17, 2) * LB),
    ("8 lb, 8 oz", None, F(17, 2) * LB),
    ("8lb8oz", None, F(17, 2) * LB),
    ("8 lb,8 oz", None, F(17, 2) * LB),
    ("8#,8oz", None, F(17, 2) * LB),
    ("8lb. 8oz.", None, F(17, 2) * LB),
    ("8 lb .5 oz", None, F(257, 32) * LB),
    ("9 lb ± 4 oz", "lb", 9 * LB),
    ("250 ± 5 g", "g", F(250)),
    ("9 lb 4 oz", None, F("4195.7294225")),
    ("9-1/4 lb", None, F("4195.7294225")),
    ("9-1/4", "lb", F("4195.7294225")),
    ("9.25 LBS", None, F("4195.7294225")),
    ("9½ pounds", None, F(19, 2) * LB),
    ("1 oz", None, F("28.349523125")),
    ("half a pound", None, LB / 2),
    ("3.86 kg", None, F(3860)),
    ("3,86 kg", None, F(3860)),
    ("4.20 KG", "lb", F(4200)),
    ("2 kg 250 g", None, F(2250)),
    ("3841 g", None, F(3841)),
    ("3841 grams", None, F(3841)),
    ("26.5", "lb", F(53, 2) * LB),
    ("0", "g", F(0)),
]

TIMES = [
    ("90", "min", 90),
    ("45 min", "min", 45),
    ("45 MINS", "h", 45),
    ("1h,30m", "min", 90),
    ("1.5 h", "min", 90),
    ("1,5 h", "min", 90),
    ("1-1/2 hours", "min", 90),
    ("1h 30", "min", 90),
    ("1h30", "min", 90),
    ("1 h 30 min", "min", 90),
    ("1h30m", "min", 90),
    ("1:30", "min", 90),
    ("0:45", "min", 45),
    ("2", "h", 120),
    ("half an hour", "min", 30),
    ("an hour and a half", "min", 90),
    ("0", "min", 0),
]

SPEEDS = [
    ("120", "rpm", F(120), "rpm"),
    ("120 RPM", None, F(120), "rpm"),
    ("120 rev/min", None, F(120), "rpm"),
    ("100 sfm", None, F("30.48"), "ft/min"),  # 1 ft = 0.3048 m: NIST SP 811, App. B.8
    ("100 ft/min", None, F("30.48"), "ft/min"),
    ("100", "ft/min", F("30.48"), "ft/min"),
    ("30 m/min", "rpm", F(30), "m/min"),
]

MONEY = [
    ("$1,234.50", 123450),
    ("1234.50", 123450),
    ("1 234,50", 123450),
    ("1234,5", 123450),
    ("1,234", 123400),
    ("$ 1,234,567.89", 123456789),
    ("138", 13800),
    ("138.", 13800),
    ("138.5", 13850),
    ("138.50", 13850),
    (".50", 50),
    ("0", 0),
    ("€5", 500),
]

NOT_READ = [
    (q.mass, "5", Asked, "5 lb, 5 oz, 5 g or 5 kg"),
    (q.mass, "8 lb 8", Asked, "Type oz"),
    (q.mass, "9 lb 18 oz", Refused, "under 16"),
    (q.mass, "8.5 lb 8 oz", Refused, "whole number"),
    (q.mass, "5 t", Refused, "metric ton"),
    (q.mass, "5 lbf", Refused, "force"),
    (q.mass, "5 fl oz", Refused, "volume"),
    (q.mass, "12 gr", Asked, "grains"),
    (q.mass, "5 mm", Refused, "length"),
    (q.mass, "-3 lb", Refused, "Below zero"),
    (q.mass, "10001 kg", Refused, "10,000 kg"),
    # A full stop after an abbreviation is no point: common practice, no source.
    (q.mass, "8lb.8oz", Asked, "“lb. 8” or “lb .8”"),
    (q.mass, "1kg.250g", Asked, "full stop"),
    (q.mass, "1'000 g", Asked, "thousands"),
    (q.minutes, "1hr.30", Asked, "full stop"),
    (q.minutes, "2h.15m", Asked, "full stop"),
    (q.minutes, "1h 1/2", Asked, "Part of an hour"),
    (q.minutes, "1h 0.5", Asked, "Part of an hour"),
    (q.minutes, "1/2", Asked, "1/2 h or 1/2 min"),
    (q.minutes, "1½", Asked, "1/2 h or 1/2 min"),
    (q.minutes, "1:5", Refused, "1:30"),
    (q.minutes, "1:75", Refused, "1:30"),
    (q.minutes, "90 s", Refused, "min or h"),
    (q.minutes, "1h 75", Refused, "under 60"),
    (q.minutes, "45 ± 5", Refused, "tolerance"),
    (q.speed, "120", Asked, "120 rpm"),
    (q.speed, "1,200 rpm", Asked, "1200, or 1.200"),
    (q.speed, "5 m", Refused, "length"),
    (q.money, "1.234", Refused, "whole cents"),
    (q.money, "$1.005", Refused, "whole cents"),
    (q.money, "-5", Refused, "minus"),
    (q.money, "(5.00)", Refused, "minus"),
    (q.money, "1.234,50", Refused, "1,234.50"),
    (q.money, "12 34", Refused, "1,234.50"),
    (q.money, "$", Refused, "amount"),
    (q.money, "", Refused, "Nothing stands here"),
    (q.money, "five", Refused, "amount"),
    (q.money, "9" * 70, Refused, "60 characters"),
    (q.money, "9999999999", Refused, "amount"),
    (q.whole, "6.5", Refused, "whole number"),
    (q.whole, "6 pieces", Refused, "figures only"),
    (q.number, "5 in", Refused, "length"),
    (q.number, "9999999999", Refused, "1,000,000,000"),
    (q.whole, "a", Refused, "alone"),
    (q.percent, "half", Asked, "1/2 %, or 50 %"),
    (q.percent, "½", Asked, "1/2 %, or 50 %"),
    (q.percent, "501", Refused, "500 %"),
    (q.percent, "-1 %", Refused, "Below zero"),
]


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

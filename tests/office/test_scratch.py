"""The scratch sheet as a table: every sum answers its own example and says how it came to it."""

import pytest

from shopapp.office import scratch
from shopapp.office.equipment import MachineFacts
from shopapp.office.errors import NotHere
from shopapp.office.scratch import SUMS, Worked
from shopapp.office.scratch_form import Sum

EVERY = list(SUMS.values())
HOSTILE = ("<b>", "1e9", "9" * 40, "10**9**9", "nan", "-5", "0", "1/0", "½", "1,250", "'; --", "\x00", "7 3/8 in 5")
DANGER = ("truing", "face", "spindle", "recommended")
TURNS = ("spin", "unbalance")


def worked(key: str, **told: str) -> Worked:
    """A sum of its example, with some of it typed otherwise."""
    return scratch.work(SUMS[key], {**SUMS[key].example, **told})


def ids(one: Sum) -> str:
    return one.key


def test_the_table_is_whole() -> None:
    assert len(EVERY) == sum(len(group) for _, group in scratch.GROUPS) >= 30
    assert all(key == one.key for key, one in SUMS.items())
    assert len({one.title for one in EVERY}) == len(EVERY)


@pytest.mark.parametrize("one", EVERY, ids=ids)
def test_a_sum_answers_its_own_example(one: Sum) -> None:
    found = scratch.work(one, one.example)
    assert (found.waiting, found.problems, found.refusal) == ((), {}, "")
    assert found.answer
    assert found.answer.figures or found.answer.sentences


@pytest.mark.parametrize("one", EVERY, ids=ids)
def test_an_answer_carries_the_working_of_each_figure_with_its_source(one: Sum) -> None:
    answer = scratch.work(one, one.example).answer
    assert answer
    assert answer.workings
    for sheet in answer.workings:
        assert sheet.figure
        assert sheet.value
        assert sheet.source
    assert any(sheet.inputs for sheet in answer.workings)


@pytest.mark.parametrize("one", EVERY, ids=ids)
def test_an_empty_sum_waits_and_is_no_error(one: Sum) -> None:
    found = scratch.work(one, {})
    assert found.problems == {}
    if all(asked.kind == "choice" or not asked.needed for asked in scratch.fields(found.groups)) and found.answer:
        return  # a table needs nothing typed to be read
    assert found.answer is None
    assert found.waiting or found.refusal


@pytest.mark.parametrize("one", EVERY, ids=ids)
def test_a_sum_without_one_needed_figure_says_which_it_waits_for(one: Sum) -> None:
    groups = scratch.work(one, one.example).groups
    for asked in scratch.fields(groups):
        if asked.needed and asked.kind != "choice":
            found = scratch.work(one, {**one.example, asked.name: "  "})
            assert found.waiting == (asked.label,)
            assert found.answer is None


@pytest.mark.parametrize("one", EVERY, ids=ids)
def test_hostile_text_breaks_no_sum(one: Sum) -> None:
    for asked in scratch.fields(scratch.work(one, one.example).groups, one.switches):
        for text in HOSTILE:
            found = scratch.work(one, {**one.example, asked.name: text})
            if found.answer is None:
                assert found.problems or found.refusal or found.waiting
            else:
                assert found.problems == {}


@pytest.mark.parametrize("one", EVERY, ids=ids)
def test_the_address_of_a_sum_brings_the_same_sum_back(one: Sum) -> None:
    first = scratch.work(one, one.example)
    again = scratch.work(one, dict(scratch.shared(first, one)))
    assert again.answer == first.answer
    assert scratch.shared(again, one) == scratch.shared(first, one)


@pytest.mark.parametrize("one", EVERY, ids=ids)
def test_nothing_is_ever_called_safe(one: Sum) -> None:
    answer = scratch.work(one, one.example).answer
    assert answer
    said = " ".join([one.title, one.purpose, *answer.sentences, *answer.warnings, *(s.limits for s in answer.workings)])
    assert "safe" not in said.casefold()


@pytest.mark.parametrize("key", DANGER)
def test_what_is_done_at_a_chuck_warns_of_its_key(key: str) -> None:
    answer = worked(key).answer
    assert answer
    assert any("key out of the chuck" in words for words in answer.warnings)


@pytest.mark.parametrize("key", TURNS)
def test_what_turns_in_use_is_information_only(key: str) -> None:
    answer = worked(key).answer
    assert answer
    assert "no speed rating given" in answer.warnings[-1]


def test_units_begin_as_the_shop_has_them_and_stay_as_chosen() -> None:
    one = SUMS["spin"]
    assert scratch.work(one, {}, unit="mm").units["unit"] == "mm"
    assert scratch.work(one, {}, unit="in").units["unit"] == "in"
    assert scratch.work(one, {"unit": "in"}, unit="mm").units["unit"] == "in"
    assert scratch.work(one, {"unit": "cubits"}, unit="mm").units["unit"] == "mm"
    assert scratch.work(SUMS["scale"], {}, unit="mm").units["weigh"] == "kg"
    assert scratch.work(SUMS["truing"], {"reads": "mm"}, unit="in").units["unit"] == "mm"


def test_a_unit_that_is_typed_goes_before_the_one_on_the_field() -> None:
    metric, inches = worked("stop", back_off="0.381 mm"), worked("stop", back_off=".015")
    assert metric.answer
    assert inches.answer
    assert metric.answer.figures == inches.answer.figures == (("clearance left", "0.0100", "in"),)


def test_a_field_says_what_it_reads_or_how_to_type_it() -> None:
    one = SUMS["stop"]
    assert scratch.echo(one, "back_off", {"back_off": "22 mm"}) == "0.866 in · 22 mm · near 55/64 (.859)"
    assert "1,250" in scratch.echo(one, "back_off", {"back_off": "1,250"})
    assert scratch.echo(one, "back_off", {}) == ""
    assert scratch.echo(one, "no such field", {"back_off": "1"}) == ""
    assert scratch.echo(SUMS["scale"], "predicted", {"weigh": "lb", "predicted": "8 lb 8 oz"}) == "8.500 lb · 3.856 kg"


def test_a_machine_of_the_shop_fills_in_what_a_sum_asks_of_it() -> None:
    lathe = MachineFacts(1, "big lathe", "diameter", 1200, "70 200 460 800", "2.2", "5 mm")
    one = SUMS["spindle"]
    ((name, pairs),) = scratch.fills(scratch.work(one, one.example), one, [lathe])
    assert name == "big lathe"
    assert dict(pairs)["list"] == "70 200 460 800"
    assert dict(pairs)["chuck"] == "1200"
    assert dict(pairs)["speed"] == "100"
    power = SUMS["power"]
    ((_, told),) = scratch.fills(scratch.work(power, {"unit": "in"}), power, [lathe])
    assert dict(told)["rating"] == "2.95"  # 2.2 kW; one horsepower is 0.7457 kW, NIST SP 811, App. B
    assert scratch.fills(scratch.work(SUMS["clash"], {}), SUMS["clash"], [lathe]) == []


def test_a_sum_that_is_none_is_not_here() -> None:
    with pytest.raises(NotHere):
        scratch.the_sum("horoscope")

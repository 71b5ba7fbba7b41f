"""The working behind what a scale says."""

from shopapp.office import workings_scale
from shopapp.office.sheets.working import WorkingSheet


def all_of_them() -> list[WorkingSheet]:
    pairs = [("1161-1", "26 lb − 17.5 lb = 8.5 lb")]
    return [
        *workings_scale.of_off("26 lb on dial", "17.5 lb on dial", "8.5 lb", "0.41 lb"),
        *workings_scale.of_verdict("agrees", "0.07", pairs), *workings_scale.of_fitness("about 8.5 lb", pairs),
        *workings_scale.of_twins(pairs), *workings_scale.of_stubs(pairs), *workings_scale.of_last(pairs),
        *workings_scale.of_offs(pairs),
    ]  # fmt: skip


def test_each_has_a_figure_a_formula_and_a_source() -> None:
    for sheet in all_of_them():
        assert sheet.figure
        assert sheet.formula
        assert sheet.source


def test_what_was_read_stands_beside_what_came_off() -> None:
    (sheet,) = workings_scale.of_off("26 lb on dial", "17.5 lb on dial", "8.5 lb", "0.41 lb")
    assert (sheet.value, sheet.inputs[0]) == ("8.5 lb", ("before", "26 lb on dial"))
    assert sheet.source == "GUM F.2.2.1, GUM 5.1.2"


def test_where_nothing_is_shown_there_is_nothing_to_work_out() -> None:
    assert workings_scale.of_twins([]) == ()
    assert workings_scale.of_last([]) == ()
    assert workings_scale.of_offs([]) == ()
    assert [sheet.figure for sheet in workings_scale.of_stubs([])] == ["days late, days on the shelf"]

"""What an office verb raises."""

import pytest

from shopapp.office.errors import InTheWay, NewShop, NotHere, OfficeError, TryAgain


def test_a_refusal_says_each_problem_beside_its_field() -> None:
    refusal = TryAgain({"name": "Write a name.", "phone": "Write a phone."})
    assert refusal.problems == {"name": "Write a name.", "phone": "Write a phone."}
    assert str(refusal) == "Write a name. Write a phone."


def test_a_bare_sentence_is_about_the_whole_form() -> None:
    assert TryAgain("Look again.").problems == {"": "Look again."}


@pytest.mark.parametrize("kind", [NotHere, TryAgain, InTheWay, NewShop])
def test_all_of_them_are_refusals_of_the_office(kind: type[Exception]) -> None:
    assert issubclass(kind, OfficeError)
    assert issubclass(NewShop, InTheWay)

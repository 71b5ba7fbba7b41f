"""How text is made alike for finding."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.office.folding import folded


# Unicode Standard Annex 15, compatibility decomposition: the marks fall off, the letters stay.
@pytest.mark.outside("from memory: Unicode Standard Annex 15")
@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("  Zoë   Åkerström ", "zoe akerstrom"),
        ("STRASSE", "strasse"),
        ("Straße", "strasse"),
        ("ﬁne½", "fine1⁄2"),
        ("", ""),
    ],
)
def test_case_accents_and_spaces_make_no_difference(text: str, plain: str) -> None:
    assert folded(text) == plain


@given(st.text(alphabet=st.characters(codec="latin-1")))
def test_folding_twice_changes_nothing(text: str) -> None:
    assert folded(folded(text)) == folded(text)

"""Values from outside the house: how each is known, and how many of each kind a run has checked.

verified: read at the named source, or worked out in the test by a library that had no part in the house.
computed: worked out from a formula of the named source, or from an elementary one.
from memory: of a source that was not seen.

A test says it in its marker, `@pytest.mark.outside("verified: NIST SP 811, App. B")`; where a test checks several
values the word is that of the one it is named for, and a weaker value has a test or a case of its own.
"""

import re
from collections import Counter
from collections.abc import Iterable

import pytest

KINDS = ("verified", "computed", "from memory")
SAID = re.compile(rf"({'|'.join(KINDS)}): \S.{{2,}}")


def kind(how: object) -> str | None:
    """One of the three words, where a marker says one and a source after it."""
    met = SAID.fullmatch(how) if isinstance(how, str) else None
    return met[1] if met else None


def counted(items: Iterable[pytest.Item]) -> Counter[str]:
    """How many tests, each case of a table for itself, are held to a value of each kind."""
    found: Counter[str] = Counter()
    for item in items:
        mark = item.get_closest_marker("outside")
        if mark is not None:
            found[kind(mark.args[0] if mark.args else None) or "not said"] += 1
    return found


def line(found: Counter[str]) -> str:
    """The count as it is said at the end of a run."""
    kinds = [*KINDS, *(["not said"] if found["not said"] else [])]
    return f"{found.total()} values from outside: " + ", ".join(f"{found[one]} {one}" for one in kinds)

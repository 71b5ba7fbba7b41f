"""What the bench raises; every sentence is for the person at the counter.

BenchError
├── Refused        cannot be read: says what to type
├── Asked          can be read in two ways: says both
└── Impossible     a shape or a sum that cannot be: says what to change
"""

from __future__ import annotations


class BenchError(ValueError):
    """The root of all refusals of the bench; `str(error)` is the sentence to show."""


class Refused(BenchError):
    """What was typed cannot be read; the sentence says what to type."""


class Asked(BenchError):
    """What was typed can be read in two ways; the sentence says both."""


class Impossible(BenchError):
    """A shape or a sum that cannot be; the sentence says what to change."""

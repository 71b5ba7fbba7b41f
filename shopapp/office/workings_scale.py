"""The working behind what a scale says: what came off, the verdict, which scale can judge, the last of a kind."""

from collections.abc import Iterable

from shopapp.bench import together, weighing
from shopapp.office import workings
from shopapp.office.sheets.working import WorkingSheet

NO_SOURCE = "Common practice, no source"
Pairs = Iterable[tuple[str, str]]
"""Names and texts, as they stand beside a figure."""


def of_off(before: str, after: str, off: str, good_to: str) -> tuple[WorkingSheet, ...]:
    """What came off, of two readings in words, each with its scale."""
    inputs = (("before", before), ("after", after), ("good to", f"±{good_to}"))
    return (workings.of(together.removed, figure="came off", value=off, inputs=inputs),)


def of_each(before: str, after: str, pieces: str, off: str, good_to: str) -> tuple[WorkingSheet, ...]:
    """What came off each on the average, of two readings of several pieces at once."""
    inputs = (("before", before), ("after", after), ("pieces at once", pieces), ("good to", f"±{good_to}"))
    return (workings.of(together.each, figure="came off each", value=off, inputs=inputs),)


def of_verdict(word: str, error: str, told: Pairs) -> tuple[WorkingSheet, ...]:
    """The verdict, from what was weighed, what was predicted, and how sure each of them is."""
    return (
        workings.of(weighing.verdict_by, figure="verdict", value=word, inputs=told),
        workings.of(weighing.normalised_error, figure="normalised error", value=error),
    )


def of_fitness(predicted: str, scales: Pairs) -> tuple[WorkingSheet, ...]:
    """Whether each scale can judge a removal, told before anything is weighed."""
    inputs = (("comes off, by the drawing", predicted), *scales)
    return (
        workings.of(weighing.can_judge, figure="which scale can judge", inputs=inputs),
        workings.of(weighing.difference_uncertainty, figure="two weighings are good to"),
    )


def of_twins(pairs: Pairs) -> tuple[WorkingSheet, ...]:
    """What twins say of each other."""
    told = tuple(pairs)
    return (workings.of(weighing.twins, figure="twins", inputs=told),) if told else ()


def of_stubs(offs: Pairs) -> tuple[WorkingSheet, ...]:
    """The figures on the rail's tickets: what came off each piece, and how days are counted."""
    told = tuple(offs)
    days = WorkingSheet(
        "days late, days on the shelf", "", "Calendar days on the shop's own wall.",
        "today − the day promised; today − the day it came to the shelf", (), "the shop's time zone", NO_SOURCE,
    )  # fmt: skip
    off = workings.of(together.removed, figure="weights on the tickets", inputs=told)
    return (off, days) if told else (days,)


def of_offs(offs: Pairs) -> tuple[WorkingSheet, ...]:
    """What came off each piece that leaves, from its two weights."""
    told = tuple(offs)
    return (workings.of(together.removed, figure="weighed off", inputs=told),) if told else ()


def of_last(rows: Pairs) -> tuple[WorkingSheet, ...]:
    """The figures of the last pieces of a kind: what came off each, its share of minutes and price."""
    told = tuple(rows)
    if not told:
        return ()
    shares = (
        WorkingSheet(
            "minutes of a piece", "", "A piece's share of the minutes written down for its job.",
            "minutes of the job / its pieces, to whole minutes", (), "every piece of a job counts alike", NO_SOURCE,
        ),
        WorkingSheet(
            "price of a piece", "", "A piece's share of what its job was billed, before tax.",
            "net of the job's invoices that stand / the pieces on them, to whole cents", (),
            "every piece of a bill counts alike", NO_SOURCE,
        ),
    )  # fmt: skip
    return (workings.of(together.removed, figure="weighed off", inputs=told), *shares)

"""What an office verb raises; every sentence is for the person at the counter.

OfficeError
├── NotHere        what was asked for is not in the book (404)
├── TryAgain       something typed wants mending; sentences stand beside the fields (422)
└── InTheWay       the book has moved on, or another rule stands in the way (409)
    ├── NewShop    the book is empty; the first page asks for the shop's name
    └── TakenIn    the form was taken in already, with something else in it
"""

from datetime import datetime


class OfficeError(Exception):
    """The root of all refusals of the office."""


class NotHere(OfficeError):
    """What was asked for is not in the book."""


class TryAgain(OfficeError):
    """Something typed wants mending: field name to sentence, the empty name for the whole form."""

    def __init__(self, problems: dict[str, str] | str) -> None:
        self.problems = {"": problems} if isinstance(problems, str) else dict(problems)
        super().__init__(" ".join(self.problems.values()))


class InTheWay(OfficeError):
    """The book has moved on since the page was made, or a rule stands in the way."""


class NewShop(InTheWay):
    """The book is empty: the shop's name and somebody's initials come first."""

    def __init__(self) -> None:
        super().__init__("Set the shop up first: its name and your initials.")


class TakenIn(InTheWay):
    """The form was taken in already, with something else in it: when, and where that led."""

    def __init__(self, *, at: datetime, leads_to: str) -> None:
        self.at, self.leads_to = at, leads_to
        super().__init__("This form was taken in already, with something else in it.")

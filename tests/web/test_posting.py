"""What letters say, and that a letter goes with its act or not at all: the routes' tests hold the rest."""

from shopapp.office.sheets.canon import KINDS
from shopapp.office.sheets.letterhead import Letterhead, Party
from shopapp.office.sheets.ready import ReadyPiece, ReadySheet
from shopapp.web import posting

PLATE = ReadyPiece(number="1001-1", name="press plate, plain", state_words="on the pick-up shelf")
SPOILED = ReadyPiece(number="1001-2", name="press plate, plain", state_words="spoiled")


def sheet(*pieces: ReadyPiece, **told: str) -> ReadySheet:
    head = Letterhead(shop="Brackwater Lathe Works", owner="M", place="Nether Sluice")
    return ReadySheet(
        letterhead=head, party=Party(name="Cobbet Cider Mill"), job_no="1001", title="skim press plates",
        issued_on="2031-03-04", drawn_by="MB", pieces=pieces, **told,
    )  # fmt: skip


def test_a_message_says_what_is_ready_what_to_pay_and_when_the_door_is_open() -> None:
    told = posting.ready_text(sheet(PLATE, total_text="To pay: $73.50", hours="Mon to Fri 7 to 4", words="Ring twice!"))
    assert told.splitlines() == [
        "Job 1001, skim press plates: ready is 1001-1 press plate, plain.", "To pay: $73.50.",
        "Open Mon to Fri 7 to 4.", "Ring twice!",
    ]  # fmt: skip


def test_a_message_says_what_is_not_ready() -> None:
    told = posting.ready_text(sheet(PLATE, SPOILED))
    assert "Not ready: 1001-2 press plate, plain, spoiled." in told
    assert "ready is 1001-1" in told


def test_every_paper_that_is_mailed_is_a_paper() -> None:
    assert set(posting.NAMES) <= set(KINDS)

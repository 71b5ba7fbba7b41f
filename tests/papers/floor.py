"""Sheets of the floor's papers: the invented job of two reverse wheels, as it comes in and as it lies at the bench."""

from dataclasses import replace

from shopapp.office.sheets.blank import BlankSheet
from shopapp.office.sheets.label import LabelSheet, ShelfLabel
from shopapp.office.sheets.spoiled import KeptRow, SaidRow, SpoiledSheet
from shopapp.office.sheets.stub import StubPiece, StubSheet
from shopapp.office.sheets.tags import Tag, TagsSheet
from shopapp.office.sheets.ticket import (
    CutCard,
    PassRow,
    SettingCard,
    StopSum,
    TicketKind,
    TicketPiece,
    TicketSheet,
    WebRow,
)
from tests.papers.samples import NOT_DONE, PARTY, letterhead, removal, wheel

AT = "http://shop.example:8000"
LOOKED = (("cracked", "no"), ("chipped", "yes"), ("rusted", "yes"), ("welded before", "no"), ("bent", "not looked"),
          ("missing bits", "no"))  # fmt: skip
WATCH = ("Key out of the chuck.", "Turn by hand first: everything clears.", "Chips: goggles on, no gloves.",
         "Dust of grey iron: mask on, ways covered.", "Cut is interrupted at the pockets: go light.",
         "Chuck is good for 1,200 rpm at most.")  # fmt: skip


def stub(**told: object) -> StubSheet:
    pieces = (
        StubPiece("1187-1", "Carriage reverse wheel, six-pocket", "six round pockets", LOOKED, "$400.00",
                  "the customer carries the risk", ("key", "two set screws"), ("2 as it came in", "1 damage"),
                  "carriage 2", "26.0 lb on the bench dial, which shows halves"),
        StubPiece("1187-2", "Carriage reverse wheel, eight-pocket", "eight round pockets", LOOKED),
    )  # fmt: skip
    plain = StubSheet(
        letterhead(), PARTY, "1187", "2 reverse wheels", "2026-03-23", "WK", pieces, f"{AT}/jobs/1187",
        "Turn and face both as last time, half of the web.", "2026-04-03", "2026-04-02", "Tovald's nephew",
        ("Pieces are kept 60 days after they are ready; then we write.",), ("Workmanship is put right for 90 days.",),
        NOT_DONE,
    )  # fmt: skip
    return replace(plain, **told)


def tag(number: str = "1187-1", **told: object) -> Tag:
    plain = Tag(number, "Carriage reverse wheel, six-pocket", "six round pockets", "carriage 2", "2026-04-02", "B3",
                f"{AT}/pieces/{number}")  # fmt: skip
    return replace(plain, **told)


def tags(**told: object) -> TagsSheet:
    two = (tag(), tag("1187-2", name="Carriage reverse wheel, eight-pocket", sign="eight round pockets",
                      goes_to="your shelf", place="B4"))  # fmt: skip
    plain = TagsSheet(letterhead(), PARTY, "1187", "2 reverse wheels", "2026-03-23", "WK", two, NOT_DONE)
    return replace(plain, **told)


def setting(number: str = "1", **told: object) -> SettingCard:
    turn = CutCard(
        "Turn 9-1/2 → 8-7/8, to 1.0505",
        "120 rpm · 280 ft/min · .010 in/rev",
        (PassRow("1-4", ".0625", ".125", ".500"), PassRow("5", ".0625", ".125", ".625", "finish")),
    )
    face = CutCard(
        "Face .300 deep, 8-7/8 → 4-1/4",
        "120 rpm · .008 in/rev",
        (PassRow("1-5", ".060", ".060", ".300", "over the holes: go light"),),
    )
    plain = SettingCard(number, "A", "inside of the rim, weak side at full thickness", ("1187-1", "1187-2"),
                        "engine lathe, dial reads diameter", "bore true within .0005", (
                            StopSum(".020", ".008", ".012", ".010"),
                        ), (turn, face), "about 45 min", "1,200 rpm at most",
                        ("The facing tool passes four holes: the sound changes.",))  # fmt: skip
    return replace(plain, **told)


def kind(**told: object) -> TicketKind:
    plain = TicketKind(
        "Carriage reverse wheel, six-pocket", ("1187-1",), "six round pockets", ("four .530 holes", "hub long on B"),
        (("Carriage reverse wheel, eight-pocket", "eight round pockets"),), wheel(), removal(), (),
        ("Pocket edge at 1.0625 and 1.4375: keep .010 clear on both sides.",), ("the friction face",),
        (WebRow("Web", ".650 in · 16.51 mm", ".300 in · 7.62 mm", ".350 in · 8.89 mm", ".250 in"),),
        (("finish outside", "8.875 in"), ("web left", ".350 in"), ("bevels, four", "1/32 in"),
         ("keep-out untouched", "photo")),
        "2 Dec 2025: 8.4 lb off, 170 min", ("Jaw 3 slipped on paint: wipe the rim first.",),
    )  # fmt: skip
    return replace(plain, **told)


def ticket(**told: object) -> TicketSheet:
    pieces = (
        TicketPiece("1187-1", "six-pocket", "six round pockets", "carriage 2", "B3", "26.0 lb", "bench dial, halves",
                    "8.5 lb", "cracked: no; not looked: bent", ("key", "two set screws")),
        TicketPiece("1187-2", "eight-pocket", "eight round pockets", "their shelf", "B4", predicted="8.5 lb",
                    waived=("not weighed before", "no photo before")),
    )  # fmt: skip
    other = kind(name="Carriage reverse wheel, eight-pocket", pieces=("1187-2",), sign="eight round pockets",
                 twins=(("Carriage reverse wheel, six-pocket", "six round pockets"),), trouble=())  # fmt: skip
    plain = TicketSheet(
        letterhead(), PARTY, "1187", "2 reverse wheels", "2026-03-23", "WK", pieces, (kind(), other),
        (setting(), setting("2", side="B", hold="turned outside, seat on the fresh face")), f"{AT}/jobs/1187",
        "Turn and face both as last time, half of the web.", "2026-04-03", "2026-04-02", "PO-88", "+35 %, said T. S.",
        "job 1161", ("old chips in a bag",), WATCH, NOT_DONE, "Predicted 8.5 lb; this scale can judge it.",
    )  # fmt: skip
    return replace(plain, **told)


def label(**told: object) -> LabelSheet:
    one = ShelfLabel("1161-1", "Carriage reverse wheel, six-pocket", "six round pockets", "17.5 lb",
                     "scale shows halves of a pound", ("turned 8-7/8", "faced, web .350 left"), "2025-10-09",
                     "your shelf", f"{AT}/pieces/1161-1")  # fmt: skip
    two = replace(one, number="1161-2", sign="eight round pockets", weight="", address=f"{AT}/pieces/1161-2")
    plain = LabelSheet(letterhead(), PARTY, "1161", "2 reverse wheels", "2025-10-09", "WK", (one, two), NOT_DONE)
    return replace(plain, **told)


def spoiled(**told: object) -> SpoiledSheet:
    plain = SpoiledSheet(
        letterhead(), PARTY, "1174", "2 end plates", "2025-12-15", "WK", "1174-2", "End plate, cast",
        "The plate came out of the jaws at the last pass.\nA corner is broken off.", "15 Dec 2025 10:40", "WK",
        "setting 2, side B", "cracked: no; chipped: no", "$180.00", "the shop carries the risk",
        (SaidRow("15 Dec 2025 11:05", "WK", "Tovald Snickerby", "called", "He has another casting and brings it."),
         SaidRow("16 Dec 2025 09:10", "WK", "Tovald Snickerby", "called", "Labour for this one is dropped.")),
        "No labour is billed for 1174-2. The casting is his.", "Tovald Snickerby, 16 Dec 2025",
        (("labour for one end plate, taken back", "$107.50"), ("tax on it", "$6.72")),
        ("broken corner, front", "the jaws as they stood"),
        (KeptRow("before", "14.5 lb", "bench dial, halves", "12 Dec 2025, WK"),
         KeptRow("before", "41.5 lb", "bench dial, halves", "12 Dec 2025, WK", "digits swapped")),
        (KeptRow("outside", "7.375 in", "caliper", "15 Dec 2025, WK"),), "on the shelf under the window",
        NOT_DONE, f"{AT}/pieces/1174-2",
    )  # fmt: skip
    return replace(plain, **told)


def blank(**told: object) -> BlankSheet:
    plain = BlankSheet(
        letterhead(), "2026-03-31", "WK", 2, tuple(word for word, _ in LOOKED),
        ("bench dial: halves of a pound to 50 lb", "counter: 5 g to 15 kg"), WATCH,
        ("Pieces are kept 60 days after they are ready; then we write.",), NOT_DONE,
    )  # fmt: skip
    return replace(plain, **told)

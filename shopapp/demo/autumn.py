"""The jobs of the story's first quarter, 1161 to 1175."""

from shopapp.demo.rows import Also, ExtraTyped, JobRow, LineTyped, Paid, PieceRow, Price, Struck
from shopapp.office.runcard import CardTyped

WHEEL, CARRIER = Price((30, 30, 55)), Price((20, 20, 20))
COLLAR, PLATE, HEAD = Price((30, 20, 20)), Price((45, 45, 30)), Price((30, 20, 25))
SHEAVE, SLEEVE, COUPLING = Price((20, 15, 20)), Price((35, 25, 30)), Price((30, 25, 20))

WHEEL_CARD = CardTyped((), ".020", ".008", "", ".060", ".010", "250", ".006")
"""Back-off, extra feed, no least of its own, most per pass, last pass, cutting speed, feed."""

JOBS = (
    JobRow(
        1161, "C1", "2 reverse wheels, lighten rim and back", "2025-10-02",
        "two wheels, six-pocket for carriage 2, eight-pocket for our shelf",
        (PieceRow("RW-6", "carriage 2", "26", "17.5", "DIAL"), PieceRow("RW-8", "", "26.5", "18", "DIAL")),
        price=WHEEL, quoted="2025-10-02", agreed="2025-10-03", promised="2025-10-08", place="B3", came="2025-10-03",
        cut="2025-10-06", done="2025-10-07", gone="2025-10-09", billed="2025-10-09", spent=182, run=True,
        paid=(Paid("2025-11-04", "293.25", "cheque"),),
        also=(Also("2025-10-03", "size", {"n": 1, "name": "web", "typed": ".650", "instrument": "dial caliper"}, 14),
              Also("2025-10-06", "plan", {
                  "machine": "16 in lathe", "card": WHEEL_CARD, "holds": {
                      "A": "in the bore of the rim, hub end in", "B": "on the turned rim, back in"}}, 8, 20),
              Also("2025-10-06", "true", {"n": 1, "setting": 1, "stage": "found", "diameter": "9.0", "readings": {
                  "outside": "0 +52 +88 +40", "face": "0 +14 +30 +18"}}, 8, 25),
              Also("2025-10-06", "true", {"n": 1, "setting": 1, "stage": "left", "diameter": "9.0", "readings": {
                  "outside": "0 +2 +3 +1", "face": "0 +1 +3 +2"}}, 8, 40),
              Also("2025-10-06", "run", {"n": 1, "setting": 1}, 8, 45),
              Also("2025-10-06", "run_done", {"n": 1, "setting": 1}, 9, 40),
              Also("2025-10-06", "true", {"n": 2, "setting": 1, "stage": "found", "readings": {
                  "outside": "0 -35 -61 -24"}}, 15, 0),
              Also("2025-10-06", "true", {"n": 2, "setting": 1, "stage": "left", "readings": {
                  "outside": "0 -1 -3 -2"}}, 15, 8),
              Also("2025-10-06", "run", {"n": 2, "setting": 1}, 15, 10),
              Also("2025-10-06", "run_done", {"n": 2, "setting": 1}, 16, 0),
              Also("2025-10-07", "run", {"n": 1, "setting": 2}, 8, 30),
              Also("2025-10-07", "run_done", {"n": 1, "setting": 2}, 9, 12),
              Also("2025-10-07", "run", {"n": 2, "setting": 2}, 9, 20),
              Also("2025-10-07", "run_done", {"n": 2, "setting": 2}, 9, 55),
              Also("2025-10-09", "labels", {}, 15, 50)),
    ),
    JobRow(
        1162, "C2", "skim one 10 inch ink disc", "2025-10-06", "prints grey on one side",
        (PieceRow("ID-10", "press", "5015", "4735", "CNTR", Struck(
            "before", "DIAL", "11.0", "scale too coarse for 0.61 lb, weighed again on the counter scale")),),
        price=Price((25, 0, 20)), quoted="2025-10-06", agreed="2025-10-06", promised="2025-10-10", place="A1",
        came="2025-10-07", cut="2025-10-08", done="2025-10-08", gone="2025-10-10", billed="2025-10-10", spent=40,
        paid=(Paid("2025-10-10", "68.53", "cash"),),
    ),
    JobRow(
        1163, "C3", "open seats of 4 bearing carriers for a larger bearing", "2025-10-09",
        "seat is 62 mm now, the new bearing is 72; casting is in inches, seat in mm",
        (PieceRow("BC-T", "auger 1", "5925", "5785"), PieceRow("BC-T", "auger 2", "5920", "5780"),
         PieceRow("BC-S", "auger 3", "5220", "5075"), PieceRow("BC-S", "", "5225", "5085")),
        price=CARRIER, quoted="2025-10-09", agreed="2025-10-10", how="in_writing", order="FG-2291",
        promised="2025-10-17", place="C1", came="2025-10-13", cut="2025-10-15", done="2025-10-16", gone="2025-10-17",
        billed="2025-10-17", spent=171, paid=(Paid("2025-11-28", "263.50", "transfer", "November statement"),),
        also=(Also("2025-11-25", "statement"),),
    ),
    JobRow(
        1164, "C4", "bring a counterweight to 3.500 kg", "2025-10-14", "as near 3.500 kg as the counter scale shows",
        (PieceRow("CW-P", "telescope", "4200", "3495"),), price=Price((35, 0, 25)), quoted="2025-10-14",
        agreed="2025-10-15", promised="2025-10-20", place="A2", came="2025-10-15", cut="2025-10-16", done="2025-10-17",
        gone="2025-10-20", billed="2025-10-20", spent=55,
        paid=(Paid("2025-10-15", "34.40", "card", "deposit"), Paid("2025-10-20", "56.98", "card")),
    ),
    JobRow(
        1165, "C5", "bore 2 plow swivel collars", "2025-10-20", "bushes are worn, next size up",
        (PieceRow("SC-L", "truck 14", "10", "9.5", "DIAL"), PieceRow("SC-R", "truck 14", "10", "9.5", "DIAL")),
        price=COLLAR, quoted="2025-10-20", agreed="2025-10-20", how="in_writing", order="TC-5510",
        promised="2025-10-24", place="B1", came="2025-10-21", cut="2025-10-22", done="2025-10-23", gone="2025-10-24",
        billed="2025-10-24", spent=84, paid=(Paid("2025-12-05", "129.00", "cheque"),),
    ),
    JobRow(
        1166, "C6", "skim winch drum end plate, rush", "2025-10-23", "boat goes out tomorrow",
        (PieceRow("WF-L", "hoist 3", "52.8", "49.6", "PLAT"),), price=PLATE, rush=True, quoted="2025-10-23",
        agreed="2025-10-23", promised="2025-10-24", place="floor", came="2025-10-23", cut="2025-10-23",
        done="2025-10-24", gone="2025-10-24", billed="2025-10-24", spent=80,
        paid=(Paid("2025-11-20", "154.20", "transfer"),),
    ),
    JobRow(
        1167, "C7", "recess 2 wheel heads", "2025-10-28", "new bats sit too high",
        (PieceRow("PH-2", "wheel 4", "9", "7", "DIAL"), PieceRow("PH-3", "", "9", "7", "DIAL")), price=HEAD,
        quoted="2025-10-28", agreed="2025-10-29", promised="2025-11-05", place="B2", came="2025-10-30",
        cut="2025-10-31", done="2025-11-03", gone="2025-11-05", billed="2025-11-05", spent=96,
        paid=(Paid("2025-12-02", "143.33", "cheque"),),
    ),
    JobRow(
        1168, "C8", "make 2 pump sleeves from bar", "2025-11-03", "same as the drawing you have, one of each",
        (PieceRow("PS-P", "pump A", "1015", "420", gone="2025-11-12"), PieceRow("PS-S", "", "1015", "225")),
        price=SLEEVE, extras=(ExtraTyped("bar, 304, 6.5 in", "1", "31.00"),), quoted="2025-11-03",
        agreed="2025-11-04", promised="2025-11-11", place="A4", came="2025-11-06", cut="2025-11-07",
        done="2025-11-10", gone="2025-11-19", billed="2025-11-12", spent=140,
        paid=(Paid("2025-12-08", "215.69", "transfer"),),
    ),
    JobRow(
        1169, "C10", "turn a gate-post cap", "2025-11-05", "brass cap, wants it to look old", count=1,
        price=Price((35, 0, 25)), quoted="2025-11-05",
        also=(Also("2025-11-05", "turn_down"),
              Also("2025-11-05", "end", {"how": "not_taken_up", "reason": "said the price was too much"}, 11, 5)),
    ),
    JobRow(
        1170, "C1", "1 reverse wheel, same as last time", "2025-11-12", "same as 1161",
        (PieceRow("RW-6", "", "26", "17.5", "DIAL"),), price=WHEEL, quoted="2025-11-12", agreed="2025-11-12",
        promised="2025-11-17", place="B3", came="2025-11-13", cut="2025-11-14", done="2025-11-14", gone="2025-11-17",
        billed="2025-11-17", spent=78, paid=(Paid("2025-12-12", "146.63", "cheque"),),
    ),
    JobRow(
        1171, "C9", "re-turn grooves of 3 head-block sheaves", "2025-11-18", "rope rides on the flanks",
        (PieceRow("HS-I", "line 2", "5600", "5400"), PieceRow("HS-I", "line 3", "5590", "5390"),
         PieceRow("HS-I", "line 4", "910", "880")), price=SHEAVE, quoted="2025-11-18", agreed="2025-11-19",
        promised="2025-11-25", place="C2", came="2025-11-20", cut="2025-11-21", done="2025-11-24", gone="2025-11-25",
        billed="2025-11-25", spent=104, paid=(Paid("2025-11-25", "167.52", "card"),),
        also=(Also("2025-11-20", "sign", {
            "n": 3, "variant": "HS-N", "note": "logged as iron; weighed 0.91 kg where iron should be 5.6 kg: "
            "material put right before cutting"}, 14), Also("2025-11-20", "cuts", {"variant": "HS-N"}, 14, 10)),
    ),
    JobRow(
        1172, "C3", "2 coupling halves, clear the guard", "2025-11-24", "28 mm bore, or 1-1/8? both said on the phone",
        (PieceRow("CH-28", "pump 1", "2265", "1930"), PieceRow("CH-118", "", "2245", "1910")), price=COUPLING,
        quoted="2025-11-24", agreed="2025-11-25", order="FG-2307", promised="2025-12-04", place="A3",
        came="2025-11-26", cut="2025-12-02", done="2025-12-03", gone="2025-12-04", billed="2025-12-04", spent=90,
        paid=(Paid("2026-01-06", "144.68", "transfer"),),
        also=(Also("2025-11-26", "size", {
            "n": 1, "name": "bore", "typed": "28.00 mm", "instrument": "digital caliper"}, 14),
              Also("2025-11-26", "size", {
                  "n": 2, "name": "bore", "typed": "1-1/8", "instrument": "digital caliper"}, 14, 5),
              Also("2025-11-26", "stop", {
                  "waits_for": "customer", "ask_again_on": "2025-12-01", "photo_of": 1,
                  "question": "One bore is 28.00 mm, the other 1-1/8 in (28.575 mm). You said two alike. Which "
                  "pump is which?"}, 14, 15),
              Also("2025-11-28", "answer", {"words": "28 mm is pump 1, the inch one is for the old pump, our shelf"})),
    ),
    JobRow(
        1173, "C2", "skim one 12 inch ink disc", "2025-12-01", "same as the small one",
        (PieceRow("ID-12", "press", "7885", "7485"),), price=Price((30, 0, 20)), quoted="2025-12-01",
        agreed="2025-12-02", promised="2025-12-09", place="shelf 2", came="2025-12-03", cut="2025-12-05",
        done="2025-12-08", called="", billed="2025-12-08", spent=47,
        also=(Also("2025-12-08", "call", {"outcome": "message", "words": "ready since today",
                                          "next_on": "2025-12-19"}, 16, 30),
              Also("2025-12-19", "call", {"outcome": "no_answer", "next_on": "2026-01-20"}),
              Also("2026-01-20", "call", {"outcome": "told", "whom": "Ilsabet Plumwick", "words": "will come by",
                                          "next_on": "2026-02-16"}),
              Also("2026-02-03", "remind"), Also("2026-02-16", "ready_letter")),
    ),
    JobRow(
        1174, "C6", "skim 2 winch drum end plates", "2025-12-08", "both sides of hoist 1",
        (PieceRow("WF-L", "hoist 1", "53.8", "50.4", "PLAT"),
         PieceRow("WF-R", "hoist 1", "53", "", "PLAT", until="spoiled",
                  why="tool dug into the rope-anchor slot edge; stopped, called same hour",
                  settled=("right-hand plate spoiled; we buy the replacement", "labour for it taken back; replacement "
                           "casting, $310.00, bought by the shop and not billed"))),
        price=PLATE, quoted="2025-12-08", agreed="2025-12-09", promised="2025-12-15", place="floor",
        came="2025-12-10", cut="2025-12-11", done="2025-12-12", gone="2025-12-15", billed="2025-12-15", spent=138,
        lines=(LineTyped("bench time 150 min at $86.00/h", "150 min", "86.00"),),
        paid=(Paid("2026-01-12", "114.22", "transfer"),),
        also=(Also("2025-12-11", "trouble", {"n": 2, "words": "tool dug into the edge of the rope-anchor slot: the "
                                             "slot is blind, mark where it ends before the face cut"}, 8, 59),
              Also("2025-12-11", "record", {"n": 2}, 10),
              Also("2025-12-15", "credit", {"amount": "107.50", "reason": "spoiled plate, labour taken back"}, 16, 10)),
    ),
    JobRow(
        1175, "C4", "second counterweight with collar, match the first", "2025-12-15",
        "must match the first, ticket 1164, within 5 g", (PieceRow("CW-C", "telescope", "4370", "3500"),),
        price=Price((40, 0, 25)), quoted="2025-12-15", agreed="2025-12-16", promised="2025-12-22", place="A2",
        came="2025-12-17", cut="2025-12-18", done="2025-12-19", gone="2025-12-22", billed="2025-12-22", spent=66,
        paid=(Paid("2025-12-16", "37.27", "card", "deposit"), Paid("2025-12-22", "61.72", "card")),
    ),
)  # fmt: skip

"""What can be, of a weight that is to be written down: in its order, on its scale, of a piece that is here and that
does not grow.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from shopapp.bench import quantities
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.shopbook import ScaleFacts
from shopapp.office.tables.jobs import Piece
from shopapp.office.tracks import said

ORDER = ("before", "between", "after")
"""The phases as they follow each other."""
LATE = "entered late, "
"""How the note of a reading begins that was taken before it was entered; what the person wrote follows."""


@dataclass(frozen=True)
class Known:
    """A reading that stands: its phase, what it weighed [g], how that is said, and the scale as it was then."""

    phase: str
    grams: float
    text: str
    unit: str
    division: str
    scale_id: int
    scale: str


def fits(
    phase: str, piece: Piece, standing: Sequence[Known], scale: ScaleFacts, *, note: str, read_at: datetime
) -> None:
    """Refuse a reading out of its order, on another scale without a word, or of a piece that is not here."""
    before = next((r for r in standing if r.phase == "before"), None)
    if phase not in ORDER:
        raise TryAgain({"phase": "Say whether this is before, between or after the cuts."})
    was_here(piece, note=note, read_at=read_at)
    if phase != "between" and any(r.phase == phase for r in standing):
        raise TryAgain({"reading": f"The weight {phase} is written down. Strike it through first, with a reason."})
    if phase == "before" and piece.custody != "rack" and not note.strip():
        raise TryAgain({"note": "The first chip has been cut. Say why the weight before is written only now."})
    if phase == "before":
        return
    if before is None:
        raise TryAgain({"reading": "There is no weight before, so nothing can be taken from it. Weigh in first."})
    if before.scale_id != scale.id and not note.strip():
        raise TryAgain({"note": f"It was weighed in on {before.scale}. Use the same scale, or say why not."})


def grew(phase: str, grams: float, standing: Sequence[Known]) -> str:
    """A piece only gets lighter by cutting: the question where a reading says otherwise, or an empty text."""
    place = ORDER.index(phase)
    sooner, later = [], []
    for row in standing:
        at = ORDER.index(row.phase)
        if at < place or row.phase == phase == "between":
            sooner.append(row)
        elif at > place:
            later.append(row)
    light = min(sooner, key=lambda row: row.grams, default=None)
    heavy = max(later, key=lambda row: row.grams, default=None)
    if light and grams > light.grams:
        return _asked(light, "Heavier by", grams)
    if heavy and grams < heavy.grams:
        return _asked(heavy, "It would have grown by", grams)
    return ""


def _asked(known: Known, grew_by: str, grams: float) -> str:
    when = "between the cuts" if known.phase == "between" else known.phase
    apart = quantities.show_mass(abs(grams - known.grams), known.unit, len(known.division.partition(".")[2]))
    return f"It weighed {known.text} {when}. {grew_by} {apart}: other piece, other scale, or not zero?"


def was_here(piece: Piece, *, note: str, read_at: datetime) -> None:
    """A piece that is not here is not weighed; what was read while it was here is entered late, with a note."""
    if piece.custody == "expected":
        raise InTheWay("This piece is not here yet. Take it in first: look at its sign.")
    if piece.custody != "gone":
        return
    where = f"This piece is not here: {said(piece.custody, piece.fate)}."
    if piece.fate == "not_come":
        raise InTheWay(where)
    if read_at >= piece.moved_at:
        raise TryAgain({"at": f"{where} Was it weighed while it was here? Write when it was read."})
    if not (note.partition("; ")[2] if note.startswith(LATE) else note).strip():
        raise TryAgain({"note": f"{where} Write where this reading was kept until now."})

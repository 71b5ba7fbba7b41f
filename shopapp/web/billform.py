"""The form of a bill: its rows of lines, its ticks, and for which ticks the lines were drawn.

Lines are drawn for the pieces that are ticked. When ticks change, lines that nobody has touched are drawn anew; lines
that somebody has changed stay as typed, and the bill is not issued by them until it was shown once with what they were
drawn for. So no piece is paid for by the lines of others without being seen.
"""

import re

from shopapp.office import invoices, jobs
from shopapp.office.errors import TryAgain
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.jobs import JobFacts
from shopapp.web.desk import Desk
from shopapp.web.forms import Form

MOST_ROWS = 60
LINE = ("words", "quantity", "price")
DRAWN_FOR = "drawn_for"


def first(desk: Desk, job: JobFacts) -> Form:
    """The draft as a form shows it first: every billable piece ticked, the lines of the agreed quote."""
    typed = {f"piece_{piece.n}": "yes" for piece in invoices.to_bill(desk.db, job.id)}
    return drawn(desk, job, Form(typed={"order_number": job.order_number, **typed}))


def drawn(desk: Desk, job: JobFacts, form: Form) -> Form:
    """The form with the lines drawn for its ticks, and all else as typed."""
    kept = {name: text for name, text in form.typed.items() if not name.startswith("line_") and name != "more"}
    for i, line in enumerate(_draft(desk, job, _ticks(desk, job, form))):
        kept |= {f"line_{i}_{part}": getattr(line, part) for part in LINE}
    kept[DRAWN_FOR] = _ticks(desk, job, form)
    return Form(typed=kept, problems=form.problems, once=form.once)


def drawn_anew(desk: Desk, job: JobFacts, form: Form) -> tuple[bool, Form]:
    """Whether the lines fit the ticks, and the form: drawn anew where nobody has touched the lines."""
    if _fit(desk, job, form):
        return True, form
    return (True, drawn(desk, job, form)) if _untouched(desk, job, form) else (False, form)


def check_ticks(desk: Desk, job: JobFacts, form: Form) -> None:
    """Refuse lines that were drawn for other pieces than those that are ticked. They are drawn anew; or, where
    somebody has typed in them, they are shown once more as they are, and then they are meant."""
    if not _ticks(desk, job, form) or _fit(desk, job, form):
        return
    numbers = [f"{job.no}-{n}" for n in form[DRAWN_FOR].split(",") if n]
    were = f"The lines were drawn for {', '.join(numbers) if numbers else 'no piece'}, and the ticks say otherwise."
    if _untouched(desk, job, form):
        form.typed = drawn(desk, job, form).typed
        raise TryAgain({"pieces": f"{were} They are drawn anew for the ticks now: look at them, and issue."})
    form.typed[DRAWN_FOR] = _ticks(desk, job, form)
    raise TryAgain({"pieces": f"{were} You have changed them, so they stay: look whether they fit, and issue."})


def ticked(desk: Desk, job: JobFacts, form: Form) -> list[int]:
    """The rows of the pieces that are ticked."""
    return [piece.id for piece in jobs.pieces(desk.db, job.id) if form.ticked(f"piece_{piece.n}")]


def _ticks(desk: Desk, job: JobFacts, form: Form) -> str:
    """The numbers of the pieces that are ticked, as they stand beside the lines."""
    return ",".join(str(piece.n) for piece in jobs.pieces(desk.db, job.id) if form.ticked(f"piece_{piece.n}"))


def _draft(desk: Desk, job: JobFacts, numbers: str) -> list[LineTyped]:
    named = numbers.split(",")
    ids = [piece.id for piece in jobs.pieces(desk.db, job.id) if str(piece.n) in named]
    return invoices.draft_lines(desk.db, job.id, now=desk.now, piece_ids=ids)


def _fit(desk: Desk, job: JobFacts, form: Form) -> bool:
    """Whether the lines were drawn for these ticks, or would be the same."""
    ticks, drawn_for = _ticks(desk, job, form), form.typed.get(DRAWN_FOR)
    return drawn_for in (None, ticks) or _draft(desk, job, drawn_for) == _draft(desk, job, ticks)


def _untouched(desk: Desk, job: JobFacts, form: Form) -> bool:
    return lines(form) == _draft(desk, job, form[DRAWN_FOR])


def lines(form: Form) -> list[LineTyped]:
    """The lines as typed, the last rows that are empty left out."""
    for name in form.typed:
        form.words(name)
    return [LineTyped(*(form[f"line_{i}_{part}"].strip() for part in LINE)) for i in range(_rows(form))]


def _rows(form: Form) -> int:
    """How many rows are typed into, counted to the last that is not empty."""
    hits = ((re.fullmatch(r"line_(\d{1,2})_\w+", name), name) for name in form.typed)
    found = [int(hit[1]) for hit, name in hits if hit and form[name].strip()]
    return min(max(found, default=-1) + 1, MOST_ROWS)


def shown_rows(form: Form) -> range:
    """The rows to show: those typed into and an empty one, and one more where it was asked for."""
    sent = sum(name.startswith("line_") and name.endswith("_words") for name in form.typed)
    more = sent + 1 if form["more"] == "line" else 0
    return range(min(max(_rows(form) + 1, 2, more), MOST_ROWS))

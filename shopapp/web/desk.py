"""What a route works with: the book, who acts, what time it is, and how a form is taken in."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from typing import Annotated, Any, BinaryIO
from urllib.parse import quote, unquote, urlsplit

from fastapi import Depends, Request
from fastapi.responses import RedirectResponse, Response
from markupsafe import Markup
from starlette.datastructures import FormData, UploadFile

from shopapp.bench.errors import BenchError
from shopapp.office import history, once, people
from shopapp.office.database import Database, Session
from shopapp.office.errors import InTheWay, NewShop, TakenIn, TryAgain
from shopapp.office.people import Hand
from shopapp.office.shopbook import ShopFacts
from shopapp.web.forms import Form
from shopapp.web.render import fragment, page
from shopapp.web.sending import AHEAD, LATE, may_wait, sent_by, waited
from shopapp.web.wall import Wall

WHO = "who"


@dataclass
class Desk:
    """One request's desk. `db` only reads; writing happens in `submit`, in one transaction.

    `now` is the hour of the act; `came` is that of its coming here, later where a sending waited for the network.
    """

    request: Request
    database: Database
    db: Session
    now: datetime
    came: datetime

    @property
    def who(self) -> Hand | None:
        """The person whose initials this browser keeps, or kept when a sending began to wait."""
        told = sent_by(self.request.headers) if may_wait(self.request.scope) else ""
        mark = told or self.request.cookies.get(WHO, "")
        return people.by_initials(self.db, mark) if mark else None

    @property
    def by(self) -> int:
        """The row of the person who acts; refused while nobody has said who they are."""
        who = self.who
        if who is None:
            raise TryAgain("Say who you are first: choose your initials in the title block below.")
        return who.id

    def url(self, name: str, **path: object) -> str:
        """The path of a route."""
        return str(self.request.app.url_path_for(name, **path))

    @property
    def origin(self) -> str:
        """Where this browser reaches the app, for codes on papers: "http://bench.shop:8000"."""
        return f"{self.request.url.scheme}://{self.request.url.netloc}"

    @property
    def shop(self) -> ShopFacts:
        """The shop's facts; refused while the book is empty."""
        facts = self.wall.facts()
        if facts is None:
            raise NewShop
        return facts

    @property
    def wall(self) -> Wall:
        """What hangs on the wall for every page: the shop's facts."""
        wall: Wall = self.request.app.state.wall
        return wall

    @property
    def today(self) -> date:
        """The calendar day on the shop's wall."""
        return self.shop.today(self.now)

    def page(
        self, template: str, *, sheet: str = "", here: str = "sheet", job_no: int | None = None, status: int = 200,
        **context: Any,
    ) -> Response:  # fmt: skip
        """A whole page in its title block; `sheet` names it there, `job_no` is the job at hand."""
        frame = replace(self.wall.framed(self.request), sheet=sheet, here=here)
        if job_no is not None:
            frame = replace(frame, job=str(job_no), job_url=self.url("jobs.page", no=job_no))
        told = {} if AHEAD in self.request.headers else self.request.cookies
        notice, saved = (unquote(told.get(name, "")) for name in ("notice", "saved"))
        answer = page(
            self.request, template, status, frame=frame, today=self.today, shop=self.shop, notice=notice, saved=saved,
            **context,
        )  # fmt: skip
        for name, value in (("notice", notice), ("saved", saved)):
            if value:
                answer.delete_cookie(name)
        return answer

    def fragment(self, template: str, block: str, **context: Any) -> Response:
        """A named block of a page, for a live answer."""
        return fragment(self.request, template, block, today=self.today, shop=self.shop, **context)

    def submit(
        self, form: Form, act: Callable[[Session, int], str], again: Callable[[], Response],
        notice: str | Callable[[], str] = "",
    ) -> Response:  # fmt: skip
        """Take a form in: `act(session, by)` does it and gives where to go on; a refusal shows `again()`.

        The same form twice is done once. What the form can mend comes back with 422 and all typed text; a form that was
        taken in already with something else in it comes back with 409 and a key of its own.
        `notice` is told on the next page; it is asked for only when the form was taken in. Photos are read and made
        small first: one writer is let in at a time, and none waits for another's photos.
        """
        try:
            by, content = self.by, form.content
            form.make_small()
            with self.database.writing() as db:
                if self.came - self.now >= LATE:
                    history.entered_late(db, self.came)
                leads_to = self._taken_in(db, form, content, act, by)
        except (TryAgain, InTheWay, BenchError) as refusal:
            form.take(self._told(refusal, form))
            answer = again()
            answer.status_code = 409 if isinstance(refusal, InTheWay) else 422
            return answer
        self.wall.forget()
        return self.lead_on(leads_to, form, notice() if callable(notice) else notice)

    def _taken_in(
        self, db: Session, form: Form, content: str, act: Callable[[Session, int], str], by: int
    ) -> str:  # fmt: skip
        """Where a form leads, done now or done before; its key counts for the address to which it is sent."""
        form_key = f"{form.once} {self.request.url.path}"
        leads_to = once.led_to(db, form_key, content=content)
        if leads_to is None:
            leads_to = act(db, by)
            once.keep(db, form_key, content=content, leads_to=leads_to, now=self.came)
        return leads_to

    def _told(self, refusal: Exception, form: Form) -> TryAgain:
        """A refusal as sentences beside the fields, or for the whole form."""
        if isinstance(refusal, TryAgain):
            return refusal
        if not isinstance(refusal, TakenIn):
            return TryAgain(str(refusal))
        form.anew()
        words = Markup(
            "This form was taken in already, {}. If something in it was wrong, put it right where it stands now; to "
            'send what stands here as another, press again. <a href="{}">Look at what it made</a>'
        )
        return TryAgain(words.format(self.wall.moment(refusal.at), refusal.leads_to))

    def stale(self, db: Session, form: Form, piece_id: int, by: int) -> None:
        """Refuse a form that has not seen what somebody else wrote of the piece meanwhile; once, not twice."""
        seen = form["seen"]
        if not (seen.isdecimal() and len(seen) < 12):
            return
        lines = history.of_piece_since(db, piece_id, int(seen), but_by=by)
        if lines:
            told = "; ".join(f"{line.initials} at {self.wall.moment(line.at)}: {line.words}" for line in lines[:3])
            form.stale = f"{told}. Look at it, then send yours all the same, or leave it."
            raise InTheWay(form.stale)

    def lead_on(self, to: str, form: Form | None = None, notice: str = "") -> Response:
        """Go on to a page of our own, telling it which form is safely in the book."""
        answer = RedirectResponse(to, status_code=303)
        if form is not None and (keep := form["keep"]):
            # The page's script reads it where the way back from a paper leads to a page that is not asked for anew.
            answer.set_cookie("saved", quote(keep), max_age=3600, samesite="lax")
        if notice:
            answer.set_cookie("notice", quote(notice), max_age=60, samesite="lax", httponly=True)
        return answer

    def back(self, fallback: str = "/") -> str:
        """The page of this app that the person came from."""
        came = urlsplit(self.request.headers.get("referer", ""))
        return came.path if came.path.startswith("/") and came.netloc == self.request.url.netloc else fallback


def _database(request: Request) -> Database:
    database: Database = request.app.state.database
    return database


def _desk(request: Request) -> Iterator[Desk]:
    database = _database(request)
    clock: Callable[[], datetime] = request.app.state.clock
    with database.reading() as db:
        came = clock()
        yield Desk(request, database, db, came - waited(request.headers) if may_wait(request.scope) else came, came)


async def _form(request: Request) -> AsyncIterator[Form]:
    async with request.form(max_files=200, max_fields=2000) as sent:
        texts = {name: value for name, value in sent.items() if isinstance(value, str)}
        lists = {name: [v for v in sent.getlist(name) if isinstance(v, str)] for name in texts}
        files = {name: _files(sent, name) for name in sent if name not in texts}
        form = Form(typed=texts, lists=lists, files={name: some for name, some in files.items() if some})
        form.once = texts.pop("once", "") or form.once
        yield form


def _files(sent: FormData, name: str) -> list[BinaryIO]:
    """The files sent under a name; a field in which none was chosen is sent as one of no bytes."""
    return [one.file for one in sent.getlist(name) if isinstance(one, UploadFile) and one.size]


def _asked(request: Request) -> Form:
    query = request.query_params
    return Form(typed=dict(query), lists={name: query.getlist(name) for name in query})


def utc_now() -> datetime:
    """The time, aware."""
    return datetime.now(UTC)


At = Annotated[Desk, Depends(_desk)]
Sent = Annotated[Form, Depends(_form)]
Asked = Annotated[Form, Depends(_asked)]

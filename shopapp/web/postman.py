"""The postman: takes letters from the outbox to the shop's mail server, one at a time, and writes down how it went."""

import logging
import smtplib
import ssl
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from email.message import EmailMessage
from email.utils import format_datetime
from typing import Any
from urllib.parse import SplitResult, unquote, urlsplit

from shopapp.office import mail, papers
from shopapp.office.database import Database
from shopapp.office.mail import Letter

PORTS = {"smtp": 25, "smtp+starttls": 587, "smtps": 465}
PAUSE = 20.0
"""Seconds between two looks into the outbox."""
PATIENCE = 30.0
"""Seconds that a mail server may take to answer."""
log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Enclosed:
    """A paper as it is enclosed: the name of its file and its bytes."""

    name: str
    pdf: bytes


class Server:
    """The shop's mail server by its address: smtp://, smtp+starttls:// or smtps://, name:password@ where it asks."""

    def __init__(self, url: str, sender: str) -> None:
        parts = urlsplit(url)
        if parts.scheme not in PORTS or not parts.hostname:
            raise ValueError("Write the mail server as smtp://host, smtp+starttls://host or smtps://host.")
        self.sender = mail.address(sender)
        self._parts = parts

    def send(self, letter: Letter, enclosed: Enclosed | None, now: datetime) -> None:
        """Hand one letter over; raises what smtplib raises, or OSError, where it was not taken."""
        with _connected(self._parts) as server:
            server.send_message(message(letter, enclosed, self.sender, now))


def message(letter: Letter, enclosed: Enclosed | None, sender: str, now: datetime) -> EmailMessage:
    """A letter as mail: plain words, and the paper as PDF."""
    made = EmailMessage()
    made["From"], made["To"], made["Subject"] = sender, letter.to_address, letter.subject
    made["Message-ID"], made["Date"] = letter.message_id, format_datetime(now)
    made.set_content(letter.body or letter.subject)
    if enclosed:
        made.add_attachment(enclosed.pdf, maintype="application", subtype="pdf", filename=enclosed.name)
    return made


def _connected(parts: SplitResult) -> smtplib.SMTP:
    host, port = parts.hostname or "", parts.port or PORTS[parts.scheme]
    if parts.scheme == "smtps":
        server: smtplib.SMTP = smtplib.SMTP_SSL(host, port, timeout=PATIENCE, context=ssl.create_default_context())
    else:
        server = smtplib.SMTP(host, port, timeout=PATIENCE)
    try:
        if parts.scheme == "smtp+starttls":
            server.starttls(context=ssl.create_default_context())
        if parts.username:
            server.login(unquote(parts.username), unquote(parts.password or ""))
    except BaseException:
        server.close()
        raise
    return server


def go_round(
    database: Database, server: Server, enclose: Callable[[Letter], Enclosed | None], clock: Callable[[], datetime]
) -> int:
    """Send every letter whose time has come; gives how many were taken."""
    with database.reading() as db:
        letters = mail.due(db, now=clock())
    return sum(_carry(database, server, enclose, clock, letter) for letter in letters)


def _carry(
    database: Database, server: Server, enclose: Callable[[Letter], Enclosed | None], clock: Callable[[], datetime],
    letter: Letter,
) -> bool:  # fmt: skip
    with database.writing() as db:
        if not mail.claim(db, letter_id=letter.id, now=clock()):
            return False
    try:
        server.send(letter, enclose(letter), clock())
    except Exception as fault:  # whatever keeps a letter here is written on it, for the person to read
        with database.writing() as db:
            mail.failed(db, letter_id=letter.id, fault=_said(fault), now=clock(), for_good=_hopeless(fault))
        return False
    with database.writing() as db:
        mail.sent(db, letter_id=letter.id, now=clock())
    return True


def _hopeless(fault: Exception) -> bool:
    """Whether the server refused for good (RFC 5321, 4.2.1: replies of 500 and up)."""
    if isinstance(fault, smtplib.SMTPRecipientsRefused):
        return all(code >= 500 for code, _ in fault.recipients.values())
    return isinstance(fault, smtplib.SMTPDataError | smtplib.SMTPSenderRefused) and fault.smtp_code >= 500


def _said(fault: Exception) -> str:
    if isinstance(fault, smtplib.SMTPRecipientsRefused):
        return "; ".join(f"{code} {_text(said)}" for code, said in fault.recipients.values())
    if isinstance(fault, smtplib.SMTPResponseException):
        return f"{fault.smtp_code} {_text(fault.smtp_error)}"
    return str(fault) or type(fault).__name__


def _text(said: bytes | str) -> str:
    return said.decode("utf-8", "replace") if isinstance(said, bytes) else said


class Postman(threading.Thread):
    """Goes round until he is told to stop; a fault of one round is logged and does not end him."""

    def __init__(
        self, database: Database, server: Server, enclose: Callable[[Letter], Enclosed | None],
        clock: Callable[[], datetime], pause: float = PAUSE,
    ) -> None:  # fmt: skip
        super().__init__(name="postman", daemon=True)
        self._database, self._server, self._enclose, self._clock = database, server, enclose, clock
        self._pause, self._stop_now = pause, threading.Event()

    def run(self) -> None:
        """One round after another, with a pause between."""
        while not self._stop_now.is_set():
            try:
                go_round(self._database, self._server, self._enclose, self._clock)
            except Exception:
                log.exception("The postman's round was broken off.")
            self._stop_now.wait(self._pause)

    def stop(self) -> None:
        """End after the letter in hand."""
        self._stop_now.set()
        self.join(timeout=PATIENCE)


Presses = Mapping[str, tuple[str, Callable[[Any], bytes]]]
"""For each kind of paper its name on an envelope, and what makes it from its sheet."""


def start(
    database: Database, url: str | None, sender: str | None, presses: Presses, clock: Callable[[], datetime]
) -> Postman | None:
    """A postman on his rounds, or None where the shop has no mail server; ValueError where its address is none."""
    if not url:
        return None
    postman = Postman(database, Server(url, sender or ""), encloser(database, presses, clock), clock)
    postman.start()
    return postman


def encloser(database: Database, presses: Presses, clock: Callable[[], datetime]) -> Callable[[Letter], Enclosed]:
    """What puts a letter's paper into its envelope: the very bytes that the shop itself prints."""

    def enclose(letter: Letter) -> Enclosed:
        name, press = presses[letter.kind]
        with database.reading() as db:
            pdf, sheet = papers.pressed(db, letter.sha256), papers.by_hash(db, letter.sha256)
        if pdf is None:
            made = press(sheet)
            with database.writing() as db:
                papers.keep_pressed(db, letter.sha256, made, now=clock())
                pdf = papers.pressed(db, letter.sha256) or made
        return Enclosed(f"{name} {letter.number}.pdf", pdf)

    return enclose

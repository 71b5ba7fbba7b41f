"""Every verb of the office that changes something, with what it is told: a world for each to act on."""

import importlib
import inspect
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from sqlmodel import Session

from shopapp import office
from shopapp.office import (
    agreements,
    chuck,
    clock,
    condition,
    history,
    intake,
    invoices,
    mail,
    mishaps,
    parts,
    payments,
    photos,
    quotes,
    refunds,
    shelf,
    sizes,
    together,
)
from shopapp.office import credits as notes
from shopapp.office.drawing import CutsTyped, Typed
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.jobs import JobFacts, PieceAsk
from shopapp.office.runcard import CardTyped
from shopapp.office.truing import TruingTyped
from tests import cast, makers
from tests.makers import AN_HOUR, Shop

LATER = cast.NOON + timedelta(hours=1)


def verbs() -> dict[str, Callable[..., Any]]:
    """Every public function of the office that is told when and by whom."""
    found: dict[str, Callable[..., Any]] = {}
    for module in pkgutil.iter_modules(office.__path__):
        room = importlib.import_module(f"{office.__name__}.{module.name}")
        for name, function in inspect.getmembers(room, inspect.isfunction):
            mine = function.__module__ == room.__name__ and not name.startswith("_") and room is not history
            if mine and {"now", "by"} <= set(inspect.signature(function).parameters):
                found[f"{module.name}.{name}"] = function
    return found


@dataclass
class World:
    """A shop with one job, for verbs to act on."""

    db: Session
    shop: Shop
    job: JobFacts

    @property
    def piece(self) -> int:
        """The first piece of the job."""
        return makers.pieces_of(self.db, self.job)[0].id

    @property
    def variant(self) -> int:
        """The plain plate."""
        return makers.the_plain_plate(self.db, self.shop)

    def taken_in(self) -> int:
        """The first piece, in the rack."""
        return makers.take_everything_in(self.db, self.shop, self.job)[0].id

    def bill(self) -> int:
        """An issued invoice."""
        lines = [LineTyped("work", "1", "10")]
        return invoices.issue(self.db, **self.done(), lines=lines, **self.shop.at())

    def done(self) -> dict[str, Any]:
        """A job that is to be billed."""
        return {"job_id": makers.done_job(self.db, self.shop).id}

    def written_off(self) -> int:
        """What was written off of an invoice."""
        notes.write_off(self.db, no=self.bill(), reason="closed down", **self.shop.at())
        return 1

    def given_back(self) -> int:
        """A deposit that was given back."""
        return refunds.give_back(self.db, payment_id=self.paid(), how="cash", reason="x", **self.shop.at())

    def both_in(self) -> list[int]:
        job = makers.make_job(self.db, self.shop)
        return [piece.id for piece in makers.take_everything_in(self.db, self.shop, job)]

    def joint(self) -> int:
        told = {"scale_id": self.shop.scales["spring"], "phase": "before", "typed": "53"}
        return together.weigh(self.db, piece_ids=self.both_in(), **told, **self.shop.at())

    def reading(self) -> int:
        """A weight before."""
        (piece, _) = makers.take_everything_in(self.db, self.shop, self.job)
        return makers.weigh(self.db, self.shop, piece, "before", "26.5")

    def draft(self) -> int:
        """A price sheet, drawn up."""
        return quotes.keep_draft(self.db, job_id=self.job.id, typed=AN_HOUR, **self.shop.at())

    def quoted(self) -> int:
        """An issued quote."""
        makers.quote(self.db, self.shop, self.job)
        return quotes.of_job(self.db, self.job.id)[0].id

    def repeat(self) -> int:
        """A job like the one that was quoted."""
        makers.quote(self.db, self.shop, self.job)
        return makers.make_job(self.db, self.shop).id

    def stop(self) -> int:
        """An open question."""
        verb = verbs()["questions.stop"]
        return verb(self.db, job_id=self.job.id, waits_for="customer", question="13 mm?", **self.shop.at())

    def checked(self) -> int:
        """The job with every piece checked; gives its row."""
        makers.cut(self.db, self.shop, self.agreed())
        return self.job.id

    def agreed(self) -> list[Any]:
        """The pieces of the job, in the rack and agreed."""
        makers.agree(self.db, self.shop, self.job)
        return makers.take_everything_in(self.db, self.shop, self.job)

    def running(self) -> int:
        """A clock on the job."""
        return clock.start(self.db, job_id=self.job.id, **self.shop.at())

    def cut_into(self) -> int:
        """The first piece, in the chuck."""
        piece_id = self.taken_in()
        intake.move(self.db, piece_id=piece_id, to="chuck", reason="x", **self.shop.at())
        return piece_id

    def spoiled(self) -> int:
        """The first piece, spoiled."""
        piece_id = self.cut_into()
        mishaps.spoil(self.db, piece_id=piece_id, story="x", **self.shop.at())
        return piece_id

    def back_on_the_bench(self) -> int:
        """A piece that lay on its customer's own shelf, and is here again."""
        told = self.for_their_shelf()
        makers.fetch(self.db, self.shop, makers.pieces_of(self.db, self.job)[0])
        return makers.pieces_of(self.db, self.job)[0].id if told else 0

    def bit(self) -> dict[str, Any]:
        """Something that came along, to be given back."""
        told = {"piece_id": self.piece, "lines": ["key"]}
        return {"piece_ids": [self.piece], "bit_ids": condition.add_bits(self.db, **told, **self.shop.at())}

    def bevelled(self) -> int:
        """The first piece, its cuts planned: a bevel, and an outside that was measured."""
        typed = CutsTyped(
            "in", (Typed("turn", {"to": "7.9"}, "A"), Typed("bevel", {"corner": ".05", "diameter": "7.9"}, "A"))
        )  # fmt: skip
        makers.keep_cuts(self.db, self.shop, self.job, typed)
        told = {"name": "outside A", "typed": "7.91", "unit": "in", "instrument": "caliper"}
        sizes.measure(self.db, piece_id=self.piece, **told, **self.shop.at())
        return self.piece

    def chucked(self) -> dict[str, Any]:
        """The first piece in the chuck, in the one setting that is planned."""
        makers.keep_cuts(self.db, self.shop, self.job)
        chuck.plan(self.db, **self.held(), **self.shop.at())
        return {"setting_id": chuck.setting(self.db, self.job.id, 1).setting.id, "piece_id": self.cut_into()}

    def held(self) -> dict[str, Any]:
        """How the one side with cuts is held."""
        if not chuck.sides(self.db, self.job.id):
            makers.keep_cuts(self.db, self.shop, self.job)
        return {"job_id": self.job.id, "holds": {(self.variant, "A"): "rim"}}

    def shelved(self) -> dict[str, Any]:
        """A piece on the shelf, and who takes it."""
        job_id = self.checked()
        intake.move(self.db, piece_id=self.piece, to="shelf", **self.shop.at())
        return {"job_id": job_id, "piece_ids": [self.piece], "taken_by": "Marn"}

    def on_the_shelf(self) -> dict[str, Any]:
        """One plain plate lies on the customer's own shelf."""
        who = {"customer_id": self.job.customer_id, "variant_id": self.variant}
        shelf.put_right(self.db, **who, count=1, words="they counted", **self.shop.at())
        return who

    def agreement(self) -> int:
        """A price agreed for the plate."""
        return agreements.add(self.db, **self.agreeing(), **self.shop.at())

    def agreeing(self) -> dict[str, Any]:
        """What is said when a price is agreed."""
        return {
            "customer_id": self.job.customer_id, "part_id": parts.variant(self.db, self.variant).part_id, "each": "50",
            "valid_from": cast.TODAY, "valid_to": cast.TODAY + timedelta(days=30),
        }  # fmt: skip

    def paid(self, cents: str = "5", **told: Any) -> int:
        """A payment on the job."""
        return payments.pay(self.db, job_id=self.job.id, amount=cents, how="cash", **told, **self.shop.at())

    def owed_and_credit(self) -> dict[str, Any]:
        """A bill, and money of the customer's from another job that paid too much afterwards."""
        paid, owed = (self.done()["job_id"] for _ in range(2))
        lines = [LineTyped("work", "1", "10")]
        first, second = (invoices.issue(self.db, job_id=job, lines=lines, **self.shop.at()) for job in (paid, owed))
        payments.pay(self.db, job_id=paid, amount="15", how="cash", invoice_no=first, **self.shop.at())
        return {"invoice_no": second}

    def old_bill(self) -> dict[str, Any]:
        """Whose bill is long past due."""
        lines = [LineTyped("work", "1", "10")]
        invoices.issue(self.db, **self.done(), lines=lines, **self.shop.at(cast.NOON - timedelta(days=200)))
        return {"customer_id": self.job.customer_id}

    def for_their_shelf(self) -> dict[str, Any]:
        """A finished piece that goes to the customer's own shelf."""
        job_id = self.shelved()["job_id"]
        sign = parts.variant(self.db, self.variant).signs[0].id
        intake.take_in(self.db, piece_id=self.piece, sign_id=sign, goes_to="shelf", **self.shop.at())
        return {"job_id": job_id}

    def letter(self) -> int:
        """A quote in the outbox."""
        return mail.post(self.db, **self.posting(), **self.shop.at())

    def posting(self) -> dict[str, Any]:
        """An issued quote, and to whom it goes."""
        self.quoted()
        return {"kind": "quote", "number": f"{self.job.no} A", "to": "mill@cider.example", "subject": "Quote"}

    def stuck_letter(self) -> int:
        """A letter that the server refused for good."""
        letter_id = self.letter()
        mail.failed(self.db, letter_id=letter_id, fault="550 no such box", now=cast.NOON, for_good=True)
        return letter_id


TOLD: dict[str, Callable[[World], dict[str, Any]]] = {
    "people.add": lambda w: cast.SECOND,
    "shopbook.change": lambda w: {"phone": "1"},
    "shopbook.add_rate": lambda w: {"valid_from": date(2031, 1, 1), "cents_per_hour": 7000},
    "shopbook.add_tax": lambda w: {"valid_from": date(2031, 1, 1), "percent": "7"},
    "shopbook.add_scale": lambda w: {"name": "crane", "unit": "kg", "division": "1", "capacity": "500"},
    "customers.keep": lambda w: cast.WALK_IN,
    "customers.add_tax_paper": lambda w: {
        "customer_id": w.job.customer_id, "number": "X", "issuer": "", "valid_from": cast.TODAY, "valid_to": cast.TODAY,
    },
    "parts.keep_part": lambda w: {"name": "sieve ring"},
    "parts.keep_variant": lambda w: {**cast.LIPPED, **cast.STEEL, "part_id": parts.parts(w.db)[0][0].id},
    "cutting.keep_body": lambda w: {"variant_id": w.variant, "typed": cast.GUARDED},
    "cutting.keep_cuts": lambda w: {"job_id": w.job.id, "variant_id": w.variant, "typed": cast.SKIM},
    "jobs.open_job": lambda w: {"customer_id": w.job.customer_id, "title": "another"},
    "jobs.change": lambda w: {"job_id": w.job.id, "title": "other words"},
    "jobs.add_piece": lambda w: {"job_id": w.job.id, "ask": PieceAsk()},
    "jobs.end": lambda w: {"job_id": w.job.id, "how": "called_off", "reason": "found one"},
    "jobs.spend": lambda w: {"job_id": w.job.id, "minutes": 5},
    "intake.take_in": lambda w: {"piece_id": w.piece, "sign_id": parts.variant(w.db, w.variant).signs[0].id},
    "intake.move": lambda w: {"piece_id": w.taken_in(), "to": "chuck", "reason": "in a hurry"},
    "questions.stop": lambda w: {"job_id": w.job.id, "waits_for": "customer", "question": "13 mm?"},
    "questions.ask_again": lambda w: {"stop_id": w.stop(), "next_on": None},
    "questions.answer": lambda w: {"stop_id": w.stop(), "words": "yes"},
    "sizes.measure": lambda w: {
        "piece_id": w.piece, "name": "web", "typed": "1", "unit": "in", "instrument": "rule",
    },
    "weighing.weigh": lambda w: {
        "piece_id": w.taken_in(), "scale_id": w.shop.scales["spring"], "phase": "before", "typed": "26",
    },
    "together.weigh": lambda w: {
        "piece_ids": w.both_in(), "scale_id": w.shop.scales["spring"], "phase": "before", "typed": "53",
    },
    "together.strike": lambda w: {"joint_id": w.joint(), "reason": "tag"},
    "weighing.strike": lambda w: {"reading_id": w.reading(), "reason": "tag"},
    "quotes.keep_draft": lambda w: {"job_id": w.job.id, "typed": AN_HOUR},
    "quotes.issue": lambda w: {"quote_id": w.draft()},
    "quotes.go_ahead": lambda w: {"job_id": w.job.id, "said_by": "Marn", "how": "phone"},
    "quotes.turn_down": lambda w: {"quote_id": w.quoted()},
    "handover.announce": lambda w: {"job_id": w.checked()},
    "handover.call": lambda w: {"job_id": w.job.id, "outcome": "told"},
    "handover.hand_over": lambda w: w.shelved(),
    "invoices.issue": lambda w: {**w.done(), "lines": [LineTyped("work", "1", "10")]},
    "credits.void": lambda w: {"no": w.bill(), "reason": "x"},
    "credits.credit": lambda w: {"no": w.bill(), "amount": "1", "reason": "x"},
    "chuck.plan": lambda w: w.held(),
    "cutrun.change": lambda w: {"setting_id": w.chucked()["setting_id"], "typed": CardTyped(feed=".010")},
    "cutrun.tick": lambda w: {**w.chucked(), "what": "key_out"},
    "cutrun.start": lambda w: {**w.chucked(), "ticks": ("key_out", "turned_by_hand")},
    "cutrun.done": lambda w: w.chucked(),
    "truing.keep": lambda w: {
        "piece_id": w.piece, "surface": "outside", "stage": "left", "typed": TruingTyped("tenth", ("1", "0", "1", "0")),
    },
    "trouble.note": lambda w: {"job_id": w.job.id, "words": "chatter"},
    "photos.keep": lambda w: {"what": "intake", "photo": photos.made_small(cast.PHOTO), "piece_id": w.piece},
    "condition.look": lambda w: {"piece_id": w.piece, "answers": {"cracked": "no"}},
    "condition.declare": lambda w: {"piece_id": w.piece, "amount": "", "risk": "customer"},
    "condition.add_bits": lambda w: {"piece_id": w.piece, "lines": ["key"]},
    "condition.give_back": lambda w: w.bit(),
    "gate.waive": lambda w: {"piece_id": w.piece, "reason": "no scale"},
    "clock.start": lambda w: {"job_id": w.job.id},
    "clock.stop": lambda w: {"clock_id": w.running()},
    "clock.stop_on_job": lambda w: {"job_id": w.job.id} if w.running() else {},
    "floor_papers.intake": lambda w: {"job_id": w.job.id} if w.taken_in() else {},
    "again.same_again": lambda w: {"job_id": w.job.id},
    "finish.tick": lambda w: {"piece_id": w.bevelled(), "what": "bevel A: size .05, on Ø 7.9"},
    "finish.rerun": lambda w: {"piece_id": w.bevelled()},
    "mishaps.spoil": lambda w: {"piece_id": w.cut_into(), "story": "the web broke through"},
    "mishaps.settle": lambda w: {"piece_id": w.spoiled(), "who_pays": "we do"},
    "mishaps.rework": lambda w: {"piece_id": w.shelved()["piece_ids"][0], "reason": "out of line", "free": True},
    "mishaps.send_back": lambda w: {"piece_id": w.taken_in(), "reason": "cracked"},
    "mishaps.does_not_come": lambda w: {"piece_id": w.piece, "reason": "sold"},
    "mishaps.end": lambda w: {"job_id": w.job.id, "how": "not_taken_up", "reason": "too dear"},
    "mishaps.call_off": lambda w: {"job_id": w.job.id, "reason": "found one"},
    "equipment.add_machine": lambda w: {"name": "lathe", "dial": "radius", "chuck_limit": "1200"},
    "equipment.add_instrument": lambda w: {"name": "dial", "unit": "in", "resolution": ".001", "good_to": ".001"},
    "equipment.retire": lambda w: {"what": "scale", "row_id": w.shop.scales["spring"]},
    "knownprice.take": lambda w: {"job_id": w.repeat()},
    "series.begin": lambda w: {"code": "credit", "number": 9},
    "payments.pay": lambda w: {"job_id": w.job.id, "amount": "5", "how": "cash"},
    "payments.receipt": lambda w: {"payment_id": w.paid()},
    "payments.reverse": lambda w: {"payment_id": w.paid(), "reason": "cheque came back"},
    "payments.use_credit": lambda w: w.owed_and_credit(),
    "credits.write_off": lambda w: {"no": w.bill(), "reason": "closed down"},
    "credits.take_back_write_off": lambda w: {"write_off_id": w.written_off(), "reason": "they paid after all"},
    "refunds.give_back": lambda w: {"payment_id": w.paid(), "how": "cash", "reason": "nothing to bill"},
    "refunds.take_back": lambda w: {"refund_id": w.given_back(), "reason": "typed twice"},
    "refunds.receipt": lambda w: {"refund_id": w.given_back()},
    "agreements.add": lambda w: w.agreeing(),
    "agreements.never_held": lambda w: {"agreement_id": w.agreement()},
    "agreements.end": lambda w: {"agreement_id": w.agreement(), "last_day": cast.TODAY},
    "phrases.keep": lambda w: {"subject": "storage", "words": "thirty days", "valid_from": cast.TODAY},
    "quotes.renew": lambda w: {"quote_id": w.quoted()},
    "shelf.put": lambda w: {"piece_id": w.shelved()["piece_ids"][0]},
    "shelf.take_off": lambda w: {"piece_id": w.back_on_the_bench()},
    "shelf.put_right": lambda w: {**w.on_the_shelf(), "count": 3, "words": "they counted again"},
    "shelf.use_one": lambda w: w.on_the_shelf(),
    "handover.hand_over_many": lambda w: {"leaving": {w.job.id: w.shelved()["piece_ids"]}, "taken_by": "Marn"},
    "letters.labels": lambda w: w.for_their_shelf(),
    "letters.question": lambda w: {"stop_id": w.stop()},
    "letters.ready_letter": lambda w: {"job_id": w.shelved()["job_id"]},
    "letters.spoiled": lambda w: {"piece_id": w.spoiled()},
    "mail.post": lambda w: w.posting(),
    "mail.again": lambda w: {"letter_id": w.stuck_letter()},
    "mail.call_back": lambda w: {"letter_id": w.letter()},
    "mail.call_back_paper": lambda w: {"kind": "quote", "number": f"{w.job.no} A"} if w.letter() else {},
    "statements.issue": lambda w: {"customer_id": w.job.customer_id} if w.bill() else {},
    "statements.remind": lambda w: w.old_bill(),
}  # fmt: skip

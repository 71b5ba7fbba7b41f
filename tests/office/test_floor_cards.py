"""Setting cards as they stand on the job ticket."""

from sqlmodel import Session

from shopapp.office import chuck, equipment, floor_cards, parts
from shopapp.office.runcard import CardTyped
from tests import makers
from tests.makers import Shop

CARD = CardTyped(most_per_pass=".060", finish=".010", back_off=".020", extra_feed=".008", least=".010", speed="280")


def test_a_card_has_its_hold_its_stop_sum_and_its_passes_run_together(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    makers.keep_cuts(db, shop, job)
    told = {"name": "big lathe", "dial": "radius", "chuck_limit": "1200"}
    machine = equipment.add_machine(db, **told, **shop.at())
    variant = parts.all_variants(db)[0].id
    holds = {(variant, "A"): "inside of the rim"}
    chuck.plan(db, job_id=job.id, holds=holds, typed=CARD, machine_id=machine, **shop.at())
    (card,) = floor_cards.of_job(db, job.id)
    assert (card.number, card.side, card.hold) == ("1", "A", "inside of the rim")
    assert card.pieces == (f"{job.no}-1", f"{job.no}-2")
    assert (card.machine, card.chuck_limit) == ("big lathe", "chuck up to 1200 rpm")
    (stop,) = card.stops
    assert (stop.back_off, stop.extra, stop.clearance, stop.ok) == (".020", ".008", ".012", True)
    (cut,) = card.cuts
    # .250 deep with at most .060 a pass and .010 last: (.250 - .010) / .060 = 4 passes, then the last.
    assert [(row.number, row.depth, row.dial_so_far) for row in cut.passes] == [
        ("1-4", ".060", ".240"), ("5", ".010", ".250"),
    ]  # fmt: skip
    assert cut.passes[-1].note == "finish"


def test_a_job_without_settings_has_no_card(db: Session, shop: Shop) -> None:
    assert floor_cards.of_job(db, makers.make_job(db, shop).id) == ()

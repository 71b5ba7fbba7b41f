"""Finding: by number, by word, by place."""

from sqlmodel import Session

from shopapp.office import handover, search
from tests import cast, makers


def test_a_number_names_a_job_or_a_piece_that_is_in_the_book(db: Session, shop: makers.Shop) -> None:
    no = makers.make_job(db, shop).no
    assert search.by_number(db, f"{no}") == (no, None)
    assert search.by_number(db, f"#{no}-2") == (no, 2)
    for text in (f"{no}-3", f"{no + 1}", "plate", f"{no}-", "", "9" * 30):
        assert search.by_number(db, text) is None


def test_a_word_finds_variants_and_their_part_whatever_its_case(db: Session, shop: makers.Shop) -> None:
    makers.make_variant(db, shop)
    makers.make_variant(db, shop, **cast.LIPPED)
    found = search.find(db, "PRES")
    assert [variant.name for variant in found.variants] == ["lipped", "plain"]
    assert [part.name for part in found.parts] == [cast.PLATE]
    assert [variant.name for variant in search.find(db, "press lip").variants] == ["lipped"]


def test_a_variant_says_what_came_off_its_newest_finished_piece(db: Session, shop: makers.Shop) -> None:
    job = makers.finished_job(db, shop)
    found = search.find(db, "plain")
    assert found.last is not None
    # 26.5 lb before, 23 lb after.
    assert found.last[found.variants[0].id].words == f"3.5 lb off {job.no}-2, agrees"


def test_a_variant_never_finished_has_no_last_removal(db: Session, shop: makers.Shop) -> None:
    makers.make_job(db, shop)
    assert search.find(db, "plain").last == {}


def test_a_piece_finished_without_weighing_says_so() -> None:
    assert search.LastRemoval(1187, "1187-1", search.Weighed()).words == "1187-1 was not weighed twice"


def test_a_place_lists_what_lies_there_and_not_what_went_home(db: Session, shop: makers.Shop) -> None:
    job = makers.ready_job(db, shop)
    lying = search.find(db, "b2").places
    assert {piece.number for piece in lying} == {f"{job.no}-1", f"{job.no}-2"}
    ids = [piece.id for piece in lying]
    handover.hand_over(db, job_id=job.id, piece_ids=ids[:1], taken_by="Marn", **shop.at())
    assert [piece.id for piece in search.find(db, "B2").places] == ids[1:]


def test_customers_and_jobs_are_found_by_a_part_of_their_words(db: Session, shop: makers.Shop) -> None:
    job = makers.make_job(db, shop)
    assert [customer.name for customer in search.find(db, "cider").customers] == ["Cobbet Cider Mill"]
    assert [found.no for found in search.find(db, "SKIM").jobs] == [job.no]


def test_a_sign_of_the_database_is_only_a_letter(db: Session, shop: makers.Shop) -> None:
    makers.make_job(db, shop)
    assert search.find(db, "%").nothing
    assert search.find(db, "_").nothing
    assert search.find(db, "   ").nothing

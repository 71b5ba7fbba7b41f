"""What the piece card gathers: the look-alikes to choose among, the six facts and where each is put right."""

from shopapp.office import jobs, parts
from shopapp.web.piececard import _gate, _moves, look_alikes
from tests import cast, makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor


class Asking:
    """As much of a desk as the card's parts look at."""

    def __init__(self, shop: LiveShop, db: object) -> None:
        self.db, self._app = db, shop.app

    def url(self, name: str, **path: object) -> str:
        return str(self._app.url_path_for(name, **path))


def test_the_look_alikes_of_the_part_asked_for_are_shown_first_and_all_on_demand(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        plain = makers.make_variant(db, shop.maker)
        makers.make_variant(db, shop.maker, **cast.LIPPED)
    with shop.database.reading() as db:
        own = parts.variant(db, plain)
        desk = Asking(shop, db)
        ((part, kinds),) = look_alikes(desk, own)  # type: ignore[arg-type]
        assert (part, [one.name for one in kinds]) == (own.part, ["lipped", "plain"])
        assert look_alikes(desk, None) == look_alikes(desk, own, all_kinds=True)  # type: ignore[arg-type]


def test_each_fact_that_is_missing_leads_to_where_it_is_put_right(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    with shop.database.reading() as db:
        piece = jobs.piece(db, job.no, 1)
        todo = {one.fact.key: one for one in _gate(Asking(shop, db), piece)}  # type: ignore[arg-type]
    assert set(todo) == {"sign", "weight", "photos", "condition", "web", "go_ahead"}
    assert not todo["weight"].fact.ok
    assert todo["weight"].href == f"/jobs/{job.no}/1/weigh"
    assert todo["go_ahead"].fact.ok


def test_a_piece_that_is_not_here_yet_has_no_gate_and_no_way(shop: LiveShop) -> None:
    job = floor.expected(shop, pieces=1)
    with shop.database.reading() as db:
        piece = jobs.piece(db, job.no, 1)
        assert _gate(Asking(shop, db), piece) == []  # type: ignore[arg-type]
    assert _moves(piece) == []

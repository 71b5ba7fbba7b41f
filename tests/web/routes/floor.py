"""The bench side of a live shop: jobs in it, made by the verbs of the office."""

import re
from typing import Any

import httpx

from shopapp.office import cutting, jobs, parts, weighing
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.weighing import Weighed
from tests import makers
from tests.web.conftest import LiveShop


def expected(shop: LiveShop, pieces: int = 2, **told: Any) -> JobFacts:
    """A job that was only asked."""
    with shop.database.writing() as db:
        return makers.make_job(db, shop.maker, pieces=pieces, **told)


def in_the_rack(shop: LiveShop, pieces: int = 2) -> JobFacts:
    """A job agreed, its pieces told apart, nothing weighed."""
    at = shop.maker
    with shop.database.writing() as db:
        job = makers.make_job(db, at, pieces=pieces)
        makers.keep_cuts(db, at, job)
        makers.agree(db, at, job)
        makers.take_everything_in(db, at, job)
        return job


def in_the_chuck(shop: LiveShop, pieces: int = 2) -> JobFacts:
    """The same, weighed in at 26.5 lb each and under the tool."""
    job = in_the_rack(shop, pieces)
    for n in range(1, pieces + 1):
        weigh(shop, job, n, phase="before", reading="26.5")
        shop.post(f"/jobs/{job.no}/{n}/move", to="chuck")
    return job


def weigh(shop: LiveShop, job: JobFacts, n: int = 1, *, scale: str = "spring", **told: Any) -> httpx.Response:
    """Send the weigh strip's form."""
    typed = {"phase": "before", "scale": shop.maker.scales[scale], "zero_seen": "yes", **told}
    return shop.post(f"/jobs/{job.no}/{n}/weigh", **typed)


def piece(shop: LiveShop, job: JobFacts, n: int = 1) -> PieceFacts:
    """A piece as the book has it now."""
    with shop.database.reading() as db:
        return jobs.piece(db, job.no, n)


def weights(shop: LiveShop, job: JobFacts, n: int = 1) -> Weighed:
    """What the scale says of a piece now."""
    with shop.database.reading() as db:
        one = jobs.piece(db, job.no, n)
        return weighing.of_pieces(db, [one])[one.id]


def versions(shop: LiveShop, job: JobFacts) -> int:
    """How many versions of the cuts the job has for the variant of its first piece."""
    with shop.database.reading() as db:
        one = jobs.piece(db, job.no, 1)
        plan = cutting.plan(db, job.id, one.variant_id or 0)
        return plan.version if plan else 0


def sign_of(shop: LiveShop, job: JobFacts, n: int = 1) -> int:
    """The deciding sign of the variant that was asked for."""
    with shop.database.reading() as db:
        return parts.variant(db, jobs.piece(db, job.no, n).variant_id or 0).signs[0].id


def shown(html: str) -> str:
    """The words of a page, tags left out and spaces single."""
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def main_acts(html: str) -> list[str]:
    """The words of the main buttons and links of a page."""
    return re.findall(r'class="act act--act"[^>]*>([^<]+)<', html)

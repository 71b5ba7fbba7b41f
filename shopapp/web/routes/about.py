"""What this is, what it does not say, and whose work it stands on."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp import __version__
from shopapp.office.shopbook import CAUTIONS
from shopapp.web.assets import CREDITS
from shopapp.web.desk import At

router = APIRouter()


@router.get("/about", name="about.page")
def page(desk: At) -> Response:
    """The shop and the program it uses."""
    return desk.page(
        "about/page.html", sheet="About", here="shop", cautions=CAUTIONS, credits=CREDITS, version=__version__,
    )  # fmt: skip

"""Who stands at the counter: chosen once, kept in the browser."""

from tests.web.conftest import LiveShop


def test_chosen_initials_are_kept_in_the_browser_for_a_year(shop: LiveShop) -> None:
    shop.client.cookies.clear()
    answer = shop.post("/who", initials="wk", to="/customers")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/customers"
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith("who=WK;")
    assert "Max-Age=31536000" in cookie
    assert "SameSite=lax" in cookie


def test_the_page_leads_back_to_where_the_person_came_from(shop: LiveShop) -> None:
    page = shop.client.get("/who", headers={"Referer": f"{shop.origin}/parts"}).text
    assert 'name="to" value="/parts"' in page


def test_choosing_never_leads_to_another_site(shop: LiveShop) -> None:
    for to in ("//elsewhere.example/", "https://elsewhere.example/", "/\\elsewhere.example"):
        assert shop.post("/who", initials="WK", to=to).headers["location"] == "/"


def test_initials_that_nobody_has_are_asked_about(shop: LiveShop) -> None:
    answer = shop.post("/who", initials="ZZ", to="/")
    assert answer.status_code == 422
    assert "Nobody here has those initials" in answer.text


def test_a_new_person_can_be_chosen_afterwards(shop: LiveShop) -> None:
    assert shop.post("/who/new", initials="jt", person="Jory Thimblewright").status_code == 303
    page = shop.get("/who").text
    assert "Jory Thimblewright" in page
    assert 'value="JT"' in page


def test_taken_initials_come_back_with_the_typed_name(shop: LiveShop) -> None:
    answer = shop.post("/who/new", initials="WK", person="Willem <b>Kolk</b>")
    assert answer.status_code == 422
    assert "WK is taken. Add a letter." in answer.text
    assert "Willem &lt;b&gt;Kolk&lt;/b&gt;" in answer.text
    assert "<b>Kolk" not in answer.text


def test_nobody_is_added_while_nobody_has_said_who_they_are(shop: LiveShop) -> None:
    shop.client.cookies.clear()
    answer = shop.post("/who/new", initials="JT", person="Jory")
    assert answer.status_code == 422
    assert "Say who you are first" in answer.text

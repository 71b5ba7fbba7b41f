"""Pages, fragments, and what the kit makes of typed words."""

from datetime import UTC, date, datetime
from pathlib import Path
from types import SimpleNamespace
from zoneinfo import ZoneInfo

import pytest
from fastapi import FastAPI, Request
from jinja2 import Environment, UndefinedError

from shopapp.bench import money
from shopapp.papers.places import templates_dir
from shopapp.web.render import Frame, Pages, counted, day, environment, fragment, page, weekday

CUSTODIES = ("expected", "rack", "chuck", "checked", "shelf", "gone", "spoiled", "sent_back", "left_behind")
PAGE = """{% extends "base.html" %}{% block main %}<p>whole</p>
{% block removal %}{{ kit.figure("comes off", takes, "lb") }}{% endblock %}{% endblock %}"""


def made(folder: Path) -> Environment:
    (folder / "page.html").write_text(PAGE)
    zone = ZoneInfo("America/Chicago")
    return environment([templates_dir(), folder], lambda name: f"/static/0/{name}", money.show, zone)


@pytest.fixture
def env(tmp_path: Path) -> Environment:
    return made(tmp_path)


def request_to(env: Environment) -> Request:
    app = FastAPI()
    app.state.pages = Pages(env, framed=lambda request: Frame(shop="Knurlbottom", who="WK", to_bill=2))
    return Request({"type": "http", "method": "GET", "path": "/", "headers": [], "app": app})


def written(env: Environment, text: str, **context: object) -> str:
    return env.from_string(text).render(**context)


def test_a_page_stands_in_its_title_block(env: Environment) -> None:
    text = bytes(page(request_to(env), "page.html", takes="8.5").body).decode()
    assert "<p>whole</p>" in text
    for cell in ("Knurlbottom", "WK", "2 to bill"):
        assert f"<b>{cell}</b>" in text


def test_a_page_may_bring_its_own_frame(env: Environment) -> None:
    own = Frame(job="1187", job_url="/jobs/1187")
    text = bytes(page(request_to(env), "page.html", takes="1", frame=own).body).decode()
    assert '<a class="cell" href="/jobs/1187">' in text
    assert "New slip" in text  # behind "More" on the phone, since the job has its cell


def test_a_refusal_keeps_its_status(env: Environment) -> None:
    assert page(request_to(env), "page.html", status=422, takes="1").status_code == 422


def test_a_fragment_is_its_block_alone_and_knows_the_kit(env: Environment) -> None:
    text = bytes(fragment(request_to(env), "page.html", "removal", takes="8.5").body).decode()
    assert "8.5" in text
    assert "whole" not in text
    assert "<html" not in text


def test_a_forgotten_name_is_an_error(env: Environment) -> None:
    with pytest.raises(UndefinedError, match="takes"):
        fragment(request_to(env), "page.html", "removal")


def test_typed_words_come_back_as_they_were_typed_and_escaped(env: Environment) -> None:
    form = SimpleNamespace(typed={"who": '5/8" & <b>'}, problems={"who": "A name, please."})
    text = written(env, '{{ kit.field("who", "Name", form=form) }}', form=form)
    assert 'value="5/8&#34; &amp; &lt;b&gt;"' in text
    assert 'aria-describedby="f-who-problem ' in text
    assert ">A name, please.</p>" in text


def test_the_summary_says_the_same_words_and_leads_to_the_field(env: Environment) -> None:
    text = written(env, "{{ kit.summary(problems) }}", problems={"deep": "Type the unit.", "": "Look again."})
    assert '<a href="#f-deep">Type the unit.</a>' in text
    assert "2 things to put right" in text
    assert "<li>Look again.</li>" in text


def test_no_summary_where_nothing_is_to_be_put_right(env: Environment) -> None:
    assert written(env, "{{ kit.summary({}) }}") == ""


def test_the_echo_stands_beside_the_field_that_asks_for_it(env: Environment) -> None:
    text = written(env, '{{ kit.field("deep", "Deep", ".300", echo="/echo") }}')
    assert 'hx-get="/echo"' in text
    assert 'hx-target="#f-deep-echo"' in text
    echo = text[text.index("<output") : text.index("</output>")]
    assert "<input" not in echo


def test_a_form_carries_the_word_that_lets_it_save_once(env: Environment) -> None:
    text = written(env, '{{ kit.form_start("/ask", once="abc", keep="ask") }}')
    assert '<input type="hidden" name="once" value="abc">' in text
    assert 'data-keep="ask"' in text
    assert '<input type="hidden" name="keep" value="ask">' in text


def test_a_box_once_unticked_stays_unticked(env: Environment) -> None:
    text = '{{ kit.tick("zero", "Zero seen", on=True, form=form) }}'
    assert " checked" in written(env, text, form=SimpleNamespace(typed={}, problems={}))
    assert " checked" not in written(env, text, form=SimpleNamespace(typed={"reading": "5"}, problems={}))


def test_the_chosen_of_few_is_marked_though_it_needs_escaping(env: Environment) -> None:
    text = written(env, '{{ kit.choice("x", "Which", [("a&b", "first"), ("c", "second")], "a&b") }}')
    assert text.count("checked") == 1
    assert 'value="a&amp;b" checked' in " ".join(text.split())


@pytest.mark.parametrize("code", CUSTODIES)
def test_each_custody_has_a_shape_of_its_own_and_a_word(env: Environment, code: str) -> None:
    shape = written(env, "{{ kit.ring_shape(code) }}", code=code)
    others = {written(env, "{{ kit.ring_shape(code) }}", code=other) for other in CUSTODIES if other != code}
    assert shape not in others
    assert written(env, "{{ kit.ring(code) }}", code=code).replace(shape, "").count("<span>") == 1


def test_equal_pieces_are_counted_in_words(env: Environment) -> None:
    assert "2 checked" in written(env, '{{ kit.rings(["checked", "chuck", "checked"]) }}')


def test_the_keys_bring_the_units_that_the_field_takes(env: Environment) -> None:
    text = written(env, '{{ kit.keypad("reading", ["lb", "oz"]) }}')
    assert text.count("data-unit") == 2
    for sign in ["/", ".", " ", "back", *"0123456789"]:
        assert f'data-key="{sign}"' in text


def test_a_row_tells_its_heads_for_the_phone(env: Environment) -> None:
    text = written(env, '{{ kit.rows(["Job", ("Due", "n")], [[("1185", "/jobs/1185"), 13800 | cents]]) }}')
    assert 'data-head="Due" class="n">$138.00</td>' in " ".join(text.split())
    assert '<a href="/jobs/1185">1185</a>' in text


def test_a_date_cannot_be_read_the_wrong_way_round() -> None:
    assert day(date(2026, 3, 4)) == "4 Mar 2026"
    assert weekday(date(2026, 3, 4)) == "Wed 4 Mar 2026"
    assert day(None) == ""


def test_an_instant_is_shown_by_the_shops_clock(env: Environment) -> None:
    # Chicago keeps UTC-6 in winter (IANA time zone database).
    assert written(env, "{{ when | moment }}", when=datetime(2026, 1, 2, 3, 4, tzinfo=UTC)) == "1 Jan 2026, 21:04"
    with pytest.raises(ValueError, match="without a zone"):
        written(env, "{{ when | moment }}", when=datetime(2026, 1, 2, 3, 4))  # noqa: DTZ001


def test_equal_values_are_counted_in_the_order_they_come() -> None:
    assert counted(["b", "a", "b"]) == [("b", 2), ("a", 1)]

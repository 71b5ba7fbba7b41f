"""The job ticket, pressed and read back."""

from dataclasses import replace
from io import BytesIO

import pikepdf
import pytest

from shopapp.office.sheets.ticket import StopSum, TicketPiece
from shopapp.papers.ticket import ticket_html, ticket_pdf
from tests.papers.floor import AT, WATCH, kind, setting, ticket
from tests.papers.reading import fonts_of, once, pages_of, text_of
from tests.papers.samples import NOT_DONE, letterhead
from tests.papers.seeing import codes_on


def test_the_bench_reads_what_is_cut_where_and_what_stays() -> None:
    text = text_of(once(ticket_pdf, ticket()))
    for words in ("Job ticket 1187", "9.500 → 8⁷⁄₈, to 1.0505", ".300 deep, 8⁷⁄₈ → 4.250", "8.0 to 8.9 lb",
                  "KEEP OUT Pocket edge at 1.0625 and 1.4375: keep .010 clear on both sides.",
                  "No jaw on: the friction face", "WEB NOW .650 in · 16.51 mm TAKE .300 in · 7.62 mm",
                  "LEFT .350 in · 8.89 mm (least .250 in)", "SIDE A 6.03 lb", "scale 1 : 2", "(Ø 9.500)",
                  "LAST TIME 2 Dec 2025: 8.4 lb off, 170 min", "Jaw 3 slipped on paint: wipe the rim first.",
                  "PO-88", "+35 %, said T. S.", "job 1161", "old chips in a bag", *NOT_DONE,
                  *letterhead().cautions):  # fmt: skip
        assert words in text


def test_the_signs_tell_the_twins_apart() -> None:
    text = text_of(once(ticket_pdf, ticket()))
    for own, other in (("six", "eight"), ("eight", "six")):
        line = f"TOLD BY {own} round pockets ALSO four .530 holes · hub long on B LOOK-ALIKE Carriage reverse wheel, "
        assert f"{line}{other}-pocket: {other} round pockets" in text


def test_a_setting_says_where_to_hold_the_stop_sum_the_dial_and_the_speed() -> None:
    text = text_of(once(ticket_pdf, ticket()))
    for words in ("SETTING 1 SIDE A HOLD HERE inside of the rim, weak side at full thickness",
                  "SETTING 2 SIDE B HOLD HERE turned outside, seat on the fresh face",
                  "engine lathe, dial reads diameter", "bore true within .0005", "1,200 rpm at most",
                  ".020 − .008 = .012 clear, least .010", "1-4 .0625 .125 .500", "5 .0625 .125 .625 finish",
                  "120 rpm · 280 ft/min · .010 in/rev", "over the holes: go light",
                  "The facing tool passes four holes: the sound changes."):  # fmt: skip
        assert words in text


def test_a_stop_under_the_least_clearance_is_said_aloud() -> None:
    close = setting(stops=(StopSum(".020", ".011", ".009", ".010", ok=False, piece="1187-2"),))
    text = text_of(ticket_pdf(ticket(settings=(close,))))
    assert "STOP 1187-2 .020 − .011 = .009 clear, least .010: under the least, set it anew" in text
    assert "set it anew" not in text_of(once(ticket_pdf, ticket()))


def test_key_and_hand_are_ticked_for_each_piece_in_each_setting() -> None:
    html = ticket_html(ticket())
    assert html.count('tick-box"></span> key out') == html.count('tick-box"></span> turned by hand') == 4
    assert "checked" not in html


def test_the_bench_is_warned_before_the_spindle_turns() -> None:
    text = text_of(once(ticket_pdf, ticket()))
    assert all(line in text for line in WATCH)
    assert text.index(WATCH[0]) < text.index("SETTING 1")


def test_weights_that_are_known_are_printed_and_the_others_are_room() -> None:
    text = text_of(once(ticket_pdf, ticket()))
    assert "bench dial, halves 26.0 lb 8.5 lb 1187-2" in text
    html = ticket_html(ticket(pieces=(TicketPiece("1187-1", "wheel"),)))
    assert html.count('<td class="hand"></td>') >= 5


def test_what_a_piece_goes_without_stands_above_everything() -> None:
    text = pages_of(once(ticket_pdf, ticket()))[0]
    assert "1187-2 goes without: not weighed before; no photo before" in text
    assert text.index("goes without") < text.index("WEIGH SLIP")
    assert "goes without" not in text_of(ticket_pdf(ticket(pieces=ticket().pieces[:1])))


def test_without_figures_the_cuts_stand_as_typed() -> None:
    plain = kind(removal=None, section=None, cuts=(("B", "bore", "1-3/4 → 1.875 through"),), webs=(), checks=())
    text = text_of(ticket_pdf(ticket(kinds=(plain,), settings=())))
    assert "B bore 1³⁄₄ → 1.875 through –" in text
    assert "COMES OFF" not in text


def test_a_ticket_with_the_customer_and_nothing_else_is_one_sheet() -> None:
    bare = ticket(pieces=(TicketPiece("1187-1", "wheel"),), kinds=(), settings=(), asked="", watch=(), not_done=())
    assert len(pages_of(ticket_pdf(bare))) == 1


def test_two_kinds_and_two_settings_are_four_sheets_with_a_drawing_for_each_kind() -> None:
    pdf = once(ticket_pdf, ticket())
    pages = pages_of(pdf)
    assert len(pages) == 4
    assert all(f"SHEET {number} of 4" in page and "23 Mar 2026" in page for number, page in enumerate(pages, 1))
    with pikepdf.open(BytesIO(pdf)) as file:
        figures = [o for o in file.objects if isinstance(o, pikepdf.Dictionary) and o.get("/S") == "/Figure"]
        words = sorted(str(figure.Alt) for figure in figures)
    assert words == ["Carriage reverse wheel, six-pocket"] * 2 + ["Code that opens job 1187"]


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_thirty_pieces_are_all_weighed_trued_and_measured_on_it(paper: str) -> None:
    numbers = tuple(f"1187-{n:02}" for n in range(1, 31))
    pieces = tuple(replace(ticket().pieces[0], number=number) for number in numbers)
    many = ticket(
        pieces=pieces, kinds=(kind(pieces=numbers),), settings=(setting(pieces=numbers),),
        letterhead=letterhead(paper=paper),
    )  # fmt: skip
    pages = pages_of(ticket_pdf(many))
    text = " ".join(pages)
    for number in numbers:
        assert f"{number} six-pocket" in text
        assert f"{number} key out turned by hand" in text
        assert text.count(number) == 4  # weighed, named with its kind, trued, measured
    assert len(pages) <= 9


def test_its_code_opens_the_job() -> None:
    assert codes_on(once(ticket_pdf, ticket())) == [f"{AT}/jobs/1187"]


def test_fonts_travel_with_the_ticket() -> None:
    fonts = fonts_of(once(ticket_pdf, ticket()))
    assert any("Shop-Figure" in name for name in fonts)
    assert all(fonts.values())


def test_hostile_words_stay_letters() -> None:
    html = ticket_html(ticket(asked="<script>", kinds=(kind(trouble=("<img src=x>",)),), watch=("<b>.350</b>",)))
    for words in ("<script", "<img", "<b>.350"):
        assert words not in html

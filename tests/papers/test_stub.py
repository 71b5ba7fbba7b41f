"""The customer's stub, pressed and read back; and stub, tags and ticket in one go."""

from dataclasses import replace

import pytest

from shopapp.office.sheets.stub import StubPiece
from shopapp.papers.stub import intake_html, intake_pdf, stub_html, stub_pdf
from tests.papers.floor import AT, stub, tags, ticket
from tests.papers.reading import fonts_of, once, pages_of, read, size_of, text_of
from tests.papers.samples import NOT_DONE, PARTY, letterhead
from tests.papers.seeing import codes_on


def test_a_stub_says_what_came_in_which_state_and_on_which_terms() -> None:
    text = text_of(once(stub_pdf, stub()))
    for words in ("Stub 1187", "Snickerby Sawmill", "23 Mar 2026", "2 Apr 2026", "3 Apr 2026", "Tovald's nephew",
                  "Turn and face both as last time", "Sign seen: six round pockets", "declared at $400.00",
                  "the customer carries the risk", "key, two set screws", "2 as it came in, 1 damage",
                  "Pieces are kept 60 days", "Workmanship is put right", "26.0 lb", *NOT_DONE,
                  *letterhead().cautions):  # fmt: skip
        assert words in text
    assert "MISSING BITS no" in text
    assert "BENT not looked" in text
    assert "CHIPPED yes" in text


def test_what_nobody_said_or_looked_at_is_said_so() -> None:
    text = text_of(stub_pdf(stub(pieces=(StubPiece("1187-1", "wheel"),))))
    for words in ("no value declared", "No deciding sign was looked at", "Its condition was not looked at.",
                  "none taken", "nothing else"):  # fmt: skip
        assert words in text


def test_two_pieces_are_one_sheet_and_thirty_are_never_torn() -> None:
    assert len(pages_of(once(stub_pdf, stub()))) == 1
    pieces = tuple(replace(stub().pieces[0], number=f"1187-{n:02}", note=f"end of {n:02}.") for n in range(1, 31))
    pages = pages_of(stub_pdf(stub(pieces=pieces)))
    assert len(pages) > 3
    for n in range(1, 31):
        assert [f"1187-{n:02} " in page for page in pages] == [f"end of {n:02}." in page for page in pages]
        assert sum(f"1187-{n:02} " in page for page in pages) == 1
    assert all(f"SHEET {number} of {len(pages)}" in page for number, page in enumerate(pages, 1))


def test_its_code_opens_the_job() -> None:
    assert codes_on(once(stub_pdf, stub())) == [f"{AT}/jobs/1187"]
    assert codes_on(stub_pdf(stub(address=""))) == []


def test_what_was_entered_late_says_so() -> None:
    words = "Brought on 20 Mar 2026, typed in on 23 Mar 2026."
    assert f"Entered late. {words}" in text_of(stub_pdf(stub(late=words)))
    assert "Entered late" not in text_of(once(stub_pdf, stub()))


@pytest.mark.outside("from memory: ISO 216 and ANSI/ASME Y14.1")
@pytest.mark.parametrize(("paper", "size"), [("Letter", (612, 792)), ("A4", (595.28, 841.89))])
def test_each_paper_of_the_intake_has_the_size_of_its_sheets(paper: str, size: tuple[float, float]) -> None:
    # ISO 216: A4 is 210 x 297 mm; letter is 8.5 x 11 in (ANSI/ASME Y14.1, size A)
    head = letterhead(paper=paper)
    pdf = intake_pdf(stub(letterhead=head), tags(letterhead=head), ticket(letterhead=head))
    assert size_of(pdf) == pytest.approx(size, abs=0.5)
    assert {(round(p.mediabox.width), round(p.mediabox.height)) for p in read(pdf).pages} == {
        (round(size[0]), round(size[1]))
    }


def test_stub_tags_and_ticket_come_in_one_go_each_with_its_own_sheets() -> None:
    pages = pages_of(once(intake_pdf, stub(), tags(), ticket()))
    alone = [len(pages_of(once(stub_pdf, stub()))), 1]
    kinds = [next(kind for kind in ("Stub", "Tags", "Job ticket") if f"DOCUMENT TYPE {kind}" in page) for page in pages]
    assert kinds == ["Stub"] * alone[0] + ["Tags"] + ["Job ticket"] * (len(pages) - alone[0] - 1)
    for kind in ("Stub", "Tags", "Job ticket"):
        own = [page for page, its in zip(pages, kinds, strict=True) if its == kind]
        assert all(f"SHEET {number} of {len(own)} " in f"{page} " for number, page in enumerate(own, 1))


def test_the_intake_carries_a_code_for_the_job_twice_and_for_each_piece_twice() -> None:
    found = codes_on(once(intake_pdf, stub(), tags(), ticket()))
    assert sorted(found) == sorted(
        [f"{AT}/jobs/1187"] * 2 + [f"{AT}/pieces/1187-1"] * 2 + [f"{AT}/pieces/1187-2"] * 2
    )  # fmt: skip


def test_fonts_travel_with_all_three_and_the_file_is_tagged() -> None:
    pdf = once(intake_pdf, stub(), tags(), ticket())
    assert fonts_of(pdf)
    assert all(fonts_of(pdf).values())
    assert read(pdf).trailer["/Root"]["/MarkInfo"]["/Marked"]


def test_hostile_names_stay_letters_and_nothing_carries_a_style() -> None:
    bad = replace(PARTY, name="<script>x</script>")
    piece = StubPiece("1187-1", "<img src=x>", note="\"><b onclick='x'>")
    html = intake_html(stub(party=bad, pieces=(piece,), title=".350 <i>"), tags(party=bad), ticket(party=bad))
    for words in ("<script", "<img", "<b onclick", "<i>", "style="):
        assert words not in html


def test_long_names_wrap_and_lose_nothing() -> None:
    name, word = " ".join(f"Amalgamated{n}" for n in range(20)), "unbroken" * 20
    text = text_of(stub_pdf(stub(party=replace(PARTY, name=name), title="A long title " * 12, asked=word)))
    assert name in text
    assert word in text.replace(" ", "")


def test_the_same_sheets_give_the_same_bytes() -> None:
    assert stub_html(stub()) == stub_html(stub())
    assert intake_pdf(stub(), tags(), ticket()) == once(intake_pdf, stub(), tags(), ticket())


@pytest.mark.bench
def test_pressing_what_is_printed_at_intake_warm(benchmark: object) -> None:
    intake_pdf(stub(), tags(), ticket())
    assert benchmark(intake_pdf, stub(), tags(), ticket()).startswith(b"%PDF")

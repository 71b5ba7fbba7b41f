"""Templates, static files and fonts are found where the code lies."""

import re

from shopapp.papers.places import font_files, migrations_dir, static_dir, templates_dir


def test_the_papers_find_their_templates_and_their_stylesheet() -> None:
    assert (templates_dir() / "papers" / "sheet.html").is_file()
    assert (static_dir() / "css" / "paper.css").is_file()
    assert (migrations_dir() / "env.py").is_file()


def test_every_font_of_the_stylesheet_is_there() -> None:
    faces = (static_dir() / "css" / "faces.css").read_text()
    names = re.findall(r"fonts/([\w.-]+)", faces)
    assert names
    assert [name for name in names if name not in font_files()] == []

"""The settings: from the environment, frozen, and nothing that is not known."""

from pathlib import Path

import pytest
from pydantic import ValidationError

from shopapp.settings import Settings


def test_without_a_word_the_book_lies_in_the_users_data_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DATA", "DATABASE_URL", "HOST", "PORT"):
        monkeypatch.delenv(f"SHOPAPP_{name}", raising=False)
    settings = Settings()
    assert settings.data.name == "shopapp"
    assert settings.data.is_absolute()
    assert (settings.database_url, settings.host, settings.port) == (None, "127.0.0.1", 8000)


def test_the_environment_moves_the_book_and_the_door(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("SHOPAPP_DATA", str(tmp_path))
    monkeypatch.setenv("SHOPAPP_PORT", "8123")
    monkeypatch.setenv("SHOPAPP_DATABASE_URL", "postgresql+psycopg://shop@db/shop")
    settings = Settings()
    assert (settings.data, settings.port) == (tmp_path, 8123)
    assert settings.database_url == "postgresql+psycopg://shop@db/shop"


def test_a_port_is_a_number(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SHOPAPP_PORT", "front door")
    with pytest.raises(ValidationError, match="port"):
        Settings()


def test_settings_do_not_change_and_take_nothing_unknown() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        Settings().port = 1
    with pytest.raises(ValidationError, match="extra"):
        Settings(colour="blue")

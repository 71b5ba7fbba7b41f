"""The settings, all of them, read once at the door: environment variables that begin with SHOPAPP_."""

from pathlib import Path

from platformdirs import user_data_path
from pydantic_settings import BaseSettings, SettingsConfigDict


class Settings(BaseSettings):
    """Where the book lies and where the door is. `database_url` takes another database than the file in `data`.

    `smtp_url` is the shop's mail server (smtp://, smtp+starttls:// or smtps://), `mail_from` its own address.
    """

    model_config = SettingsConfigDict(env_prefix="SHOPAPP_", extra="forbid", frozen=True)

    data: Path = user_data_path("shopapp", appauthor=False)
    database_url: str | None = None
    host: str = "127.0.0.1"
    port: int = 8000
    smtp_url: str | None = None
    mail_from: str | None = None

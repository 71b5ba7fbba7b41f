"""People of the shop, whose initials stand on every act."""

from sqlmodel import Field, SQLModel


class Person(SQLModel, table=True):
    """One person who works here."""

    __tablename__ = "person"

    id: int = Field(default=None, primary_key=True)
    initials: str = Field(unique=True, max_length=4)
    name: str
    works_here: bool = True

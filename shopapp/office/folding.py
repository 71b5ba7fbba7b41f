"""How text is made alike for finding and sorting: case and accents gone, spaces single."""

import unicodedata


def folded(text: str) -> str:
    """The text as it is searched: lower case, no accents, one space between words."""
    plain = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    return " ".join(plain.casefold().split())

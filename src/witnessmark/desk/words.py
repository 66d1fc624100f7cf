"""What the page says, through one catalogue (gettext): the English text is the key, another language is a file."""

from gettext import translation
from pathlib import Path

CATALOGUE = Path(__file__).with_name("catalogue")
DOMAIN = "desk"

_SAID = translation(DOMAIN, CATALOGUE, fallback=True)


def _(text: str) -> str:
    """The text in the reader's language."""
    return _SAID.gettext(text)


def counted(count: int, one: str, many: str) -> str:
    """`1 answer`, `3 answers`: both forms given with `{n}`."""
    return _SAID.ngettext(one, many, count).format(n=count)

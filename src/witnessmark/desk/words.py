"""What the page says, through one catalogue (gettext): the English text is the key, another language is a file of it.

The language is that of the request, or of the work that is done for one.
"""

from contextvars import ContextVar
from functools import cache
from gettext import GNUTranslations, NullTranslations
from io import BytesIO
from pathlib import Path

from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from witnessmark.jobs.desk_settings import DeskSettings

CATALOGUE = Path(__file__).with_name("catalogue")

_SPEECH: ContextVar[DeskSettings] = ContextVar("speech", default=DeskSettings())  # noqa: B039 - it never changes


def speak(speech: DeskSettings) -> None:
    """Speak so from now on, in this request or work."""
    _SPEECH.set(speech)


def speech() -> DeskSettings:
    """How the desk speaks now."""
    return _SPEECH.get()


def _(text: str) -> str:
    """The text in the reader's language."""
    return _said(speech().language).gettext(text)


def N_(text: str) -> str:  # noqa: N802 - the usual name, which what gathers the catalogue looks for
    """A text that is named here and put into the reader's language where it is said."""
    return text


def counted(count: int, one: str, many: str) -> str:
    """`1 answer`, `3 answers`: both forms given with `{n}`."""
    return _said(speech().language).ngettext(one, many, count).format(n=count)


@cache
def _said(language: str) -> NullTranslations:
    """The catalogue of a language; English is its own."""
    file = CATALOGUE / f"{language}.po"
    if not file.is_file():
        return NullTranslations()
    compiled = BytesIO()
    with file.open("rb") as opened:
        write_mo(compiled, read_po(opened, language))
    compiled.seek(0)
    return GNUTranslations(compiled)

"""Numbers and dates as the reader writes them: the sign of decimals and the form of dates are settings.

What a student typed is shown as they typed it, and what goes into a file is written as the file asks.
"""

import re
from datetime import date, datetime
from decimal import Decimal
from functools import cache, lru_cache

from babel import Locale
from babel.dates import format_date
from babel.numbers import get_decimal_symbol

from witnessmark.desk.words import speech
from witnessmark.documents.page.wordings import marks_text

PLACES = {"en": "en_GB", "de": "de_DE"}
"""The region whose dates are written, by language (Unicode's CLDR, by Babel)."""
SIGNS = {"point": "en_GB", "comma": "de_DE"}
DECIMAL = re.compile(r"(?<=\d)\.(?=\d)")
TYPED = re.compile(r"\d+,\d+")


def number(text: object) -> str:
    """A text of ours with its decimals as the reader writes them: `2.5 mm`, `2,5 mm`."""
    return DECIMAL.sub(_sign(speech().decimals), str(text))


@cache
def _sign(decimals: str) -> str:
    return get_decimal_symbol(SIGNS[decimals])


def typed_number(text: str) -> str:
    """What a person typed where a number belongs, with the point that files have; other text stays as it was."""
    return text.replace(",", ".") if TYPED.fullmatch(text.strip()) else text


def marks(given: Decimal) -> str:
    """Marks as people write them: `3`, `2½`."""
    return _marks(given, speech().decimals)


@lru_cache(maxsize=1024)
def _marks(given: Decimal, decimals: str) -> str:
    return DECIMAL.sub(_sign(decimals), marks_text(given))


def day(given: date) -> str:
    """A date: `5 March 2027`, `2027-03-05` or `05.03.2027`."""
    match speech().dates:
        case "year first":
            return given.isoformat()
        case "day first":
            return format_date(given, "dd.MM.yyyy", "de_DE")
    return format_date(given, "long", Locale.parse(PLACES[speech().language]))


def moment(at: datetime) -> str:
    """A day and a time, as the clock of this machine shows it."""
    local = at.astimezone()
    return f"{day(local.date())}, {local:%H:%M}"

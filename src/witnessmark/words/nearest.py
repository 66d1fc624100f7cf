"""The known word that a misspelt one is nearest to, as a hint of what to type."""

import difflib
from collections.abc import Iterable

LEAST_ALIKE = 0.6
HARDLY_ALIKE = 0.3
MOST_LISTED = 12


def near(word: str, known: Iterable[str]) -> str:
    """`did you mean X?` for the nearest known word, or nothing."""
    candidates = sorted(set(known))
    found = difflib.get_close_matches(word, candidates, 1, LEAST_ALIKE)
    if not found:
        found = [k for k in candidates if k.lower() == word.lower()][:1]
    return f"did you mean {found[0]}?" if found else ""


def near_or_all(word: str, known: Iterable[str]) -> str:
    """The nearest known word, or else the list of all of them."""
    names = sorted(set(known))
    return near(word, names) or (f"known here: {', '.join(names)}" if names else "none is known here")


def with_hint(word: str, known: Iterable[str]) -> str:
    """`; did you mean X?` to end a sentence with, or nothing."""
    hint = near(word, known)
    return f"; {hint}" if hint else ""


def there_are(word: str, known: Iterable[str]) -> str:
    """What there is, for one who asked for `word`: the names, the nearest of them where they are many, and a hint."""
    names = list(dict.fromkeys(known))
    if not names:
        return "there are none"
    if len(names) <= MOST_LISTED:
        return f"there are {', '.join(names)}{with_hint(word, names)}"
    nearest = difflib.get_close_matches(word, names, 3, HARDLY_ALIKE)
    return f"there are {len(names)}" + (f", the nearest {', '.join(nearest)}" if nearest else "")

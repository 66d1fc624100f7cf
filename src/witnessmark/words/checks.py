"""What a value type says of itself when it is made: a programmer who hands over nonsense is told where it is made."""

from collections.abc import Collection, Iterable
from decimal import Decimal

MARKS = "marks as a Decimal, finite, at least 0"


def expect(holds: bool, what: str, expected: str, found: object) -> None:
    """Raises ValueError unless it holds: `figures: expected a whole number from 1 to 9, found 0`."""
    if not holds:
        raise ValueError(f"{what}: expected {expected}, found {found!r}")


def expect_text(what: str, text: object) -> None:
    """Raises ValueError unless this is text with something in it."""
    expect(isinstance(text, str) and bool(text.strip()), what, "text", text)


def expect_marks(what: str, marks: object) -> None:
    """Raises ValueError unless these are marks: an exact decimal, at least 0."""
    expect(isinstance(marks, Decimal) and marks.is_finite() and marks >= 0, what, MARKS, marks)


def expect_share(what: str, share: object) -> None:
    """Raises ValueError unless this is a number from 0 to 1."""
    is_number = isinstance(share, int | float) and not isinstance(share, bool)
    expect(is_number and 0 <= share <= 1, what, "a number from 0 to 1", share)  # type: ignore[operator]


def expect_whole(what: str, number: object, least: int, most: int | None = None) -> None:
    """Raises ValueError unless this is a whole number in a range."""
    is_whole = isinstance(number, int) and not isinstance(number, bool)
    span = f", at least {least}" if most is None else f" from {least} to {most}"
    in_range = is_whole and least <= number and (most is None or number <= most)  # type: ignore[operator]
    expect(in_range, what, f"a whole number{span}", number)


def expect_each_once(what: str, names: Iterable[object]) -> None:
    """Raises ValueError where a name stands twice."""
    listed = list(names)
    twice = next((name for n, name in enumerate(listed) if name in listed[:n]), None)
    expect(twice is None, what, "each once", twice)


def expect_one_of(what: str, name: object, known: Collection[object]) -> None:
    """Raises ValueError unless the name is known."""
    expect(name in known, what, f"one of {', '.join(map(str, known))}", name)

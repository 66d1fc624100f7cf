"""What a value type says of itself when it is made: a programmer who hands over nonsense is told where it is made."""

from decimal import Decimal

MARKS = "marks as a Decimal, finite, at least 0"


def expect(holds: bool, what: str, expected: str, found: object) -> None:
    """Raises ValueError unless it holds: `figures: expected a whole number from 1 to 9, found 0`."""
    if not holds:
        raise ValueError(f"{what}: expected {expected}, found {found!r}")


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

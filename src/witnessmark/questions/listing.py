"""The order of options and steps on the sheet, so that whoever prints and whoever marks agree on the letters."""

from witnessmark.questions.question import Part


def listed_steps(part: Part) -> tuple[str, ...]:
    """The steps of an `order` find as the sheet lists them: by alphabet, which tells nothing of their right order.

    Where the alphabet happens to be the right order, it runs backwards.
    """
    by_alphabet = tuple(sorted(part.steps, key=str.casefold))
    return by_alphabet if by_alphabet != part.steps else tuple(reversed(by_alphabet))


def letter_of(index: int) -> str:
    """The letter of an option or step on the sheet: A, B, C, ..."""
    return chr(ord("A") + index)

"""In which manner a kind of find is asked and answered, as words and sizes for every document."""

from dataclasses import dataclass

NUMBER_WORDS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True, slots=True)
class Manner:
    """The manner of one find.

    `word` stands in the index of a bank and `hint` in a class table. `how` tells in an answer book what an answer looks
    like; `{letters}` in it are those of the options or steps. `also` is what a sheet adds to the author's text.
    `title` stands above the solution, `` where that is a working. `offers` can be picked in an answer book, as can the
    letters where `picks_letter`. `rows` are the lines to write on in an answer book; `in_words` asks for a wide column;
    `in_letters` sets the question's letters in the author's text as letters.
    """

    word: str
    hint: str
    how: str
    also: str = ""
    title: str = ""
    offers: tuple[str, ...] = ()
    picks_letter: bool = False
    rows: int = 1
    in_words: bool = False
    in_letters: bool = False


def number_word(number: int) -> str:
    """`three`; digits above ten."""
    return NUMBER_WORDS[number] if number < len(NUMBER_WORDS) else str(number)

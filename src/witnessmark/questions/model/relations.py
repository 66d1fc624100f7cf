"""Relations between quantities, by topic: what a sheet lists, so that students choose one rather than recall it."""

from dataclasses import dataclass

from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Tree, is_name, names_in, parse
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.words.checks import expect, expect_each_once, expect_text

FEWEST_SPARE = 2
"""So many relations of a topic at least are needed by none of its questions, so that no list gives anything away."""


@dataclass(frozen=True, slots=True)
class NamedLetter:
    """What a letter stands for in the relations of a topic, and the unit that a workshop gives it in."""

    name: str
    is_: str
    unit: str = ""
    symbol: str = ""

    def __post_init__(self) -> None:
        expect(is_name(self.name), "letter", "letters a to z, digits and _", self.name)
        expect_text(f"what {self.name} is", self.is_)
        unit(self.unit)


@dataclass(frozen=True, slots=True)
class Relation:
    """`letter` equals an expression in the language of formulas; for what it `holds`, and which questions need it."""

    letter: str
    equals: str
    holds: str = ""
    needed_by: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        parse(self.equals)

    @property
    def tree(self) -> Tree:
        """The right side."""
        return parse(self.equals)

    @property
    def names(self) -> tuple[str, ...]:
        """Every letter that it needs, the one it finds first; constants are not among them."""
        return (self.letter, *sorted(names_in(self.tree) - CONSTANTS.keys() - {self.letter}))


@dataclass(frozen=True, slots=True)
class TopicRelations:
    """The relations of a topic, with the letters they are written in."""

    topic: str
    letters: tuple[NamedLetter, ...]
    relations: tuple[Relation, ...]

    def __post_init__(self) -> None:
        expect_text("topic", self.topic)
        expect_each_once("letters", (letter.name for letter in self.letters))
        known = {letter.name for letter in self.letters}
        for relation in self.relations:
            expect(known.issuperset(relation.names), f"letters of {relation.equals}", ", ".join(known), relation.names)
        expect(
            len(self.spare) >= FEWEST_SPARE, "relations that no question needs", f"{FEWEST_SPARE} at least", self.spare
        )

    @property
    def spare(self) -> tuple[Relation, ...]:
        """Those that no question of the topic needs."""
        return tuple(relation for relation in self.relations if not relation.needed_by)

    @property
    def symbols(self) -> dict[str, str]:
        """The symbol of each letter that is printed as another text than its name."""
        return {letter.name: letter.symbol for letter in self.letters if letter.symbol}

"""The relations of a sheet as a list of parts: numbered, each with what its letters stand for."""

from collections.abc import Iterator, Sequence

from witnessmark.documents.page.blocks import Block, Heading, Keep, Maths, Note, Run, Runs, Table, Words, words
from witnessmark.maths.printing.numbers import unit_text
from witnessmark.maths.printing.pieces import EQUALS, Piece, formula, letter, row
from witnessmark.questions.model.relations import NamedLetter, Relation, TopicRelations

HEADER = ("No.", "Relation", "What its letters stand for")
TOLD = (
    "Some of these relations are needed on this sheet, and some are not. A letter stands for what is said beside it; "
    "in a question the same thing may have another letter. Each is to be rearranged as you need it."
)


def relation_blocks(listed: Sequence[TopicRelations]) -> list[Block]:
    """The list, in a table for each topic; nothing where none are listed."""
    if not listed:
        return []
    blocks: list[Block] = [Heading("Relations", 2), Note(words(TOLD))]
    number = 1
    for topic in listed:
        ordered = in_order(topic)
        rows = tuple(_row(number + place, relation, topic) for place, relation in enumerate(ordered))
        caption = topic.topic.capitalize()
        blocks.append(Table(HEADER, rows, frozenset({0}), caption, wide=2, whole=frozenset({0})))
        number += len(ordered)
    return [Keep((*blocks[:2], blocks[2]), if_fits=True), *blocks[3:]]


def in_order(topic: TopicRelations) -> tuple[Relation, ...]:
    """The relations by what they find, so that their order says nothing of which are needed."""
    meanings = {each.name: each.is_.casefold() for each in topic.letters}
    return tuple(sorted(topic.relations, key=lambda one: (meanings[one.letter], one.letter, one.equals)))


def _row(number: int, relation: Relation, topic: TopicRelations) -> tuple[Runs, ...]:
    held = (Words(f" {relation.holds}", quiet=True),) if relation.holds else ()
    return words(str(number)), (Maths(_equation(relation, topic), tall=True), *held), tuple(_meanings(relation, topic))


def _equation(relation: Relation, topic: TopicRelations) -> Piece:
    return row(letter(relation.letter, topic.symbols), EQUALS, formula(relation.tree, topic.symbols))


def _meanings(relation: Relation, topic: TopicRelations) -> Iterator[Run]:
    """`σ stress along the bar (MPa), F force along the bar (kN), ...`"""
    named = {each.name: each for each in topic.letters}
    for position, name in enumerate(relation.names):
        yield from [Words(", ")] if position else []
        yield Maths(letter(name, topic.symbols))
        yield Words(f"\u00a0{_meaning(named[name])}")


def _meaning(named: NamedLetter) -> str:
    unit = unit_text(named.unit)
    return f"{named.is_} ({unit})" if unit else named.is_

"""The file `bank/relations.yaml`: of each topic the relations that its sheets may list."""

from collections.abc import Collection, Mapping

from witnessmark.files.bank.scope import Scope
from witnessmark.files.shapes.misfits import fitted
from witnessmark.files.shapes.placed import Placed, shown
from witnessmark.files.shapes.problems import add_misfits
from witnessmark.files.shapes.relation_shapes import RelationShape, TopicRelationsShape
from witnessmark.files.shapes.yaml_text import Path, read_yaml
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.questions.model.relations import FEWEST_SPARE, NamedLetter, Relation, TopicRelations
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Problem

A_LETTER = "a letter of this topic or a constant"
Keys = Collection[str] | None
"""The questions of a topic, by key; None where not all could be read, so that none is looked for."""


def relations_from_text(
    text: str, file: str, topics: Mapping[str, Collection[str]] | None
) -> tuple[Mapping[str, TopicRelations], tuple[Problem, ...]]:
    """The relations of each topic that has no problem, and every problem of the file; `topics` holds the keys of the
    questions of each topic."""
    read, problems = read_yaml(text, file)
    placed = Placed(read)
    placed.problems += problems
    found: dict[str, TopicRelations] = {}
    if isinstance(read.data, dict):
        for topic, data in read.data.items():
            made = _topic(placed, topic, data, topics)
            found |= {topic: made} if made else {}
    elif read.data is not None:
        placed.add("wrong-value", (), "keys and values", shown(read.data), "type a key for each topic")
    return found, placed.in_order()


def _topic(
    placed: Placed, topic: str, data: object, topics: Mapping[str, Collection[str]] | None
) -> TopicRelations | None:
    before = len(placed.problems)
    if topics is not None and topic not in topics:
        placed.add_key("unknown-topic", (topic,), "a topic of the bank", f"'{topic}'", near_or_all(topic, topics))
    shape, misfits = fitted(TopicRelationsShape, data, (topic,))
    add_misfits(placed, misfits)
    if shape is None:
        return None
    scope = _letters(placed, topic, shape)
    for position, relation in enumerate(shape.relations):
        _relation(placed, (topic, "relations", position), relation, scope, topics.get(topic) if topics else None)
    _together(placed, topic, shape)
    if len(placed.problems) == before:
        _unused(placed, topic, shape, scope)
    return None if len(placed.problems) > before else _made(topic, shape)


def _letters(placed: Placed, topic: str, shape: TopicRelationsShape) -> Scope:
    """The letters as what formulas may use."""
    scope = Scope(placed, names_are=A_LETTER)
    for name, letter in shape.letters.items():
        path: Path = (topic, "letters", name)
        is_named = scope.claim(path, name, "a letter")
        is_sound = placed.unit((*path, "unit"), letter.unit)
        if is_named and is_sound:
            scope.base[name] = unit(letter.unit).dimension
            scope.units[name] = letter.unit
        else:
            scope.broken.add(name)
    return scope


def _relation(placed: Placed, path: Path, shape: RelationShape, scope: Scope, keys: Keys) -> None:
    """A problem for a letter that is none, a formula that is none or of another dimension, a question that is none."""
    names: Mapping[str, Dimension] = scope.base
    tree = scope.expression((*path, "equals"), shape.equals, names)
    if shape.letter in scope.units:
        if tree is not None:
            scope.has_unit((*path, "equals"), tree, names, scope.units[shape.letter], shape.letter)
    elif not scope.is_broken(shape.letter):
        remedy = near_or_all(shape.letter, scope.units)
        placed.add("unknown-letter", (*path, "letter"), "a letter of this topic", f"'{shape.letter}'", remedy)
    for position, key in enumerate(shape.needed_by):
        if keys is not None and key not in keys:
            at: Path = (*path, "needed by", position)
            placed.add("unknown-question", at, "a question of this topic", f"'{key}'", near_or_all(key, keys))


def _together(placed: Placed, topic: str, shape: TopicRelationsShape) -> None:
    """Problems of the list as a whole: what stands twice, and a list that gives answers away."""
    texts = [(relation.letter, relation.equals) for relation in shape.relations]
    for position, text in enumerate(texts):
        if text in texts[:position]:
            path: Path = (topic, "relations", position)
            placed.add("relation-twice", path, "each relation once", " = ".join(text), "delete one")
    spare = sum(not relation.needed_by for relation in shape.relations)
    if spare < FEWEST_SPARE:
        expected = f"{FEWEST_SPARE} relations at least that no question needs, so that the list gives nothing away"
        placed.add_key("gives-away", (topic, "relations"), expected, str(spare), "add others of the topic")


def _unused(placed: Placed, topic: str, shape: TopicRelationsShape, scope: Scope) -> None:
    for name in shape.letters.keys() - scope.used.keys() - {relation.letter for relation in shape.relations}:
        path: Path = (topic, "letters", name)
        placed.add_key("unused-letter", path, "a relation with this letter", f"'{name}' in none", "delete it")


def _made(topic: str, shape: TopicRelationsShape) -> TopicRelations:
    letters = tuple(NamedLetter(name, each.is_, each.unit, each.symbol) for name, each in shape.letters.items())
    relations = tuple(Relation(each.letter, each.equals, each.holds, tuple(each.needed_by)) for each in shape.relations)
    return TopicRelations(topic, letters, relations)

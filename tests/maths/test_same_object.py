"""What is worked of a tree is worked once for all that are equal, and the tree that is known is not looked through."""

from witnessmark.maths.same_object import SameObject, remembered


class Tree:
    """Something that counts how often it is looked through."""

    def __init__(self, name: str) -> None:
        self.name, self.looks = name, 0

    def __hash__(self) -> int:
        self.looks += 1
        return hash(self.name)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Tree) and self.name == other.name


def test_equals_are_worked_once_and_the_same_object_is_looked_through_once() -> None:
    worked: list[Tree] = []

    @remembered
    def letters(tree: Tree) -> int:
        """How many there are."""
        worked.append(tree)
        return len(tree.name)

    one, equal, other = Tree("plank"), Tree("plank"), Tree("keel")
    assert [letters(tree) for tree in (one, one, equal, other, one, equal)] == [5, 5, 5, 4, 5, 5]
    assert worked == [one, other]
    assert (one.looks, equal.looks) == (1, 1)
    assert letters.__doc__ == "How many there are."


def test_a_key_is_the_same_for_one_object_alone() -> None:
    held = [1]
    assert SameObject(held) == SameObject(held)
    assert hash(SameObject(held)) == hash(SameObject(held))
    assert SameObject(held) != SameObject([1])
    assert SameObject(held) != held

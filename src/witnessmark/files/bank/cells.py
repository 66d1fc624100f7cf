"""Columns of a question's table in an expression: written out as the cells that they stand for."""

from collections.abc import Mapping

from witnessmark.maths.syntax import Call, Name, Number, Tree, children, is_call_of_many, rebuilt
from witnessmark.questions.model.question import Question
from witnessmark.questions.model.table import cell_name

ROW = "row"


def written_out(tree: Tree, columns: Mapping[str, int], row: int, has_row: bool = True) -> Tree:
    """The tree with every column as its cells: all of them inside a function of many, elsewhere the one of this row.

    `row` itself is the number of the row, where that word is free (`has_row`). With row 0 columns elsewhere stay.
    """
    match tree:
        case Name(name=name) if row and name in columns:
            return Name(cell_name(name, row))
        case Name(name=name) if row and name == ROW and has_row:
            return Number(str(row))
        case Call(arguments=arguments) if is_call_of_many(tree):
            readings = [reading for one in arguments for reading in _readings(one, columns)]
            return rebuilt(tree, tuple(written_out(one, columns, row, has_row) for one in readings))
    return rebuilt(tree, tuple(written_out(child, columns, row, has_row) for child in children(tree)))


def _readings(tree: Tree, columns: Mapping[str, int]) -> list[Tree]:
    """What an argument of a function of many stands for: every cell of a column, row by row where it is worked from
    columns (`mean(F/A)`), or itself."""
    named = _columns_in(tree, columns)
    if not named:
        return [tree]
    return [written_out(tree, columns, row) for row in range(1, min(columns[name] for name in named) + 1)]


def _columns_in(tree: Tree, columns: Mapping[str, int]) -> frozenset[str]:
    if isinstance(tree, Name):
        return frozenset({tree.name} & columns.keys())
    return frozenset[str]().union(*(_columns_in(child, columns) for child in children(tree)))


def rows_by_column(question: Question) -> dict[str, int]:
    """The columns of a question's table by name, each with how many rows it has."""
    return {column.name: column.rows for column in question.table.columns} if question.table else {}

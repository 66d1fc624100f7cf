"""A question's table as strangers read it: each cell that is asked is a number of its own, each column its cells."""

import ast
from collections.abc import Iterator, Mapping
from typing import Any

from witnessmark.strangers.arithmetic import OF_MANY, Expression, name_of, read, text_of

Find = Mapping[str, Any]


def columns_in(text: Find) -> dict[str, int]:
    """Every column of a question's table, of data and of cells that are asked, with how many rows it has."""
    table: Find = text.get("table") or {}
    asked = [str(find["symbol"]) for find in text["find"].values() if "each row" in find]
    return {str(name): int(table["rows"]) for name in (*table.get("columns", ()), *asked)}


def is_told(name: str, text: Find) -> bool:
    """Whether a number is printed: not one behind the readings of a table, nor what a reading is off."""
    table: Find = text.get("table") or {}
    cells = {
        f"{column}_{row}_scatter" for column in table.get("columns", ()) for row in range(1, 1 + int(table["rows"]))
    }
    return name not in table.get("behind", ()) and name not in cells


def cells_of(letter: str, find: Find, rows: int) -> Iterator[tuple[str, Find]]:
    """The finds of a column, one a row, each as a find of one number."""
    for row in range(1, rows + 1):
        rest = {key: value for key, value in find.items() if key != "each row"}
        yield f"{letter}{row}", {**rest, "answer": find["each row"], "symbol": f"{find['symbol']}_{row}", "row": row}


def without_columns(find: Find, columns: Mapping[str, int]) -> Find:
    """A find with every column in its expressions written as cells."""
    row = int(find.get("row", 0))

    def written(formula: Any) -> str:
        return text_of(_written(read(str(formula)), columns, row))

    slips = [{**slip, "answer": written(slip["answer"])} for slip in find.get("slips", ())]
    lines = {name: {**line, "value": written(line["value"])} for name, line in find.get("lines", {}).items()}
    return {**find, "answer": written(find["answer"]), "slips": slips, "lines": lines}


def _written(tree: Expression, columns: Mapping[str, int], row: int) -> Expression:
    if (name := name_of(tree)) in columns and row:
        return ast.Name(f"{name}_{row}")
    match tree:
        case ast.Name(id="row") if row:
            return ast.Constant(row)
        case ast.BinOp(left=left, op=op, right=right):
            return ast.BinOp(_written(left, columns, row), op, _written(right, columns, row))
        case ast.UnaryOp(op=sign, operand=operand):
            return ast.UnaryOp(sign, _written(operand, columns, row))
        case ast.Call(func=ast.Name(id=function), args=arguments) if function in OF_MANY:
            readings = [one for argument in arguments for one in _readings(argument, columns)]
            return ast.Call(tree.func, [_written(one, columns, row) for one in readings], [])
        case ast.Call(func=function, args=arguments):
            return ast.Call(function, [_written(a, columns, row) for a in arguments], [])
    return tree


def _readings(tree: Expression, columns: Mapping[str, int]) -> list[Expression]:
    named = [name for node in ast.walk(tree) if (name := name_of(node)) in columns]
    return [_written(tree, columns, row) for row in range(1, columns[named[0]] + 1)] if named else [tree]

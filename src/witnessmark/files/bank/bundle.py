"""The bundle of a question: its text with the tables and misconceptions it uses, as one JSON text to keep for years."""

import json
from collections.abc import Mapping
from dataclasses import asdict
from decimal import Decimal
from typing import Any

from witnessmark.questions.model.question import Misconception, Table
from witnessmark.words.errors import ProblemsFound, UnitError
from witnessmark.words.problems import Place, Problem

FORM, FIRST_FORM = "witnessmark question 2", "witnessmark question 1"
"""The first form also held the path of the file, which told whose machine it was and made one question two texts."""
SHOWN = 40
STORED = "a stored question"
"""Where problems of a bundle's text are said to be."""


def question_bundle(text: str, tables: Mapping[str, Table], misconceptions: Mapping[str, Misconception]) -> str:
    """One JSON text that `opened_bundle` reads back; the same for the same question."""
    content = {
        "form": FORM,
        "text": text,
        "tables": {key: _kept(table) for key, table in sorted(tables.items())},
        "misconceptions": {key: asdict(one) for key, one in sorted(misconceptions.items())},
    }
    return json.dumps(content, ensure_ascii=False, separators=(",", ":"))


def _kept(table: Table) -> dict[str, Any]:
    rows = {name: {column: _cell(v) for column, v in cells.items()} for name, cells in table.rows.items()}
    return {"source": table.source, "units": table.units, "rows": rows}


def _cell(value: Decimal | str) -> list[str]:
    return ["number", str(value)] if isinstance(value, Decimal) else ["text", value]


def opened_bundle(source: str) -> tuple[str, dict[str, Table], dict[str, Misconception]]:
    """The text, the tables and the misconceptions of a bundle; raises ProblemsFound where it is none."""
    try:
        content = json.loads(source)
        if content["form"] not in (FORM, FIRST_FORM):
            raise ValueError(content["form"])
        tables = {key: _table(key, table) for key, table in content["tables"].items()}
        misconceptions = {key: _misconception(one) for key, one in content["misconceptions"].items()}
        return str(content["text"]), tables, misconceptions
    except (ValueError, KeyError, TypeError, AttributeError, ArithmeticError, RecursionError, UnitError):
        found = f"'{source[:SHOWN]}'"
        raise ProblemsFound([Problem("not-a-bundle", Place(STORED), FORM, found)]) from None


def _table(key: str, kept: Mapping[str, Any]) -> Table:
    rows = {
        str(name): {c: Decimal(text) if form == "number" else str(text) for c, (form, text) in cells.items()}
        for name, cells in kept["rows"].items()
    }
    return Table(key, str(kept["source"]), dict(kept["units"]), rows)


def _misconception(kept: Mapping[str, Any]) -> Misconception:
    return Misconception(**{**kept, "kit": tuple(kept["kit"])})

"""Every calculated part of the bank worked a second time, from the printed page alone, three variants each.

What is compared with comes from the package; what it is compared with, from `amounts`, `printed` and the topics' own
modules, which use nothing of it (tested below). How to add a function: `recalculated/registry.py`.
"""

import ast
import math
from functools import cache
from importlib import import_module
from pathlib import Path

import pytest

from bank_fixture import BANK
from recalculated.amounts import amount, factor, half_a_step
from recalculated.printed import Page, Printed
from recalculated.registry import WORKED, Result
from witnessmark.documents.kinds.dispatch import solution_blocks
from witnessmark.documents.page.blocks import Block, Document
from witnessmark.documents.page.html import html_of
from witnessmark.documents.sheet.sheet import question_blocks
from witnessmark.jobs.figures import figure_of
from witnessmark.questions.drawing.draw import draw_all
from witnessmark.questions.model.parts import (
    ChoicePart,
    ExpressionPart,
    HandPart,
    JudgePart,
    LimitsPart,
    MatchPart,
    OrderPart,
    Part,
    PointsPart,
    QuantityPart,
    SeveralPart,
    StandardPart,
    ValueChoicePart,
)
from witnessmark.questions.sheet.listing import si_of
from witnessmark.questions.sheet.variant import Variant

HERE = Path(__file__).parent
FRAME = {"amounts", "printed", "registry", "shapes", "instruments", "test_recalculated"}
TOPICS = sorted(path.stem for path in HERE.glob("*.py") if path.stem not in FRAME)
IN_WORDS = (ChoicePart, SeveralPart, MatchPart, ExpressionPart, OrderPart, PointsPart, HandPart)
VARIANTS = 3
INDEPENDENT = [path for path in sorted(HERE.glob("*.py")) if path != Path(__file__)]
LIBRARIES = {
    "math",
    "statistics",
    "re",
    "typing",
    "dataclasses",
    "html.parser",
    "collections.abc",
    "itertools",
    "xml.etree",
}

for topic in TOPICS:
    import_module(f"recalculated.{topic}")


def calculated(key: str) -> list[Part]:
    """The parts of a question whose answer is worked."""
    return [part for part in BANK[key].parts if not isinstance(part, IN_WORDS)]


QUESTIONS = [key for key in BANK if calculated(key)]


@cache
def variants(key: str) -> tuple[Variant, ...]:
    seeds = {str(n): f"recalculated {n}" for n in range(VARIANTS)}
    return tuple(draw_all(BANK[key], seeds, frozenset()).values())


def page(blocks: tuple[Block, ...]) -> Page:
    return Page(html_of(Document("recalculated", blocks)))


@cache
def sheets(key: str) -> tuple[Printed, ...]:
    return tuple(sheet_of(variant) for variant in variants(key))


def sheet_of(variant: Variant) -> Printed:
    """The printed sheet, with its figure where something is to be read from it."""
    printed = page(tuple(question_blocks(1, variant, None, 3))).printed
    if any(given.in_figure for given in variant.question.givens):
        art = figure_of(variant, BANK.figures_path)
        printed.figure = art.svg if art else ""
    return printed


@pytest.mark.parametrize("key", QUESTIONS)
def test_every_calculated_part_has_a_function_of_its_own(key: str) -> None:
    missing = [part.key for part in calculated(key) if (key, part.key) not in WORKED]
    assert missing == [], f"no function in tests/recalculated for {key} {missing}; printed is:\n{sheets(key)[0]}"


def test_every_function_belongs_to_a_calculated_part_of_the_bank() -> None:
    assert set(WORKED) <= {(key, part.key) for key in BANK for part in calculated(key)}


def answers_of(variant: Variant, part: Part) -> Result:
    """What the package says is right, in SI."""
    values = variant.expected_si
    match part:
        case QuantityPart():
            return values[part.key]
        case LimitsPart():
            return values[part.largest.key], values[part.smallest.key]
        case ValueChoicePart():
            return si_of(part.answer, variant)
        case JudgePart():
            return says_yes(variant, part)
        case StandardPart():
            return says_size(variant, part)
    raise AssertionError(f"{part.key} is of a new kind: say here what is right")


def says_yes(variant: Variant, part: JudgePart) -> bool:
    """What the worked solution says at its end."""
    solution = page(solution_blocks(variant, part, variant.expected_si)).printed.setting
    said = solution.rpartition(" ")[2]
    assert said in ("Yes.", "No."), solution
    return said == "Yes."


def says_size(variant: Variant, part: StandardPart) -> str:
    """The size that the worked solution names at its end."""
    solution = page(solution_blocks(variant, part, variant.expected_si)).printed.setting
    return solution.rpartition(": ")[2].removesuffix(".")


@pytest.mark.parametrize("key", QUESTIONS)
def test_the_answer_is_what_follows_from_the_printed_page(key: str) -> None:
    for variant, sheet in zip(variants(key), sheets(key), strict=True):
        for part in calculated(key):
            own, right = WORKED[key, part.key](sheet), answers_of(variant, part)
            if isinstance(right, tuple) or isinstance(own, tuple):
                assert own == pytest.approx(right, rel=1e-9), f"{part.key} of\n{sheet}"
            elif isinstance(right, bool | str) or isinstance(own, bool | str):
                assert own == right, f"{part.key} of\n{sheet}"
            else:
                assert math.isclose(own, right, rel_tol=1e-9), f"{part.key}: {own} by hand, {right} of\n{sheet}"


@pytest.mark.parametrize("key", QUESTIONS)
def test_the_printed_answer_is_what_follows_from_the_printed_page_to_its_last_figure(key: str) -> None:
    for variant, sheet in zip(variants(key), sheets(key), strict=True):
        for part in calculated(key):
            own = WORKED[key, part.key](sheet)
            for value, printed in zip(numbers(own), answers_printed(variant, part), strict=True):
                assert abs(value - amount(printed)) <= half_a_step(printed, sheet.figures(part.key)) * (1 + 1e-6), (
                    f"{part.key}: {printed}"
                )


def numbers(result: Result) -> tuple[float, ...]:
    if isinstance(result, bool | str):
        return ()
    return result if isinstance(result, tuple) else (result,)


def answers_printed(variant: Variant, part: Part) -> tuple[str, ...]:
    """The last number of each worked result, as the returned feedback prints it."""
    if isinstance(part, JudgePart | StandardPart):
        return ()
    sides = part.sides if isinstance(part, LimitsPart) else (part,)
    values = variant.expected_si
    solutions = [page(solution_blocks(variant, side, values)).formulae for side in sides]
    return tuple(formulae[-1].rpartition("=")[2] for formulae in solutions)


def test_a_number_and_its_unit_are_read_as_they_are_printed() -> None:
    assert amount("12\u202f500\u00a0N/mm²") == 12500e6
    assert amount("−3.5\u00a0×\u00a010⁻³\u00a0mm, where") == pytest.approx(-3.5e-6, rel=1e-15)
    assert amount("30°") == pytest.approx(math.pi / 6, rel=1e-15)
    assert amount("20\u00a0°C.") == 293.15
    assert amount("8.9061×10⁻⁴") == pytest.approx(8.9061e-4, rel=1e-15)
    assert amount("0.9382 times the pitch") == 0.9382
    assert factor("µm/(m·K)") == pytest.approx(1e-6, rel=1e-15)
    assert half_a_step("46.2\u00a0kN", 3) == pytest.approx(50, rel=1e-12)


@pytest.mark.parametrize("file", INDEPENDENT, ids=lambda file: file.stem)
def test_what_recalculates_uses_nothing_of_the_package(file: Path) -> None:
    imports = [
        node for node in ast.walk(ast.parse(file.read_text("utf-8"))) if isinstance(node, ast.Import | ast.ImportFrom)
    ]
    named = {alias.name for node in imports if isinstance(node, ast.Import) for alias in node.names}
    named |= {node.module or "" for node in imports if isinstance(node, ast.ImportFrom)}
    assert {name for name in named - LIBRARIES if not name.startswith("recalculated.")} == set()

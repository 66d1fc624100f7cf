"""Every figure of the bank as drawn at both ends of its ranges and in the middle, once for all tests of a module."""

import re
from functools import cache
from pathlib import Path

from bank_fixture import BANK
from witnessmark.documents.figures.extremes import extreme_variants, spread_variants
from witnessmark.documents.figures.render import FigureArt, figure_svg
from witnessmark.files.bank.folder import FIGURE_ENDING
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Variant

DRAWN = [q for q in BANK.values() if q.figure]
CIRCLE = re.compile(r'<circle cx="([-\d.]+)" cy="([-\d.]+)" r="([\d.]+)" fill="[^"]*" stroke="#111" stroke-width="1.1"')


def template_of(question: Question) -> str:
    return (Path(BANK.figures_path) / (question.figure + FIGURE_ENDING)).read_text(encoding="utf-8")


def art_of(question: Question, variant: Variant) -> FigureArt:
    return figure_svg(template_of(question), variant)


@cache
def drawn_at_the_ends(key: str) -> tuple[tuple[Variant, FigureArt], ...]:
    question = BANK[key]
    return tuple((v, art_of(question, v)) for v in (*extreme_variants(question), *spread_variants(question)))


def arts_of(question: Question) -> list[FigureArt]:
    return [art for _, art in drawn_at_the_ends(question.key)]


def circles(art: FigureArt) -> list[float]:
    """The radii of the outlined circles, largest first."""
    return sorted((float(r) for _, _, r in CIRCLE.findall(art.svg)), reverse=True)


def points_of(text: str) -> list[tuple[float, float]]:
    pairs = (point.split(",") for point in text.split())
    return [(float(x), float(y)) for x, y in pairs]

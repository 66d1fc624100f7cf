"""The figure of a variant, from its template in the bank; what is wrong with that is a problem of the template."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from witnessmark.documents.figures.render import FigureArt, FigureError, figure_svg
from witnessmark.documents.figures.template_limits import LARGEST_TEMPLATE
from witnessmark.files.bank.folder import FIGURE_ENDING
from witnessmark.files.safe.bounded import read_bounded
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import Variant
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Template:
    """The template of a figure: its file, and its text as it was read."""

    file: str
    text: bytes


Templates = Mapping[str, Template]
"""Templates by the name that questions give them."""


def templates_of(variants: Iterable[Variant], figures: Path) -> Templates:
    """The templates of all figures of these variants, `figures` being their folder; raises ProblemsFound."""
    names = dict.fromkeys(v.question.figure for v in variants if v.question.figure)
    return {name: _read(figures / f"{name}{FIGURE_ENDING}") for name in names}


def _read(file: Path) -> Template:
    content, problems = read_bounded(file, LARGEST_TEMPLATE)
    if problems:
        raise ProblemsFound(problems)
    return Template(str(file), content)


def figure_of(variant: Variant, figures: Path) -> FigureArt | None:
    """The figure of a question that has one, `figures` being the folder of templates; raises ProblemsFound."""
    return figure_from(variant, templates_of([variant], figures))


def figure_from(variant: Variant, templates: Templates) -> FigureArt | None:
    """The figure of a question that has one, from templates that were read; raises ProblemsFound."""
    if not variant.question.figure:
        return None
    template = templates[variant.question.figure]
    try:
        return figure_svg(template.text.decode("utf-8"), variant)
    except (FigureError, UnicodeDecodeError) as error:
        expected, remedy = f"a figure for question {variant.question.key}", "mend the template"
        raise ProblemsFound([Problem("figure", Place(template.file), expected, str(error), remedy)]) from error


def figures_of(sheet: Sheet, figures: Path) -> dict[int, FigureArt]:
    """The figure of each question of a sheet that has one, by question number; raises ProblemsFound."""
    return figures_from(sheet, templates_of(sheet.variants, figures))


def figures_from(sheet: Sheet, templates: Templates) -> dict[int, FigureArt]:
    """The same from templates that were read."""
    drawn = {number: figure_from(variant, templates) for number, variant in enumerate(sheet.variants, 1)}
    return {number: art for number, art in drawn.items() if art}

"""The figure of a variant, from its template in the bank; what is wrong with that is a problem of the template."""

from pathlib import Path

from witnessmark.documents.figures.render import FigureArt, FigureError, figure_svg
from witnessmark.documents.figures.template_limits import LARGEST_TEMPLATE
from witnessmark.files.bank.folder import FIGURE_ENDING
from witnessmark.files.safe.bounded import read_bounded
from witnessmark.questions.sheet.variant import Variant
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


def figure_of(variant: Variant, figures: Path) -> FigureArt | None:
    """The figure of a question that has one, `figures` being the folder of templates; raises ProblemsFound."""
    if not variant.question.figure:
        return None
    template = figures / f"{variant.question.figure}{FIGURE_ENDING}"
    content, problems = read_bounded(template, LARGEST_TEMPLATE)
    if problems:
        raise ProblemsFound(problems)
    try:
        return figure_svg(content.decode("utf-8"), variant)
    except (FigureError, UnicodeDecodeError) as error:
        expected, remedy = f"a figure for question {variant.question.key}", "mend the template"
        raise ProblemsFound([Problem("figure", Place(str(template)), expected, str(error), remedy)]) from error

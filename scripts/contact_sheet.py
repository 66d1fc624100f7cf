"""One PDF of every figure of a bank, at both ends of its ranges and in the middle; overlapping texts are listed.

`python scripts/contact_sheet.py [--bank bank] [--out exports/contact-sheet.pdf] [--topic shear] [--each 6]`
Exit code 1 when a figure cannot be drawn or two of its texts overlap.
"""

import argparse
import json
import sys
from pathlib import Path

import typst

from witnessmark.documents.figures.clearance import clashes
from witnessmark.documents.figures.extremes import extreme_variants, spread_variants
from witnessmark.documents.figures.render import FigureArt, FigureError, figure_svg
from witnessmark.files.bank.folder import FIGURE_ENDING, load_bank
from witnessmark.questions.model.question import Question

REPOSITORY = Path(__file__).parents[1]
# Values travel as JSON; the source below holds none of them.
PAGE = """
#set page(paper: "a4", flipped: true, margin: 10mm, numbering: "1")
#set text(font: "Libertinus Serif", size: 8pt)
#set document(title: "Figures at the ends of their ranges and in the middle")
#for question in json(bytes(sys.inputs.questions)) {
  block(below: 4pt, sticky: true, strong(question.name))
  grid(columns: 2, gutter: 10pt, ..question.figures.map(f => image(bytes(f.svg), alt: f.alt)))
}
"""


def figures_of(question: Question, template: str, each: int) -> tuple[list[FigureArt], list[str]]:
    """The figures of a question, at its least, middle and greatest values first, and what is wrong with them."""
    arts: list[FigureArt] = []
    wrong: list[str] = []
    for variant in (*spread_variants(question), *extreme_variants(question))[:each]:
        try:
            art = figure_svg(template, variant)
        except FigureError as error:
            wrong.append(f"{question.key}: {error}")
            continue
        arts.append(art)
        wrong += [f"{question.key}: {clash}" for clash in clashes(art.parts)]
    return arts, wrong


def main(arguments: list[str]) -> int:
    """Draw, compile, report."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--bank", type=Path, default=REPOSITORY / "bank")
    parser.add_argument("--out", type=Path, default=REPOSITORY / "exports" / "contact-sheet.pdf")
    parser.add_argument("--topic", default="")
    parser.add_argument("--each", type=int, default=6, help="figures a question, at most; least to greatest first")
    asked = parser.parse_args(arguments)
    bank = load_bank(asked.bank)
    shown, wrong = [], []
    for question in bank.values():
        if question.figure and asked.topic in ("", question.topic):
            template = (Path(bank.figures_path) / (question.figure + FIGURE_ENDING)).read_text(encoding="utf-8")
            arts, faults = figures_of(question, template, asked.each)
            wrong += faults
            shown.append({"name": f"{question.topic} / {question.key} ({question.figure})",
                          "figures": [{"svg": a.svg, "alt": a.alt} for a in arts]})  # fmt: skip
    made = typst.compile(PAGE.encode(), sys_inputs={"questions": json.dumps(shown)}, ignore_system_fonts=True)
    asked.out.parent.mkdir(parents=True, exist_ok=True)
    asked.out.write_bytes(made)
    print(f"{asked.out}: {sum(len(s['figures']) for s in shown)} figures of {len(shown)} questions")
    print(*wrong, sep="\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

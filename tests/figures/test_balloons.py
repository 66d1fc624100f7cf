"""Balloons: the number in each ring is the student's own, its leader ends at its part, and nothing else tells which."""

import re
from dataclasses import dataclass, replace
from math import hypot
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.documents.figures.balloons import RING
from witnessmark.documents.figures.render import FigureArt, FigureError, figure_svg
from witnessmark.files.bank.folder import FIGURE_ENDING
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.kinds import balloons_in
from witnessmark.questions.sheet.listing import letter_of, lettered_options
from witnessmark.questions.sheet.variant import Variant

SVG = "{http://www.w3.org/2000/svg}"
SEEDS = ("eider", "plover", "dunlin", "curlew")
SAID = "{{ say('Rings', 'Numbered rings') }}"


@dataclass(frozen=True)
class Spot:
    """Where a part lies in a figure, as a person sees it there: a box in points, read off the template."""

    left: float
    top: float
    right: float
    bottom: float

    def holds(self, x: float, y: float) -> bool:
        return self.left <= x <= self.right and self.top <= y <= self.bottom


WHERE = {
    "circuit-signs": {
        "pump": Spot(-15, 39, 15, 69), "pressure relief valve": Spot(24, 32, 48, 56),
        "check valve": Spot(77, -10, 92, 10), "filter": Spot(-12, 80, 12, 104),
        "throttle valve": Spot(112, -14, 136, 16),
    },
    "stern-gear": {
        "half coupling": Spot(-158, -26, -142, 26), "gland": Spot(-94, -32, -60, -8.8),
        "packing": Spot(-60, -18, -40.5, -8), "stern tube": Spot(-26, -22, 100, -15),
        "rubber bearing": Spot(60, 8.8, 100, 15), "locking nut": Spot(140, -11, 154, 11),
    },
}  # fmt: skip
QUESTIONS = [question for question in BANK.values() if balloons_in(question.parts)]


def art_of(question: DrawableQuestion, variant: Variant) -> FigureArt:
    template = Path(BANK.figures_path) / (question.figure + FIGURE_ENDING)
    return figure_svg(template.read_text(encoding="utf-8"), variant)


def read_back(svg: str) -> dict[int, tuple[float, float]]:
    """The number in each ring and where its leader ends, from the lines and texts of the drawing alone."""
    root = ET.fromstring(svg)
    rings = [
        (float(c.attrib["cx"]), float(c.attrib["cy"]))
        for c in root.iter(f"{SVG}circle") if abs(float(c.attrib["r"]) - RING) < 0.01
    ]  # fmt: skip
    lines = [tuple(float(each.attrib[k]) for k in ("x1", "y1", "x2", "y2")) for each in root.iter(f"{SVG}line")]
    texts = [(float(t.attrib["x"]), float(t.attrib["y"]), t.text or "") for t in root.iter(f"{SVG}text")]
    found = {}
    for x, y in rings:
        (number,) = [words for tx, ty, words in texts if hypot(tx - x, ty - y) < RING]
        (end,) = [(x2, y2) for x1, y1, x2, y2 in lines if abs(hypot(x1 - x, y1 - y) - RING) < 0.02]
        found[int(number)] = end
    return found


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: q.key)
def test_what_is_read_off_the_figure_is_right_when_it_is_typed(question: DrawableQuestion, seed: str) -> None:
    variant = question.draw(seed)
    (part,) = balloons_in(question.parts)
    ends, options = read_back(art_of(question, variant).svg), lettered_options(part, variant)
    assert sorted(ends) == list(range(1, len(part.pairs) + 1))
    typed = []
    for number, (x, y) in ends.items():
        (name,) = [name for name, spot in WHERE[question.key].items() if spot.holds(x, y)]
        typed.append(f"{number}{letter_of(options.index(name))}")
    out = wm.mark(variant, {part.key: " ".join(typed)})[part.key]
    assert (out.verdict, out.marks) == ("right", part.marks)


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: q.key)
def test_the_numbers_of_a_figure_are_each_students_own_and_all_else_is_the_same(question: DrawableQuestion) -> None:
    variants = [question.draw(f"ringed plover {n}") for n in range(8)]
    read = {tuple(sorted(read_back(art_of(question, v).svg).items())) for v in variants}
    assert len(read) > 4
    unlettered = {re.sub(r"<text.*?</text>", "", art_of(question, v).svg) for v in variants[:3]}
    assert len(unlettered) == 1


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: q.key)
def test_no_words_of_a_figure_name_an_option(question: DrawableQuestion) -> None:
    (part,) = balloons_in(question.parts)
    art = art_of(question, question.draw("teal"))
    for words in (art.alt, art.title, *(text.words for text in art.parts.texts)):
        assert not [option for option in part.options if option.casefold() in words.casefold()], words


SIGNS = BANK["circuit-signs"]
NAMES = ("pump", "relief", "check", "filter", "throttle")
ALL = "".join(f"{{{{ balloon('{name}', {40 * n}, 0, {40 * n}, 30) }}}}" for n, name in enumerate(NAMES))


@pytest.mark.parametrize(
    ("template", "why"),
    [
        (ALL.replace("'pump'", "'propeller'") + SAID, "propeller.* is none of the things"),
        (ALL.partition("{{ balloon('filter'")[0] + SAID, "'filter' has 0 balloons"),
        (ALL + "{{ balloon('pump', 0, 90, 0, 120) }}" + SAID, "'pump' has 2 balloons"),
        (ALL + "{{ say('Rings', 'A pump and what follows it') }}", "names an option"),
        (ALL + "{{ say('The check valve', 'Numbered rings') }}", "names an option"),
        (ALL + "{{ text(0, 90, 'Filter') }}" + SAID, "names an option"),
    ],
)
def test_a_figure_that_lacks_a_balloon_or_tells_what_is_asked_is_refused(template: str, why: str) -> None:
    with pytest.raises(FigureError, match=why):
        figure_svg(template, SIGNS.draw("teal"))


def test_a_figure_of_a_question_that_asks_for_no_balloons_has_none() -> None:
    others = replace(SIGNS, parts=tuple(part for part in SIGNS.parts if part.key != "a"))
    art = art_of(SIGNS, replace(SIGNS.draw("teal"), question=others))
    assert read_back(art.svg) == {}


@pytest.mark.parametrize("end", ["dot", "arrow", "none"])
def test_a_leader_ends_where_it_is_sent(end: str) -> None:
    template = "".join(
        f"{{{{ balloon('{name}', {40 * n}, 0, {40 * n + 20}, 30, '{end}') }}}}" for n, name in enumerate(NAMES)
    )
    ends = read_back(figure_svg(template + SAID, SIGNS.draw("teal")).svg)
    assert sorted(ends.values()) == [(20, 30), (60, 30), (100, 30), (140, 30), (180, 30)]

"""A graph to read values from: axes with small divisions, and curves drawn exactly. 0, 0 is its lower left corner."""

from collections.abc import Sequence

import numpy as np

from witnessmark.documents.figures.lettering import text
from witnessmark.documents.figures.part import Part, together
from witnessmark.documents.figures.shapes import Point, line, polygon
from witnessmark.maths.compiled import compiled
from witnessmark.maths.syntax import parse

Axis = tuple[float, int, str]
"""The step of its numbers, into how many divisions each step is parted, and its words."""

SMALL = 7.5
WIDTH, HEIGHT = 300.0, 190.0
CURVE_POINTS = 96
VARIABLE = "x"


def curve(formula: str, first: float, last: float, **names: float) -> list[Point]:
    """Points of a formula in x, from first to last, ends included; `names` are what else stands in it."""
    x = np.linspace(first, last, CURVE_POINTS + 1)
    columns = {VARIABLE: x, **{k: np.float64(v) for k, v in names.items()}}
    y = np.broadcast_to(compiled(parse(formula))(columns), x.shape)
    return list(zip(x.tolist(), y.tolist(), strict=True))


def graph(curves: Sequence[Sequence[Point]], right: float, top: float, across: Axis, up: Axis) -> Part:
    """Curves (points in the numbers of the axes) over axes from 0, 0 to `right`, `top`."""
    kx, ky = WIDTH / right, HEIGHT / top
    parts = [*_grid(right, across, kx, HEIGHT), *_grid(top, up, ky, WIDTH, level=True)]
    parts += [text(v * kx, 12, f"{v:g}", size=SMALL) for v in _numbered(right, across)]
    parts += [text(-5, -v * ky + SMALL * 0.28, f"{v:g}", "end", SMALL) for v in _numbered(top, up)]
    parts += [line(0, 0, WIDTH + 8, 0), line(0, 0, 0, -HEIGHT - 8)]
    parts += [text(WIDTH, 25, across[2], "end"), text(-22, -HEIGHT, up[2], "end", turned=True)]
    drawn = [polygon([(x * kx, -y * ky) for x, y in points], "wire", closed=False) for points in curves]
    return together(*parts, *drawn)


def _numbered(last: float, axis: Axis) -> list[float]:
    return [i * axis[0] for i in range(round(last / axis[0]) + 1)]


def _grid(last: float, axis: Axis, k: float, far: float, level: bool = False) -> list[Part]:
    """The lines of one axis, upright ones or level ones; those with a number are darker."""
    step, count, _ = axis
    parts = []
    for i in range(1, round(last / step * count) + 1):
        at, kind = i * step / count * k, "faint" if i % count else "thin"
        parts.append(line(0, -at, far, -at, kind) if level else line(at, 0, at, -far, kind))
    return parts

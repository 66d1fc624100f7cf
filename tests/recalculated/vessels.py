"""Thin walls: along sigma = F/(pi D t), round sigma = p D/(2 t) with the inside diameter; water at rest."""

import math

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle, next_up


@works("air-bottle", "a")
def stress_along_the_bottle(sheet: Printed) -> float:
    push = sheet["gauge pressure"] * circle(sheet["inside diameter"])
    return push / (math.pi * sheet["inside diameter"] * sheet["wall thickness"])


@works("air-bottle", "b")
def stress_round_the_bottle(sheet: Printed) -> float:
    return sheet["gauge pressure"] * sheet["inside diameter"] / (2 * sheet["wall thickness"])


@works("air-bottle", "c")
def factor_of_the_bottle(sheet: Printed) -> float:
    return sheet["yield strength"] / max(stress_round_the_bottle(sheet), stress_along_the_bottle(sheet))


@works("air-receiver", "a")
def stress_round_the_receiver(sheet: Printed) -> float:
    return sheet["gauge pressure"] * sheet["inside diameter"] / (2 * sheet["wall thickness"])


@works("cover-bolts", "a")
def force_on_the_cover(sheet: Printed) -> float:
    return sheet["gauge pressure"] * circle(sheet["diameter of the pressed circle"])


@works("cover-bolts", "b")
def stress_in_each_bolt(sheet: Printed) -> float:
    return force_on_the_cover(sheet) / sheet["number of bolts"] / sheet["stress area of a bolt"]


@works("cover-bolts", "c")
def bolts_are_strong_enough(sheet: Printed) -> bool:
    return stress_in_each_bolt(sheet) <= sheet["allowed stress"]


@works("fuel-pipe", "a")
def pressure_that_the_pipe_stands(sheet: Printed) -> float:
    inside = sheet["outside diameter"] - 2 * sheet["wall thickness"]
    return sheet["allowed stress"] * 2 * sheet["wall thickness"] / inside


@works("wall-thickness", "a")
def least_wall(sheet: Printed) -> float:
    allowed = sheet["yield strength"] / sheet["factor of safety"]
    return sheet["gauge pressure"] * sheet["inside diameter"] / (2 * allowed)


@works("wall-thickness", "b")
def sheet_of_the_list(sheet: Printed) -> str:
    return next_up(sheet.sizes["b"], least_wall(sheet))


@works("water-tank", "a")
def pressure_at_the_bottom(sheet: Printed) -> float:
    return sheet["density"] * sheet["acceleration of free fall"] * sheet["height"]


@works("water-tank", "b")
def force_on_the_bottom(sheet: Printed) -> float:
    volume = sheet["length"] * sheet["width"] * sheet["height"]
    return sheet["density"] * volume * sheet["acceleration of free fall"]


@works("water-tank", "c")
def force_on_a_long_side(sheet: Printed) -> float:
    at_the_middle = sheet["density"] * sheet["acceleration of free fall"] * sheet["height"] / 2
    return at_the_middle * sheet["length"] * sheet["height"]

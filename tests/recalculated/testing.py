"""Hardness from dents, notched bars, gauge lengths and the modulus from two readings of a test."""

import math
import statistics

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle


@works("brinell-shaft", "a")
def brinell_hardness(sheet: Printed) -> float:
    ball = sheet["diameter of the ball"]
    width = (sheet["first width of the dent"] + sheet["second width of the dent"]) / 2
    depth = ball / 2 - math.sqrt((ball / 2) ** 2 - (width / 2) ** 2)
    return sheet["factor of the standard"] * sheet["force"] / (math.pi * ball * depth)


@works("brinell-shaft", "b")
def strength_by_hardness(sheet: Printed) -> float:
    return brinell_hardness(sheet) * sheet["strength for each number of hardness"]


@works("brinell-shaft", "c")
def steel_is_strong_enough(sheet: Printed) -> bool:
    return strength_by_hardness(sheet) >= sheet["strength that the shaft needs"]


@works("vickers-weld", "a")
def vickers_hardness(sheet: Printed) -> float:
    diagonal = (sheet["first diagonal"] + sheet["second diagonal"]) / 2
    return sheet["factor of the standard"] * sheet["force"] / diagonal / diagonal


@works("vickers-weld", "b")
def weld_is_soft_enough(sheet: Printed) -> bool:
    return vickers_hardness(sheet) <= sheet["greatest hardness allowed"]


@works("vickers-weld", "c")
def distance_of_the_next_dent(sheet: Printed) -> float:
    return 1.5 * (sheet["first diagonal"] + sheet["second diagonal"])


def rise(sheet: Printed, angle: str) -> float:
    return sheet["distance from the axle"] * (1 - math.cos(sheet[angle]))


@works("charpy-bar", "a")
def energy_before_release(sheet: Printed) -> float:
    return sheet["mass of the hammer"] * 9.81 * rise(sheet, "angle of release")


@works("charpy-bar", "b")
def energy_of_the_bar(sheet: Printed) -> float:
    fallen = rise(sheet, "angle of release") - rise(sheet, "angle after the stroke")
    return sheet["mass of the hammer"] * 9.81 * fallen


@works("charpy-bar", "c")
def energy_on_the_notch(sheet: Printed) -> float:
    return energy_of_the_bar(sheet) / (sheet["width under the notch"] * sheet["height under the notch"])


@works("charpy-bar", "d")
def bar_takes_enough(sheet: Printed) -> bool:
    return energy_of_the_bar(sheet) >= sheet["energy that the bar must take"]


@works("gauge-strip", "a")
def gauge_length(sheet: Printed) -> float:
    return sheet["factor of the standard"] * math.sqrt(sheet["width of the strip"] * sheet["thickness of the strip"])


@works("gauge-strip", "b")
def elongation_of_the_strip(sheet: Printed) -> float:
    return sheet["distance of the marks after the break"] / gauge_length(sheet) - 1


@works("gauge-strip", "c")
def strip_is_ductile_enough(sheet: Printed) -> bool:
    return elongation_of_the_strip(sheet) >= sheet["elongation that the band needs"]


@works("modulus-readings", "a")
def rise_of_stress(sheet: Printed) -> float:
    return (sheet["second force"] - sheet["first force"]) / circle(sheet["diameter of the test piece"])


@works("modulus-readings", "b")
def rise_of_strain(sheet: Printed) -> float:
    return (sheet["second reading"] - sheet["first reading"]) / sheet["distance of the clips"]


@works("modulus-readings", "c")
def modulus_of_the_alloy(sheet: Printed) -> float:
    return rise_of_stress(sheet) / rise_of_strain(sheet)


@works("modulus-readings", "d")
def alloy_is_stiff_enough(sheet: Printed) -> bool:
    return modulus_of_the_alloy(sheet) >= sheet["modulus of the bronze"]


@works("which-test", "d")
def least_thickness_of_the_sample(sheet: Printed) -> float:
    radius, half = sheet["diameter of the ball"] / 2, sheet["width of the dent"] / 2
    return 8 * (radius - math.sqrt(radius**2 - half**2))


@works("hardness-of-a-plate", "a")
def mean_hardness(sheet: Printed) -> float:
    return statistics.fmean(sheet.columns["H"])


@works("hardness-of-a-plate", "b")
def spread_of_the_hardness(sheet: Printed) -> float:
    return statistics.stdev(sheet.columns["H"])


@works("hardness-of-a-plate", "c")
def hardness_above_the_certificate(sheet: Printed) -> float:
    return mean_hardness(sheet) - sheet["hardness by the certificate"]


def stresses_of_the_rod(sheet: Printed) -> list[float]:
    return [force / circle(sheet["diameter of the rod"]) for force in sheet.columns["F"]]


for reading in range(5):
    works("pull-on-a-rod", f"a{reading + 1}")(lambda sheet, at=reading: stresses_of_the_rod(sheet)[at])


@works("pull-on-a-rod", "b")
def rise_of_the_reading_for_each_pascal(sheet: Printed) -> float:
    return statistics.linear_regression(stresses_of_the_rod(sheet), sheet.columns["x"]).slope


@works("pull-on-a-rod", "c")
def modulus_of_the_rod(sheet: Printed) -> float:
    return sheet["distance of the clips"] / rise_of_the_reading_for_each_pascal(sheet)

"""What is measured of a metal, a seal, an anode, and what it weighs."""

import math

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle


@works("anode", "b")
def time_until_the_anode_is_changed(sheet: Printed) -> float:
    zinc = sheet["share that may be used"] * sheet["mass of the anode"]
    return zinc * sheet["charge from a kilogram of zinc"] / sheet["mean current"]


@works("copper-rivets", "a")
def thinning_of_the_strip(sheet: Printed) -> float:
    before = sheet["thickness before rolling"]
    return (before - sheet["thickness after rolling"]) / before


@works("hardening-a-chisel", "b")
def heat_of_the_iron(sheet: Printed) -> float:
    rise = sheet["hardening temperature"] - sheet["temperature at the start"]
    return sheet["mass"] * sheet["specific heat"] * rise


@works("lightest-tie", "a")
def section_in_the_first_metal(sheet: Printed) -> float:
    return sheet["load"] * sheet["factor of safety"] / sheet["yield strength of the first metal"]


@works("lightest-tie", "b")
def mass_in_the_first_metal(sheet: Printed) -> float:
    return section_in_the_first_metal(sheet) * sheet["length"] * sheet["density of the first metal"]


@works("lightest-tie", "c")
def mass_in_the_second_metal(sheet: Printed) -> float:
    section = sheet["load"] * sheet["factor of safety"] / sheet["yield strength of the second metal"]
    return section * sheet["length"] * sheet["density of the second metal"]


@works("lightest-tie", "d")
def second_is_lighter(sheet: Printed) -> bool:
    return mass_in_the_second_metal(sheet) < mass_in_the_first_metal(sheet)


@works("limb-strap", "c")
def stress_in_the_strap(sheet: Printed) -> float:
    return sheet["pull along the strap"] / (sheet["width"] * sheet["thickness"])


@works("limb-strap", "d")
def strain_of_the_strap(sheet: Printed) -> float:
    return stress_in_the_strap(sheet) / sheet["modulus of elasticity"]


@works("o-ring", "b")
def squeeze_of_the_cord(sheet: Printed) -> float:
    cord = sheet["thickness of the cord"]
    return (cord - sheet["height of the space"]) / cord


@works("propeller-metal", "c")
def mass_of_the_casting(sheet: Printed) -> float:
    return sheet["volume of the casting"] * sheet["density"]


@works("stern-bearing", "b")
def pressure_on_the_bearing(sheet: Printed) -> float:
    return sheet["load"] / (sheet["shaft diameter"] * sheet["length of the bearing"])


@works("tensile-test", "a")
def strength_of_the_test_piece(sheet: Printed) -> float:
    return sheet["greatest force"] / circle(sheet["diameter before the test"])


@works("tensile-test", "b")
def elongation_after_the_break(sheet: Printed) -> float:
    before = sheet["distance of the marks before the test"]
    return (sheet["distance of the marks after the break"] - before) / before


@works("tensile-test", "c")
def reduction_at_the_neck(sheet: Printed) -> float:
    before = circle(sheet["diameter before the test"])
    return (before - circle(sheet["diameter at the neck"])) / before


@works("bilge-plate", "b")
def loss_of_the_plate_in_a_year(sheet: Printed) -> float:
    return (sheet["thickness when new"] - sheet["thickness at the survey"]) / sheet["years until the survey"]


@works("bilge-plate", "c")
def years_until_the_plate_is_renewed(sheet: Printed) -> float:
    return (sheet["thickness at the survey"] - sheet["least thickness"]) / loss_of_the_plate_in_a_year(sheet)


@works("stern-gear", "b")
def side_of_the_cord(sheet: Printed) -> float:
    return sheet["bore of the box"] / 2 - sheet["diameter of the shaft"] / 2


@works("stern-gear", "c")
def length_of_a_ring_of_cord(sheet: Printed) -> float:
    return math.pi * (sheet["diameter of the shaft"] + side_of_the_cord(sheet))

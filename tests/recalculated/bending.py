"""Beams and shafts: sigma = M/Z, tau = T/Z_p, twist = T L/(G I_p)."""

import math

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle


@works("davit", "a")
def moment_at_the_davit(sheet: Printed) -> float:
    return sheet["load at the end"] * sheet["reach"]


@works("davit", "b")
def modulus_of_the_tube(sheet: Printed) -> float:
    D, d = sheet["outside diameter"], sheet["inside diameter"]
    second_moment = math.pi / 64 * (D**4 - d**4)
    return second_moment / (D / 2)


@works("davit", "c")
def stress_in_the_davit(sheet: Printed) -> float:
    return moment_at_the_davit(sheet) / modulus_of_the_tube(sheet)


@works("hollow-shaft", "a")
def stress_in_the_hollow_shaft(sheet: Printed) -> float:
    R, r = sheet["outside diameter"] / 2, sheet["inside diameter"] / 2
    I_p = math.pi / 2 * (R**4 - r**4)
    return sheet["torque"] * R / I_p


@works("hollow-shaft", "b")
def share_that_the_bore_saves(sheet: Printed) -> float:
    return circle(sheet["inside diameter"]) / circle(sheet["outside diameter"])


@works("oar", "a")
def moment_at_the_rowlock(sheet: Printed) -> float:
    return sheet["force of the water"] * sheet["from the rowlock to the blade"]


@works("plank-sag", "a")
def second_moment_of_the_plank(sheet: Printed) -> float:
    return sheet["width"] * sheet["thickness"] ** 3 / 12


@works("plank-sag", "b")
def sag_of_the_plank(sheet: Printed) -> float:
    assert sheet.says("F L³/(48 E I)")
    stiffness = 48 * sheet["modulus of elasticity"] * second_moment_of_the_plank(sheet) / sheet["span"] ** 3
    return sheet["load in the middle"] / stiffness


@works("shaft-power", "a")
def torque_of_the_engine(sheet: Printed) -> float:
    return sheet["power"] / (2 * math.pi * sheet["speed of rotation"])


@works("shaft-power", "b")
def stress_in_the_propeller_shaft(sheet: Printed) -> float:
    radius = sheet["shaft diameter"] / 2
    return torque_of_the_engine(sheet) * radius / (math.pi / 2 * radius**4)


@works("shaft-twist", "a")
def twist_of_the_shaft(sheet: Printed) -> float:
    I_p = math.pi / 32 * sheet["shaft diameter"] ** 4
    return sheet["torque"] * sheet["length"] / (sheet["shear modulus"] * I_p)


@works("thwart", "a")
def moment_in_the_thwart(sheet: Printed) -> float:
    at_each_end = sheet["load in the middle"] / 2
    return at_each_end * sheet["span"] / 2


@works("thwart", "b")
def stress_in_the_thwart(sheet: Printed) -> float:
    second_moment = sheet["width"] * sheet["thickness"] ** 3 / 12
    return moment_in_the_thwart(sheet) * (sheet["thickness"] / 2) / second_moment


@works("tiller-bar", "a")
def stress_in_the_tiller(sheet: Printed) -> float:
    radius = sheet["diameter"] / 2
    return sheet["push"] * sheet["arm"] * radius / (math.pi / 4 * radius**4)

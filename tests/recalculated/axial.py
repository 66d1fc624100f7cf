"""Pull and push along a bar: sigma = F/A, epsilon = x/L, E = sigma/epsilon."""

import math

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle, ring


@works("bolt-thread", "a")
def stress_area_of_a_thread(sheet: Printed) -> float:
    thinner = sheet.behind("a round bar that is") * sheet["pitch"]
    return circle(sheet["outside diameter of the thread"] - thinner)


@works("bolt-thread", "b")
def pull_that_breaks_the_bolt(sheet: Printed) -> float:
    return sheet["tensile strength"] * stress_area_of_a_thread(sheet)


@works("bolt-thread", "c")
def pull_that_may_be_allowed(sheet: Printed) -> float:
    return pull_that_breaks_the_bolt(sheet) / sheet["factor of safety"]


@works("chainplate", "a")
def stress_in_the_strap(sheet: Printed) -> float:
    return sheet["pull of the shroud"] / (sheet["width of the strap"] * sheet["thickness of the strap"])


@works("keel-bolt", "a")
def stress_in_the_shank(sheet: Printed) -> float:
    return sheet["tension in the shank"] / circle(sheet["shank diameter"])


@works("keel-bolt", "b")
def factor_against_yielding(sheet: Printed) -> float:
    return sheet["yield strength"] / stress_in_the_shank(sheet)


@works("keel-bolt", "c")
def stress_in_a_shank_twice_as_thick(sheet: Printed) -> float:
    return sheet["tension in the shank"] / circle(2 * sheet["shank diameter"])


@works("rod-shroud", "a")
def stress_in_the_shroud(sheet: Printed) -> float:
    return sheet["pull"] / circle(sheet["rod diameter"])


@works("rod-shroud", "b")
def stretch_of_the_shroud(sheet: Printed) -> float:
    return stress_in_the_shroud(sheet) / sheet["modulus of elasticity"] * sheet["length"]


@works("safe-load", "a")
def stress_allowed_in_the_tie(sheet: Printed) -> float:
    assert sheet.says("against yielding")
    return sheet["yield strength"] / sheet["factor of safety"]


@works("safe-load", "b")
def pull_allowed_in_the_tie(sheet: Printed) -> float:
    return stress_allowed_in_the_tie(sheet) * circle(sheet["rod diameter"])


@works("soft-and-hard-wire", "a")
def stretch_of_the_soft_wire(sheet: Printed) -> float:
    strain = sheet["load"] / circle(sheet["diameter of the wire"]) / sheet["modulus of elasticity"]
    return strain * sheet["length of the wire"]


@works("stepped-rod", "a")
def greatest_stress_in_two_thicknesses(sheet: Printed) -> float:
    return sheet["pull"] / circle(min(sheet["diameter of the thin part"], sheet["diameter of the thick part"]))


@works("stepped-rod", "b")
def stretch_of_two_thicknesses(sheet: Printed) -> float:
    stiffnesses = [
        sheet["modulus of elasticity"] * circle(sheet[f"diameter of the {part}"]) / sheet[f"length of the {part}"]
        for part in ("thin part", "thick part")
    ]
    return sheet["pull"] * math.fsum(1 / stiffness for stiffness in stiffnesses)


@works("tube-strut", "a")
def metal_of_the_tube(sheet: Printed) -> float:
    outside = sheet["outside diameter"]
    return ring(outside, outside - 2 * sheet["wall thickness"])


@works("tube-strut", "b")
def stress_in_the_tube(sheet: Printed) -> float:
    return sheet["load"] / metal_of_the_tube(sheet)


@works("wire-modulus", "a")
def stress_in_the_wire(sheet: Printed) -> float:
    return sheet["load"] / circle(sheet["diameter of the wire"])


@works("wire-modulus", "b")
def strain_of_the_wire(sheet: Printed) -> float:
    return sheet["extension"] / sheet["length between the grips"]


@works("wire-modulus", "c")
def modulus_of_the_wire(sheet: Printed) -> float:
    return stress_in_the_wire(sheet) / strain_of_the_wire(sheet)

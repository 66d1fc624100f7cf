"""Shear: force over the area that would part, counted at every place where it would."""

import math

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle, next_up


@works("bolt-size", "a")
def area_that_the_bolt_needs(sheet: Printed) -> float:
    assert sheet.says("between two cheeks")
    allowed = sheet["shear strength of the bolt"] / sheet["factor of safety"]
    return sheet["pull"] / 2 / allowed


@works("bolt-size", "b")
def least_diameter_of_the_bolt(sheet: Printed) -> float:
    return 2 * math.sqrt(area_that_the_bolt_needs(sheet) / math.pi)


@works("bolt-size", "c")
def bolt_of_the_list(sheet: Printed) -> str:
    return next_up(sheet.sizes["c"], least_diameter_of_the_bolt(sheet))


@works("butt-strap", "a")
def area_of_rivet_to_shear(sheet: Printed) -> float:
    assert sheet.says("through strap, plate and strap")
    return 2 * sheet["rivets on each side"] * circle(sheet["rivet diameter"])


@works("butt-strap", "b")
def pull_allowed_on_the_straps(sheet: Printed) -> float:
    allowed = sheet["shear strength of the rivets"] / sheet["factor of safety"]
    return allowed * area_of_rivet_to_shear(sheet)


@works("clevis-pin", "a")
def stress_in_the_pin(sheet: Printed) -> float:
    assert sheet.says("between the two cheeks of a fork")
    return sheet["pull in the shroud"] / (2 * circle(sheet["pin diameter"]))


@works("clevis-pin", "b")
def factor_of_the_pin(sheet: Printed) -> float:
    return sheet["shear strength of the pin"] / stress_in_the_pin(sheet)


@works("drain-hole", "a")
def force_to_punch_the_hole(sheet: Printed) -> float:
    return sheet["shear strength"] * math.pi * sheet["hole diameter"] * sheet["plate thickness"]


@works("drain-hole", "b")
def stress_in_the_punch(sheet: Printed) -> float:
    return force_to_punch_the_hole(sheet) / circle(sheet["hole diameter"])


@works("drain-hole", "c")
def punch_survives(sheet: Printed) -> bool:
    return stress_in_the_punch(sheet) <= sheet["compressive strength"]


@works("fillet-weld", "a")
def throat_of_the_weld(sheet: Printed) -> float:
    leg = sheet["leg of the weld"]
    return math.hypot(leg, leg) / 2


@works("fillet-weld", "b")
def stress_in_the_throats(sheet: Printed) -> float:
    assert sheet.says("two fillet welds")
    return sheet["pull along the welds"] / (2 * throat_of_the_weld(sheet) * sheet["length of each weld"])


@works("glued-lap", "a")
def stress_in_the_glue(sheet: Printed) -> float:
    return sheet["pull"] / (sheet["width of the boards"] * sheet["length of the lap"])


@works("propeller-key", "a")
def force_on_the_key(sheet: Printed) -> float:
    return sheet["torque"] / (sheet["shaft diameter"] / 2)


@works("propeller-key", "b")
def shear_stress_in_the_key(sheet: Printed) -> float:
    return force_on_the_key(sheet) / (sheet["width of the key"] * sheet["length of the key"])


@works("propeller-key", "c")
def crushing_stress_on_the_key(sheet: Printed) -> float:
    assert sheet.says("Half the height of the key stands in the shaft and half in the hub")
    return force_on_the_key(sheet) / (sheet["height of the key"] / 2 * sheet["length of the key"])


@works("rivet-lap", "a")
def stress_in_the_rivets(sheet: Printed) -> float:
    return sheet["pull"] / (sheet["number of rivets"] * circle(sheet["rivet diameter"]))


@works("shear-pin", "a")
def force_that_shears_one_section(sheet: Printed) -> float:
    return sheet["shear strength of the pin"] * circle(sheet["pin diameter"])


@works("shear-pin", "b")
def torque_that_parts_the_pin(sheet: Printed) -> float:
    return 2 * force_that_shears_one_section(sheet) * sheet["shaft diameter"] / 2

"""Punching: the force cuts the edge all the way round, and presses on the face of the punch."""

import math

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle, ring


@works("guillotine", "a")
def force_on_the_blade(sheet: Printed) -> float:
    return sheet["shear strength"] * sheet["width of the strip"] * sheet["thickness"]


@works("least-hole", "a")
def least_diameter_of_hole(sheet: Printed) -> float:
    assert sheet.says("round punches")
    return 4 * sheet["shear strength of the plate"] * sheet["plate thickness"] / sheet["allowed stress in the punch"]


@works("least-hole", "b")
def force_for_the_least_hole(sheet: Printed) -> float:
    return sheet["allowed stress in the punch"] * circle(least_diameter_of_hole(sheet))


@works("press-limit", "a")
def greatest_thickness(sheet: Printed) -> float:
    per_thickness = sheet["shear strength"] * math.pi * sheet["hole diameter"]
    return sheet["greatest force of the press"] / per_thickness


@works("press-limit", "b")
def press_can_punch_it(sheet: Printed) -> bool:
    edge = math.pi * sheet["hole diameter"] * sheet["thickness of the plate in stock"]
    return sheet["shear strength"] * edge <= sheet["greatest force of the press"]


@works("punch-work", "a")
def force_of_the_punch(sheet: Printed) -> float:
    return sheet["shear strength"] * math.pi * sheet["hole diameter"] * sheet["plate thickness"]


@works("punch-work", "b")
def work_of_one_stroke(sheet: Printed) -> float:
    return force_of_the_punch(sheet) * sheet["share of the thickness"] * sheet["plate thickness"]


@works("punch-work", "c")
def mean_power_of_punching(sheet: Printed) -> float:
    return work_of_one_stroke(sheet) * sheet["rate of the strokes"]


@works("slotted-hole", "a")
def way_round_the_slot(sheet: Printed) -> float:
    width = sheet["width of the slot"]
    return math.pi * width + 2 * (sheet["length over all"] - width)


@works("slotted-hole", "b")
def force_for_the_slot(sheet: Printed) -> float:
    return sheet["shear strength"] * way_round_the_slot(sheet) * sheet["thickness"]


@works("slotted-hole", "c")
def stress_in_the_slot_punch(sheet: Printed) -> float:
    width = sheet["width of the slot"]
    return force_for_the_slot(sheet) / (circle(width) + width * (sheet["length over all"] - width))


@works("square-hole", "a")
def force_for_the_square(sheet: Printed) -> float:
    return sheet["shear strength"] * 4 * sheet["side of the hole"] * sheet["thickness of the bracket"]


@works("square-hole", "b")
def stress_in_the_square_punch(sheet: Printed) -> float:
    return force_for_the_square(sheet) / sheet["side of the hole"] ** 2


@works("washer-blank", "a")
def force_for_both_edges(sheet: Printed) -> float:
    edges = math.pi * (sheet["outside diameter"] + sheet["diameter of the hole"])
    return sheet["shear strength"] * edges * sheet["thickness"]


@works("washer-blank", "b")
def mass_of_the_washer(sheet: Printed) -> float:
    volume = ring(sheet["outside diameter"], sheet["diameter of the hole"]) * sheet["thickness"]
    return sheet["density"] * volume

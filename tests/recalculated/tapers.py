"""Tapers on the diameter, and the speed of turning."""

import math

from recalculated.printed import Printed
from recalculated.registry import works


@works("gauge-standoff", "a")
def bore_too_small(sheet: Printed) -> float:
    return sheet["distance to go"] / sheet["n of the taper 1 to n"]


@works("gauge-standoff", "b")
def depth_of_cut(sheet: Printed) -> float:
    return bore_too_small(sheet) / 2


@works("propeller-push-up", "a")
def push_up(sheet: Printed) -> float:
    return sheet["interference on the diameter"] * sheet["n of the taper 1 to n"]


@works("propeller-push-up", "b")
def strain_round_the_hub(sheet: Printed) -> float:
    d = sheet["mean diameter of the fit"]
    return (math.pi * (d + sheet["interference on the diameter"]) - math.pi * d) / (math.pi * d)


@works("propeller-push-up", "c")
def stress_round_the_hub(sheet: Printed) -> float:
    return sheet["modulus of elasticity of the hub"] * strain_round_the_hub(sheet)


@works("propeller-push-up", "d")
def pressure_under_the_hub(sheet: Printed) -> float:
    return stress_round_the_hub(sheet) * 2 * sheet["wall of the hub"] / sheet["mean diameter of the fit"]


@works("shaft-angle", "a")
def angle_of_the_side(sheet: Printed) -> float:
    fall = (sheet["large diameter"] - sheet["small diameter"]) / 2
    return math.atan2(fall, sheet["length of the taper"])


@works("shaft-angle", "b")
def included_angle(sheet: Printed) -> float:
    return 2 * angle_of_the_side(sheet)


@works("slide-setting", "a")
def setting_of_the_slide(sheet: Printed) -> float:
    return math.atan(1 / (2 * sheet["n of the taper 1 to n"]))


@works("slide-setting", "b")
def small_end_of_the_turned_taper(sheet: Printed) -> float:
    return sheet["large diameter"] - sheet["length of the taper"] / sheet["n of the taper 1 to n"]


@works("small-end", "a")
def small_end_of_the_pin(sheet: Printed) -> float:
    return sheet["large diameter"] - sheet["length of the pin"] / sheet["n of the taper 1 to n"]


@works("small-end", "b")
def fall_of_the_radius(sheet: Printed) -> float:
    return (sheet["large diameter"] - small_end_of_the_pin(sheet)) / 2


@works("taper-ratio", "a")
def x_of_the_taper(sheet: Printed) -> float:
    return sheet["length of the taper"] / (sheet["large diameter"] - sheet["small diameter"])


@works("turning-speed", "a")
def speed_of_the_lathe(sheet: Printed) -> float:
    return sheet["cutting speed"] / (math.pi * sheet["diameter of the work"])


@works("turning-speed", "b")
def time_of_the_cut(sheet: Printed) -> float:
    turns = sheet["length of the cut"] / sheet["feed at each turn"]
    return turns / speed_of_the_lathe(sheet)

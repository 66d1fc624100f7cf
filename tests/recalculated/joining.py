"""Joints: what is stamped on a bolt, torque and pull, heat of an arc, lengths of lap and scarf."""

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import next_up


@works("bolt-class", "a")
def yield_strength_on_the_head(sheet: Printed) -> float:
    return sheet["second number"] * (sheet["first number"] * sheet["step of the first number"]) / 10


@works("bolt-class", "b")
def stress_of_the_pull(sheet: Printed) -> float:
    return sheet["pull"] / sheet["stress area of the thread"]


@works("bolt-class", "c")
def stays_elastic(sheet: Printed) -> bool:
    return stress_of_the_pull(sheet) < yield_strength_on_the_head(sheet)


@works("bolt-preload", "a")
def pull_from_the_torque(sheet: Printed) -> float:
    return sheet["torque"] / sheet["outside diameter of the thread"] / sheet["factor for dry threads"]


@works("bolt-preload", "b")
def torque_for_the_pull(sheet: Printed) -> float:
    arm = sheet["factor for oiled threads"] * sheet["outside diameter of the thread"]
    return arm * sheet["pull wanted in the oiled bolt"]


@works("coupling-bolts", "a")
def pull_of_one_bolt(sheet: Printed) -> float:
    return sheet["stress area of the thread"] * (sheet["proof stress"] * sheet["share of the proof stress"])


@works("coupling-bolts", "b")
def torque_of_one_bolt(sheet: Printed) -> float:
    return pull_of_one_bolt(sheet) * sheet["outside diameter of the thread"] * sheet["factor of the thread"]


@works("coupling-bolts", "c")
def friction_of_the_flanges(sheet: Printed) -> float:
    return pull_of_one_bolt(sheet) * sheet["number of bolts"] * sheet["coefficient of friction"]


@works("coupling-bolts", "d")
def torque_of_the_friction(sheet: Printed) -> float:
    return friction_of_the_flanges(sheet) * (0.5 * sheet["diameter of the circle of bolts"])


@works("weld-heat", "a")
def power_of_the_arc(sheet: Printed) -> float:
    return sheet["current"] * sheet["voltage of the arc"]


@works("weld-heat", "b")
def heat_of_a_length(sheet: Printed) -> float:
    into_the_steel = sheet["share of the heat that goes into the steel"] * power_of_the_arc(sheet)
    return into_the_steel / sheet["speed of the arc"]


@works("brazed-lap", "a")
def pull_that_tears_a_strip(sheet: Printed) -> float:
    return sheet["width of the strip"] * sheet["thickness of the strip"] * sheet["tensile strength of the strip"]


@works("brazed-lap", "b")
def length_of_the_lap(sheet: Printed) -> float:
    ratio = sheet["tensile strength of the strip"] / sheet["shear strength of the braze"]
    return sheet["how many times as strong"] * ratio * sheet["thickness of the strip"]


@works("plywood-scarf", "a")
def length_of_the_scarf(sheet: Printed) -> float:
    return sheet["thickness of the plywood"] * sheet["length of the slope for a rise of one"]


@works("plywood-scarf", "b")
def glue_of_the_scarf(sheet: Printed) -> float:
    face = sheet["width of the sheets"] * length_of_the_scarf(sheet)
    return face * sheet["glue on a face"] + face * sheet["glue on a face"]


@works("tapped-pad", "b")
def drill_for_the_thread(sheet: Printed) -> float:
    return sheet["outside diameter of the thread"] - sheet["pitch"]


@works("tapped-pad", "c")
def turns_of_the_screw(sheet: Printed) -> float:
    return sheet["depth that the screw goes in"] / sheet["pitch"]


@works("bolt-for-a-pull", "a")
def stress_allowed_in_the_bolt(sheet: Printed) -> float:
    return sheet["yield strength"] / sheet["factor of safety"]


@works("bolt-for-a-pull", "b")
def area_that_the_thread_needs(sheet: Printed) -> float:
    return sheet["pull on the bolt"] * sheet["factor of safety"] / sheet["yield strength"]


@works("bolt-for-a-pull", "c")
def thread_of_the_list(sheet: Printed) -> str:
    return next_up(sheet.sizes["c"], area_that_the_thread_needs(sheet))

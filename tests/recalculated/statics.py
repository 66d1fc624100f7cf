"""Forces that hold each other: triangles of forces, moments about one point, common centres of gravity."""

import math

from recalculated.printed import Printed
from recalculated.registry import works


@works("mooring-lines", "a")
def force_on_the_cleat(sheet: Printed) -> float:
    assert sheet.says("at a right angle to each other")
    return math.hypot(sheet["pull of the line ahead"], sheet["pull of the line ashore"])


@works("mooring-lines", "b")
def angle_to_the_line_ahead(sheet: Printed) -> float:
    return math.atan2(sheet["pull of the line ashore"], sheet["pull of the line ahead"])


@works("tow-rope", "a")
def pull_in_the_tow_rope(sheet: Printed) -> float:
    return sheet["drag of the dinghy"] / math.cos(sheet["angle of the rope to the level"])


def rudder(sheet: Printed) -> tuple[tuple[float, float, float], ...]:
    """Area of head and of blade, each with its middle: behind the front edge, above the lower edge."""
    head = sheet["width of the head"], sheet["height of the head"]
    blade = sheet["width of the blade"], sheet["height of the blade"]
    return (head[0] * head[1], head[0] / 2, blade[1] + head[1] / 2), (blade[0] * blade[1], blade[0] / 2, blade[1] / 2)


@works("rudder-blade", "a")
def centre_behind_the_front_edge(sheet: Printed) -> float:
    parts = rudder(sheet)
    return sum(area * behind for area, behind, _ in parts) / sum(area for area, _, _ in parts)


@works("rudder-blade", "b")
def centre_above_the_lower_edge(sheet: Printed) -> float:
    parts = rudder(sheet)
    return sum(area * above for area, _, above in parts) / sum(area for area, _, _ in parts)


def bracket(sheet: Printed) -> tuple[float, float]:
    """Forces in tie and strut, from where the nose lies and the balance of its joint, level and upright."""
    pins, tie, strut = sheet["distance between the pins"], sheet["length of the tie"], sheet["length of the strut"]
    below = (tie**2 - strut**2 + pins**2) / (2 * pins)  # of the nose below the upper pin
    out = math.sqrt(tie**2 - below**2)
    weight = sheet["mass of the outboard"] * sheet["acceleration of free fall"]
    level = weight / (below / out + (pins - below) / out)  # the same in tie and strut, against each other
    return level * tie / out, level * strut / out


@works("shed-bracket", "a")
def force_in_the_tie_of_the_bracket(sheet: Printed) -> float:
    return bracket(sheet)[0]


@works("shed-bracket", "b")
def force_in_the_strut_of_the_bracket(sheet: Printed) -> float:
    return bracket(sheet)[1]


@works("shed-bracket", "c")
def hook_of_the_tie_stands_it(sheet: Printed) -> bool:
    return bracket(sheet)[0] <= sheet["load that the hook of the tie may take"]


def ropes(sheet: Printed) -> tuple[float, float]:
    """Pulls of the left and the right rope: equal level parts, upright parts that make the weight together."""
    left, right = sheet["angle of the left rope to the level"], sheet["angle of the right rope to the level"]
    weight = sheet["mass of the engine"] * sheet["acceleration of free fall"]
    level = weight / (math.tan(left) + math.tan(right))
    return level / math.cos(left), level / math.cos(right)


@works("engine-between-ropes", "a")
def pull_in_the_left_rope(sheet: Printed) -> float:
    return ropes(sheet)[0]


@works("engine-between-ropes", "b")
def pull_in_the_right_rope(sheet: Printed) -> float:
    return ropes(sheet)[1]


@works("shed-truss", "a")
def force_in_a_rafter(sheet: Printed) -> float:
    slope = math.atan2(sheet["height"], sheet["span"] / 2)
    return sheet["mass of hoist and load"] * sheet["acceleration of free fall"] / 2 / math.sin(slope)


@works("shed-truss", "b")
def force_in_the_tie_of_the_frame(sheet: Printed) -> float:
    weight = sheet["mass of hoist and load"] * sheet["acceleration of free fall"]
    return weight * sheet["span"] / (4 * sheet["height"])


@works("overhang-plank", "a")
def moment_of_the_plank(sheet: Printed) -> float:
    assert sheet.says("A uniform staging plank")
    inward = sheet["distance between the trestles"] - sheet["length of the plank"] / 2
    return sheet["mass of the plank"] * sheet["acceleration of free fall"] * inward


@works("overhang-plank", "b")
def moment_of_the_apprentice(sheet: Printed) -> float:
    outward = sheet["length of the plank"] - sheet["distance between the trestles"]
    return sheet["mass of apprentice and tools"] * sheet["acceleration of free fall"] * outward


@works("overhang-plank", "c")
def plank_stays_on_both_trestles(sheet: Printed) -> bool:
    return moment_of_the_plank(sheet) > moment_of_the_apprentice(sheet)


def trailer(sheet: Printed) -> tuple[float, float]:
    """The whole mass, and its moment about the axle, in kilogram metres."""
    ahead = sheet["mass of trailer and hull"] * sheet["from the axle to the middle of trailer and hull"]
    ahead += sheet["mass of anchor and chain"] * sheet["from the axle to anchor and chain"]
    behind = sheet["mass of the outboard"] * sheet["from the axle to the outboard"]
    whole = sheet["mass of trailer and hull"] + sheet["mass of the outboard"] + sheet["mass of anchor and chain"]
    return whole, ahead - behind


@works("trailer-nose", "a")
def centre_ahead_of_the_axle(sheet: Printed) -> float:
    whole, moment = trailer(sheet)
    return moment / whole


@works("trailer-nose", "b")
def mass_on_the_coupling(sheet: Printed) -> float:
    return trailer(sheet)[1] / sheet["from the axle to the coupling"]


@works("trailer-nose", "c")
def enough_on_the_coupling(sheet: Printed) -> bool:
    return mass_on_the_coupling(sheet) >= sheet["least mass on the coupling"]

"""What floats displaces its own mass; what lies under water is lifted by the weight of the water that is not there."""

import math

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle

FREE_FALL = "acceleration of free fall"


@works("fender-upthrust", "a")
def upthrust_on_the_fender(sheet: Printed) -> float:
    volume = circle(sheet["diameter of the fender"]) * sheet["length of the fender"]
    return sheet["density of the water"] * volume * sheet[FREE_FALL]


@works("launch-displacement", "a")
def mass_of_the_launch(sheet: Printed) -> float:
    box = sheet["length at the waterline"] * sheet["width at the waterline"] * sheet["draught"]
    return sheet["block coefficient"] * box * sheet["density of the water"]


@works("river-to-sea", "a")
def draughts_of_the_pontoon(sheet: Printed) -> tuple[float, float]:
    for_each_density = sheet["mass of the pontoon"] / sheet["length"] / sheet["width"]
    draughts = [for_each_density / sheet[f"density of the {water} water"] for water in ("river", "sea")]
    return max(draughts), min(draughts)


@works("river-to-sea", "c")
def pontoon_passes_the_sill(sheet: Printed) -> bool:
    return draughts_of_the_pontoon(sheet)[0] + sheet["least clearance"] <= sheet["depth of water over the sill"]


@works("cargo-sinkage", "a")
def mass_for_each_length_of_sinkage(sheet: Printed) -> float:
    return sheet["area of the waterline"] * sheet["density of the water"]


@works("cargo-sinkage", "b")
def sinkage_under_the_timber(sheet: Printed) -> float:
    water = sheet["mass of the timber"] / sheet["density of the water"]
    return water / sheet["area of the waterline"]


@works("cargo-sinkage", "c")
def enough_freeboard(sheet: Printed) -> bool:
    return sheet["freeboard of the empty barge"] - sinkage_under_the_timber(sheet) >= sheet["least freeboard"]


@works("sinker-lift", "a")
def upthrust_on_the_sinker(sheet: Printed) -> float:
    water = sheet["mass of the sinker"] * sheet["density of the water"] / sheet["density of the sinker"]
    return water * sheet[FREE_FALL]


@works("sinker-lift", "b")
def pull_that_lifts_the_sinker(sheet: Printed) -> float:
    lighter = 1 - sheet["density of the water"] / sheet["density of the sinker"]
    return sheet["mass of the sinker"] * sheet[FREE_FALL] * lighter


@works("swamped-dinghy", "a")
def mass_of_hull_that_the_water_leaves(sheet: Printed) -> float:
    room = sheet["mass of the hull"] / sheet["density of the laminate"]
    return sheet["mass of the hull"] - room * sheet["density of the water"]


@works("swamped-dinghy", "b")
def foam_for_the_dinghy(sheet: Printed) -> float:
    to_carry = mass_of_hull_that_the_water_leaves(sheet) + sheet["mass of the outboard"]
    return to_carry / (sheet["density of the water"] - sheet["density of the foam"])


@works("swamped-dinghy", "c")
def foam_has_room(sheet: Printed) -> bool:
    return foam_for_the_dinghy(sheet) <= sheet["room for foam"]


@works("pontoon-heel", "a")
def metacentre_above_buoyancy(sheet: Printed) -> float:
    return sheet["width"] ** 2 / (12 * sheet["draught"])


@works("pontoon-heel", "b")
def metacentre_above_gravity(sheet: Printed) -> float:
    return sheet["draught"] / 2 + metacentre_above_buoyancy(sheet) - sheet["height of the centre of gravity"]


@works("pontoon-heel", "c")
def angle_of_heel(sheet: Printed) -> float:
    whole = sheet["density of the water"] * sheet["length"] * sheet["width"] * sheet["draught"]
    aside = sheet["mass that moves"] * sheet["way across"] / whole  # of the common centre of gravity
    return math.atan2(aside, metacentre_above_gravity(sheet))


@works("pontoon-heel", "d")
def deck_edge_stays_dry(sheet: Printed) -> bool:
    return math.tan(angle_of_heel(sheet)) * sheet["width"] / 2 < sheet["height of the deck above the water"]

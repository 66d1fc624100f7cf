"""Growth alpha L dT, growth that is held back, heat that flows and heat that is shared."""

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import ring


@works("cool-box", "a")
def heat_into_the_box(sheet: Printed) -> float:
    conductance = sheet["thermal conductivity"] * sheet["area of the walls"] / sheet["thickness of the walls"]
    return conductance * sheet["difference of temperature"]


@works("gap-then-stress", "a")
def growth_held_back(sheet: Printed) -> float:
    free = sheet["coefficient of linear expansion"] * sheet["length"] * sheet["rise of temperature"]
    return free - sheet["gap"]


@works("gap-then-stress", "b")
def stress_in_the_rail(sheet: Printed) -> float:
    return sheet["modulus of elasticity"] * growth_held_back(sheet) / sheet["length"]


@works("held-pipe", "a")
def stress_in_the_pipe(sheet: Printed) -> float:
    strain = sheet["coefficient of linear expansion"] * sheet["rise of temperature"]
    return sheet["modulus of elasticity"] * strain


@works("held-pipe", "b")
def force_on_each_bulkhead(sheet: Printed) -> float:
    outside = sheet["outside diameter"]
    return stress_in_the_pipe(sheet) * ring(outside, outside - 2 * sheet["wall thickness"])


@works("hub-heating", "a")
def growth_of_the_bore(sheet: Printed) -> float:
    return sheet["interference"] + sheet["clearance wanted"]


@works("hub-heating", "b")
def rise_of_the_hub(sheet: Printed) -> float:
    return growth_of_the_bore(sheet) / (sheet["coefficient of linear expansion"] * sheet["bore"])


@works("mast-track", "a")
def way_of_the_track_past_the_mast(sheet: Printed) -> float:
    more = sheet["expansion of the track"] - sheet["expansion of the mast"]
    return more * sheet["length"] * sheet["rise of temperature"]


@works("quench-water", "a")
def temperature_at_rest(sheet: Printed) -> float:
    bronze = sheet["mass of the forging"] * sheet["specific heat of the bronze"]
    water = sheet["mass of the water"] * sheet["specific heat of water"]
    rise = sheet["temperature of the forging"] - sheet["temperature of the water"]
    return sheet["temperature of the water"] + rise * bronze / (bronze + water)


@works("shaft-gap", "a")
def rise_that_closes_the_gap(sheet: Printed) -> float:
    return sheet["end gap"] / (sheet["coefficient of linear expansion"] * sheet["length of the shaft"])


@works("shaft-gap", "b")
def gap_closes(sheet: Printed) -> bool:
    growth = sheet["coefficient of linear expansion"] * sheet["length of the shaft"] * sheet["greatest rise in use"]
    return growth >= sheet["end gap"]


@works("toe-rail", "a")
def growth_of_the_toe_rail(sheet: Printed) -> float:
    rise = sheet["temperature in the sun"] - sheet["temperature when cut"]
    return sheet["coefficient of linear expansion"] * sheet["length"] * rise

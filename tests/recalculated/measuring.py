"""What instruments read, by their drawings, and what follows."""

from recalculated.instruments import dial_gauge, heights, micrometer, pressure_gauge, vernier
from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle

MM = 1e-3


@works("shaft-by-vernier", "a")
def diameter_of_the_shaft(sheet: Printed) -> float:
    return vernier(sheet.figure) * MM


@works("sheet-by-micrometer", "a")
def thickness_of_the_plate(sheet: Printed) -> float:
    return micrometer(sheet.figure) * MM


@works("rudder-rise", "a")
def rise_of_the_rudder(sheet: Printed) -> float:
    return dial_gauge(sheet.figure) * MM


@works("rudder-rise", "b")
def rudder_may_rise_so_far(sheet: Printed) -> bool:
    return rise_of_the_rudder(sheet) <= sheet["rise allowed"]


@works("bore-by-vernier", "a")
def reading_in_the_bore(sheet: Printed) -> float:
    return vernier(sheet.figure) * MM


@works("bore-by-vernier", "b")
def diameter_of_the_bore(sheet: Printed) -> float:
    assert sheet.says("too much")
    return reading_in_the_bore(sheet) - sheet["reading with the jaws closed"]


@works("pin-by-micrometer", "a")
def reading_at_the_pin(sheet: Printed) -> float:
    return micrometer(sheet.figure) * MM


@works("pin-by-micrometer", "b")
def diameter_of_the_pin(sheet: Printed) -> float:
    assert sheet.says("too much")
    return reading_at_the_pin(sheet) - sheet["reading with nothing in it"]


@works("pin-by-micrometer", "c")
def pin_is_to_be_replaced(sheet: Printed) -> bool:
    return diameter_of_the_pin(sheet) < sheet["least diameter allowed"]


@works("blank-under-pressure", "a")
def pressure_at_the_blank(sheet: Printed) -> float:
    return pressure_gauge(sheet.figure) * 1e5


@works("blank-under-pressure", "b")
def force_on_the_blank(sheet: Printed) -> float:
    return pressure_at_the_blank(sheet) * circle(sheet["inside diameter"])


@works("blank-under-pressure", "c")
def bolts_bear_the_blank(sheet: Printed) -> bool:
    return force_on_the_blank(sheet) <= sheet["load allowed"]


@works("strength-from-a-graph", "a")
def greatest_force_of_the_test(sheet: Printed) -> float:
    return round(heights(sheet.figure)[1]) * 1e3


@works("strength-from-a-graph", "b")
def tensile_strength_of_the_steel(sheet: Printed) -> float:
    return greatest_force_of_the_test(sheet) / sheet["cross-section of the test piece"]


@works("strength-from-a-graph", "c")
def pull_that_the_chainplate_may_take(sheet: Printed) -> float:
    strength = tensile_strength_of_the_steel(sheet) / sheet["factor of safety"]
    return strength * sheet["cross-section of the chainplate"]

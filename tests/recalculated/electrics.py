"""Circuits on board: U = R I, P = U I, charge = current times time, R = rho l/A."""

import statistics

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import next_down, next_up


@works("battery-hours", "a")
def time_until_the_share_is_taken_out(sheet: Printed) -> float:
    charge = sheet["share that may be used"] * sheet["capacity"]
    return charge / (sheet["power"] / sheet["voltage"])


@works("battery-hours", "b")
def battery_lasts(sheet: Printed) -> bool:
    return time_until_the_share_is_taken_out(sheet) >= sheet["length of the night"]


@works("cabin-lamps", "a")
def current_of_all_lamps(sheet: Printed) -> float:
    return sheet["number of lamps"] * sheet["power of a lamp"] / sheet["voltage"]


@works("cable-drop", "a")
def resistance_there_and_back(sheet: Printed) -> float:
    assert sheet.says("pair of copper cables, each")
    return sheet["resistivity"] * 2 * sheet["length of one cable"] / sheet["cross-section"]


@works("cable-drop", "b")
def voltage_left_at_the_pump(sheet: Printed) -> float:
    return sheet["voltage at the battery"] - sheet["current"] * resistance_there_and_back(sheet)


@works("cable-size", "a")
def current_of_the_consumer(sheet: Printed) -> float:
    return sheet["power"] / sheet["voltage"]


@works("cable-size", "b")
def least_cross_section(sheet: Printed) -> float:
    assert sheet.says("on the way there and back")
    lost = sheet["share that may be lost"] * sheet["voltage"]
    resistance = lost / current_of_the_consumer(sheet)
    return sheet["resistivity"] * 2 * sheet["length of one cable"] / resistance


@works("cable-size", "c")
def cable_in_stock_is_thick_enough(sheet: Printed) -> bool:
    return sheet["cross-section in stock"] >= least_cross_section(sheet)


@works("cable-size", "d")
def cable_of_the_list(sheet: Printed) -> str:
    return next_up(sheet.sizes["d"], least_cross_section(sheet))


@works("fuse-for-cable", "a")
def current_in_the_engine_space(sheet: Printed) -> float:
    return sheet["share that is left in the engine space"] * sheet["current allowed in free air"]


@works("fuse-for-cable", "b")
def fuse_that_guards_the_cable(sheet: Printed) -> str:
    assert sheet.says("the largest fuse")
    return next_down(sheet.sizes["b"], current_in_the_engine_space(sheet))


@works("lamp-resistor", "a")
def resistance_before_the_lamp(sheet: Printed) -> float:
    return (sheet["voltage of the supply"] - sheet["voltage of the lamp"]) / sheet["current"]


@works("lamp-resistor", "b")
def heat_in_the_resistor(sheet: Printed) -> float:
    return sheet["current"] ** 2 * resistance_before_the_lamp(sheet)


@works("pump-fuse", "a")
def current_of_the_pump(sheet: Printed) -> float:
    return sheet["power of the pump"] / sheet["voltage"]


@works("two-resistors", "a")
def resistance_side_by_side(sheet: Printed) -> float:
    return 1 / (1 / sheet["first resistance"] + 1 / sheet["second resistance"])


@works("two-resistors", "b")
def current_of_both(sheet: Printed) -> float:
    return sheet["voltage"] / sheet["first resistance"] + sheet["voltage"] / sheet["second resistance"]


@works("two-resistors", "c")
def power_of_both(sheet: Printed) -> float:
    return sheet["voltage"] * current_of_both(sheet)


@works("windlass-motor", "a")
def power_at_the_chain(sheet: Printed) -> float:
    return sheet["pull on the chain"] * sheet["speed of the chain"]


@works("windlass-motor", "b")
def power_from_the_battery(sheet: Printed) -> float:
    return power_at_the_chain(sheet) / sheet["efficiency"]


@works("windlass-motor", "c")
def current_of_the_windlass(sheet: Printed) -> float:
    return power_from_the_battery(sheet) / sheet["voltage at the motor"]


def resistances_of_the_mat(sheet: Printed) -> list[float]:
    return [u / i for u, i in zip(sheet.columns["U"], sheet.columns["I"], strict=True)]


for reading in range(4):
    works("heating-mat", f"a{reading + 1}")(lambda sheet, at=reading: resistances_of_the_mat(sheet)[at])


@works("heating-mat", "b")
def mean_resistance_of_the_mat(sheet: Printed) -> float:
    return statistics.fmean(resistances_of_the_mat(sheet))


@works("heating-mat", "c")
def range_of_the_resistances(sheet: Printed) -> float:
    found = sorted(resistances_of_the_mat(sheet))
    return found[-1] - found[0]

"""Work, power and what is lost on the way: W = G h, P = W/t, E_k = m v²/2, Q = m c dT, efficiency out over in."""

from recalculated.printed import Printed
from recalculated.registry import works


@works("engine-lift", "a")
def work_of_the_lift(sheet: Printed) -> float:
    return sheet["weight of the engine"] * sheet["height of the lift"]


@works("battery-energy", "a")
def energy_in_the_battery(sheet: Printed) -> float:
    return sheet["voltage"] * sheet["charge on the label"]


@works("capstan-efficiency", "a")
def work_of_the_load_in_a_second(sheet: Printed) -> float:
    return sheet["weight of the load"] * sheet["height of the lift"] / sheet["time"]


@works("capstan-efficiency", "b")
def out_over_in(sheet: Printed) -> float:
    return work_of_the_load_in_a_second(sheet) / sheet["power taken"]


@works("capstan-efficiency", "c")
def good_enough(sheet: Printed) -> bool:
    return out_over_in(sheet) >= sheet["least efficiency that the yard accepts"]


@works("brake-heat", "a")
def energy_of_rolling(sheet: Printed) -> float:
    return 0.5 * sheet["mass of trailer and boat"] * sheet["speed"] ** 2


@works("brake-heat", "b")
def warming_of_the_iron(sheet: Printed) -> float:
    capacity = sheet["mass of iron in the brakes"] * sheet["specific heat of the iron"]
    return energy_of_rolling(sheet) / capacity


@works("diesel-chain", "a")
def power_of_the_fuel(sheet: Printed) -> float:
    return sheet["fuel burnt"] * sheet["energy in the fuel"]


@works("diesel-chain", "b")
def power_that_reaches_the_water(sheet: Printed) -> float:
    at_the_shaft = power_of_the_fuel(sheet) * sheet["efficiency of the engine"]
    return at_the_shaft * sheet["efficiency of gearbox and shaft"] * sheet["efficiency of the propeller"]


@works("diesel-chain", "c")
def heat_shed_by_the_engine(sheet: Printed) -> float:
    power = power_of_the_fuel(sheet)
    return power - power * sheet["efficiency of the engine"]


@works("electric-run", "b")
def power_from_the_battery(sheet: Printed) -> float:
    at_the_shaft = sheet["power that the water takes"] / sheet["efficiency of the propeller"]
    return at_the_shaft / sheet["efficiency of controller and motor"]


@works("electric-run", "c")
def time_until_it_is_used(sheet: Printed) -> float:
    return sheet["energy that may be taken"] / power_from_the_battery(sheet)


@works("electric-run", "d")
def lasts_for_the_trip(sheet: Printed) -> bool:
    return time_until_it_is_used(sheet) >= sheet["length of the trip"]


@works("electric-run", "e")
def way_until_it_is_used(sheet: Printed) -> float:
    return sheet["speed"] * time_until_it_is_used(sheet)

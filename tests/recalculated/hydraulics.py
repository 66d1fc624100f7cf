"""Pressure is force over area; flow is speed times area; what floats displaces its own mass."""

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import circle, ring


@works("bottle-jack", "a")
def force_on_the_pump_piston(sheet: Printed) -> float:
    return sheet["force of the hand"] * sheet["lever from pivot to hand"] / sheet["lever from pivot to piston"]


@works("bottle-jack", "b")
def pressure_in_the_jack(sheet: Printed) -> float:
    return force_on_the_pump_piston(sheet) / circle(sheet["pump piston diameter"])


@works("bottle-jack", "c")
def load_on_the_jack(sheet: Printed) -> float:
    return pressure_in_the_jack(sheet) * circle(sheet["lifting piston diameter"])


@works("keel-lift", "a")
def gauge_pressure_that_lifts_the_keel(sheet: Printed) -> float:
    weight = sheet["mass of the keel"] * sheet["acceleration of free fall"]
    return weight / ring(sheet["bore"], sheet["rod diameter"])


@works("pump-power", "a")
def power_in_the_oil(sheet: Printed) -> float:
    return sheet["pressure"] * sheet["flow"]


@works("pump-power", "b")
def power_of_the_pump_motor(sheet: Printed) -> float:
    return power_in_the_oil(sheet) / sheet["efficiency"]


@works("ram-speed", "a")
def speed_of_the_rod_running_out(sheet: Printed) -> float:
    return sheet["flow"] / circle(sheet["bore"])


@works("ram-speed", "b")
def time_to_run_back(sheet: Printed) -> float:
    return sheet["stroke"] * ring(sheet["bore"], sheet["rod diameter"]) / sheet["flow"]


@works("steering-ram", "a")
def push_of_the_ram(sheet: Printed) -> float:
    return sheet["gauge pressure"] * circle(sheet["bore"])


@works("steering-ram", "b")
def pull_of_the_ram(sheet: Printed) -> float:
    return sheet["gauge pressure"] * ring(sheet["bore"], sheet["rod diameter"])


@works("two-pistons", "d")
def pressure_under_the_small_piston(sheet: Printed) -> float:
    return sheet["force on the small piston"] / circle(sheet["diameter of the small piston"])


@works("two-pistons", "a")
def load_on_the_large_piston(sheet: Printed) -> float:
    return pressure_under_the_small_piston(sheet) * circle(sheet["diameter of the large piston"])


@works("two-pistons", "b")
def way_of_the_small_piston(sheet: Printed) -> float:
    oil = sheet["lift of the load"] * circle(sheet["diameter of the large piston"])
    return oil / circle(sheet["diameter of the small piston"])


@works("viewing-port", "a")
def gauge_pressure_at_the_port(sheet: Printed) -> float:
    return sheet["density"] * sheet["acceleration of free fall"] * sheet["depth of its middle"]


@works("viewing-port", "b")
def force_on_the_port(sheet: Printed) -> float:
    assert sheet.says("air at the same pressure as above the water")
    return gauge_pressure_at_the_port(sheet) * circle(sheet["diameter of the port"])


@works("work-raft", "a")
def draught_of_the_empty_raft(sheet: Printed) -> float:
    return sheet["mass of the raft"] / (sheet["density of the water"] * sheet["length"] * sheet["width"])


@works("work-raft", "b")
def load_of_the_raft(sheet: Printed) -> float:
    displaced = sheet["length"] * sheet["width"] * sheet["greatest draught"]
    return sheet["density of the water"] * displaced - sheet["mass of the raft"]


@works("circuit-signs", "b")
def flow_of_the_pump(sheet: Printed) -> float:
    return sheet["oil moved in a turn"] * sheet["speed of rotation"]


@works("circuit-signs", "c")
def greatest_push_of_the_ram(sheet: Printed) -> float:
    return sheet["greatest pressure"] * circle(sheet["bore"])

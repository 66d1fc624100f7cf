"""Limits of size and what comes of them: clearance, interference, play, shrinking on, and the finish of a face."""

from recalculated.printed import Printed
from recalculated.registry import works

PLACES = ("first", "second", "third", "fourth", "fifth")


@works("shaft-in-bush", "a")
def bores_of_the_bush(sheet: Printed) -> tuple[float, float]:
    size = sheet["size on the drawing"]
    return size + sheet["upper deviation of the bush"], size + sheet["lower deviation of the bush"]


@works("shaft-in-bush", "b")
def diameters_of_the_shaft(sheet: Printed) -> tuple[float, float]:
    size = sheet["size on the drawing"]
    return size + sheet["upper deviation of the shaft"], size + sheet["lower deviation of the shaft"]


@works("shaft-in-bush", "c")
def clearances(sheet: Printed) -> tuple[float, float]:
    upper, lower = sheet["upper deviation of the bush"], sheet["lower deviation of the bush"]
    return upper - sheet["lower deviation of the shaft"], lower - sheet["upper deviation of the shaft"]


@works("shaft-in-bush", "d")
def grease_has_its_clearance(sheet: Printed) -> bool:
    return min(clearances(sheet)) >= sheet["clearance that the grease needs"]


@works("rudder-bush", "a")
def bores_of_the_rudder_bush(sheet: Printed) -> tuple[float, float]:
    size = sheet["size on the drawing"]
    return size + sheet["upper deviation of the bush"], size + sheet["lower deviation of the bush"]


@works("rudder-bush", "b")
def tolerance_of_the_bore(sheet: Printed) -> float:
    return sheet["upper deviation of the bush"] - sheet["lower deviation of the bush"]


@works("rudder-bush", "c")
def bore_is_within_its_limits(sheet: Printed) -> bool:
    low, high = sheet["lower deviation of the bush"], sheet["upper deviation of the bush"]
    return low <= sheet["reading of the gauge"] <= high


@works("choosing-a-fit", "d")
def least_to_come_off_the_pin(sheet: Printed) -> float:
    size = sheet["size on the drawing"]
    as_it_is, first_good = size - sheet["what the new pin is below"], size + sheet["upper deviation of the pin"]
    return as_it_is - first_good


@works("coupling-on-shaft", "a")
def largest_clearance_of_the_coupling(sheet: Printed) -> float:
    size = sheet["size on the drawing"]
    return (size + sheet["upper deviation of the coupling"]) - (size + sheet["lower deviation of the shaft"])


@works("coupling-on-shaft", "b")
def largest_interference_of_the_coupling(sheet: Printed) -> float:
    size = sheet["size on the drawing"]
    return (size + sheet["upper deviation of the shaft"]) - (size + sheet["lower deviation of the coupling"])


@works("coupling-on-shaft", "c")
def spread_of_the_fit(sheet: Printed) -> float:
    bore = sheet["upper deviation of the coupling"] - sheet["lower deviation of the coupling"]
    return bore + sheet["upper deviation of the shaft"] - sheet["lower deviation of the shaft"]


@works("coupling-on-shaft", "d")
def pair_has_interference(sheet: Printed) -> bool:
    return sheet["what the shaft is above"] > sheet["what the coupling is above"]


@works("pressed-bush", "a")
def interferences_of_the_bush(sheet: Printed) -> tuple[float, float]:
    largest = sheet["upper deviation of the bush"] - sheet["lower deviation of the housing"]
    return largest, sheet["lower deviation of the bush"] - sheet["upper deviation of the housing"]


@works("pressed-bush", "b")
def clearance_after_pressing(sheet: Printed) -> float:
    closes = sheet["share of the interference"] * max(interferences_of_the_bush(sheet))
    return sheet["clearance before pressing"] - closes


@works("pressed-bush", "c")
def pressed_bush_leaves_the_grease_its_clearance(sheet: Printed) -> bool:
    return clearance_after_pressing(sheet) >= sheet["clearance that the grease needs"]


@works("shrunk-collar", "a")
def interference_of_the_collar(sheet: Printed) -> float:
    return sheet["diameter of the shaft"] * sheet["shrink allowance"]


@works("shrunk-collar", "b")
def bore_of_the_collar(sheet: Printed) -> float:
    return sheet["diameter of the shaft"] * (1 - sheet["shrink allowance"])


@works("shrunk-collar", "c")
def temperature_of_the_collar(sheet: Printed) -> float:
    grows = sheet["shrink allowance"] * sheet["diameter of the shaft"] + sheet["room for slipping on"]
    for_a_kelvin = sheet["coefficient of linear expansion"] * sheet["diameter of the shaft"]
    return sheet["temperature of the workshop"] + grows / for_a_kelvin


@works("shrunk-collar", "d")
def collar_keeps_its_temper(sheet: Printed) -> bool:
    return temperature_of_the_collar(sheet) <= sheet["highest temperature for the collar"]


@works("sheave-in-block", "a")
def plays_of_the_sheave(sheet: Printed) -> tuple[float, float]:
    middle = sheet["width of the slot"] - sheet["thickness of the sheave"] - 2 * sheet["thickness of a washer"]
    either_way = sheet["deviation of the slot"] + sheet["deviation of the sheave"] + 2 * sheet["deviation of a washer"]
    return middle + either_way, middle - either_way


@works("sheave-in-block", "b")
def tolerance_of_the_play(sheet: Printed) -> float:
    return 2 * (sheet["deviation of the slot"] + sheet["deviation of the sheave"] + 2 * sheet["deviation of a washer"])


@works("sheave-in-block", "c")
def sheave_has_its_play(sheet: Printed) -> bool:
    return min(plays_of_the_sheave(sheet)) >= sheet["play that the sheave needs"]


def heights(sheet: Printed) -> list[float]:
    return [sheet[f"{place} height"] for place in PLACES]


@works("sealing-face", "a")
def roughness(sheet: Printed) -> float:
    above = sum(height for height in heights(sheet) if height > 0)
    below = sum(height for height in heights(sheet) if height < 0)
    return (above - below) / len(PLACES)


@works("sealing-face", "b")
def depth_of_the_profile(sheet: Printed) -> float:
    *_, highest = ordered = sorted(heights(sheet))
    return highest - ordered[0]


@works("sealing-face", "c")
def face_is_smooth_enough(sheet: Printed) -> bool:
    return roughness(sheet) <= sheet["greatest roughness"]

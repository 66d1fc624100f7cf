"""Friction that may reach mu N, slopes, a rope round a bollard."""

import math

from recalculated.printed import Printed
from recalculated.registry import works


@works("block-on-bench", "a")
def coefficient_on_the_bench(sheet: Printed) -> float:
    return sheet["pull while it slides"] / sheet["weight of the block"]


@works("bollard-turns", "a")
def angle_on_the_bollard(sheet: Printed) -> float:
    return 2 * math.pi * sheet["turns"]


@works("bollard-turns", "b")
def pull_that_the_warp_holds(sheet: Printed) -> float:
    return sheet["force of the hand"] * math.exp(sheet["coefficient of friction"] * angle_on_the_bollard(sheet))


@works("chest-on-deck", "a")
def pull_that_starts_the_chest(sheet: Printed) -> float:
    return sheet["coefficient of friction"] * sheet["weight of the chest"]


@works("clamp-grip", "a")
def least_force_of_each_clamp(sheet: Printed) -> float:
    faces = 2 * sheet["number of clamps"]
    weight = sheet["mass of the panel"] * sheet["acceleration of free fall"]
    return weight / faces / sheet["coefficient of friction"]


@works("clamp-grip", "b")
def force_to_set(sheet: Printed) -> float:
    return sheet["factor of safety"] * least_force_of_each_clamp(sheet)


@works("cradle-drag", "a")
def pull_that_keeps_it_sliding(sheet: Printed) -> float:
    return sheet["coefficient of friction"] * sheet["mass of the cradle"] * sheet["acceleration of free fall"]


@works("slipway-haul", "a")
def pull_up_the_ways(sheet: Printed) -> float:
    weight, slope = sheet["mass"] * sheet["acceleration of free fall"], sheet["slope"]
    along, square = weight * math.sin(slope), weight * math.cos(slope)
    return along + sheet["coefficient of friction"] * square


@works("slipway-haul", "b")
def power_of_the_winch_motor(sheet: Printed) -> float:
    return pull_up_the_ways(sheet) * sheet["speed"] / sheet["efficiency"]


@works("slipway-hold", "a")
def pull_that_holds_the_trolley(sheet: Printed) -> float:
    weight = sheet["mass of boat and trolley"] * sheet["acceleration of free fall"]
    return weight * math.sin(sheet["slope"])


@works("slipway-hold", "b")
def force_square_to_the_slip(sheet: Printed) -> float:
    weight = sheet["mass of boat and trolley"] * sheet["acceleration of free fall"]
    return weight * math.cos(sheet["slope"])


@works("tilting-board", "a")
def angle_of_the_board(sheet: Printed) -> float:
    return math.asin(sheet["height of the raised end"] / sheet["length of the board"])


@works("tilting-board", "b")
def friction_of_the_board(sheet: Printed) -> float:
    length, height = sheet["length of the board"], sheet["height of the raised end"]
    return height / math.sqrt(length**2 - height**2)

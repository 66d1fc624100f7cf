"""Moments about a pivot, forces that hold each other, work in and work out."""

import math

from recalculated.printed import Printed
from recalculated.registry import works
from recalculated.shapes import next_up


@works("belt-drive", "a")
def speed_of_the_pump(sheet: Printed) -> float:
    belt = math.pi * sheet["diameter of the pulley on the engine"] * sheet["speed of rotation of the engine"]
    return belt / (math.pi * sheet["diameter of the pulley on the pump"])


@works("belt-drive", "b")
def torque_at_the_pump(sheet: Printed) -> float:
    pull = sheet["torque at the engine"] / (sheet["diameter of the pulley on the engine"] / 2)
    return pull * sheet["diameter of the pulley on the pump"] / 2


@works("boom-lift", "a")
def moment_about_the_heel(sheet: Printed) -> float:
    weight = sheet["mass of the outboard"] * sheet["acceleration of free fall"]
    return weight * sheet["length of the boom"] * math.cos(sheet["angle to the level"])


@works("boom-lift", "b")
def pull_in_the_level_rope(sheet: Printed) -> float:
    return moment_about_the_heel(sheet) / (sheet["length of the boom"] * math.sin(sheet["angle to the level"]))


@works("gangway", "a")
def mass_of_the_balance_weight(sheet: Printed) -> float:
    outside = sum(
        sheet[f"mass of the {what}"] * sheet[arm]
        for what, arm in (
            ("first crate", "from the pivot to the first crate"),
            ("second crate", "from the pivot to the second crate"),
            ("gangway", "from the pivot to its middle"),
        )
    )
    return outside / sheet["from the pivot to the balance weight"]


@works("gangway", "b")
def force_on_the_pivot(sheet: Printed) -> float:
    masses = [sheet[f"mass of the {what}"] for what in ("first crate", "second crate", "gangway")]
    return (math.fsum(masses) + mass_of_the_balance_weight(sheet)) * sheet["acceleration of free fall"]


@works("hoist-work", "a")
def work_of_the_hand(sheet: Printed) -> float:
    return sheet["pull of the hand"] * sheet["chain pulled through"]


@works("hoist-work", "b")
def work_on_the_mast(sheet: Printed) -> float:
    return sheet["weight of the mast"] * sheet["lift"]


@works("hoist-work", "c")
def efficiency_of_the_hoist(sheet: Printed) -> float:
    return work_on_the_mast(sheet) / work_of_the_hand(sheet)


@works("sling-legs", "a")
def pull_in_each_leg(sheet: Printed) -> float:
    weight = sheet["mass of the engine"] * sheet["acceleration of free fall"]
    return weight / 2 / math.cos(sheet["angle of a leg from the upright"])


@works("spanner", "a")
def torque_on_the_nut(sheet: Printed) -> float:
    ends = sheet["from the jaw end to the middle of the jaw"] + sheet["from the other end to the middle of the hand"]
    return sheet["pull of the hand"] * (sheet["length over all"] - ends)


@works("tackle", "a")
def pull_at_the_rope(sheet: Printed) -> float:
    weight = sheet["mass of the engine"] * sheet["acceleration of free fall"]
    return weight / (sheet["parts of rope at the lower block"] * sheet["efficiency"])


@works("tackle", "b")
def rope_to_pull_in(sheet: Printed) -> float:
    return sheet["parts of rope at the lower block"] * sheet["lift"]


@works("tiller", "a")
def torque_on_the_stock(sheet: Printed) -> float:
    return sheet["force of the water"] * sheet["arm of the water"]


@works("tiller", "b")
def force_on_the_tiller(sheet: Printed) -> float:
    return torque_on_the_stock(sheet) / sheet["arm of the hand"]


@works("trestle-plank", "a")
def force_on_trestle_b(sheet: Printed) -> float:
    span, g = sheet["distance between the trestles"], sheet["acceleration of free fall"]
    about_a = sheet["mass of the plank"] * g * span / 2 + sheet["mass on the plank"] * g * sheet["distance from A"]
    return about_a / span


@works("trestle-plank", "b")
def force_on_trestle_a(sheet: Printed) -> float:
    span, g = sheet["distance between the trestles"], sheet["acceleration of free fall"]
    arm = span - sheet["distance from A"]
    return sheet["mass of the plank"] * g / 2 + sheet["mass on the plank"] * g * arm / span


@works("windlass", "a")
def torque_on_the_drum(sheet: Printed) -> float:
    return sheet["load on the rope"] * sheet["drum diameter"] / 2


@works("windlass", "b")
def force_on_the_crank(sheet: Printed) -> float:
    return torque_on_the_drum(sheet) / (sheet["efficiency"] * sheet["length of the crank"])


@works("hoist-rope", "a")
def pull_in_each_part_of_the_rope(sheet: Printed) -> float:
    return sheet["mass of the dinghy"] * sheet["acceleration of free fall"] / sheet["parts of rope that carry"]


@works("hoist-rope", "b")
def breaking_force_needed(sheet: Printed) -> float:
    return sheet["factor of safety"] * pull_in_each_part_of_the_rope(sheet)


@works("hoist-rope", "c")
def rope_of_the_list(sheet: Printed) -> str:
    return next_up(sheet.sizes["c"], breaking_force_needed(sheet))

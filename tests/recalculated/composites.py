"""Wood, resin and laminates: what a share is a share of, volumes from masses, I of two skins by the parallel axis."""

from recalculated.printed import Printed
from recalculated.registry import works


@works("timber-moisture", "a")
def water_on_dry_wood(sheet: Printed) -> float:
    return sheet["mass of the slice"] / sheet["mass after the oven"] - 1


@works("timber-moisture", "b")
def may_be_glued(sheet: Printed) -> bool:
    return water_on_dry_wood(sheet) <= sheet["greatest moisture content for the glue"]


@works("plank-shrinks", "a")
def width_that_is_lost(sheet: Printed) -> float:
    for_each_percent = sheet["shrinkage down to bone dry"] / sheet["moisture content at which shrinking begins"]
    drying = sheet["moisture content when laid"] - sheet["moisture content in summer"]
    return sheet["width of the plank"] * for_each_percent * drying


@works("plank-shrinks", "b")
def seam_in_summer(sheet: Printed) -> float:
    return sheet["width of a seam when laid"] + 2 * (width_that_is_lost(sheet) / 2)


@works("epoxy-hardener", "a")
def hardener_for_the_resin(sheet: Printed) -> float:
    return sheet["mass of the resin"] / 100 * sheet["parts of hardener"]


@works("epoxy-hardener", "b")
def resin_and_hardener_on_the_scales(sheet: Printed) -> float:
    return sheet["mass of the resin"] + hardener_for_the_resin(sheet)


@works("resin-for-a-deck", "a")
def glass_in_all_layers(sheet: Printed) -> float:
    area = sheet["length of the mould"] * sheet["width of the mould"]
    return sheet["number of layers"] * (area * sheet["glass in a layer"])


@works("resin-for-a-deck", "b")
def resin_for_the_glass(sheet: Printed) -> float:
    return glass_in_all_layers(sheet) * sheet["resin for a part of glass"]


@works("fibre-share", "a")
def glass_by_mass(sheet: Printed) -> float:
    return sheet["mass that stays behind"] / sheet["mass of the piece"]


@works("fibre-share", "b")
def glass_by_volume(sheet: Printed) -> float:
    by_mass = glass_by_mass(sheet)
    return 1 / (1 + (1 / by_mass - 1) * sheet["density of the glass"] / sheet["density of the hard resin"])


@works("fibre-share", "c")
def enough_glass(sheet: Printed) -> bool:
    return glass_by_volume(sheet) >= sheet["least share of glass by volume"]


@works("laminate-thickness", "a")
def mass_of_a_square_metre(sheet: Printed) -> float:
    return sheet["number of layers"] * sheet["glass in a layer"] / sheet["share of glass by mass"]


@works("laminate-thickness", "b")
def volume_of_a_square_metre(sheet: Printed) -> float:
    share, whole = sheet["share of glass by mass"], mass_of_a_square_metre(sheet)
    return whole * (share / sheet["density of the glass"] + (1 - share) / sheet["density of the hard resin"])


@works("roving-batten", "b")
def modulus_along_the_fibres(sheet: Printed) -> float:
    resin = sheet["modulus of the resin"]
    return resin + sheet["share of glass by volume"] * (sheet["modulus of the fibres"] - resin)


@works("roving-batten", "c")
def pull_in_the_fibres(sheet: Printed) -> float:
    glass = sheet["share of glass by volume"]
    return 1 / (1 + (1 - glass) * sheet["modulus of the resin"] / (glass * sheet["modulus of the fibres"]))


@works("sandwich-hatch", "a")
def second_moment_of_two_skins(sheet: Printed) -> float:
    width, skin = sheet["width of the hatch"], sheet["thickness of a skin"]
    arm = (sheet["thickness of the core"] + skin) / 2
    return 2 * (width * skin**3 / 12 + width * skin * arm**2)


@works("sandwich-hatch", "b")
def against_the_skins_alone(sheet: Printed) -> float:
    return second_moment_of_two_skins(sheet) / (
        sheet["width of the hatch"] * (2 * sheet["thickness of a skin"]) ** 3 / 12
    )


@works("rubbing-strake", "a")
def mass_of_the_strake(sheet: Printed) -> float:
    return sheet["length of the strake"] * sheet["breadth"] * sheet["height"] * sheet["density of polyethylene"]

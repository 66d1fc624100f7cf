"""The tables of the bank against published properties (tests/cases/published_materials.csv names each source)."""

from decimal import Decimal
from math import pi

import pytest

from bank_fixture import BANK
from published_rows import rows
from witnessmark.questions.model.question import Table

# SI factors of the printed units; psi after NIST SP 811 (2008), App. B.8.
SI = {
    "Pa": 1.0, "MPa": 1e6, "GPa": 1e9, "ksi": 1e3 * 0.45359237 * 9.80665 / 0.0254**2, "µm/(m*K)": 1e-6, "kg/m^3": 1.0,
    "mm^2": 1e-6, "mm": 1e-3,
}  # fmt: skip
MATERIALS = rows("published_materials.csv")
THREADS = ("M6", "M8", "M10", "M12", "M16", "M20")
FARADAY, ZINC = 96485.33212, 65.38e-3  # C/mol: CODATA 2022; kg/mol: standard atomic weight of zinc


def table(name: str) -> Table:
    """A table of the bank."""
    return BANK.tables[name]


def number(name: str, row: str, column: str) -> float:
    """A cell as a number in its own unit."""
    value = table(name).rows[row][column]
    assert isinstance(value, Decimal)
    return float(value)


@pytest.mark.parametrize("row", MATERIALS, ids=lambda r: f"{r['row']} {r['column']} {r['published']} {r['unit']}")
def test_a_table_of_the_bank_is_as_near_to_the_published_value_as_the_row_says(row: dict[str, str]) -> None:
    ours = number(row["table"], row["row"], row["column"]) * SI[table(row["table"]).units[row["column"]]]
    published = float(row["published"]) * SI[row["unit"]]
    assert ours == pytest.approx(published, rel=float(row["within"]) / 100), row["source"]


def test_every_published_property_names_its_source_and_where_it_was_seen() -> None:
    for row in MATERIALS:
        assert row["source"]
        assert row["status"] in ("confirmed in the source", "confirmed in a secondary source", "reference library run")


@pytest.mark.parametrize("name", THREADS)
def test_the_stress_area_of_a_thread_is_that_of_the_standards_formula_to_three_figures(name: str) -> None:
    d, pitch = number("metric-threads", name, "diameter"), number("metric-threads", name, "pitch")
    area = pi / 4 * (d - 0.9382 * pitch) ** 2  # ISO 898-1:2013, clause 9.1.6
    assert number("metric-threads", name, "stress_area") == float(f"{area:.3g}")


@pytest.mark.parametrize(
    ("name", "poisson"),
    [("mild steel", 0.28), ("marine aluminium alloy", 0.35), ("naval brass", 0.34), ("titanium alloy", 0.32)],
)  # Poisson's ratios: Appendix E, table E1; ecoursesbook.com (brass); pymatgen-core 2026.10.16 (titanium)
def test_shear_modulus_and_modulus_agree_as_for_an_isotropic_metal(name: str, poisson: float) -> None:
    modulus, shear_modulus = number("metals", name, "modulus"), number("metals", name, "shear_modulus")
    assert shear_modulus == pytest.approx(modulus / (2 * (1 + poisson)), rel=0.02)


@pytest.mark.parametrize("name", [n for n, cells in table("metals").rows.items() if "shear_strength" in cells])
def test_shear_strength_is_the_share_of_tensile_strength_that_the_table_states(name: str) -> None:
    share = number("metals", name, "shear_strength") / number("metals", name, "tensile_strength")
    assert 0.575 <= share <= 0.8  # 1/√3 = 0.577 is the distortion energy theory; up to 0.8: common practice, no source


def test_the_resistivity_of_copper_in_cables_is_that_of_conductor_copper() -> None:
    for question in ("cable-drop", "cable-size"):
        rho = next(given for given in BANK[question].givens if given.name == "rho")
        assert rho.unit == "ohm*mm^2/m"
        for value in rho.one_of:
            # 1.72E-8 ohm m: OpenStax, College Physics 2e, 20.3; conductors at work are warmer, by up to 5 %
            assert 0.0172 <= float(value) <= 0.0172 * 1.05


def test_a_kilogram_of_zinc_gives_no_more_charge_than_faraday_allows() -> None:
    most = 2 * FARADAY / ZINC / 3600  # two electrons an atom, in ampere hours: 820
    charge = next(given for given in BANK["anode"].givens if given.name == "q")
    assert charge.unit == "A*h/kg"
    assert all(0.9 * most < float(value) < most for value in charge.one_of)

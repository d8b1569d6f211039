"""Topics of density: the shipped solvents against libraries and handbooks, and conversions."""

from __future__ import annotations

from functools import lru_cache

from mixbench.mixing.blend import blend
from mixbench.mixing.density import density_from_specific_gravity, molar_density_dippr105
from mixbench.mixing.model import Product
from mixbench.mixing.solvents import Solvent, parse_solvents
from mixbench.resource import resource_path
from tests.published.checks import Inputs, Outputs, check
from tests.published.topics._units import G_ML_PER_LB_GAL

CODES = {
    "2-butanone (MEK)": "methyl-ethyl-ketone",
    "PGMEA (1-methoxy-2-propyl acetate)": "pgmea",
    "PCBTF (4-chlorobenzotrifluoride)": "pcbtf",
}


@lru_cache
def solvents() -> dict[str, Solvent]:
    """Return the shipped solvents."""
    file = resource_path("solvents.toml")
    return parse_solvents(file.read_text("utf-8"), file.name)


def solvent(fluid: str) -> Solvent:
    """Return a shipped solvent by the name that a source gives it."""
    return solvents()[CODES.get(fluid, fluid.replace(" ", "-"))]


@check("density_vs_temperature")
def density_vs_temperature(inputs: Inputs) -> Outputs:
    fluid = solvent(inputs["fluid"])
    return {"kg_m3": [1000.0 * fluid.density_at(temperature) for temperature in inputs["T_C"]]}


@check("density_handbook")
def density_handbook(inputs: Inputs) -> Outputs:
    fluid = solvent(inputs["fluid"])
    if fluid.code == "pcbtf":  # its source gives a range for 22 °C and no expansion
        return {"g_cm3_range": fluid.density_g_ml}
    return {"g_cm3": [fluid.density_at(temperature) for temperature in inputs["T_C"]]}


@check("thermal_expansion")
def thermal_expansion(inputs: Inputs) -> Outputs:
    fluid = solvent(inputs["fluid"])
    return {
        "beta_per_C": fluid.expansion_per_k,
        "density_lb_gal_at_15.6C": fluid.density_at(15.6) / G_ML_PER_LB_GAL,
    }


@check("specific_gravity_to_lb_gal")
def specific_gravity(inputs: Inputs) -> Outputs:
    water_g_ml = inputs["water_lb_gal"] * G_ML_PER_LB_GAL
    density = density_from_specific_gravity(inputs["sg"], water_g_ml)
    return {"lb_gal": density / G_ML_PER_LB_GAL}


@check("density_dippr105")
def density_dippr105(inputs: Inputs) -> Outputs:
    constants = (inputs[name] for name in ("C1", "C2", "C3", "C4"))
    molar = molar_density_dippr105(*constants, inputs["T_K"])
    return {"mol_m3": molar, "g_mL": molar * inputs["M_g_mol"] * 1e-6}


@check("weight_to_volume")
def weight_to_volume(inputs: Inputs) -> Outputs:
    fluid = Product("X", inputs["fluid"], "thinner", 0.88145, 20.0)
    return {
        "mL": [
            blend([fluid], [inputs["grams"]], [density]).volume_ml for density in inputs["g_cm3"]
        ]
    }

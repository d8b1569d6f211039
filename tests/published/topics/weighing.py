"""When a weight is still, how fast paint runs, what a unit weighs."""

from __future__ import annotations

import random
import statistics
from collections import deque

from mixbench.scales.lines import parse
from mixbench.scales.profiles import profile
from mixbench.weighing.flow import Flow, slope
from mixbench.weighing.learning import corrected
from mixbench.weighing.reading import Basis, Load, Reading
from mixbench.weighing.stillness import Stillness
from tests.published.checks import Inputs, Outputs, check

RUNS = 4000


def reading(at_s: float, mass_g: float, step_g: float) -> Reading:
    """Return a reading without a mark of its own."""
    return Reading(at_s, mass_g, step_g, None, Basis.GROSS, Load.OK, "g", "")


@check("legal_still")
@check("still_window")
def still(inputs: Inputs) -> Outputs:
    every_s = inputs.get("dt_s", 0.1)
    stillness = Stillness(inputs.get("min_s", 0.2), inputs["band_d"])
    verdicts = [
        stillness.add(reading(n * every_s, mass_g, inputs["d_g"]))
        for n, mass_g in enumerate(inputs["readings_g"])
    ]
    return {"still": verdicts[-1]}


@check("ls_slope_noise")
def scatter_of_the_fitted_rate(inputs: Inputs) -> Outputs:
    noise = random.Random(7)  # noqa: S311  the same runs every time
    slopes = [
        slope(
            deque((n * inputs["dt_s"], noise.gauss(0, inputs["sd_g"])) for n in range(inputs["n"]))
        )
        for _ in range(RUNS)
    ]
    return {"sd_rate_g_s": statistics.stdev(each for each in slopes if each is not None)}


@check("preact_stop")
@check("in_flight")
def lead(inputs: Inputs) -> Outputs:
    rate_g_s = inputs.get("flow_g_s", inputs.get("rate"))
    flow = Flow(lead_s=inputs["lag_s"])
    for n in range(300):
        flow.add(reading(n / 50, rate_g_s * n / 50, 0.1))
    stop_at_g = inputs.get("target_g", 0.0) - flow.lead_g
    return {"preact_g": flow.lead_g, "mass": flow.lead_g, "stop_at_g": stop_at_g}


@check("preact_learn")
def learned_lead(inputs: Inputs) -> Outputs:
    new = corrected(
        inputs["preact"], inputs["errors"], factor=inputs["factor"], limit=inputs["limit"]
    )
    return {"preact_new": new}


@check("scale_unit")
def grams(inputs: Inputs) -> Outputs:
    line = f"ST,GS,+{inputs['value']}{inputs['unit']}".encode()
    found = parse(profile("hdr2"), line, 0.0)
    return {"g": found.mass_g if isinstance(found, Reading) else None}

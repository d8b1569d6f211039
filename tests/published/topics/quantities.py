"""Quantities as a sheet or a painter writes them, read into the units of the program."""

from __future__ import annotations

from mixbench.mixing import quantity
from tests.published.checks import Inputs, Outputs, check

READERS = (
    quantity.mass_g,
    quantity.volume_ml,
    quantity.density_g_ml,
    quantity.temperature_c,
    quantity.duration_s,
    quantity.thickness_um,
    quantity.expansion_per_k,
    quantity.voc_g_l,
)


@check("quantity_as_written")
def quantity_as_written(inputs: Inputs) -> Outputs:
    readers = {reader.__name__: reader for reader in READERS}
    return {"value": readers[inputs["kind"]](inputs["text"], "value")}

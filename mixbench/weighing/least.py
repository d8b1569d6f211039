"""The least that a scale can weigh within a tolerance, four ways of asking.

The legal minimum on the plate (`mixbench.weighing.legal.least_load_g`) is a fifth, and the
largest of them counts.
"""

from __future__ import annotations

from collections.abc import Sequence

from mixbench.errors import RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.weighing.metrology import COVERAGE
from mixbench.weighing.trust import ScaleTrust

SPREAD_FLOOR_STEPS = 0.41
"""Least standard deviation of a net weight that counts, in divisions: d / sqrt(6), rounded up as
USP <41> has it (READ)."""


def least_net_g(net_spread_g: float, step_g: float, tolerance: float, k: float = COVERAGE) -> float:
    """Return the smallest net weight that a scale can weigh within a tolerance [g].

    m_min = k max(s, 0.41 d) / r

    Parameters
    ----------
    net_spread_g
        Standard deviation s of repeated net weights as the display shows them, >= 0 [g].
    step_g
        Last digit d, > 0 [g].
    tolerance
        Tolerance r as a fraction of the net weight: 0.02 for 2 %; above 0, at most 1 [-].
    k
        Coverage factor, > 0 [-].

    Raises
    ------
    RangeError
        A figure is out of its bounds.

    Notes
    -----
    Leaves out calibration and place on the pan: see `net_uncertainty` for all of it. The tolerance
    of a paint share is the shop's choice; the pharmacopoeia's is 0.1 %.

    Examples
    --------
    >>> round(least_net_g(0.0, 0.1, 0.02), 6), round(least_net_g(0.0, 0.1, 0.001), 6)
    (4.1, 82.0)

    References
    ----------
    USP <41> (READ): k = 2, r = 0.10 %, s at least 0.41 d. Other r by the same formula (RUN).
    """
    bounds.not_negative(net_spread_g, _("standard deviation s"), "g")
    bounds.positive(step_g, _("last digit d"), "g")
    bounds.fraction(tolerance, _("tolerance"), above_zero=True)
    bounds.positive(k, _("coverage factor k"), "")
    return k * max(net_spread_g, SPREAD_FLOOR_STEPS * step_g) / tolerance


def least_net_by_certificate_g(
    constant_g: float, slope: float, tolerance: float, safety: float = 1.0
) -> float:
    """Return the smallest net weight from the two figures of a calibration certificate [g].

    m_min = alpha / (r / SF - beta), for an expanded uncertainty U(m) = alpha + beta m

    Parameters
    ----------
    constant_g
        alpha: expanded uncertainty at zero load, >= 0 [g].
    slope
        beta: its growth with the load, >= 0 [-].
    tolerance
        Tolerance r as a fraction of the net weight; above 0, at most 1 [-].
    safety
        Factor SF by which the scale should be better than asked, >= 1 [-].

    Raises
    ------
    RangeError
        A figure is out of its bounds, or the slope alone is as large as ``tolerance / safety``,
        so that no weight is large enough.

    Examples
    --------
    >>> round(least_net_by_certificate_g(0.16, 1e-5, 0.01), 3)
    16.016

    References
    ----------
    EURAMET cg-18 v4 (MEMORY): to be confirmed.
    """
    bounds.not_negative(constant_g, _("uncertainty at zero load"), "g")
    bounds.not_negative(slope, _("growth of the uncertainty"), "")
    bounds.fraction(tolerance, _("tolerance"), above_zero=True)
    bounds.within(safety, 1.0, 100.0, _("safety factor"), "")
    room = tolerance / safety - slope
    if room <= 0.0:
        raise RangeError(
            _("The scale's uncertainty grows by {slope:.3%} of the load.").format(slope=slope),
            remedy=_(
                "A tolerance of {tolerance:.3%} cannot be kept at any load: allow more, or have "
                "the scale adjusted."
            ).format(tolerance=tolerance / safety),
        )
    return constant_g / room


def smallest_pot_g(parts: Sequence[float], expanded_g: float, tolerance: float) -> float:
    """Return the total of the smallest pot whose smallest share keeps a tolerance [g].

    total = U / r * sum(parts) / min(parts)

    Parameters
    ----------
    parts
        Shares by mass, shape (n,), n >= 1, each > 0 [-].
    expanded_g
        Expanded uncertainty U of one net weight, > 0 [g].
    tolerance
        Tolerance r of a share as a fraction of it; above 0, at most 1 [-].

    Raises
    ------
    RangeError
        No parts, a part that is not above zero, or another figure out of its bounds.

    Notes
    -----
    Looks at each share alone. `mixbench.weighing.honest` looks at the ratios, each with its own
    band, and at the class of the scale.

    Examples
    --------
    >>> round(smallest_pot_g([100, 50, 10], 0.1633, 0.02), 1)
    130.6

    References
    ----------
    Least weight m = U / r scaled to the pot (RUN).
    """
    bounds.same_length(parts=parts)
    for part in parts:
        bounds.positive(part, _("part"), "")
    bounds.positive(expanded_g, _("expanded uncertainty"), "g")
    bounds.fraction(tolerance, _("tolerance"), above_zero=True)
    return expanded_g / tolerance * sum(parts) / min(parts)


def smallest_addition_g(scale: ScaleTrust, tolerance: float) -> float:
    """Return the smallest addition from which on every one is known within a tolerance [g].

    U(a) <= r a, and a >= Min on a verified scale

    Parameters
    ----------
    scale
        What is known of the scale.
    tolerance
        Tolerance r as a fraction of the addition; above 0, at most 1 [-].

    Raises
    ------
    RangeError
        The tolerance is no fraction above 0.

    Notes
    -----
    The addition is the difference of two readings, so its uncertainty is that of a share. A hand
    that cannot stop so soon is not in it.

    Examples
    --------
    >>> round(smallest_addition_g(ScaleTrust(0.1, 0.05), 0.1), 2)
    1.63

    References
    ----------
    As `mixbench.weighing.trust`; the tolerance is the shop's choice.
    """
    bounds.fraction(tolerance, _("tolerance"), above_zero=True)
    edges = () if scale.plate is None else scale.plate.edges_g()
    probe_g = 2.0 * edges[-1] if edges else 1.0
    least_g = scale.share(probe_g).expanded / tolerance
    for edge_g in reversed(edges):  # below an edge the scale is better, so less may do
        if least_g > edge_g:
            break
        least_g = scale.share(edge_g).expanded / tolerance
    return max(least_g, 0.0 if scale.plate is None else scale.plate.least_g)

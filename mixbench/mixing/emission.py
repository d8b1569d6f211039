"""What follows from the VOC of a coating: systems of several coats, solids, thinner, emissions.

The formulas are the same in every coherent unit; here volumes are in l and contents in g/l.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from mixbench.errors import AmountError, RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.mixing.voc import Volatiles


def multistage_voc_g_l(
    basecoat_g_l: float, clearcoat_g_l: float, midcoats_g_l: Sequence[float] = ()
) -> float:
    """Return the VOC of a topcoat system of several stages [g/l].

    VOC = (VOC_bc + sum(VOC_mc,i) + 2 VOC_cc) / (M + 3)

    Parameters
    ----------
    basecoat_g_l, clearcoat_g_l
        Regulatory VOC of base and clear, each >= 0 [g/l].
    midcoats_g_l
        Regulatory VOC of each midcoat, shape (M,), M >= 0 [g/l].

    Raises
    ------
    RangeError
        A content is negative or no number.

    Notes
    -----
    A legal convention, not a measurement: the clear counts twice because it is taken to be two
    coats. The form for M = 0 was read in two Californian rules; for M > 0 it is from memory, the
    symbols were read.

    Examples
    --------
    >>> round(multistage_voc_g_l(5.2, 4.2), 3)
    4.533

    References
    ----------
    40 CFR 59.104(a)(2); Kern County rule 410.4A; San Luis Obispo County rule 423.
    """
    bounds.not_negative(basecoat_g_l, _("VOC of the basecoat"), "g/l")
    bounds.not_negative(clearcoat_g_l, _("VOC of the clearcoat"), "g/l")
    for midcoat_g_l in midcoats_g_l:
        bounds.not_negative(midcoat_g_l, _("VOC of the midcoat"), "g/l")
    total = basecoat_g_l + math.fsum(midcoats_g_l) + 2.0 * clearcoat_g_l
    return total / (len(midcoats_g_l) + 3)


def voc_per_solids_g_l(voc_g_l: float, solvent_g_l: float) -> float:
    """Return the VOC for a litre of solids, when the solids are what the solvent leaves [g/l].

    S = C / (1 - C / D)

    Parameters
    ----------
    voc_g_l
        VOC of the coating, less water, >= 0 and below ``solvent_g_l`` [g/l].
    solvent_g_l
        Density of the solvent; US rules assume 7.36 lb/gal, that is 881.9 g/l [g/l].

    Raises
    ------
    RangeError
        The VOC reaches the density of the solvent, so that no solids are left.

    Notes
    -----
    Assumes that all that is not solvent (nor water) is solids and that volumes add.

    Examples
    --------
    >>> round(voc_per_solids_g_l(3.5, 7.36), 3)
    6.674

    References
    ----------
    30 TAC 115.423(1), figure.
    """
    bounds.not_negative(voc_g_l, _("VOC"), "g/l")
    bounds.positive(solvent_g_l, _("density of the solvent"), "g/l")
    if voc_g_l >= solvent_g_l:
        raise RangeError(
            _("VOC {voc} g/l is not below the density {density} g/l of its solvent.").format(
                voc=voc_g_l, density=solvent_g_l
            ),
            remedy=_("Check both figures; a coating without solids has no such figure."),
        )
    return voc_g_l / (1.0 - voc_g_l / solvent_g_l)


def voc_from_per_solids_g_l(per_solids_g_l: float, solvent_g_l: float) -> float:
    """Return the VOC of a coating that emits so much for a litre of solids [g/l].

    C = S / (1 + S / D), the inverse of :func:`voc_per_solids_g_l`

    Parameters
    ----------
    per_solids_g_l
        VOC for a litre of solids, >= 0 [g/l].
    solvent_g_l
        Density of the solvent that the coating really holds [g/l].

    Raises
    ------
    RangeError
        A figure is negative, zero where it divides, or no number.

    Examples
    --------
    >>> round(voc_from_per_solids_g_l(voc_per_solids_g_l(420.0, 881.9), 881.9), 6)
    420.0

    References
    ----------
    30 TAC 115.423(1), solved for C.
    """
    bounds.not_negative(per_solids_g_l, _("VOC for a litre of solids"), "g/l")
    bounds.positive(solvent_g_l, _("density of the solvent"), "g/l")
    return per_solids_g_l / (1.0 + per_solids_g_l / solvent_g_l)


def largest_thinner_l(coating: Volatiles, thinner_g_l: float, limit_g_l: float) -> float:
    """Return how much thinner a coating takes before its VOC reaches a limit [l].

    y = (L V - m_voc) / (VOC_thinner - L), V without water and exempt compounds

    Parameters
    ----------
    coating
        The mix before the thinner.
    thinner_g_l
        VOC of the thinner, its whole volume counting; above ``limit_g_l`` [g/l].
    limit_g_l
        The limit on the regulatory VOC [g/l].

    Raises
    ------
    AmountError
        The coating is above the limit already, or no amount of this thinner reaches it.
    RangeError
        A figure is not positive.

    Notes
    -----
    Assumes ideal mixing and a thinner without water or exempt solvent. Stay below it: a
    laboratory counts whatever evaporates at 110 °C.

    Examples
    --------
    >>> round(largest_thinner_l(Volatiles(5.0, 15.9), 6.4, 3.5), 2)
    0.55

    References
    ----------
    Metal Finishing Guidebook, appendix B, "Solution using algebra".
    """
    bounds.positive(thinner_g_l, _("VOC of the thinner"), "g/l")
    bounds.positive(limit_g_l, _("limit"), "g/l")
    if coating.regulatory_g_l > limit_g_l:
        raise AmountError(
            _("The mix has {voc:.1f} g/l before any thinner, above {limit} g/l.").format(
                voc=coating.regulatory_g_l, limit=limit_g_l
            ),
            remedy=_("Use another hardener or thinner, or another category."),
        )
    if thinner_g_l <= limit_g_l:
        raise AmountError(
            _("A thinner of {voc} g/l never brings the mix to {limit} g/l.").format(
                voc=thinner_g_l, limit=limit_g_l
            ),
            remedy=_("Its amount is bounded by the sheet, not by this limit."),
        )
    rest_l = coating.volume_l - coating.water_l - coating.exempt_l
    return (limit_g_l * rest_l - coating.voc_g) / (thinner_g_l - limit_g_l)


def total_emission_g(volumes_l: Sequence[float], contents_g_l: Sequence[float]) -> float:
    """Return what the coatings of a period emit together [g].

    m = sum(V_i VOC_i)

    Parameters
    ----------
    volumes_l
        Volume of each coating used, shape (n,), n >= 1, each >= 0 [l].
    contents_g_l
        Its **actual** VOC (or content of any pollutant), shape (n,), each >= 0 [g/l].

    Raises
    ------
    RangeError
        The columns differ in length, or a figure is negative or no number.

    Notes
    -----
    Assumes that all of it evaporates. Never feed it regulatory figures: they are per litre
    without water, and would count water-borne coatings too high.

    Examples
    --------
    >>> total_emission_g([10.0, 4.0], [420.0, 850.0])
    7600.0

    References
    ----------
    Definition; "VOC of material", South Coast AQMD calculation pages.
    """
    bounds.same_length(volumes=volumes_l, contents=contents_g_l)
    for volume_l, content_g_l in zip(volumes_l, contents_g_l, strict=True):
        bounds.not_negative(volume_l, _("volume used"), "l")
        bounds.not_negative(content_g_l, _("VOC"), "g/l")
    return math.fsum(
        volume_l * content_g_l
        for volume_l, content_g_l in zip(volumes_l, contents_g_l, strict=True)
    )


def weighted_content_g_l(volumes_l: Sequence[float], contents_g_l: Sequence[float]) -> float:
    """Return the volume-weighted content of the coatings of a day or month [g/l].

    VOC = sum(V_i VOC_i) / sum(V_i)

    Parameters
    ----------
    volumes_l
        Volume of each coating, shape (n,), the total above 0 [l]; without water and exempt
        compounds when the contents are regulatory.
    contents_g_l
        Its VOC on the same basis, shape (n,) [g/l].

    Raises
    ------
    RangeError
        As :func:`total_emission_g`; or nothing was used.

    Examples
    --------
    A daily average of three coatings, in lb and gal:

    >>> round(weighted_content_g_l([22.0, 6.0, 5.0], [3.47, 4.0, 2.52]), 2)
    3.42

    References
    ----------
    Daily weighted average, 30 TAC chapter 115 division E; monthly, Quebec Q-2 r. 4.1 s. 38.
    """
    emission_g = total_emission_g(volumes_l, contents_g_l)
    return emission_g / bounds.positive(math.fsum(volumes_l), _("volume used"), "l")


def jobs_in(hours: float, hours_per_job: float) -> int:
    """Return how many jobs of a given length fit into a period, for a potential to emit [-].

    n = floor(h / h_job)

    Parameters
    ----------
    hours
        Length of the period; a year of round-the-clock work has 8760, >= 0 [h].
    hours_per_job
        Hours that one vehicle keeps the booth busy, above 0 [h].

    Raises
    ------
    RangeError
        A figure is negative, zero where it divides, or no number.

    Notes
    -----
    Assumes one vehicle at a time and counts whole vehicles only.

    Examples
    --------
    >>> jobs_in(8760.0, 2.5833)
    3391

    References
    ----------
    A state's body-shop template for the potential to emit.
    """
    bounds.not_negative(hours, _("period"), "h")
    bounds.positive(hours_per_job, _("time for a job"), "h")
    return math.floor(hours / hours_per_job)

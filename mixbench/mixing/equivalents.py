"""Equivalent weights: how many grams of a product hold one mole of reactive groups.

A hardener and a resin react group by group, so ratios follow from equivalents. All figures are
as supplied: a figure that a sheet gives on solids must be multiplied by the solids first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from mixbench.errors import RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds

NCO_G_MOL = 42.02
"""Molar mass of the isocyanate group; much of the trade rounds 4202 / %NCO to 4200 / %NCO."""

KOH_MG_MOL = 56100.0
"""Potassium hydroxide in mg/mol as the trade writes it (exactly 56105.6)."""

WATER_EQUIVALENT_G = 9.0
"""Grams of water that use up one isocyanate equivalent: 18 g/mol over two hydrogens."""


def isocyanate_equivalent_g(nco: float, *, group_g_mol: float = NCO_G_MOL) -> float:
    """Return the grams of an isocyanate that hold one equivalent [g/mol].

    EW = 42.02 / w_NCO, that is 4202 / %NCO

    Parameters
    ----------
    nco
        NCO content as supplied, a fraction above 0 and up to 0.5 (%NCO / 100) [-].
    group_g_mol
        Molar mass of the group: 42.02, or 42 to follow the convention 4200 / %NCO.

    Raises
    ------
    RangeError
        The content is not a fraction above 0, or above that of any isocyanate (0.5).

    Notes
    -----
    Assumes a content as supplied; a figure on solids must be multiplied by the solids first.

    Examples
    --------
    >>> round(isocyanate_equivalent_g(0.31), 1), round(isocyanate_equivalent_g(0.23), 1)
    (135.5, 182.7)

    References
    ----------
    Polyurethane Manufacturers Association, technical library, section 5.
    """
    bounds.fraction(nco, _("NCO content"), above_zero=True)
    if nco > 0.5:
        raise RangeError(
            _("An NCO content of {percent:.0f} % is that of no isocyanate.").format(
                percent=100.0 * nco
            ),
            remedy=_("Give it as a fraction: 22 % is 0.22."),
        )
    return bounds.positive(group_g_mol, _("molar mass of the group"), "g/mol") / nco


def nco_fraction(equivalent_g: float, *, group_g_mol: float = NCO_G_MOL) -> float:
    """Return the NCO content of an isocyanate from its equivalent weight [-].

    w_NCO = 42.02 / EW, the inverse of :func:`isocyanate_equivalent_g`

    Parameters
    ----------
    equivalent_g
        Equivalent weight, at least 84 g/mol.
    group_g_mol
        As in :func:`isocyanate_equivalent_g`.

    Raises
    ------
    RangeError
        The weight is not positive or the content would exceed 0.5.

    Examples
    --------
    >>> round(nco_fraction(125.0, group_g_mol=42.0), 3)
    0.336

    References
    ----------
    As :func:`isocyanate_equivalent_g`.
    """
    nco = group_g_mol / bounds.positive(equivalent_g, _("equivalent weight"), "g/mol")
    isocyanate_equivalent_g(nco, group_g_mol=group_g_mol)
    return nco


def hydroxyl_equivalent_g(oh_value_mg_g: float, acid_value_mg_g: float = 0.0) -> float:
    """Return the grams of a resin that hold one equivalent of active hydrogen [g/mol].

    EW = 56100 / (OHV + AV)

    Parameters
    ----------
    oh_value_mg_g
        Hydroxyl value as supplied, in mg of KOH for a gram, >= 0 [mg/g].
    acid_value_mg_g
        Acid value, where the acid groups react too, >= 0 [mg/g].

    Raises
    ------
    RangeError
        A value is negative or no number, both are zero, or they exceed that of water (3117 for
        one hydrogen of a molecule of 18 g).

    Notes
    -----
    Assumes values as supplied; a figure on solids must be multiplied by the solids first.

    Examples
    --------
    >>> hydroxyl_equivalent_g(56.1), round(hydroxyl_equivalent_g(1810.0), 1)
    (1000.0, 31.0)

    References
    ----------
    Polyurethane Manufacturers Association, technical library, section 5.
    """
    bounds.not_negative(oh_value_mg_g, _("OH value"), "mg/g")
    bounds.not_negative(acid_value_mg_g, _("acid value"), "mg/g")
    total = bounds.positive(oh_value_mg_g + acid_value_mg_g, _("OH value"), "mg/g")
    if total > KOH_MG_MOL / 18.0:
        raise RangeError(
            _("An OH value of {value} mg/g is that of no resin.").format(value=total),
            remedy=_("Give it in mg of KOH for a gram; resins have 20 to 300."),
        )
    return KOH_MG_MOL / total


def amine_hydrogen_equivalent_g(molar_mass_g: float, active_hydrogens: int) -> float:
    """Return the grams of an amine that hold one equivalent of active hydrogen [g/mol].

    AHEW = M / n_H

    Parameters
    ----------
    molar_mass_g
        Molar mass [g/mol].
    active_hydrogens
        Hydrogens on nitrogen in one molecule, at least 1 [-].

    Raises
    ------
    RangeError
        The molar mass is not positive, or there is no active hydrogen.

    Examples
    --------
    Diethylene triamine:

    >>> amine_hydrogen_equivalent_g(103.0, 5)
    20.6

    References
    ----------
    Textbook passage on epoxy adhesives (web copy).
    """
    bounds.positive(molar_mass_g, _("molar mass"), "g/mol")
    bounds.positive(active_hydrogens, _("number of active hydrogens"), "")
    return molar_mass_g / active_hydrogens


def blend_equivalent_g(masses_g: Sequence[float], equivalents_g: Sequence[float | None]) -> float:
    """Return the equivalent weight of a blend: resins, reactive diluents, fillers [g/mol].

    EW = sum(m_i) / sum(m_i / EW_i)

    Parameters
    ----------
    masses_g
        Mass of each part, shape (n,), each >= 0 [g].
    equivalents_g
        Equivalent weight of each, shape (n,); None for a part that does not react [g/mol].

    Raises
    ------
    RangeError
        The columns differ in length, a figure is not positive, or nothing in the blend reacts.

    Examples
    --------
    >>> round(blend_equivalent_g([80.0, 10.0, 10.0], [189.0, 183.0, None]))
    209

    References
    ----------
    Definition of the equivalent weight; a teaching page on epoxy formulation has the example.
    """
    bounds.same_length(masses=masses_g, equivalents=equivalents_g)
    groups = 0.0
    for mass_g, equivalent_g in zip(masses_g, equivalents_g, strict=True):
        bounds.not_negative(mass_g, _("mass"), "g")
        if equivalent_g is not None:
            groups += mass_g / bounds.positive(equivalent_g, _("equivalent weight"), "g/mol")
    if groups == 0.0:
        raise RangeError(
            _("Nothing in the blend reacts."),
            remedy=_("Give the equivalent weight of at least one part of it."),
        )
    return math.fsum(masses_g) / groups


def parts_per_hundred(curative_g_mol: float, resin_g_mol: float, index: float = 1.0) -> float:
    """Return the parts of curative for 100 parts of resin, by mass [-].

    phr = 100 index EW_curative / EW_resin

    For isocyanates the curative is the isocyanate and the resin the polyol (:func:`polyol_groups`
    counts water too); for epoxies they are AHEW and EEW.

    Parameters
    ----------
    curative_g_mol, resin_g_mol
        Equivalent weights as supplied [g/mol].
    index
        Equivalents of curative for one of resin, above 0 [-].

    Raises
    ------
    RangeError
        A figure is not positive or no number.

    Examples
    --------
    >>> parts_per_hundred(20.6, 200.0)
    10.3

    References
    ----------
    phr = 100 AHEW / EEW, as :func:`amine_hydrogen_equivalent_g`; per component sum(pbw / EW),
    Polyurethane Manufacturers Association, section 5.
    """
    bounds.positive(curative_g_mol, _("equivalent weight of the curative"), "g/mol")
    bounds.positive(resin_g_mol, _("equivalent weight of the resin"), "g/mol")
    return 100.0 * bounds.positive(index, _("index"), "") * curative_g_mol / resin_g_mol


def polyol_groups(oh_value_mg_g: float, acid_value_mg_g: float = 0.0, water: float = 0.0) -> float:
    """Return the equivalents of active hydrogen in a gram of polyol with its water [mol/g].

    n = (OHV + AV) / 56100 + w_water / 9

    Parameters
    ----------
    oh_value_mg_g, acid_value_mg_g
        Values as supplied, each >= 0 [mg/g].
    water
        Water for a gram of polyol, >= 0; a fraction, or more where it is added on top [-].

    Raises
    ------
    RangeError
        A figure is negative or no number, or nothing reacts.

    Examples
    --------
    100 parts of a polyester of OH value 56 and acid value 0.5 with 3 parts of water take so many
    parts of a diisocyanate of equivalent weight 87:

    >>> round(100.0 * 87.0 * polyol_groups(56.0, 0.5, 0.03), 1)
    37.8

    References
    ----------
    Sum of pbw / EW over polyols and water, Polyurethane Manufacturers Association, section 5;
    combined form derived.
    """
    bounds.not_negative(oh_value_mg_g, _("OH value"), "mg/g")
    bounds.not_negative(acid_value_mg_g, _("acid value"), "mg/g")
    bounds.not_negative(water, _("water"), "g/g")
    groups = (oh_value_mg_g + acid_value_mg_g) / KOH_MG_MOL + water / WATER_EQUIVALENT_G
    return bounds.positive(groups, _("amount of reactive groups"), "mol/g")

"""How much a job needs, and what film an amount gives.

A film of volume solids VS leaves dry what is VS of it wet: 1 ml of solids covers 1 m² at 1 µm.
Not all that leaves the gun lands on the panel (transfer efficiency), and gun and cup keep some.
"""

from __future__ import annotations

from dataclasses import dataclass

from mixbench.errors import AmountError
from mixbench.i18n import _
from mixbench.mixing import bounds

HALF_COAT = 0.5


@dataclass(frozen=True, slots=True)
class Film:
    """What one full coat shall be, and how the coating is sprayed.

    ``dry_um`` is the dry film of one full coat, ``volume_solids`` that of the mix ready to spray,
    ``transfer`` the part of the sprayed solids that stays on the panel.
    """

    dry_um: float
    volume_solids: float
    transfer: float = 1.0

    def __post_init__(self) -> None:
        bounds.positive(self.dry_um, _("dry film"), "µm")
        bounds.fraction(self.volume_solids, _("volume solids"), above_zero=True)
        bounds.fraction(self.transfer, _("transfer efficiency"), above_zero=True)


@dataclass(frozen=True, slots=True)
class Need:
    """What a job needs, ready to spray.

    ``film_ml`` is what the panels keep as wet film, ``overspray_ml`` what misses them,
    ``left_ml`` what stays in gun and cup.
    """

    film_ml: float
    overspray_ml: float
    left_ml: float

    @property
    def total_ml(self) -> float:
        """Volume to mix [ml]."""
        return self.film_ml + self.overspray_ml + self.left_ml

    def total_g(self, density_g_ml: float) -> float:
        """Return the mass to mix, from the density of the mix at its temperature [g].

        Examples
        --------
        >>> Need(film_ml=200.0, overspray_ml=100.0, left_ml=50.0).total_g(1.5)
        525.0
        """
        return self.total_ml * bounds.density(density_g_ml)


def coats(full: int, half: int = 0) -> float:
    """Return the number of coats, a half coat counting as half [-].

    n = full + half / 2

    Parameters
    ----------
    full, half
        Coats sprayed wet, and coats sprayed at about half the film, each >= 0.

    Raises
    ------
    RangeError
        A number is negative, or there is no coat at all.

    Notes
    -----
    Assumes that a half coat lays down half the film of a full one, as the trade counts it.

    Examples
    --------
    A half coat, then a full one, for darker shades; two full coats for white:

    >>> coats(full=1, half=1), coats(full=2)
    (1.5, 2.0)

    References
    ----------
    Common practice, no source.
    """
    bounds.not_negative(full, _("number of full coats"), "")
    bounds.not_negative(half, _("number of half coats"), "")
    return bounds.positive(full + HALF_COAT * half, _("number of coats"), "")


def spreading_rate_m2_l(volume_solids: float, dry_um: float) -> float:
    """Return the area that a litre covers without any loss [m²/l].

    A = 1000 VS / DFT

    Parameters
    ----------
    volume_solids
        Of the mix as sprayed, above 0 and up to 1 [-].
    dry_um
        Dry film thickness, above 0 [µm].

    Raises
    ------
    RangeError
        The solids are no fraction above 0, or the film is not above 0.

    Notes
    -----
    Assumes an even film on a smooth panel and nothing lost.

    Examples
    --------
    >>> spreading_rate_m2_l(0.65, 125.0)
    5.2

    References
    ----------
    Definition. 1604 VS / mil is the same in ft² for a US gallon.
    """
    film = Film(dry_um, volume_solids)
    return 1000.0 * film.volume_solids / film.dry_um


def practical_rate_m2_l(theoretical_m2_l: float, transfer: float) -> float:
    """Return the area that a litre covers when only a part of it lands on the panel [m²/l].

    A' = A TE, or A (1 - loss)

    Parameters
    ----------
    theoretical_m2_l
        Spreading rate without loss, >= 0 [m²/l].
    transfer
        Part that stays on the panel, above 0 and up to 1 [-].

    Raises
    ------
    RangeError
        The rate is negative or the transfer no fraction above 0.

    Notes
    -----
    Transfer efficiency is a property of gun, painter and panel: HVLP guns reach 0.5 to 0.65 on
    large panels and 0.2 to 0.5 on small ones, conventional guns often 0.15 to 0.3.

    Examples
    --------
    >>> practical_rate_m2_l(300.0, 0.3)
    90.0

    References
    ----------
    Georgia Pollution Prevention Assistance Division; Joint Service P2 Handbook (guns).
    """
    bounds.not_negative(theoretical_m2_l, _("spreading rate"), "m²/l")
    return theoretical_m2_l * bounds.fraction(transfer, _("transfer efficiency"), above_zero=True)


def wet_film_um(dry_um: float, volume_solids: float) -> float:
    """Return the wet film to look for with a comb gauge [µm].

    WFT = DFT / VS

    Parameters
    ----------
    dry_um
        Dry film wanted, above 0 [µm].
    volume_solids
        Of the mix **as sprayed**, thinner included, above 0 and up to 1 [-].

    Raises
    ------
    RangeError
        The solids are no fraction above 0, or the film is not above 0.

    Notes
    -----
    Assumes that nothing has evaporated yet; measure at once.

    Examples
    --------
    >>> round(wet_film_um(100.0, 0.65))
    154

    References
    ----------
    MIL-HDBK-1110 (DFT = WFT x VS).
    """
    film = Film(dry_um, volume_solids)
    return film.dry_um / film.volume_solids


def dry_film_um(wet_um: float, volume_solids: float) -> float:
    """Return the dry film that a wet film leaves [µm].

    DFT = WFT VS

    Parameters
    ----------
    wet_um
        Wet film on the comb gauge, above 0 [µm].
    volume_solids
        Of the mix as sprayed, above 0 and up to 1 [-].

    Raises
    ------
    RangeError
        The solids are no fraction above 0, or the film is not above 0.

    Examples
    --------
    >>> dry_film_um(250.0, 0.5)
    125.0

    References
    ----------
    MIL-HDBK-1110 (DFT = WFT x VS).
    """
    film = Film(wet_um, volume_solids)
    return film.dry_um * film.volume_solids


def thinned_solids(volume_solids: float, thinner: float) -> float:
    """Return the volume solids after adding thinner [-].

    VS' = VS / (1 + t)

    Parameters
    ----------
    volume_solids
        Before, from 0 to 1 [-].
    thinner
        Volume of thinner for one volume of coating, >= 0 (20 % of the coating is 0.2) [-].

    Raises
    ------
    RangeError
        The solids are no fraction, or the thinner is negative.

    Notes
    -----
    Assumes ideal mixing and a thinner without solids.

    Examples
    --------
    >>> thinned_solids(0.6, 0.25)
    0.48

    References
    ----------
    A contractor's teaching page: a quart in a gallon of 60 % makes 48 %.
    """
    bounds.fraction(volume_solids, _("volume solids"))
    return volume_solids / (1.0 + bounds.not_negative(thinner, _("thinner"), "l/l"))


def need(area_m2: float, number_of_coats: float, film: Film, left_ml: float = 0.0) -> Need:
    """Return what a job needs, ready to spray.

    V = A n DFT / (VS TE) + V_left, in ml for m² and µm

    Parameters
    ----------
    area_m2
        Area of all panels, above 0 [m²].
    number_of_coats
        From :func:`coats`, above 0 [-].
    film
        Dry film of one full coat, volume solids, transfer efficiency.
    left_ml
        What stays in gun, cup and strainer, >= 0 [ml].

    Raises
    ------
    RangeError
        A figure is negative, zero where there must be something, or no number.

    Notes
    -----
    Assumes an even film; edges and a changing shade take more, which is the painter's judgement.

    Examples
    --------
    A bonnet of 1.6 m², two coats of 25 µm, 40 % solids, an HVLP gun, 40 ml left:

    >>> job = need(1.6, coats(2), Film(25.0, 0.4, 0.6), left_ml=40.0)
    >>> round(job.film_ml), round(job.overspray_ml), round(job.total_ml)
    (200, 133, 373)

    References
    ----------
    Litres = area x DFT / (10 x %VS x efficiency), as paint schools teach it.
    """
    bounds.positive(area_m2, _("area"), "m²")
    bounds.positive(number_of_coats, _("number of coats"), "")
    bounds.not_negative(left_ml, _("left in gun and cup"), "ml")
    film_ml = area_m2 * number_of_coats * film.dry_um / film.volume_solids
    return Need(film_ml, film_ml / film.transfer - film_ml, left_ml)


def film_from(amount_ml: float, area_m2: float, film: Film, left_ml: float = 0.0) -> float:
    """Return the dry film that an amount gives on an area, all coats together [µm].

    DFT = (V - V_left) VS TE / A

    Parameters
    ----------
    amount_ml
        What is in the cup, at least ``left_ml`` [ml].
    area_m2
        Area of all panels, above 0 [m²].
    film
        Volume solids and transfer efficiency; its dry film is not used.
    left_ml
        What stays in gun, cup and strainer, >= 0 [ml].

    Raises
    ------
    AmountError
        Gun and cup would keep all of it.
    RangeError
        A figure is negative, zero where there must be something, or no number.

    Examples
    --------
    >>> film = Film(25.0, 0.4, 0.6)
    >>> round(film_from(need(1.6, 2.0, film, 40.0).total_ml, 1.6, film, 40.0), 6)
    50.0

    References
    ----------
    The inverse of :func:`need`.
    """
    bounds.positive(amount_ml, _("amount"), "ml")
    bounds.positive(area_m2, _("area"), "m²")
    bounds.not_negative(left_ml, _("left in gun and cup"), "ml")
    if amount_ml < left_ml:
        raise AmountError(
            _("Gun and cup keep {left} ml, more than the {amount} ml mixed.").format(
                left=left_ml, amount=amount_ml
            ),
            remedy=_("Mix more, or use a smaller cup."),
        )
    return (amount_ml - left_ml) * film.volume_solids * film.transfer / area_m2

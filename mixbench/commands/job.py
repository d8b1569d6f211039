"""The words of a command line that say what is sprayed, on what, and how."""

from __future__ import annotations

import argparse
from dataclasses import dataclass

from mixbench.commands.ordering import Chosen
from mixbench.commands.shelf import panels_of
from mixbench.errors import InputError, MissingFigureError
from mixbench.i18n import _
from mixbench.mixing import quantity
from mixbench.mixing.blend import Blend
from mixbench.mixing.coverage import Film, wet_film_um
from mixbench.mixing.gun import parse_coats
from mixbench.mixing.panels import area_of
from mixbench.mixing.process import Coats
from mixbench.mixing.sheet import sheet_for


@dataclass(frozen=True)
class Job:
    """What is sprayed on what: area [m²], coats, the film of one full coat, left behind [ml]."""

    area_m2: float
    coats: Coats
    film: Film
    left_ml: float

    @property
    def wet_um(self) -> float:
        """What the comb gauge should show after one full coat [µm]."""
        return wet_film_um(self.film.dry_um, self.film.volume_solids)


def add_job_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare area or panels, coats, film, efficiency and what is left behind."""
    where = parser.add_mutually_exclusive_group(required=True)
    where.add_argument("--area", metavar="AREA", help='of all panels, such as "1.2 m2"')
    where.add_argument(
        "--panel", nargs="+", metavar="CODE", help="panels of the shop's table, such as bonnet roof"
    )
    parser.add_argument("--panels", metavar="FILE", help="the shop's table of panels")
    parser.add_argument(
        "--coats", metavar="COATS", help='such as "1/2 + 1"; the sheet\'s when left out'
    )
    parser.add_argument(
        "--film", metavar="FILM", help='dry film of one full coat, such as "30 um", "1.2 mil"'
    )
    parser.add_argument(
        "--efficiency",
        required=True,
        metavar="PART",
        help='what of the paint lands on the panel, such as "60 %%"',
    )
    parser.add_argument("--left-over", metavar="VOLUME", help='in gun and cup, such as "30 ml"')


def job_from(args: argparse.Namespace, chosen: Chosen, mixed: Blend) -> Job:
    """Return the job that a command line describes; the sheet gives what it leaves out.

    Raises
    ------
    InputError
        Something cannot be read, or neither the command line nor the sheet gives it.
    """
    coats = _coats(args, chosen)
    film_um = coats.film_um if args.film is None else quantity.thickness_um(args.film, "--film")
    if film_um is None:
        raise InputError(
            _("The recipe does not say how thick a coat is."),
            remedy=_('Give --film, such as "30 um".'),
        )
    if mixed.volume_solids is None:
        raise MissingFigureError(
            _("A product of the mix does not give its volume solids."),
            remedy=_("Add them from its sheet."),
        )
    area_m2 = (
        area_of(panels_of(args), args.panel)
        if args.panel
        else quantity.read(args.area, quantity.AREA, "--area")
    )
    transfer = quantity.fraction(args.efficiency, "--efficiency")
    left_ml = 0.0 if args.left_over is None else quantity.volume_ml(args.left_over, "--left-over")
    return Job(area_m2, coats, Film(film_um, mixed.volume_solids, transfer), left_ml)


def _coats(args: argparse.Namespace, chosen: Chosen) -> Coats:
    coats = sheet_for(chosen.recipe, chosen.choices).coats
    if args.coats is not None:
        return Coats(parse_coats(args.coats), None if coats is None else coats.film_um)
    if coats is None:
        raise InputError(
            _("The recipe does not say how many coats."),
            remedy=_('Give --coats, such as "1/2 + 1".'),
        )
    return coats

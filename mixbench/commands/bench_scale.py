"""The words of a command line that say what is known of a scale."""

from __future__ import annotations

import argparse

from mixbench.commands.data import data_folder
from mixbench.mixing.quantity import mass_g
from mixbench.settings import load_settings
from mixbench.weighing.legal import AccuracyClass
from mixbench.weighing.metrology import ScaleFigures, SpreadOf
from mixbench.weighing.trust import Plate, ScaleTrust

CLASSES = [each.value for each in AccuracyClass]


def add_scale_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare last digit, repeatability, and what stands on the plate."""
    parser.add_argument(
        "--step", metavar="MASS", help='last digit d, such as "0.1 g"; the bench\'s when left out'
    )
    parser.add_argument(
        "--repeatability",
        metavar="MASS",
        help='standard deviation of one reading, such as "0.05 g"',
    )
    parser.add_argument(
        "--of-net", action="store_true", help="the repeatability is that of a net weight"
    )
    parser.add_argument("--class", dest="accuracy", choices=CLASSES, help="class on the plate")
    parser.add_argument("--e", metavar="MASS", help="verification interval; d when left out")
    parser.add_argument("--capacity", metavar="MASS", help='such as "6200 g"; the bench\'s')


def step_g(args: argparse.Namespace) -> float:
    """Return the last digit of the scale, the bench's own unless it is given [g]."""
    if args.step is None:
        return load_settings(data_folder(args))[0].scale_step_g
    return mass_g(args.step, "--step")


def figures_from(args: argparse.Namespace) -> ScaleFigures:
    """Return last digit and spread of the scale; no spread given counts as none.

    Raises
    ------
    InputError
        A figure cannot be read.
    """
    spread_g = 0.0 if args.repeatability is None else mass_g(args.repeatability, "--repeatability")
    return ScaleFigures(step_g(args), spread_g, _spread_of(args))


def trust_from(args: argparse.Namespace) -> ScaleTrust:
    """Return what is known of the scale.

    Raises
    ------
    InputError
        A figure cannot be read, or too little is known.
    """
    spread_g = None if args.repeatability is None else mass_g(args.repeatability, "--repeatability")
    if args.capacity is None:
        capacity_g = load_settings(data_folder(args))[0].scale_capacity_g
    else:
        capacity_g = mass_g(args.capacity, "--capacity")
    plate = None if args.accuracy is None else Plate(AccuracyClass(args.accuracy), e_g(args))
    return ScaleTrust(step_g(args), spread_g, _spread_of(args), None, plate, capacity_g)


def e_g(args: argparse.Namespace) -> float:
    """Return the verification interval, the last digit unless it is given [g]."""
    return step_g(args) if args.e is None else mass_g(args.e, "--e")


def _spread_of(args: argparse.Namespace) -> SpreadOf:
    return SpreadOf.NET if args.of_net else SpreadOf.READING

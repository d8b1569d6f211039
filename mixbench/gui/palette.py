"""The colours of the window, as data: a neutral field in which colour means someone must act.

Normal has no colour. Only three things do: what is moving (front), what will need a hand shortly
(soon) and what needs one now (act). There is no green, and no safety-sign colour is used as one.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Palette:
    """Colours as ``#RRGGBB``.

    Attributes
    ----------
    ground, sheet
        The page, and what lies on it (controls, lanes, tables).
    ink, quiet, rule
        Text and focus; text that can wait; lines and outlines.
    front
        What is moving.
    soon, soon_text
        Fill of SOON (outlined in ink), and its word where it stands on the ground.
    act, act_text
        Solid fill of ACT, and the text upon it.
    """

    ground: str
    sheet: str
    ink: str
    quiet: str
    rule: str
    front: str
    soon: str
    soon_text: str
    act: str
    act_text: str


LIGHT = Palette(
    ground="#D9DDD6",
    sheet="#EEF1EB",
    ink="#16201D",
    quiet="#47524D",
    rule="#6F7A74",
    front="#1D4C86",
    soon="#F0B43C",
    soon_text="#8A5200",
    act="#A32A12",
    act_text="#EEF1EB",
)

DARK = Palette(
    ground="#121715",
    sheet="#1F2724",
    ink="#EAF0EB",
    quiet="#AEB9B2",
    rule="#78857E",
    front="#86B7F2",
    soon="#FFD36B",
    soon_text="#FFD36B",
    act="#F0735A",
    act_text="#121715",
)

"""The scale of the bench as the settings keep it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from mixbench.scales.finding import SearchEnded, wire_to_save
from mixbench.scales.fitting import Fit
from mixbench.scales.profiles import profile
from mixbench.scales.shape import Profile
from mixbench.scales.wire import wire_settings
from mixbench.settings import Settings, setting_trouble


def with_scale(settings: Settings, ended: SearchEnded, fit: Fit, adapter: str) -> Settings:
    """Return the settings with a scale that was found.

    Its step is taken from the newest weight it sent, where settings allow such a step; what stands
    on the plate (capacity, class, serial number) stays for a person to say.
    """
    steps = [one.step_g for one in fit.readings if one.step_g]
    step_g = steps[-1] if steps else settings.scale_step_g
    if setting_trouble("scale_step_g", step_g):
        step_g = settings.scale_step_g
    return replace(
        settings,
        scale_url=ended.url,
        scale_profile=fit.profile.name,
        scale_wire=wire_to_save(ended, fit.profile),
        scale_adapter=adapter,
        scale_step_g=step_g,
    )


def saved_shape(settings: Settings, user_folder: Path) -> Profile:
    """Return the profile of the saved scale, with the line settings it was found at.

    Raises
    ------
    ProfileError
        There is no such profile, or its file cannot be used.
    SettingsError
        The line settings cannot be read.
    """
    shape = profile(settings.scale_profile, user_folder)
    if not settings.scale_wire:
        return shape
    return replace(shape, serial=wire_settings(settings.scale_wire))

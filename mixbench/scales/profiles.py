"""The scale profiles at hand: those that come with the program and those of the shop."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from mixbench.errors import Problem, ProfileError
from mixbench.i18n import _
from mixbench.resource import resource_path
from mixbench.scales.profile_file import parse_profile, profile_error
from mixbench.scales.shape import Profile

__all__ = ["Profile", "ProfileShelf", "load_profiles", "profile", "shipped_profiles"]


class ProfileShelf(Mapping[str, Profile]):
    """Profiles by name, and what is wrong with the files that gave none.

    Attributes
    ----------
    problems
        One error for each file that could not be used, by the name of the profile it hides.
    """

    def __init__(
        self, profiles: Mapping[str, Profile], problems: Mapping[str, ProfileError]
    ) -> None:
        self._profiles = dict(profiles)
        self.problems = dict(problems)

    def __getitem__(self, name: str) -> Profile:
        return self._profiles[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._profiles)

    def __len__(self) -> int:
        return len(self._profiles)


def load_profiles(*folders: Path | None) -> ProfileShelf:
    """Return the profiles of some folders; a later folder's profile replaces an earlier one's.

    Parameters
    ----------
    folders
        Folders with ``*.toml`` files; None and folders that do not exist hold no profiles.

    Notes
    -----
    A bad file hides nothing but itself: its error stands in ``problems`` and the others load.
    A bad file that meant to replace a shipped profile leaves the shipped one out too, since a
    painter's scale must not quietly be read with other settings than the shop wrote down.
    """
    profiles: dict[str, Profile] = {}
    problems: dict[str, ProfileError] = {}
    for path in (path for folder in folders if folder for path in sorted(folder.glob("*.toml"))):
        try:
            profiles[path.stem] = _read(path)
        except ProfileError as error:
            profiles.pop(path.stem, None)
            problems[path.stem] = error
    return ProfileShelf(profiles, problems)


def shipped_profiles() -> Path:
    """Return the folder of the profiles that come with the program."""
    return resource_path("profiles")


def profile(name: str, user_folder: Path | None = None) -> Profile:
    r"""Return one profile by name.

    Raises
    ------
    ProfileError
        There is none of that name, or its file cannot be used.

    Examples
    --------
    >>> profile("sma").requests[0].send
    b'\nW\r'
    """
    folders = [folder for folder in (user_folder, shipped_profiles()) if folder]
    for folder in folders:
        path = folder / f"{name}.toml"
        if path.name == f"{name}.toml" and path.is_file():
            return _read(path)
    known = ", ".join(sorted({path.stem for folder in folders for path in folder.glob("*.toml")}))
    raise ProfileError(
        _("There is no scale profile {name}.").format(name=repr(name)),
        remedy=_("Profiles are {known}.").format(known=known),
    )


def _read(path: Path) -> Profile:
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        problem = Problem(_("file"), f"{error}.", _("Write it as UTF-8 text that can be read."))
        raise profile_error(str(path), [problem]) from error
    found = parse_profile(text, str(path))
    if found.name != path.stem:
        problem = Problem(
            "name",
            _("{name} in a file named {file}.").format(name=repr(found.name), file=path.name),
            _("Name the file like the profile."),
        )
        raise profile_error(str(path), [problem])
    return found

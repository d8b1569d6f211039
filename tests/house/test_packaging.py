"""What desktops and installers read agrees with the program."""

import configparser
import tomllib
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

import mixbench
from mixbench.resource import resource_path

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def project():
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


@pytest.fixture
def desktop_entry():
    parser = configparser.ConfigParser(interpolation=None)
    parser.optionxform = str
    parser.read(ROOT / "packaging" / "mixbench.desktop", encoding="utf-8")
    return parser["Desktop Entry"]


@pytest.fixture
def metainfo():
    return ElementTree.parse(ROOT / "packaging" / "mixbench.metainfo.xml").getroot()  # noqa: S314


def test_the_menu_starts_the_installed_script(desktop_entry, project):
    assert desktop_entry["Exec"] in project["scripts"]


def test_the_icon_is_shipped(desktop_entry, metainfo):
    assert (resource_path("icons") / f"{desktop_entry['Icon']}.svg").is_file()
    assert metainfo.findtext("icon") == desktop_entry["Icon"]


def test_the_newest_release_is_this_version(metainfo):
    assert metainfo.find("releases/release").get("version") == mixbench.__version__


def test_the_changes_begin_with_this_version():
    changes = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    newest = next(line for line in changes.splitlines() if line.startswith("## "))
    assert newest.removeprefix("## ").split(",")[0] == mixbench.__version__


def test_the_licence_is_the_same_everywhere(metainfo):
    assert metainfo.findtext("project_license") == "MIT"
    assert (ROOT / "LICENSE").read_text(encoding="utf-8").startswith("MIT License")


def test_every_dependency_is_listed_with_its_licence(project):
    listed = (ROOT / "THIRD-PARTY.md").read_text(encoding="utf-8").lower()
    extras = [each for extra in project["optional-dependencies"].values() for each in extra]
    names = [each.split(">")[0].lower() for each in project["dependencies"] + extras]
    assert [name for name in names if name not in listed] == []

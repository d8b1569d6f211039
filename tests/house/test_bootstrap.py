"""The start and test scripts on machines that lack something.

The names of Debian's packages are checked against Debian's own index where there is one; the
libraries asked for are checked against what the installed Qt really links to.
"""

import shutil
import struct
import subprocess
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "packaging"))

import bootstrap


def nothing_loads(_library: str) -> bool:
    return False


class TestWindowSystem:
    @pytest.mark.parametrize(
        ("environ", "parts"),
        [
            ({}, ()),
            ({"DISPLAY": ""}, ()),
            ({"DISPLAY": ":0"}, ("x11",)),
            ({"WAYLAND_DISPLAY": "wayland-0"}, ("wayland",)),
            ({"DISPLAY": ":0", "WAYLAND_DISPLAY": "wayland-0"}, ("x11", "wayland")),
            ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, ()),
        ],
    )
    def test_linux_says_it_in_the_environment(self, environ, parts):
        assert bootstrap.window_system(environ, "linux") == parts

    @pytest.mark.parametrize("platform", ["win32", "darwin"])
    def test_other_systems_have_a_display_and_need_no_package(self, platform):
        assert bootstrap.window_system({}, platform) == ("native",)
        assert bootstrap.missing_packages(["native"], nothing_loads) == []


class TestLibraries:
    def test_a_missing_library_names_its_package(self):
        missing = bootstrap.missing_packages(["any"], lambda library: library != "libEGL.so.1")
        assert missing == ["libegl1"]

    def test_offscreen_asks_for_nothing_of_a_window_system(self):
        offscreen = bootstrap.missing_packages(["any"], nothing_loads)
        with_window = bootstrap.missing_packages(["any", "x11", "wayland"], nothing_loads)
        assert not any("xcb" in each or "wayland" in each for each in offscreen)
        assert {"libxcb-cursor0", "libxcb-xkb1", "libwayland-client0"} <= set(with_window)

    def test_the_loader_is_asked(self):
        assert not bootstrap.loads("libno-such-thing.so.7")

    @pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux leaves them out")
    @pytest.mark.parametrize(
        ("plugin", "parts"),
        [
            ("libqoffscreen.so", ["any"]),
            ("libqxcb.so", ["any", "x11"]),
            ("libqwayland.so", ["any", "wayland"]),
        ],
    )
    def test_every_library_the_installed_qt_links_to_is_known(self, plugin, parts):
        # Outside check, RUN: the dynamic section of the wheel's own files (ELF, gABI chapter 5).
        wheel = pytest.importorskip("PySide6").__path__[0]
        linked = _linked(Path(wheel) / "Qt" / "plugins" / "platforms" / plugin)
        known = {library for part in parts for library in bootstrap.LIBRARIES[part]}
        assert linked - known - ALWAYS_THERE - BROUGHT_BY_KNOWN == set()

    @pytest.mark.skipif(shutil.which("apt-cache") is None, reason="not Debian or a relative")
    def test_debian_has_the_packages(self):
        named = {package for part in bootstrap.LIBRARIES.values() for package in part.values()}
        shown = subprocess.run(
            ["apt-cache", "pkgnames"], capture_output=True, text=True, check=True
        )
        index = set(shown.stdout.split())
        if "libpulse0" not in index:
            pytest.skip("the package index of this machine was never fetched")
        assert named - index == set()


class TestCommandToType:
    def test_root_needs_no_sudo(self):
        command = bootstrap.apt_command(["libegl1", "libgl1"], root=True)
        assert command[:2] == ["sh", "-c"]
        assert command[2].endswith("--no-install-recommends libegl1 libgl1")

    def test_others_are_shown_one_line_with_sudo(self, monkeypatch, capsys):
        monkeypatch.setattr(bootstrap.shutil, "which", {"apt-get": "/usr/bin/apt-get"}.get)
        monkeypatch.setattr(bootstrap.os, "geteuid", lambda: 1000)
        with pytest.raises(bootstrap.StopError, match="Type this once") as stop:
            bootstrap.ensure_packages(["libegl1"], "Qt needs system libraries that are not here")
        typed = str(stop.value).splitlines()[1].strip()
        assert typed == (
            "sudo sh -c 'apt-get update -qq; apt-get install -qq --no-install-recommends libegl1'"
        )
        assert "libegl1" in capsys.readouterr().out

    def test_without_apt_the_libraries_are_named(self, monkeypatch, capsys):
        monkeypatch.setattr(bootstrap.shutil, "which", lambda _name: None)
        with pytest.raises(bootstrap.StopError, match="own package manager"):
            bootstrap.ensure_packages(["libegl1"], "Qt needs system libraries that are not here")
        assert "libegl1" in capsys.readouterr().out


class TestPython:
    def test_an_old_python_is_refused_with_its_number(self):
        with pytest.raises(bootstrap.StopError, match=r"3\.11 or newer; this is 3\.10"):
            bootstrap.check_python((3, 10))

    def test_this_python_will_do(self):
        bootstrap.check_python()


@pytest.fixture
def checkout(tmp_path, monkeypatch):
    """A checkout of two files, with venv and pip replaced by a record of their calls."""
    (tmp_path / "pyproject.toml").write_text("[project]\n")
    calls = []

    def run(command, **_options):
        calls.append(command[1:4])
        if "venv" in command:
            Path(command[-1]).mkdir(parents=True, exist_ok=True)
        return subprocess.CompletedProcess(command, 0, "", "")

    monkeypatch.setattr(bootstrap, "ROOT", tmp_path)
    monkeypatch.setattr(bootstrap.stamp, "__defaults__", (tmp_path,))
    monkeypatch.setattr(bootstrap.subprocess, "run", run)
    return tmp_path, calls


class TestEnvironment:
    def test_the_second_time_costs_no_call(self, checkout):
        _root, calls = checkout
        folder = bootstrap.environment("tests", ["-e", "."])
        assert [call[1] for call in calls] == ["venv", "pip"]
        assert bootstrap.environment("tests", ["-e", "."]) == folder
        assert len(calls) == 2

    def test_a_changed_pyproject_makes_it_again(self, checkout):
        root, calls = checkout
        bootstrap.environment("tests", ["-e", "."])
        (root / "pyproject.toml").write_text("[project]\nname = 'other'\n")
        bootstrap.environment("tests", ["-e", "."])
        assert len(calls) == 4

    def test_other_requirements_make_it_again(self, checkout):
        _root, calls = checkout
        bootstrap.environment("tests", ["-e", "."])
        bootstrap.environment("tests", ["-e", ".[test]"])
        assert len(calls) == 4

    def test_another_interpreter_makes_it_again(self, checkout, monkeypatch):
        before = bootstrap.stamp([])
        monkeypatch.setattr(bootstrap.sys, "version", "3.11.99")
        assert bootstrap.stamp([]) != before

    def test_an_interrupted_installation_is_made_again(self, checkout, monkeypatch):
        _root, calls = checkout

        def interrupted(*_arguments):
            raise KeyboardInterrupt

        with monkeypatch.context() as patch:
            patch.setattr(bootstrap, "install", interrupted)
            with pytest.raises(KeyboardInterrupt):
                bootstrap.environment("tests", ["-e", "."])
        bootstrap.environment("tests", ["-e", "."])
        assert [call[1] for call in calls] == ["venv", "venv", "pip"]

    def test_missing_ensurepip_names_debians_package(self, checkout, monkeypatch):
        asked = []
        monkeypatch.setattr(bootstrap.importlib.util, "find_spec", lambda _name: None)
        monkeypatch.setattr(bootstrap, "ensure_packages", lambda names, _why: asked.extend(names))
        bootstrap.environment("tests", ["-e", "."])
        assert asked == [f"python3.{sys.version_info[1]}-venv"]


class TestPipFailures:
    def test_a_refused_network_is_called_that(self):
        # Lines as pip 23 to 25 print them without a network, RUN.
        output = (
            "WARNING: Retrying (Retry(total=0, connect=None)) after connection broken by "
            "'NewConnectionError(...: Failed to establish a new connection)'\n"
            "ERROR: Could not find a version that satisfies the requirement hatchling>=1.27 "
            "(from versions: none)\n"
            "ERROR: No matching distribution found for hatchling>=1.27\n"
        )
        assert bootstrap.explain_pip(output).startswith("The packages could not be fetched")

    def test_a_system_without_a_build_of_a_package_is_called_that(self):
        output = (
            "ERROR: Could not find a version that satisfies the requirement "
            "PySide6-Essentials<6.12,>=6.11 (from versions: 6.7.0, 6.8.3)\n"
            "ERROR: No matching distribution found for PySide6-Essentials<6.12,>=6.11\n"
        )
        assert "too old" in bootstrap.explain_pip(output)

    def test_a_full_disk_is_called_that(self):
        output = "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on"
        assert "disk is full" in bootstrap.explain_pip(output)

    def test_anything_else_points_at_pips_own_words(self):
        assert "its own message is above" in bootstrap.explain_pip("ERROR: metadata failed")


def test_a_script_shows_a_message_and_no_traceback(capsys):
    def main(_arguments):
        raise bootstrap.StopError("No network.")

    assert bootstrap.run(main) == 1
    assert capsys.readouterr().out == "\nStopped. No network.\n"


# The C library and compiler runtime of the interpreter itself, and Qt's own libraries.
ALWAYS_THERE = {
    "libc.so.6", "libm.so.6", "libgcc_s.so.1", "libstdc++.so.6", "libpthread.so.0", "libdl.so.2",
    "librt.so.1", "ld-linux-x86-64.so.2", "libz.so.1",
}  # fmt: skip
BROUGHT_BY_KNOWN = {"libgthread-2.0.so.0", "libxcb.so.1"}  # same packages or their dependencies


def _linked(library: Path) -> set[str]:
    """Return the system libraries an ELF file and the Qt libraries under it name as needed."""
    needed: set[str] = set()
    todo = [library]
    seen = set()
    while todo:
        path = todo.pop()
        seen.add(path.name)
        for name in _needed(path.read_bytes()):
            own = library.parents[2] / "lib" / name
            if not own.exists():
                needed.add(name)
            elif name not in seen:
                todo.append(own)
    return needed


def _needed(elf: bytes) -> list[str]:
    """Return the DT_NEEDED names of a 64-bit little-endian ELF file."""
    section_offset = struct.unpack_from("<Q", elf, 40)[0]
    size, count = struct.unpack_from("<HH", elf, 58)
    headers = [
        struct.unpack_from("<IIQQQQII", elf, section_offset + i * size) for i in range(count)
    ]
    dynamic = next(each for each in headers if each[1] == 6)
    strings = headers[dynamic[6]][4]
    names = []
    for at in range(dynamic[4], dynamic[4] + dynamic[5], 16):
        tag, value = struct.unpack_from("<QQ", elf, at)
        if tag == 1:
            start = strings + value
            names.append(elf[start : elf.index(b"\0", start)].decode())
    return names

"""Every parser of the program as a function of bytes that must never fail in a way nobody planned.

A target returns when its input was understood or refused, and raises anything else: only an
`InputError`, a `ScaleError` or a `SettingsError` is a refusal. What was understood must keep the
promises written beside it. ``SEEDS`` are good inputs to begin from.
"""

from __future__ import annotations

import math
import tempfile
from collections.abc import Callable, Iterable
from functools import cache, partial
from pathlib import Path

from mixbench.canonical import canonical_bytes, read_canonical
from mixbench.errors import InputError, ScaleError, SettingsError
from mixbench.journal.anchors import parse_anchor
from mixbench.ledger.shop import read_shop
from mixbench.mixing.gun import parse_coats
from mixbench.mixing.limit_table import parse_limits
from mixbench.mixing.notation_text import parse_ratio
from mixbench.mixing.panels import parse_panels
from mixbench.mixing.prices import parse_prices
from mixbench.mixing.quantity import amount, density_g_ml, duration_s, fraction, mass_g
from mixbench.mixing.recipe import parse_recipe
from mixbench.mixing.solvents import parse_solvents
from mixbench.practice.physics import BenchScale
from mixbench.practice.script import parse_script
from mixbench.practice.sma import SmaAnswers
from mixbench.resource import demo_shop_path, resource_path
from mixbench.scales.conversation import Conversation
from mixbench.scales.events import ReadingArrived
from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched
from mixbench.scales.profile_file import parse_profile
from mixbench.scales.profiles import load_profiles, profile, shipped_profiles
from mixbench.scales.sma import Ask, Field, Identity, parse_reply
from mixbench.scales.units import GRAMS_PER, REFUSED
from mixbench.settings import FILE_NAME, load_settings
from mixbench.weighing.reading import Load, Reading

REFUSALS = (InputError, ScaleError, SettingsError)
Target = Callable[[bytes], None]
SHELF = load_profiles(shipped_profiles())
NAMES = sorted(SHELF)
FORMATS = {"settings": FILE_NAME, "shop": "shop.toml"}


def keeps_its_promises(reading: Reading) -> None:
    """A mass is finite, has a step and a unit of a mix, and stands only where the load is good."""
    if reading.mass_g is None:
        return
    assert math.isfinite(reading.mass_g)
    assert 0.0 < reading.step_g < math.inf
    assert reading.unit in GRAMS_PER
    assert reading.unit not in REFUSED
    assert reading.load is Load.OK


def lines(data: bytes) -> None:
    """Talk of a scale, in pieces: the first byte chooses the shape, the second the pieces."""
    if len(data) < 2:
        return
    shape = SHELF[NAMES[data[0] % len(NAMES)]]
    piece = data[1] % 16 + 1
    said = data[2:]
    talk = Conversation(shape, 0.0)
    for count, start in enumerate(range(0, len(said), piece)):
        now_s = 0.6 + 0.05 * count
        talk.request(now_s)
        for event in talk.take(said[start : start + piece], now_s):
            if isinstance(event, ReadingArrived):
                keeps_its_promises(event.reading)


def sma_replies(data: bytes) -> None:
    """Frames of a scale that was asked about itself."""
    shape = profile_of("sma")
    fields = {}
    for frame in Framer(shape).feed(data):
        found = parse_reply(shape, frame, 0.0)
        if isinstance(found, Reading):
            keeps_its_promises(found)
        elif isinstance(found, Field):
            fields[found.name] = found.content
    told = Identity(about=fields, information=fields)
    for mass_g_told in (told.capacity_g, told.step_g):
        assert mass_g_told is None or math.isfinite(mass_g_told)


def sma_commands(data: bytes) -> None:
    """Bytes of a host: whatever they are, each answer is one that the program knows."""
    shape = profile_of("sma")
    scale = SmaAnswers(BenchScale(noise_g=0.0))
    answers = scale.hear(data, 0.0) + scale.speak(0.1)
    for frame in Framer(shape).feed(answers):
        found = parse_reply(shape, frame, 0.0)
        assert not isinstance(found, Unmatched) or found.expected, frame


def canonical(data: bytes) -> None:
    """What is read as canonical JSON is written back byte for byte."""
    assert canonical_bytes(read_canonical(data)) == data


def of_text(parse: Callable[[str], object], data: bytes) -> None:
    """Text in UTF-8; other bytes are refused where files are read."""
    parse(data.decode("utf-8", "replace"))


def of_file(read: Callable[[Path], object], name: str, data: bytes) -> None:
    """A file in the data folder."""
    folder = scratch()
    (folder / name).write_bytes(data)
    read(folder)


def quantities(text: str) -> None:
    """Every kind of field reads the same text."""
    for read in (mass_g, density_g_ml, duration_s, fraction, amount):
        try:
            found = read(text, "field")
        except InputError:
            continue
        if isinstance(found, float):
            assert math.isfinite(found)


TARGETS: dict[str, Target] = {
    "lines": lines,
    "sma_replies": sma_replies,
    "sma_commands": sma_commands,
    "profile": partial(of_text, lambda text: parse_profile(text, "file")),
    "script": partial(of_text, lambda text: parse_script(text, "file")),
    "recipe": partial(of_text, lambda text: parse_recipe(text, "file")),
    "ratio": partial(of_text, parse_ratio),
    "coats": partial(of_text, parse_coats),
    "quantities": partial(of_text, quantities),
    "limits": partial(of_text, lambda text: parse_limits(text, "file")),
    "panels": partial(of_text, lambda text: parse_panels(text, "file")),
    "prices": partial(of_text, lambda text: parse_prices(text, "file")),
    "solvents": partial(of_text, lambda text: parse_solvents(text, "file")),
    "anchor": partial(of_text, parse_anchor),
    "canonical": canonical,
    "settings": partial(of_file, load_settings, FORMATS["settings"]),
    "shop": partial(of_file, read_shop, FORMATS["shop"]),
}


def run(name: str, data: bytes) -> bool:
    """Run one target; return whether it understood its input."""
    try:
        TARGETS[name](data)
    except REFUSALS:
        return False
    return True


@cache
def scratch() -> Path:
    """Return a folder of this process for files that are read."""
    return Path(tempfile.mkdtemp(prefix="mixbench-fuzz-"))


def profile_of(name: str) -> object:
    """Return a shipped profile without reading its file again."""
    return SHELF[name]


def seeds(name: str) -> list[bytes]:
    """Return good inputs of a target to begin from."""
    return list(SEEDS[name]())


def _example_lines() -> Iterable[bytes]:
    for number, shape in enumerate(NAMES):
        said = [example.line for example in SHELF[shape].examples]
        yield from (bytes((number, 15)) + line for line in said)
        yield bytes((number, 5)) + b"".join(said)


def _files(*paths: Path) -> Callable[[], Iterable[bytes]]:
    return lambda: [path.read_bytes() for path in paths]


def _of(*texts: str) -> Callable[[], Iterable[bytes]]:
    return lambda: [text.encode() for text in texts]


_SHOP = demo_shop_path()
SEEDS: dict[str, Callable[[], Iterable[bytes]]] = {
    "lines": _example_lines,
    "sma_replies": lambda: [
        *(example.line for example in profile("sma").examples),
        b"\nCAP:kg_:15.000:5:3\r\nR   \r\nSN_:148388723\r\nSMA:2/1.0\r",
    ],
    "sma_commands": lambda: [*(each.command for each in Ask), b"\nT12.3\r\nM\r\nUkg_\r\nC\r\nX1\r"],
    "profile": _files(*sorted(shipped_profiles().glob("*.toml"))),
    "script": _of("cup on 25 g\npour 200 g at 15 g/s\ndrip off # words\nrate 50 Hz\nhalf 3"),
    "recipe": _files(*sorted((_SHOP / "recipes").glob("*.toml"))),
    "ratio": _of("4:1:1", "100 : 50 : 20", "2:1 + 10 %", "3:1+5-10%", "100 g / 21 g"),
    "coats": _of("½ + 1", "2", "0,5+1"),
    "quantities": _of("600 ml", "1.26 g/ml", "2 %", "15 min", "0.025 kg", "1 1/2 h"),
    "limits": _files(*sorted(resource_path("limits").glob("*.toml"))),
    "panels": _files(_SHOP / "panels.toml"),
    "prices": _files(_SHOP / "prices.toml"),
    "solvents": _files(resource_path("solvents.toml")),
    "anchor": _of("B1-5-" + "AB" * 32, "57:" + "0f" * 32),
    "canonical": _of('{"a":1}', '{"a":[1,"x",null,true],"b":{"c":-5}}'),
    "settings": _of('{"schema_version": 1, "scale_url": "/dev/ttyUSB0", "sound": false}'),
    "shop": _files(_SHOP / "shop.toml"),
}

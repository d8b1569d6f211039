"""German: complete where people look, compiled from what is written, and with its placeholders."""

import ast
import importlib.util
import re
import string
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from mixbench.gui.presenters.pour_state import Layout
from mixbench.i18n import use_language
from mixbench.resource import resource_path
from tests.helpers.pour_scenes import SCENES

ROOT = Path(__file__).parents[2]
PO = ROOT / "resources/translations/de/LC_MESSAGES/mixbench.po"
SPOKEN = (
    *("mixbench/__main__.py", "mixbench/app", "mixbench/commands", "mixbench/gui"),
    *("mixbench/pouring", "mixbench/ledger", "mixbench/journal", "mixbench/scales"),
    *("mixbench/settings.py", "mixbench/mixing/fit.py", "mixbench/mixing/toml_text.py"),
)
MARKERS = {"_": (0,), "_marked": (0,), "ngettext": (0, 1), "pgettext": (1,)}


@pytest.fixture(scope="module")
def tool():
    spec = importlib.util.spec_from_file_location("translate", ROOT / "packaging/translate.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def german():
    with PO.open("rb") as file:
        return read_po(file, locale="de")


@pytest.fixture
def speaking_german():
    assert use_language("de", resource_path("translations"))
    yield
    use_language("en", None)


def spoken_files():
    for name in SPOKEN:
        path = ROOT / name
        yield from path.rglob("*.py") if path.is_dir() else [path]


def messages():
    """Yield file, line and text of everything marked for translation."""
    for path in spoken_files():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") in MARKERS:
                for place in MARKERS[node.func.id]:
                    yield f"{path.name}:{node.lineno}", node.args[place]


def marked_elsewhere():
    """Return the files that mark a text where it is written and translate it where it is shown."""
    return {path.name for path in spoken_files() if "_marked(" in path.read_text(encoding="utf-8")}


def test_compiled_words_are_those_that_are_written(tool):
    assert PO.with_suffix(".mo").read_bytes() == tool.mo_bytes(PO)


def test_only_plain_text_is_marked():
    # An f-string would never be found in the catalogue at run time, a variable only if its text
    # was marked elsewhere in the same file.
    wrong = [where for where, text in messages() if not isinstance(text, ast.Constant | ast.Name)]
    wrong += [
        where
        for where, text in messages()
        if isinstance(text, ast.Name) and where.split(":")[0] not in marked_elsewhere()
    ]
    assert wrong == []


def test_everything_a_page_says_has_a_german_text(german):
    missing = set()
    for where, text in messages():
        if isinstance(text, ast.Name):
            continue
        found = german.get(text.value) or german.get((text.value, text.value))
        plural = any(
            isinstance(m.id, tuple) and text.value in m.id and all(m.string) for m in german
        )
        if not plural and (found is None or not found.string):
            missing.add(f"{where} {text.value!r}")
    assert missing == set(), "packaging/translate.py update, write the German, then compile"


def test_placeholders_survive_translation(german):
    def names(text):
        return {name for _lit, name, _spec, _conv in string.Formatter().parse(text) if name}

    for message in german:
        if not message.id:
            continue
        pairs = (
            zip(message.id, message.string, strict=True)
            if isinstance(message.id, tuple)
            else [(message.id, message.string)]
        )
        for english, translated in pairs:
            if translated:
                assert names(english) == names(translated), english


def test_every_look_speaks_german(speaking_german):
    english = re.compile(r"\b(the|pour|pot|scale|poured|this|tin)\b", re.IGNORECASE)
    for name, scene in SCENES.items():
        if name == "not_recorded":
            continue  # its sentences come from the disk of the test
        bench = scene()
        bench.presenter.use_language("de")
        page = bench.page
        said = [page.title, page.caption, page.word, *page.lines, *page.cautions]
        said += [one.label for one in (*page.targets, *page.choices)]
        said += [one.detail for one in page.choices]
        assert [text for text in said if english.search(text)] == [], name
        if page.layout is Layout.WEIGH:
            assert "," in page.figure

"""Guides show what there is: their pictures, links and commands exist."""

import os
import re
import shlex
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from mixbench.__main__ import _parser
from tests.gui.guide_pictures import FOLDER, GUIDE
from tests.helpers.page_scenes import PAGES

DOCS = Path(__file__).resolve().parents[2] / "docs"
GUIDES = sorted(DOCS.glob("*.md"))
COMMAND = re.compile(r"(?:`| {4})(mixbench [a-z][^`]*?)(?:`|$)", re.MULTILINE)


@pytest.mark.parametrize("guide", GUIDES, ids=lambda path: path.name)
def test_every_link_leads_somewhere(guide):
    links = re.findall(r"\]\(([^)#:]+)\)", guide.read_text(encoding="utf-8"))
    assert [link for link in links if not (guide.parent / link).exists()] == []


def test_pictures_are_those_that_the_command_draws():
    assert {path.stem for path in FOLDER.glob("*.png")} == set(GUIDE)
    assert set(GUIDE.values()) <= set(PAGES)


def test_every_picture_is_shown():
    text = "".join(guide.read_text(encoding="utf-8") for guide in GUIDES)
    assert [name for name in GUIDE if f"pictures/{name}.png" not in text] == []


@pytest.mark.parametrize(
    "command",
    COMMAND.findall((DOCS / "connect-a-scale.md").read_text(encoding="utf-8")),
)
def test_every_command_is_understood(command):
    words = shlex.split(command)[1:]
    if words == ["profile-from-lines"]:  # named, not shown with its words
        words.append("lines.txt")
    assert _parser(words).parse_args(words).command == words[0]

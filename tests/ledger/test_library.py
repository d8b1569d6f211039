"""The recipes of a shop: what can be said of a file before it is read, and when it is broken."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixbench.errors import ChoiceError, RecipeError
from mixbench.ledger.library import RecipeFile, RecipeLibrary
from tests.helpers.recipes import SOUND


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "surfacer.toml").write_text(SOUND, encoding="utf-8")
    return tmp_path


def test_name_kind_and_code_are_known_before_a_quantity_is_read(folder: Path) -> None:
    (one,) = RecipeLibrary.read(folder).files
    assert (one.code, one.name, one.version, one.kind) == (
        *("SURF-41", "Surfacer", "3", "primer surfacer"),
    )
    assert one.recipe().code == "SURF-41"
    assert one.problems() == ()


def test_products_are_called_by_their_names(folder: Path) -> None:
    (folder / "odd.toml").write_text(
        'product = ["SRF-W", 3]\n[[component]]\ncode = "X"\nname = "Not a product"\n'
    )
    names = RecipeLibrary.read(folder).product_names
    assert names["HRD"] == RecipeLibrary.read(folder).find("SURF-41").recipe().products["HRD"].name
    assert "X" not in names


def test_files_are_sorted_by_the_name_a_painter_reads(folder: Path) -> None:
    (folder / "a.toml").write_text(SOUND.replace('"Surfacer"', '"Zinc"'), encoding="utf-8")
    assert [one.name for one in RecipeLibrary.read(folder).files] == ["Surfacer", "Zinc"]


def test_a_file_saved_with_a_mark_before_it_is_the_same_recipe(folder: Path) -> None:
    (one,) = RecipeLibrary.read(folder).files
    plain = one.recipe()
    one.path.write_text(SOUND, encoding="utf-8-sig")
    (one,) = RecipeLibrary.read(folder).files
    assert one.recipe() == plain


def test_a_missing_folder_is_an_empty_library(tmp_path: Path) -> None:
    assert RecipeLibrary.read(tmp_path / "none").files == ()


def test_a_recipe_is_found_by_its_code(folder: Path) -> None:
    library = RecipeLibrary.read(folder)
    assert library.find("SURF-41").path.name == "surfacer.toml"
    with pytest.raises(ChoiceError, match=r"no recipe CLEAR in .* There are: SURF-41\."):
        library.find("CLEAR")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (b"name = x", "line 1: The file is not TOML"),
        (b"name = \xff", "file: The file is not UTF-8 text."),
        (b"a = " + b"[\n" * 20_000, "nested too deep"),
        (b"a." * 60_000 + b"a = 1", "a line at most 1000"),
        (b"#\n" * 200_000, "more than 262144 bytes"),
        (b"name = 3\nkind = []", "name: It is not text in quotes."),
    ],
)
@pytest.mark.timeout(20)  # tomllib alone takes a minute for the fourth
def test_a_broken_file_hides_no_other_and_says_what_is_wrong(folder: Path, text, told) -> None:
    (folder / "broken.toml").write_bytes(text)
    files = {one.path.name: one for one in RecipeLibrary.read(folder).files}
    assert files["surfacer.toml"].recipe().name == "Surfacer"
    broken = files["broken.toml"]
    assert any(told in str(problem) for problem in broken.problems())
    with pytest.raises(RecipeError) as refused:
        broken.recipe()
    assert told in str(refused.value)


def test_a_file_that_has_gone_says_so(tmp_path: Path) -> None:
    with pytest.raises(RecipeError, match=r"gone\.toml: 1 problem\n.* No such file"):
        RecipeFile(tmp_path / "gone.toml").recipe()

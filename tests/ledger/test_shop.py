"""The shop's own file: cups and lots, and every way to write them wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixbench.errors import SettingsError
from mixbench.ledger.shop import Shop, read_shop
from mixbench.mixing.model import Cup
from mixbench.resource import demo_shop_path

HEAD = 'format = "mixbench shop 1"\n'
CUP = '[[cup]]\nname = "Cup 400"\ncapacity = "400 ml"\nempty = "18 g"\n'
LOT = '[[lot]]\ncode = "W-1"\nproduct = "SRF-W"\n'


@pytest.fixture
def refusal(tmp_path: Path):
    """Return what is said about the text of a shop file."""

    def said(text: str | bytes) -> str:
        data = text.encode() if isinstance(text, str) else text
        (tmp_path / "shop.toml").write_bytes(data)
        with pytest.raises(SettingsError) as refused:
            read_shop(tmp_path)
        assert str(tmp_path / "shop.toml") in refused.value.what
        assert refused.value.kept
        assert refused.value.remedy
        return refused.value.what

    return said


def read(folder: Path, text: str) -> Shop:
    (folder / "shop.toml").write_text(text, encoding="utf-8")
    return read_shop(folder)


def test_cups_and_lots(tmp_path: Path) -> None:
    shop = read(tmp_path, f'{HEAD}name = "Corner"\n{CUP}{LOT}')
    assert shop == Shop("Corner", (Cup("Cup 400", 400.0, 18.0),), {"W-1": "SRF-W"})


def test_a_cup_need_not_have_been_weighed(tmp_path: Path) -> None:
    (cup,) = read(tmp_path, HEAD + '[[cup]]\nname = "Pot"\ncapacity = "1 l"\n').cups
    assert cup == Cup("Pot", 1000.0, None)


def test_a_shop_without_a_file_lists_nothing(tmp_path: Path) -> None:
    assert read_shop(tmp_path) == Shop()


def test_the_demo_shop_can_be_read() -> None:
    shop = read_shop(demo_shop_path())
    assert shop.cups
    assert shop.lots


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("name = Corner", "line 1: The file is not TOML"),
        (HEAD + "[[cup]]\ncapacity = ", "end of the file: The file is not TOML"),
        ('name = "Corner"', 'Write format = "mixbench shop 1".'),
        ('format = "mixbench shop 2"', 'Write format = "mixbench shop 1".'),
        (HEAD + 'nane = "Corner"', "nane is not known here."),
        (HEAD + "cup = 3", "cup: It is not a list of tables."),
        (HEAD + CUP.replace("capacity", "capasity"), "cup 1: capasity is not known here."),
        (HEAD + CUP.replace(' ml"', '"'), 'cup 1: capacity: "400" has no unit.'),
        (HEAD + CUP.replace('"400 ml"', "400"), "cup 1: capacity is 400. Write it in quotation"),
        (HEAD + CUP.replace("400 ml", "0 ml"), 'cup 1: capacity: "0 ml" is zero.'),
        (HEAD + CUP.replace("18 g", "18 ml"), 'cup 1: empty: "18 ml"'),
        (HEAD + '[[lot]]\ncode = "W-1"\n', "lot 1: product is missing."),
        (HEAD + LOT + LOT, "lot 2: W-1 is listed twice."),
        (b"name = \xff", "file: The file is not UTF-8 text."),
    ],
)
def test_a_slip_is_told_with_its_place(refusal, text, told) -> None:
    assert told in refusal(text)


def test_every_slip_is_told_at_once(refusal) -> None:
    said = refusal('[[cup]]\nname = "Cup"\ncapacity = "400"\nempty = "18"\n[[lot]]\ncode = 7\n')
    assert [line.split(":")[0].strip() for line in said.splitlines()[1:]] == [
        *("shop.toml", "cup 1", "cup 1", "lot 1", "lot 1"),
    ]


def test_a_folder_in_its_place_is_refused(tmp_path: Path) -> None:
    (tmp_path / "shop.toml").mkdir()
    with pytest.raises(SettingsError, match="The file cannot be read"):
        read_shop(tmp_path)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a = " + "[\n" * 20_000, "nested too deep"),
        ("a." * 60_000 + "a = 1", "a line at most 1000"),
        ("#\n" * 200_000, "more than 262144 bytes"),
    ],
)
@pytest.mark.timeout(20)  # tomllib alone takes a minute for the second
def test_a_file_that_would_keep_the_reader_busy_is_refused_at_once(refusal, text, told) -> None:
    assert told in refusal(text)

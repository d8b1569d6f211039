"""The shop's own table of panel areas."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import MissingFigureError, TableError
from mixbench.mixing.panels import area_of, parse_panels
from mixbench.resource import demo_shop_path

DOOR = '[panels.door]\nname = "Front door"\narea = "{area}"\n'


@pytest.mark.parametrize(
    ("area", "area_m2"),
    [
        ("1.25 m2", 1.25),
        ("1,25 m²", 1.25),
        ("125 dm2", 1.25),
        ("12500 cm2", 1.25),
        ("10 ft2", 0.9290304),
    ],
)
def test_an_area_in_the_shops_unit(area: str, area_m2: float) -> None:
    assert parse_panels(DOOR.format(area=area), "p")["door"].area_m2 == pytest.approx(area_m2)


@pytest.mark.parametrize("area", ["1.25", "1.25 m", "1.25 m3", "-1 m2", "two m2", "", "1.25 kg"])
def test_an_area_without_unit_or_of_another_kind_is_refused(area: str) -> None:
    with pytest.raises(TableError, match=r"Write it such as \"1\.6 m2\""):
        parse_panels(DOOR.format(area=area), "p")


@pytest.mark.parametrize("area", ["0 m2", "125 0", "12500 m2"])
def test_an_area_that_no_panel_has_is_refused(area: str) -> None:
    with pytest.raises(TableError):
        parse_panels(DOOR.format(area=area), "p")


def test_every_problem_is_listed_at_once() -> None:
    text = '[panels]\nroof = 3\n[panels.door]\narea = "2"\ncolour = "red"\n'
    with pytest.raises(TableError) as refused:
        parse_panels(text, "panels.toml")
    said = str(refused.value)
    assert said.startswith("panels.toml: 5 problems")
    assert "panels.roof: name is missing." in said
    assert "panels.door: colour is not known here." in said


@pytest.mark.parametrize("text", ["", "panels = 3", "[panels]", "[panels", "a = " + "[" * 999])
def test_a_text_without_panels_is_refused(text: str) -> None:
    with pytest.raises(TableError):
        parse_panels(text, "panels.toml")


@given(st.text(max_size=40))
def test_any_text_is_a_table_or_refused(text: str) -> None:
    with pytest.raises(TableError):
        parse_panels(text, "panels.toml")


def test_the_panels_of_a_job_add_up() -> None:
    panels = parse_panels(DOOR.format(area="1.25 m2"), "p")
    assert area_of(panels, ["door", "door"]) == 2.5
    with pytest.raises(MissingFigureError, match="Choose one of: door"):
        area_of(panels, ["bonnet"])


def test_the_demo_shops_table_is_sound() -> None:
    text = (demo_shop_path() / "panels.toml").read_text("utf-8")
    panels = parse_panels(text, "panels.toml")
    assert len(panels) >= 10
    assert all(0.01 <= panel.area_m2 <= 3.0 for panel in panels.values())

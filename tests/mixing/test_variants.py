"""From choices to one mix: which lines are picked, and what ratios by volume weigh."""

from __future__ import annotations

import pytest

from mixbench.errors import ChoiceError, RangeError
from mixbench.mixing.variants import chosen_values, components_for, mix_for
from tests.helpers.recipes import sound

WHITE_STEEL = {"substrate": "bare steel", "shade": "white"}


class TestChoosing:
    def test_shade_and_substrate_pick_the_tins(self) -> None:
        mix = mix_for(sound(), {"substrate": "bare plastic", "shade": "black"})
        assert mix.codes == ("BASE", "HARD", "THIN")
        assert [product.code for product in mix.products] == ["SRF-B", "HRD", "PLA"]

    def test_on_metal_the_thinner_stands_where_the_additive_would(self) -> None:
        mix = mix_for(sound(), WHITE_STEEL)
        assert [product.code for product in mix.products] == ["SRF-W", "HRD", "THN"]

    @pytest.mark.parametrize("said", ["bare plastic", "Bare Plastic", " BARE PLASTIC ", "re pl"])
    def test_a_unique_part_of_a_value_is_enough(self, said: str) -> None:
        values = chosen_values(sound(), {"substrate": said, "shade": "wh"})
        assert values == {"substrate": "bare plastic", "shade": "white"}

    def test_a_value_said_in_full_wins_over_those_it_is_a_part_of(self) -> None:
        recipe = sound(
            ('shade = ["white", "black"]', 'shade = ["white", "black", "off white"]'),
            ('when = { shade = ["white"] }', 'when = { shade = ["white", "off white"] }'),
        )
        assert chosen_values(recipe, WHITE_STEEL)["shade"] == "white"

    def test_a_part_of_two_values_is_refused(self) -> None:
        with pytest.raises(ChoiceError) as refused:
            chosen_values(sound(), {"substrate": "plastic", "shade": "white"})
        assert str(refused.value) == (
            "substrate plastic may mean bare plastic / primed plastic. "
            "Offered for substrate: bare plastic, primed plastic, bare steel."
        )

    def test_everything_that_does_not_fit_is_told_at_once(self) -> None:
        with pytest.raises(ChoiceError) as refused:
            chosen_values(sound(), {"shade": "pink", "size": "large"})
        assert str(refused.value) == (
            "This recipe does not ask for size; it asks for substrate, shade. "
            "substrate is not chosen. shade pink is not offered. "
            "Offered for substrate: bare plastic, primed plastic, bare steel. "
            "Offered for shade: white, black."
        )

    def test_what_has_one_answer_need_not_be_asked(self) -> None:
        recipe = sound(
            ('shade = ["white", "black"]', 'shade = ["white"]'),
            (
                'when = { shade = ["black"] }',
                'when = { shade = ["white"], substrate = ["bare steel"] }',
            ),
            (
                'when = { shade = ["white"] }',
                'when = { substrate = ["bare plastic", "primed plastic"] }',
            ),
        )
        assert components_for(recipe, {"substrate": "bare steel"})[0].product == "SRF-B"

    def test_a_recipe_without_choices_asks_for_nothing(self) -> None:
        recipe = sound(
            ('[choices]\nsubstrate = ["bare plastic", "primed plastic", "bare steel"]\n', ""),
            ('shade = ["white", "black"]\n', ""),
            ('code = "BASE"\nproduct = "SRF-W"', 'code = "WHITE"\nproduct = "SRF-W"'),
            ('code = "THIN"\nproduct = "PLA"', 'code = "PLAST"\nproduct = "PLA"'),
            ('when = { shade = ["white"] }\n', ""),
            ('when = { shade = ["black"] }\n', ""),
            ('when = { substrate = ["primed plastic", "bare steel"] }\n', ""),
            ('when = { substrate = ["bare plastic"] }\n', ""),
        )
        assert len(mix_for(recipe, {}).codes) == 5
        with pytest.raises(ChoiceError, match=r"does not ask for shade; it asks for nothing"):
            mix_for(recipe, {"shade": "white"})


class TestWeighing:
    def test_a_ratio_by_volume_weighs_by_density(self) -> None:
        # 4 : 1 : 10 % of 4 by volume, at 1.6, 1.0 and 0.9 g/ml
        mix = mix_for(sound(), WHITE_STEEL)
        assert mix.reference == 0
        assert mix.ratio == pytest.approx((1.0, 1.0 / 6.4, 0.4 * 0.9 / 6.4), rel=1e-15)
        assert mix.density_g_ml == (1.6, 1.0, 0.9)

    def test_the_same_sheet_in_black_weighs_otherwise(self) -> None:
        mix = mix_for(sound(), WHITE_STEEL | {"shade": "black"})
        assert mix.ratio == pytest.approx((1.0, 1.0 / 5.6, 0.4 * 0.9 / 5.6), rel=1e-15)

    def test_tolerances_are_relative_to_the_ratio(self) -> None:
        mix = mix_for(sound(), WHITE_STEEL)
        assert mix.low == pytest.approx((0.98, 0.99 / 6.4, 0.95 * 0.36 / 6.4), rel=1e-15)
        assert mix.high == pytest.approx((1.02, 1.02 / 6.4, 1.05 * 0.36 / 6.4), rel=1e-15)

    @pytest.mark.parametrize(
        ("of", "by", "thinner_g"),
        [
            ("base", "volume", 0.1 * 4 * 0.9),  # 10 % of 4 ml of base
            ("mix", "volume", 0.1 * 5 * 0.9),  # … of 4 ml of base and 1 ml of hardener
            ("base", "mass", 0.1 * 6.4),  # 10 % of 6.4 g of base
            ("mix", "mass", 0.1 * 7.4),  # … of 6.4 g of base and 1 g of hardener
        ],
    )
    def test_a_percentage_says_of_what_and_by_what(
        self, of: str, by: str, thinner_g: float
    ) -> None:
        recipe = sound(('of = "base"\nby = "volume"', f'of = "{of}"\nby = "{by}"'))
        assert mix_for(recipe, WHITE_STEEL).ratio[2] == pytest.approx(thinner_g / 6.4, rel=1e-14)

    def test_parts_by_mass_are_weighed_as_they_stand(self) -> None:
        recipe = sound(
            *[
                (f'share = "{share}"\nby = "volume"', f'share = "{share}"\nby = "mass"')
                for share in ("4 parts", "4 parts", "1 part")
            ]
        )
        mix = mix_for(recipe, WHITE_STEEL)
        # 10 % by volume of 4 g of base at 1.6 g/ml is 0.25 ml, at 0.9 g/ml
        assert mix.ratio == pytest.approx((1.0, 0.25, 0.225 / 4), rel=1e-15)

    def test_another_reference_turns_the_ratios_over(self) -> None:
        recipe = sound(('reference = "BASE"', 'reference = "HARD"'))
        mix = mix_for(recipe, WHITE_STEEL)
        assert mix.reference == 1
        assert mix.ratio == pytest.approx((6.4, 1.0, 0.36), rel=1e-15)


class TestTemperature:
    def test_moves_the_density_of_what_has_an_expansion(self) -> None:
        mix = mix_for(sound(), WHITE_STEEL, 30.0)
        assert mix.density_g_ml == (1.6, 1.0, pytest.approx(0.9 * 0.99, rel=1e-15))
        assert mix.ratio[2] == pytest.approx(0.36 * 0.99 / 6.4, rel=1e-14)

    def test_is_measured_from_the_temperature_of_the_sheet(self) -> None:
        recipe = sound(
            (
                'density = "0.900 g/ml"\ndensity_at = "20 °C"',
                ('density = "0.900 g/ml"\ndensity_at = "25 °C"'),
            )
        )
        assert mix_for(recipe, WHITE_STEEL, 25.0).density_g_ml[2] == 0.9

    @pytest.mark.parametrize("temperature_c", [-273.15, 200.0, float("nan")])
    def test_that_no_paint_is_mixed_at_is_refused(self, temperature_c: float) -> None:
        with pytest.raises(RangeError):
            mix_for(sound(), WHITE_STEEL, temperature_c)

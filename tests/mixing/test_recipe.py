"""Reading recipe files: what is understood, and what is refused with which words."""

from __future__ import annotations

import hashlib
import json
import tomllib

import pytest

from mixbench.errors import RecipeError
from mixbench.mixing.model import PotLife, Product, Share, Tolerance
from mixbench.mixing.recipe import parse_recipe
from tests.helpers.recipes import SOUND, problems_of, rewritten, sound


class TestASoundRecipe:
    def test_is_read_with_every_quantity_in_the_units_of_the_program(self) -> None:
        recipe = sound()
        assert (recipe.code, recipe.version, recipe.reference) == ("SURF-41", "3", "BASE")
        assert recipe.choices["shade"] == ("white", "black")
        assert recipe.products["THN"] == Product(
            "THN", "Thinner", "thinner", 0.9, 20.0, expansion_per_k=0.001
        )
        assert recipe.components[2].share == Share(1.0, "volume")
        assert recipe.components[2].tolerance == Tolerance(-0.01, 0.02)
        assert recipe.components[3].share == Share(0.1, "volume", "base")
        assert recipe.components[4].when == {"substrate": ("bare plastic",)}
        assert recipe.pot_life == (PotLife(3600.0, 20.0),)
        assert recipe.source == "surfacer.toml"

    def test_may_give_all_that_a_sheet_says_of_a_product(self) -> None:
        product = sound(
            (
                'density = "1.600 g/ml"',
                'density = "13.35 lb/gal"\nvoc = "3.4 lb/gal"\nwater = "3 %"\nexempt = "1 %"\n'
                'volume_solids = "53 %"\nnco = "9.6 %"\noh_value = "38 mg KOH/g"\n'
                'equivalent_weight = "437 g/eq"',
            )
        ).products["SRF-W"]
        assert product.density_g_ml == pytest.approx(1.5997, abs=1e-4)
        assert product.voc_g_l == pytest.approx(407.4, abs=0.1)
        assert (product.water_fraction, product.exempt_fraction) == (0.03, 0.01)
        assert (product.volume_solids, product.nco_fraction) == (0.53, 0.096)
        assert (product.oh_value_mg_g, product.equivalent_g_mol) == (38.0, 437.0)

    def test_may_do_without_choices_and_pot_life(self) -> None:
        text = rewritten(
            ('substrate = ["bare plastic", "primed plastic", "bare steel"]\n', ""),
            ('shade = ["white", "black"]\n', ""),
            ("[choices]\n", ""),
            ('[[pot_life]]\ntime = "60 min"\nat = "20 °C"\n', ""),
        )
        head, *components = text.split("[[component]]")
        recipe = parse_recipe(
            "[[component]]".join([head, components[2]]).replace(
                'reference = "BASE"', 'reference = "HARD"'
            ),
            "hardener.toml",
        )
        assert recipe.choices == {}
        assert recipe.pot_life == ()

    @pytest.mark.parametrize(
        ("written", "low", "high"),
        [
            ("2 %", -0.02, 0.02),
            ("± 2 %", -0.02, 0.02),
            ("-1 % +2 %", -0.01, 0.02),
            ("-1%, +2%", -0.01, 0.02),
            ("−1 % +2 %", -0.01, 0.02),
            ("0 %", 0.0, 0.0),
            ("-0 % + 1,5 %", 0.0, 0.015),
        ],
    )
    def test_states_a_tolerance_for_both_sides_or_each(
        self, written: str, low: float, high: float
    ) -> None:
        recipe = sound(('tolerance = "-1 % +2 %"', f'tolerance = "{written}"'))
        assert recipe.components[2].tolerance == Tolerance(low, high)


class TestTheHash:
    def test_is_the_sha256_of_the_content_as_canonical_json(self) -> None:
        content = tomllib.loads(SOUND, parse_float=str)
        text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        assert sound().hash == hashlib.sha256(text.encode()).hexdigest()

    def test_does_not_change_with_comments_and_layout(self) -> None:
        moved = "# a remark\n" + SOUND.replace(
            'code = "HRD"\nname = "Hardener"', ('name   = "Hardener"   # moved\ncode = "HRD"')
        )
        assert parse_recipe(moved, "elsewhere.toml").hash == sound().hash

    def test_changes_with_any_content(self) -> None:
        assert sound(('name = "Hardener"', 'name = "Hardener "')).hash != sound().hash


BAD = {
    "density missing": (
        ('density = "1.600 g/ml"\n', ""),
        "product 1 (SRF-W), density: It is missing.",
    ),
    "density without its temperature": (
        ('density_at = "20 °C"\n', ""),
        "product 1 (SRF-W), density_at: It is missing.",
    ),
    "density a bare number": (
        ('density = "1.600 g/ml"', "density = 1.600"),
        "product 1 (SRF-W), density: It is the bare number 1.600, without a unit. "
        'Write it such as density = "1.512 g/ml".',
    ),
    "density a whole number": (
        ('density = "1.600 g/ml"', "density = 2"),
        "product 1 (SRF-W), density: It is the bare number 2, without a unit.",
    ),
    "density without unit": (
        ('density = "1.600 g/ml"', 'density = "1.600"'),
        'product 1 (SRF-W), density: "1.600" has no unit. Write it such as "1.512 g/ml".',
    ),
    "density in a unit nobody knows": (
        ('density = "1.600 g/ml"', 'density = "1.600 g/mll"'),
        'product 1 (SRF-W), density: "1.600 g/mll" has the unknown unit "mll".',
    ),
    "density in a unit of mass": (
        ('density = "1.600 g/ml"', 'density = "1.600 g"'),
        'product 1 (SRF-W), density: "1.600 g" has the wrong kind of unit.',
    ),
    "density of no liquid": (
        ('density = "1.600 g/ml"', 'density = "1600 g/ml"'),
        'product 1 (SRF-W), density: "1600 g/ml" is more than 5 g/ml',
    ),
    "density not a quantity": (
        ('density = "1.600 g/ml"', "density = true"),
        "product 1 (SRF-W), density: It is not text in quotes.",
    ),
    "more volatile than it weighs": (
        ('density = "0.900 g/ml"', 'density = "0.900 g/ml"\nvoc = "1000 g/l"'),
        "product 4 (THN), voc: VOC, water and exempt solvent are 111.1 % of the product's own",
    ),
    "role unknown": (
        ('role = "hardener"', 'role = "hardner"'),
        'product 3 (HRD), role: "hardner" is not known here. Write "hardener" if that is meant.',
    ),
    "product listed twice": (
        ('code = "SRF-B"', 'code = "SRF-W"'),
        "product 2: SRF-W is listed twice.",
    ),
    "product unknown": (
        ('product = "HRD"', 'product = "HARDENER"'),
        "component 3 (HARD), product: There is no product HARDENER.",
    ),
    "percentage of nothing": (
        ('of = "base"\n', ""),
        "component 4 (THIN), of: A percentage of what? It is not said. "
        'Write of = "base", or of = "mix" for all that is listed before.',
    ),
    "percentage of something else": (
        ('of = "base"', 'of = "hardener"'),
        'component 4 (THIN), of: "hardener" is not known here. There are: base, mix.',
    ),
    "parts of something": (
        ('share = "1 part"', 'share = "1 part"\nof = "base"'),
        "component 3 (HARD), of: Parts are not a part of something; only a percentage is.",
    ),
    "ratio zero": (
        ('share = "1 part"', 'share = "0 parts"'),
        'component 3 (HARD), share: "0 parts" is zero.',
    ),
    "ratio negative": (
        ('share = "1 part"', 'share = "-1 part"'),
        'component 3 (HARD), share: "-1 part" is negative.',
    ),
    "ratio without unit": (
        ('share = "1 part"', 'share = "1"'),
        'component 3 (HARD), share: "1" has no unit. Write it such as "4 parts" or "10 %".',
    ),
    "ratio a bare number": (
        ('share = "1 part"', "share = 1"),
        "component 3 (HARD), share: It is the bare number 1, without a unit.",
    ),
    "by what is not said": (
        ('by = "volume"\n', ""),
        "component 1 (BASE), by: It is missing.",
    ),
    "by weight": (
        ('by = "volume"', 'by = "weight"'),
        'component 1 (BASE), by: "weight" is not known here. There are: volume, mass.',
    ),
    "tolerance missing": (
        ('tolerance = "-1 % +2 %"\n', ""),
        'component 3 (HARD), tolerance: It is missing. Write it such as tolerance = "2 %".',
    ),
    "tolerance on one side": (
        ('tolerance = "-1 % +2 %"', 'tolerance = "+2 %"'),
        'component 3 (HARD), tolerance: "+2 %" has one side only.',
    ),
    "tolerance negative": (
        ('tolerance = "-1 % +2 %"', 'tolerance = "-2 %"'),
        'component 3 (HARD), tolerance: "-2 %" is negative.',
    ),
    "tolerance absurd": (
        ('tolerance = "-1 % +2 %"', 'tolerance = "-90 % +2 %"'),
        'component 3 (HARD), tolerance: "90 %" is more than 50 %',
    ),
    "reference no component": (
        ('reference = "BASE"', 'reference = "BAES"'),
        'reference: BAES is not a component. Write "BASE" if that is meant.',
    ),
    "unknown key at the top": (
        ('version = "3"', 'version = "3"\nversoin = "3"'),
        'top of the file: The key "versoin" is not known here. Write "version" if that is meant.',
    ),
    "unknown key in a table": (
        ('by = "volume"', 'by = "volume"\nusing = "care"'),
        'component 1 (BASE): The key "using" is not known here. There are: code, product, share,',
    ),
    "version a number": (
        ('version = "3"', "version = 3"),
        "version: It is not text in quotes. Write it such as version",
    ),
    "name empty": (('name = "Surfacer"', 'name = " "'), "name: It is empty."),
    "name of two lines": (
        ('name = "Surfacer"', 'name = "Sur\\nfacer"'),
        "name: It must be one line of at most 80 printable characters.",
    ),
    "code with blanks": (
        ('code = "SURF-41"', 'code = "SURF 41"'),
        'code: "SURF 41" is not a code: letters, digits, dot, dash, underscore, at most 24.',
    ),
    "another format": (
        ('format = "mixbench recipe 1"', 'format = "mixbench recipe 9"'),
        'format: "mixbench recipe 9" is not a format this program reads. '
        'Write format = "mixbench recipe 1", or update mixbench if the file is newer.',
    ),
    "a table nobody knows": (
        ("[choices]", "[colours]\n[choices]"),
        'top of the file: The key "colours" is not known here. There are: format, code, name,',
    ),
    "choice not a list": (
        ('shade = ["white", "black"]', 'shade = "white"'),
        "choices.shade: It must be a list of different one-line texts.",
    ),
    "choice twice": (
        ('shade = ["white", "black"]', 'shade = ["white", "White"]'),
        "choices.shade: It must be a list of different one-line texts.",
    ),
    "choice of numbers": (
        ('shade = ["white", "black"]', "shade = [1, 2.5]"),
        "choices.shade: It must be a list of different one-line texts.",
    ),
    "choice with an odd name": (
        ('shade = ["white", "black"]', 'shade = ["white", "black"]\n"Größe" = ["klein"]'),
        'choices: "Größe" is not a name for a choice.',
    ),
    "condition not a table": (
        ('when = { shade = ["white"] }', 'when = "white"'),
        "component 1 (BASE), when: It is not a table.",
    ),
    "condition on no choice": (
        ('when = { shade = ["white"] }', 'when = { shades = ["white"] }'),
        'component 1 (BASE), when: "shades" is not among the choices. Write "shade" if',
    ),
    "condition on a value not offered": (
        ('when = { substrate = ["bare plastic"] }', 'when = { substrate = ["bare plastik"] }'),
        'component 5 (THIN), when: "bare plastik" is not among the choices of substrate. '
        'Write "bare plastic" if that is meant.',
    ),
    "a component that no choice selects": (
        ('when = { substrate = ["bare plastic"] }', "when = { substrate = [] }"),
        "component 5 (THIN), when.substrate: The list is empty, so no choice ever selects it.",
    ),
    "optional without condition": (
        ('tolerance = "-1 % +2 %"', 'tolerance = "-1 % +2 %"\noptional = true'),
        "component 3 (HARD), optional: It is optional under no condition",
    ),
    "optional in words": (
        ('tolerance = "-1 % +2 %"', 'tolerance = "-1 % +2 %"\noptional = "yes"'),
        "component 3 (HARD), optional: It must be true or false, without quotes.",
    ),
    "a slot without a line": (
        ('["primed plastic", "bare steel"]', '["primed plastic"]'),
        "component THIN: It has no line for substrate bare steel. Add a line for this choice",
    ),
    "a slot with two lines": (
        ('["primed plastic", "bare steel"]', '["bare plastic", "primed plastic", "bare steel"]'),
        "component THIN: component 4 (THIN), component 5 (THIN) are chosen together "
        "for substrate bare plastic. Give each its own code, or set them apart by when.",
    ),
    "the same code twice": (
        ('when = { shade = ["white"] }\n', ""),
        "component BASE: component 1 (BASE), component 2 (BASE) are chosen together for shade",
    ),
    "parts by volume and by mass": (
        ('share = "1 part"\nby = "volume"', 'share = "1 part"\nby = "mass"'),
        "component: Parts by volume and parts by mass are mixed for substrate bare plastic, "
        "shade white and 5 more choices.",
    ),
    "no base before a percentage of it": (
        ('role = "base"', 'role = "tint"'),
        "component 4 (THIN): It is a percentage of the base, but no product of role base is "
        "before it for substrate primed plastic, shade white and 1 more choice.",
    ),
    "pot life of nothing": (
        ('time = "60 min"', 'time = "0 min"'),
        'pot_life 1, time: "0 min" is zero.',
    ),
    "two pot lives at one temperature": (
        ("[[pot_life]]", '[[pot_life]]\ntime = "1 h"\nat = "68 °F"\n\n[[pot_life]]'),
        "pot_life 2: There is another at 20 °C.",
    ),
}


@pytest.mark.parametrize("case", BAD)
def test_a_recipe_is_refused_with_place_finding_and_remedy(case: str) -> None:
    change, told = BAD[case]
    problems = problems_of(rewritten(change))
    assert any(str(problem).startswith(told) for problem in problems), "\n".join(map(str, problems))
    assert all(problem.place and problem.what and problem.remedy for problem in problems)


def told(text: str) -> list[str]:
    """Return the problems of a recipe's text as a person reads them."""
    return [str(problem) for problem in problems_of(text)]


class TestEverySetOfChoicesIsTried:
    def test_a_base_listed_after_a_percentage_of_the_base_is_ambiguous(self) -> None:
        late = """
[[component]]
code = "LATE"
product = "SRF-W"
share = "1 part"
by = "volume"
tolerance = "2 %"
when = { substrate = ["bare steel"] }
optional = true
"""
        assert told(rewritten(("[[pot_life]]", late + "\n[[pot_life]]"))) == [
            "component 4 (THIN): It is a percentage of the base, but another base is listed after "
            "it for substrate bare steel, shade white and 1 more choice. List all of the base "
            "before it."
        ]

    def test_a_percentage_of_the_mix_needs_a_mix(self) -> None:
        first = rewritten(
            ('share = "4 parts"\nby', 'share = "10 %"\nof = "mix"\nby'),
        )
        assert (
            "component 1 (BASE): It is a percentage of the mix, but nothing is listed before it "
            "for substrate bare plastic, shade white and 2 more choices. List it after what it is "
            "a part of."
        ) in told(first)

    def test_only_percentages_make_no_mix(self) -> None:
        text = rewritten(
            ('share = "4 parts"', 'share = "10 %"\nof = "mix"'),
            ('share = "4 parts"', 'share = "10 %"\nof = "mix"'),
            ('share = "1 part"', 'share = "10 %"\nof = "mix"'),
        )
        assert any(
            line.startswith("component: No component has its share in parts") for line in told(text)
        )

    def test_the_reference_must_be_in_every_mix(self) -> None:
        text = rewritten(
            ('reference = "BASE"', 'reference = "THIN"'),
            (
                'when = { substrate = ["bare plastic"] }\n',
                'when = { substrate = ["bare plastic"] }\noptional = true\n',
            ),
            ('["primed plastic", "bare steel"] }', '["bare steel"] }'),
        )
        assert told(text) == [
            "reference: The reference component THIN is not poured for substrate primed plastic, "
            "shade white and 1 more choice. Refer to a component that is in every mix."
        ]

    def test_a_component_may_be_left_out_when_it_says_so(self) -> None:
        recipe = sound(
            (
                'when = { substrate = ["bare plastic"] }\n',
                'when = { substrate = ["bare plastic"] }\noptional = true\n',
            ),
            ('["primed plastic", "bare steel"] }', '["bare steel"] }'),
        )
        assert recipe.components[4].optional

    def test_a_share_too_small_to_be_recorded_is_refused(self) -> None:
        text = rewritten(
            ('share = "4 parts"', 'share = "4000 parts"'),
            ('share = "1 part"', 'share = "0.01 parts"'),
        )
        assert told(text) == [
            "component HARD: It is 1.56e-06 times the reference component by mass for substrate "
            "bare plastic, shade white and 1 more choice. "
            "Check the shares; a ratio is at most 100000 to 1."
        ]

    def test_a_recipe_without_choices_has_one_mix_to_be_wrong(self) -> None:
        heading, *tables = SOUND.split("[[")
        white, hardener, thinner = (tables[number] for number in (5, 7, 8))
        lines = [white, hardener, thinner]
        plain = "\n".join(f"[[{line.split('when =')[0]}" for line in lines)
        products = "[[" + "[[".join(tables[:5])
        text = heading.split("[choices]")[0] + products.replace('"base"', '"tint"') + plain
        assert told(text) == [
            "component 3 (THIN): It is a percentage of the base, but no product of role base is "
            "before it. List the base first."
        ]

    def test_too_many_sets_of_choices_are_not_tried(self) -> None:
        axes = "".join(
            f"axis{number} = [{', '.join(repr(str(v)) for v in range(10))}]\n"
            for number in range(4)
        ).replace("'", '"')
        when = ", ".join(f'axis{number} = ["1"]' for number in range(4))
        text = rewritten(
            ("[choices]\n", f"[choices]\n{axes}"),
            ('when = { shade = ["white"] }', f"when = {{ {when} }}"),
        )
        assert told(text) == [
            "choices: They make 60000 sets of choices, a recipe has at most 2000. "
            "Split it into several recipes."
        ]

    def test_too_many_components_are_not_tried(self) -> None:
        line = '\n[[component]]\ncode = "C{0}"\nproduct = "HRD"\nshare = "1 part"\nby = "volume"\n'
        more = "".join(f'{line.format(number)}tolerance = "2 %"\n' for number in range(200))
        assert told(SOUND + more) == [
            "component: There are 205 components, a recipe has at most 200. "
            "Split it into several recipes."
        ]

    def test_a_condition_that_cannot_be_read_raises_no_false_alarm(self) -> None:
        text = rewritten(('when = { shade = ["white"] }', 'when = { shade = ["whit"] }'))
        assert told(text) == [
            'component 1 (BASE), when: "whit" is not among the choices of shade. '
            'Write "white" if that is meant.'
        ]


class TestTheFileAsAWhole:
    def test_all_problems_are_told_at_once(self) -> None:
        text = rewritten(
            ('reference = "BASE"', 'reference = "BAES"'),
            ('density = "1.600 g/ml"\n', ""),
            ('role = "hardener"', 'role = "hardner"'),
            ('share = "4 parts"', 'share = "4"'),
            ('of = "base"\n', ""),
            ('tolerance = "-1 % +2 %"', 'tolerance = "wide"'),
            ('["bare plastic"] }', '["bare plastic", "primed plastic"] }'),
        )
        places = [problem.place for problem in problems_of(text)]
        assert places == [
            "product 1 (SRF-W), density",
            "product 3 (HRD), role",
            "component 1 (BASE), share",
            "component 3 (HARD), tolerance",
            "component 4 (THIN), of",
            "reference",
            "component THIN",
        ]

    def test_the_error_names_the_file_and_counts(self) -> None:
        with pytest.raises(RecipeError, match=r"^surfacer\.toml: 2 problems\n  name: .*\n  kind: "):
            parse_recipe(
                rewritten(('name = "Surfacer"\n', ""), ('kind = "primer surfacer"\n', "")),
                "surfacer.toml",
            )

    def test_an_empty_file_lacks_everything(self) -> None:
        places = [problem.place for problem in problems_of("")]
        assert places == [
            *("format", "code", "name", "version", "kind", "reference", "product", "component"),
        ]

    @pytest.mark.parametrize(
        "text", ["product = 3", "[product]", 'product = ["SRF-W"]', "product = [[]]"]
    )
    def test_products_are_tables(self, text: str) -> None:
        assert any(
            line.startswith("product: It is not a list of tables. Write a table headed [[product]]")
            for line in told(text)
        )

    def test_a_slip_of_toml_is_told_with_its_line(self) -> None:
        assert told(rewritten(('version = "3"', "version = three"))) == [
            "line 4: The file is not TOML: Invalid value. Correct this line; text stands in quotes."
        ]

    def test_an_open_quote_is_told_at_the_end(self) -> None:
        assert told('name = """Surfacer') == [
            "end of the file: The file is not TOML: Unterminated string. "
            "Correct this line; text stands in quotes."
        ]

    def test_a_key_written_twice_is_refused(self) -> None:
        (line,) = told(rewritten(('version = "3"', 'version = "3"\nversion = "4"')))
        assert line.startswith("line 5: The file is not TOML: Cannot overwrite a value.")

    def test_a_file_larger_than_any_recipe_is_not_read(self) -> None:
        assert told("#\n" * 131_073) == [
            "file: The file has 262146 bytes; at most 262144 are read. "
            "Check that it is the file that is meant."
        ]

    def test_a_long_line_is_not_read(self) -> None:
        assert told("\n" + "a." * 500 + "a = 1") == [
            "line 2: The line has 1005 characters, a line at most 1000. "
            "Break it into shorter lines."
        ]

    def test_brackets_without_end_are_refused(self) -> None:
        assert told("a = " + "[\n" * 20_000) == [
            "file: Its brackets are nested too deep to be read. Close the brackets that are open."
        ]

    def test_text_that_no_file_can_hold_is_refused(self) -> None:
        assert told('name = "\ud800"') == ["file: The file is not UTF-8 text. Save it as UTF-8."]

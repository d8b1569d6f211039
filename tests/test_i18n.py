"""Words and decimal marks in the reader's language."""

from __future__ import annotations

import pytest

from mixbench import i18n
from mixbench.i18n import _, figure, use_language
from mixbench.mixing.fit import fit
from mixbench.mixing.model import Cup, ScaleLimits, Targets
from mixbench.resource import resource_path


@pytest.fixture
def german():
    assert use_language("de_AT", resource_path("translations"))
    yield
    use_language("en", None)


def test_words_and_numbers_change_together(german) -> None:
    assert _("Pot") == "Ansatz"
    assert figure(f"{306.66:.1f}") == "306,7"


def test_a_number_put_into_a_message_takes_the_readers_mark(german) -> None:
    said = _("The surface is {margin:.1f} K above the {name} of {point:.1f} °C.").format(
        margin=2.04, name="v1.2", point=11.5
    )
    assert said == "Die Oberfläche ist 2,0 K über dem v1.2 von 11,5 °C."
    assert i18n.ngettext("{count} half coat", "{count} half coats", 2).format(count=2) == (
        "2 halbe Spritzgänge"
    )


def test_a_message_from_below_reads_german_to_the_last_digit(german) -> None:
    plan = Targets(300.0, (300.0,), (297.0,), (303.0,), (300.0,), 300.0, 306.66)
    against = fit(plan, Cup("Becher 180", 180.5), ScaleLimits(310.0, 0.1), 18.04)
    assert "306,7 ml" in against[0].what
    assert "180,5 ml" in against[0].what
    assert "318,0 g" in against[1].what
    assert "." not in against[0].what[:-1]


def test_a_language_without_a_catalogue_leaves_words_and_numbers_english() -> None:
    assert not use_language("fr", resource_path("translations"))
    assert (_("Pot"), figure("1.5")) == ("Pot", "1.5")


def test_english_again(german) -> None:
    assert use_language("en_GB", resource_path("translations"))
    assert (_("Pot"), figure("1.5")) == ("Pot", "1.5")


def test_counted_words(german) -> None:
    said = [i18n.ngettext("{count} recipe", "{count} recipes", count) for count in (1, 2)]
    assert said == ["{count} Rezept", "{count} Rezepte"]

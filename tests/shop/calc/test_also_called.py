"""The words by which techs look for a calculator belong to one that is there."""

from shop.calc import also_called
from shop.calc.areas import AREAS
from shop.calc.registry import calculators


def test_every_area_and_every_calculator_has_further_words():
    assert set(also_called.AREAS) == set(AREAS)
    assert set(also_called.CALCULATORS) == set(calculators())


def test_a_calculator_is_called_what_its_area_is_called_too():
    words = also_called.also_called("cells.compare").split()

    assert {"battery", "AA"} <= set(words)


def test_no_word_of_a_calculator_is_listed_twice():
    doubled = {
        name: sorted({word for word in words.split() if words.split().count(word) > 1})
        for name, words in also_called.CALCULATORS.items()
    }

    assert {name: words for name, words in doubled.items() if words} == {}

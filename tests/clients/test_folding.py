"""Finding a name whatever the accents and the case.

The pairs are ordinary spellings of the same name; what folding is taken from is Unicode's compatibility
decomposition (UAX 15) and case folding (Unicode Standard 5.18), as Python's own library has them.
"""

import unicodedata

import pytest

from clients.folding import digits, end_of_number, is_number
from clients.models import Client
from sessions.demo.factories import ClientFactory
from studio.folding import fold

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        pytest.param("Zoë Lanternby", "zoe", id="diaeresis"),
        pytest.param("Zoë Lanternby", "ZOË", id="capitals with the mark"),
        pytest.param("Zoe\u0308 Lanternby", "zoë", id="mark apart from its letter"),
        pytest.param("Ärlund Windrow", "ärl", id="umlaut, lower case"),
        pytest.param("Ärlund Windrow", "arl", id="umlaut left out"),
        pytest.param("Łukasz Saltmarsh", "lukasz", id="stroke"),
        pytest.param("Bjørn Ægirsson", "bjorn aegir", id="letters without a decomposition"),
        pytest.param("Straße", "STRASSE", id="sharp s"),
        pytest.param("İnci Oakapple", "inci", id="dotted capital i"),
        pytest.param("O’Brien", "o'brien", id="two kinds of apostrophe"),
        pytest.param("O'Brien", "obrien", id="apostrophe left out"),
        pytest.param("Maris Vane-Hollis", "vane hollis", id="hyphen as a space"),
        pytest.param("王小明", "王", id="Han"),
        pytest.param("김서연", "김", id="Hangul"),
        pytest.param("=SUM(1)", "=sum(1)", id="looks like a formula"),
        pytest.param("<b>Bold</b>", "<b>", id="looks like markup"),
        pytest.param("100% Percy_X", "%", id="a sign that means anything to the database"),
        pytest.param("Ottoline Brackwater", "brack otto", id="parts in another order"),
    ],
)
def test_name_is_found(house, name, typed):
    client = ClientFactory(full_name=name, call_name=name)
    other = ClientFactory(full_name="Someone Unlike", call_name="Unlike")
    found = list(Client.objects.found(typed))
    assert client in found
    assert other not in found


@pytest.mark.parametrize("typed", ["zoo", "zoe x", "z_e", "zo%e"])
def test_other_names_are_not_found(house, typed):
    ClientFactory(full_name="Zoë Lanternby", call_name="Zoë")
    assert not Client.objects.found(typed).exists()


def test_no_words_find_everybody(house):
    ClientFactory.create_batch(3)
    assert Client.objects.found("  ").count() == 3


@pytest.mark.parametrize("typed", ["07700 900", "900123", "07700900123", "(07700) 900-123"])
def test_telephone_is_found(house, typed):
    client = ClientFactory(telephone="07700 900123")
    ClientFactory(telephone="01632 960555")
    assert list(Client.objects.found(typed)) == [client]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("07700 900123", "+44 7700 900123"),
        ("07700900123", "0044 (0)7700 900-123"),
        ("٠٧٧٠٠ ٩٠٠١٢٣", "07700 900123"),
    ],
)
def test_ends_of_one_number_are_the_same(one, other):
    assert end_of_number(one) == end_of_number(other) != ""


def test_end_of_a_stub_is_empty():
    assert end_of_number("999") == ""


@pytest.mark.parametrize(("text", "number"), [("07700 9", True), ("12", False), ("flat 12345", False)])
def test_what_counts_as_a_number(text, number):
    assert is_number(text) is number


def test_folding_keeps_no_combining_mark():
    letters = "".join(map(chr, range(0xC0, 0x250)))
    assert not any(unicodedata.combining(c) for c in fold(letters))


def test_folding_twice_changes_nothing():
    letters = "".join(map(chr, range(0x20, 0x250)))
    assert fold(fold(letters)) == fold(letters)


def test_digits_of_no_number():
    assert digits("no number ½") == ""

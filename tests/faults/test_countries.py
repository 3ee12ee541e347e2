import re
import unicodedata

import pycountry
import pytest

from planning.countries import COUNTRIES, country_hint


def words(name: str) -> set[str]:
    plain = "".join(c for c in unicodedata.normalize("NFD", name.casefold()) if not unicodedata.combining(c))
    return set(re.findall(r"\w{2,}", plain)) - {"and", "of", "the", "island", "islands"}


def test_the_codes_are_those_an_independent_list_of_iso_3166_1_holds() -> None:
    # pycountry 26.2.16 holds the 249 entries of ISO 3166-1
    assert set(COUNTRIES) == {country.alpha_2 for country in pycountry.countries}
    assert len(COUNTRIES) == 249


def test_every_name_stands_beside_its_own_code() -> None:
    told_apart_by_capital, spelled_otherwise = {"CD", "CG"}, {"RU"}
    for country in pycountry.countries:
        theirs = set().union(*(words(getattr(country, kind, "")) for kind in ("name", "common_name")))
        if country.alpha_2 not in told_apart_by_capital | spelled_otherwise:
            assert words(COUNTRIES[country.alpha_2]) & theirs, country


def test_the_two_congos_are_not_mixed_up() -> None:
    democratic = [
        country.alpha_2 for country in pycountry.countries if "Democratic Republic of the" in country.name
    ]
    assert democratic == ["CD"]
    assert COUNTRIES["CD"] == "Congo (Kinshasa)"


def test_names_are_told_apart() -> None:
    assert len(set(COUNTRIES.values())) == len(COUNTRIES)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("UK", "GB"),
        ("uk", "GB"),
        ("England", "GB"),
        ("gb", "GB"),
        ("USA", "US"),
        ("  united   states ", "US"),
        ("Germny", "DE"),
        ("Netherland", "NL"),
        ("EL", "GR"),
        ("XX", None),
        ("", None),
        ("Narnia", None),
    ],
)
def test_what_people_write_instead_of_a_code_is_understood(written: str, meant: str | None) -> None:
    assert country_hint(written) == meant

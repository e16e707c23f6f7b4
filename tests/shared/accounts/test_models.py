"""What a person is called where there is little room."""

import pytest

from shared.accounts.models import Person


@pytest.mark.parametrize(
    ("name", "short"),
    [
        ("Magnus Flett", "M. Flett"),
        ("Una", "Una"),
        ("Ísbjörg af Holm", "Í. af Holm"),
        ("", "una.halcro@example.org"),
    ],
)
def test_a_short_name_keeps_all_but_the_first_names_letters(name, short):
    assert Person(name=name, email="una.halcro@example.org").short_name == short

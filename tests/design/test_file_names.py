"""Files named after what a file names: plain letters, and never two names alike."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.design.texts import file_name


@pytest.mark.parametrize(
    ("name", "folded"),
    [
        ("Möwe", "mowe"),
        ("Mwe", "mwe"),
        ("Großer Brachvogel", "grosser-brachvogel"),
        ("Šárka / Ærø", "sarka-aero"),
        ("Łoś № 3", "los-no-3"),
        ("Marram ½", "marram-1-2"),
        ("Чайка", ""),
        ("../x", "x"),
    ],
)
def test_letters_lose_their_marks_and_stay(name, folded):
    assert file_name(2, name) == f"2-{folded}".rstrip("-")


@given(names=st.lists(st.text(min_size=1, max_size=20), min_size=2, max_size=5))
def test_names_of_files_are_plain_and_differ(names):
    made = [file_name(k, name) for k, name in enumerate(names)]
    assert all(re.fullmatch(r"[0-9]+(-[a-z0-9]+)*", one) for one in made)
    assert len(set(made)) == len(names)

"""Shapes that scanners mistake for each other."""

from __future__ import annotations

import pytest

from service.domain.look_alikes import shape_of, sound_of, undoubled


@pytest.mark.parametrize(
    ("printed", "meant"),
    [
        ("rnacadarnia", "macadamia"),
        ("xy1it0l", "xylitol"),
        ("e22o", "e220"),
        ("e2l1", "e211"),
        ("shtp", "5htp"),
        ("lns967", "e967"),
        ("ins967", "e967"),
        ("vvillow", "willow"),
        ("xylit\u043el", "xylitol"),
    ],
)
def test_what_looks_alike_has_one_shape(printed: str, meant: str) -> None:
    assert shape_of(printed) == shape_of(meant)


@pytest.mark.parametrize(("one", "other"), [("e220", "e221"), ("xylitol", "sorbitol"), ("instant", "etant")])
def test_what_looks_different_has_not(one: str, other: str) -> None:
    assert shape_of(one) != shape_of(other)


def test_no_two_digits_share_a_shape() -> None:
    assert len({shape_of(digit) for digit in "0123456789"}) == 10


@pytest.mark.parametrize(
    ("printed", "meant"), [("hopps", "hops"), ("canabidiol", "cannabidiol"), ("raissin", "raisin")]
)
def test_doubled_letters_count_once(printed: str, meant: str) -> None:
    assert undoubled(printed) == undoubled(meant)


def test_what_sounds_alike() -> None:
    assert sound_of("zylotol") == sound_of("xylitol")
    assert sound_of("comfri") == sound_of("comfrey")
    assert sound_of("garlic") != sound_of("onion")

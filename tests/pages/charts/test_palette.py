"""Colours keep apart, from the paper and from one another, for every reader; shapes and dashes say the same."""

from __future__ import annotations

import re
from itertools import combinations
from math import dist

import pytest

from service.pages.charts.palette import DARK, LIGHT, STYLES, Palette, colours_in

PALETTES = pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
# Machado, Oliveira and Fernandes 2009, "A physiologically-based model for simulation of color vision deficiency", IEEE
# Transactions on Visualization and Computer Graphics 15(6), matrices for severity 1.0, applied to linear RGB (read as
# quoted by several implementations that agree).
MACHADO = {
    "protanopia": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "deuteranopia": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "tritanopia": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
    "full colour vision": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
}
Triple = tuple[float, float, float]


def linear(colour: str) -> Triple:
    """Give linear RGB of a colour (IEC 61966-2-1; WCAG 2.2 prints the same formula with 0.04045)."""
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))

    def _channel(value: float) -> float:
        return float(value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4)

    return _channel(red), _channel(green), _channel(blue)


def luminance(colour: str) -> float:
    """Give relative luminance as WCAG 2.2 defines it."""
    red, green, blue = linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Give the contrast ratio of WCAG 2.2."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def lab(rgb: Triple) -> Triple:
    """Give CIE L*a*b* of linear sRGB under D65 (IEC 61966-2-1; CIE 15)."""
    red, green, blue = (min(max(value, 0.0), 1.0) for value in rgb)
    x = (0.4124564 * red + 0.3575761 * green + 0.1804375 * blue) / 0.95047
    y = 0.2126729 * red + 0.7151522 * green + 0.0721750 * blue
    z = (0.0193339 * red + 0.1191920 * green + 0.9503041 * blue) / 1.08883

    def _f(value: float) -> float:
        return float(value ** (1 / 3) if value > 216 / 24389 else (24389 / 27 * value + 16) / 116)

    return 116 * _f(y) - 16, 500 * (_f(x) - _f(y)), 200 * (_f(y) - _f(z))


def seen(colour: str, eye: str) -> Triple:
    """Give L*a*b* of a colour as an eye sees it."""
    rgb = linear(colour)
    rows = [sum(weight * value for weight, value in zip(row, rgb, strict=True)) for row in MACHADO[eye]]
    return lab((rows[0], rows[1], rows[2]))


def test_contrast_is_that_of_wcag() -> None:
    # The two ends of the scale, and a grey whose ratio on white is widely quoted as 4.54.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@PALETTES
def test_text_can_be_read(palette: Palette) -> None:
    assert contrast(palette.ink, palette.paper) >= 7
    assert contrast(palette.quiet, palette.paper) >= 4.5
    assert contrast(palette.ink, palette.wash) >= 4.5


@PALETTES
def test_graphics_stand_out_from_the_paper(palette: Palette) -> None:
    for colour in (*palette.series, palette.objection, palette.ink):
        assert contrast(colour, palette.paper) >= 3, colour
    # The bars of one chart lie on the shaded range.
    assert contrast(palette.series[0], palette.wash) >= 3


@PALETTES
@pytest.mark.parametrize("eye", MACHADO)
def test_series_keep_apart_for_every_eye(palette: Palette, eye: str) -> None:
    for one, other in combinations(palette.series, 2):
        # Beyond ten is a difference that is seen at a glance (common practice).
        assert dist(seen(one, eye), seen(other, eye)) >= 20, (one, other)


@PALETTES
def test_an_objection_is_not_taken_for_the_efficient_set(palette: Palette) -> None:
    for eye in MACHADO:
        assert dist(seen(palette.objection, eye), seen(palette.series[0], eye)) >= 20


def test_no_colour_is_needed_to_tell_series_apart() -> None:
    assert len({style.marker for style in STYLES}) == len(STYLES)
    assert len({style.dash for style in STYLES}) == len(STYLES)


def test_every_colour_has_one_meaning() -> None:
    for palette in (LIGHT, DARK):
        assert len(set(palette.colours())) == len(palette.colours())
        assert all(re.fullmatch("#[0-9a-f]{6}", colour) for colour in palette.colours())


def test_every_colour_has_its_counterpart() -> None:
    assert colours_in("light") == {colour: colour for colour in LIGHT.colours()}
    assert set(colours_in("dark")) == set(LIGHT.colours())
    assert set(colours_in("dark").values()) == set(DARK.colours())

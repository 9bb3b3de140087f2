"""Query strings: nothing unknown, nothing twice, nothing guessed."""

from __future__ import annotations

from typing import Any

import pytest
from flask import Flask

from service.schemas.request_base import RequestSchema
from service.schemas.request_fields import Choice, Text
from service.web.faults import Fault
from service.web.query import QueryReader


class _Schema(RequestSchema):
    name = Text("x", longest=20, required=True)
    species = Choice("x", among=("dog", "cat"))


def _read(app: Flask, query: str) -> dict[str, Any]:
    with app.test_request_context(f"/?{query}"):
        return QueryReader(_Schema).read()


def test_what_is_not_given_is_none(app: Flask) -> None:
    assert _read(app, "name=msm") == {"name": "msm", "species": None}
    assert _read(app, "name=%C3%A9+x&species=cat") == {"name": "\u00e9 x", "species": "cat"}


@pytest.mark.parametrize(
    ("query", "details"),
    [
        ("", ["is required"]),
        ("name=a&name=b", ["is given more than once; give it once"]),
        ("name=a&specie=dog", ["is not a parameter of this address; nearest: species; known: name, species"]),
    ],
)
def test_faults_name_the_parameter(app: Flask, query: str, details: list[str]) -> None:
    with pytest.raises(Fault, match=r"^(name|specie): ") as caught:
        _read(app, query)
    assert [error["detail"] for error in caught.value.errors] == details


@pytest.mark.parametrize(
    ("query", "slug"),
    [
        ("name=%FF", "invalid-input"),
        ("&".join(f"a{number}=1" for number in range(61)), "invalid-input"),
        ("name=" + "x" * 8000, "uri-too-long"),
    ],
)
def test_what_cannot_be_read_as_a_whole(app: Flask, query: str, slug: str) -> None:
    with pytest.raises(Fault, match=r"UTF-8|60 parameters|8000") as caught:
        _read(app, query)
    assert caught.value.slug == slug

"""From domain values to JSON, and what is added beside them."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.common import Caution
from service.reference.records import Source
from service.reference.releases import Releases
from service.schemas import answer_fields as member
from service.schemas.envelope import ComputedAnswerSchema
from service.web.envelope import AnswerMismatch, Envelope, Fixed, source_on_wire
from service.web.wire import dump, field_names, to_wire


@dataclass(frozen=True, slots=True)
class _One:
    single: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Answer:
    amount: Decimal | None
    nested: _One
    constant: str
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]


class _OneSchema(member.AnswerSchema):
    single = member.texts("x")


class _AnswerSchema(ComputedAnswerSchema):
    amount = member.number("x", nullable=True)
    nested = member.one(_OneSchema, "x")
    constant = member.text("x")


_ANSWER = _Answer(Decimal("1.50"), _One(("a",)), "f", (), ())


def test_values() -> None:
    caution = Caution("code", "info", "text")
    value = {"a": (caution, None, True), "b": [Decimal("2.00"), Decimal("0.25"), 3, "x"]}
    assert to_wire(value) == {
        "a": [{"code": "code", "level": "info", "text": "text"}, None, True],
        "b": [2, 0.25, 3, "x"],
    }
    assert type(to_wire(Decimal("2.00"))) is int
    assert to_wire(_One(("a",))) == {"single": ["a"]}
    assert field_names(_One) == ("single",)


def test_what_has_no_wire_form() -> None:
    with pytest.raises(TypeError, match="has no wire form"):
        to_wire({1, 2})
    with pytest.raises(ValueError, match="not JSON compliant"):
        dump(float("nan"))


@given(st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-(10**8), max_value=10**8))
def test_numbers_keep_their_value(number: Decimal) -> None:
    assert Decimal(str(json.loads(dump(to_wire(number))))) == number


def test_members_beside_the_result(releases: Releases) -> None:
    source_id = next(iter(releases.newest.sources))
    answer = replace(_ANSWER, source_ids=(source_id, source_id))
    members = json.loads(Envelope(releases.newest, check=True).json(answer, _AnswerSchema))
    assert members["amount"] == 1.5
    assert members["nested"] == {"single": ["a"]}
    assert [source["id"] for source in members["sources"]] == [source_id]
    assert members["dataset"]["version"] == releases.newest.stamp.version


def test_mismatch_raises_only_where_asked(releases: Releases) -> None:
    wrong = replace(_ANSWER, constant=None)  # type: ignore[arg-type]
    assert Envelope(releases.newest).json(wrong, _AnswerSchema)
    with pytest.raises(AnswerMismatch, match="constant"):
        Envelope(releases.newest, check=True).json(wrong, _AnswerSchema)


def test_member_that_is_not_fixed_raises(releases: Releases) -> None:
    envelope = Envelope(releases.newest, check=True)
    fixed = Fixed(("constant",), ("key",))
    assert json.loads(envelope.json(_ANSWER, _AnswerSchema, fixed))["constant"] == "f"
    with pytest.raises(AnswerMismatch, match="are not fixed by"):
        envelope.json(replace(_ANSWER, constant="other"), _AnswerSchema, fixed)


class _ItemSchema(member.AnswerSchema):
    source_id = member.text("x")
    more_source_ids = member.texts("x")


class _ItemsSchema(member.AnswerSchema):
    sources = member.texts("x")
    items = member.many(_ItemSchema, "x")


def test_source_that_is_named_must_be_listed(releases: Releases) -> None:
    members = {"sources": [], "items": [{"source_id": "a", "more_source_ids": ["b"]}]}
    with pytest.raises(AnswerMismatch, match=r"sources \['a', 'b'\] are named but not listed"):
        Envelope(releases.newest).check(members, _ItemsSchema)


def test_citation() -> None:
    source = Source(
        id="s", authors="A. Writer", year="2001", title="On tablets.", container="Journal", doi="10.1/x", url=None,
        seen_as=None, origin="read", note=None,
    )  # fmt: skip
    assert source_on_wire(source) == {
        "id": "s",
        "citation": "A. Writer. (2001). On tablets. Journal.",
        "url": "https://doi.org/10.1/x",
        "origin": "read",
    }
    assert source_on_wire(replace(source, doi=None))["url"] is None

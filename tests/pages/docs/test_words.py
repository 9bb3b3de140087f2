"""No word of an answer is without an explanation, and no explanation without its word."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import service.domain
from service.domain import comparing, exposure_words, normalising
from service.domain.combining.describing import HIGH_READING_ABOVE, NO_LIST
from service.domain.flag_words import FLAG_WORDS
from service.domain.labels import assembling
from service.pages.docs import words
from service.pages.docs.caution_words import CAUTION_GROUPS
from service.pages.wording import EVIDENCE_MEANING, ORIGIN_MEANING
from service.web.site.docs.document import openapi_document

_DOMAIN = Path(service.domain.__file__).parent
CODES = {code: meaning for group in CAUTION_GROUPS.values() for code, meaning in group.items()}


def _calls() -> Iterator[ast.expr]:
    """Walk the first arguments of everything in the domain that makes a caution."""
    for path in sorted(_DOMAIN.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Caution":
                yield node.args[0]


def _literal_codes() -> set[str]:
    return {code.value for code in _calls() if isinstance(code, ast.Constant) and isinstance(code.value, str)}


def test_every_caution_has_an_explanation() -> None:
    assert len(_literal_codes()) > 50
    assert _literal_codes() - set(CODES) - set(FLAG_WORDS) == set()


def test_cautions_without_a_literal_code_are_flags_or_verdicts_on_evidence() -> None:
    others = {ast.unparse(code) for code in _calls() if not isinstance(code, ast.Constant)}
    assert others == {"f'evidence_{evidence.verdict}'", "flag", "HIGH_READING_ABOVE", "NO_LIST"}
    assert {HIGH_READING_ABOVE, NO_LIST} <= set(FLAG_WORDS)
    assert {f"evidence_{verdict}" for verdict in EVIDENCE_MEANING if verdict != "supported"} <= set(CODES)


def _told_flags() -> set[str]:
    tables = (comparing._FLAG_WORDS, exposure_words._FLAG_WORDS, normalising._FLAG_WORDS, assembling._FLAG_TEXTS)
    return {flag for table in tables for flag in table}


def test_flags_told_as_cautions_have_an_explanation() -> None:
    assert _told_flags() - set(FLAG_WORDS) - set(CODES) == set()


def test_no_explanation_is_left_over() -> None:
    made = _literal_codes() | {f"evidence_{verdict}" for verdict in EVIDENCE_MEANING} | _told_flags()
    assert set(CODES) - made == set()


def test_no_code_stands_in_two_groups() -> None:
    assert len(CODES) == sum(len(group) for group in CAUTION_GROUPS.values())


def _enums(owner: str, member: str) -> set[str]:
    found = openapi_document()["components"]["schemas"][owner]["properties"][member]
    return {word for word in found["enum"] if word is not None}


@pytest.mark.parametrize(
    ("explained", "owner", "member"),
    [
        (words.VERDICTS, "ScreenAnswer", "verdict"),
        (words.LEVELS, "Finding", "level"),
        (words.KINDS, "Finding", "kind"),
        (words.TIERS, "ExposureAnswer", "tier"),
        (words.NOT_ASSESSED, "NotAssessed", "reason"),
        (words.MATCHES, "ResolveAnswer", "match"),
        (words.STATUSES, "CombineAnswer", "status"),
        (words.BLOCKS, "Block", "kind"),
        (words.LEFT_OUT, "LeftOutReason", "code"),
        (ORIGIN_MEANING, "Source", "origin"),
        (EVIDENCE_MEANING, "Evidence", "verdict"),
    ],
)
def test_every_word_of_the_interface_is_explained(explained: dict[str, str], owner: str, member: str) -> None:
    assert set(explained) == _enums(owner, member)


def test_explanations_never_reassure() -> None:
    every = [*CODES.values(), *words.VERDICTS.values(), *words.TIERS.values(), *words.FLAGS.values()]
    assert not [text for text in every if " safe" in f" {text}".lower()]

"""Blocks, commands, code and figures."""

from __future__ import annotations

import pytest

from service.pages.docs.batches import columns_of, written
from service.pages.docs.blocks import Block, blocks
from service.pages.docs.code import code_text, first_of, json_text, part_of
from service.pages.docs.curl import address, curl
from service.pages.docs.figures import count_words, money_words


def test_blocks() -> None:
    assert blocks("One\nline.\n\n- a\n- b\n\n\nTwo.") == (
        Block(text="One line."),
        Block(items=("a", "b")),
        Block(text="Two."),
    )
    assert blocks("") == ()


@pytest.mark.parametrize(
    ("query", "url"),
    [
        ({}, "https://x.example/v1/dose"),
        ({"weight": "34 kg"}, "https://x.example/v1/dose?weight=34%20kg"),
        ({"conditions": ["a", "b&c"]}, "https://x.example/v1/dose?conditions=a,b%26c"),
        ({"age": 11}, "https://x.example/v1/dose?age=11"),
    ],
)
def test_address(query: dict[str, object], url: str) -> None:
    assert address("https://x.example/", "/v1/dose", query) == url


def test_curl_keeps_what_a_shell_would_change() -> None:
    line = curl("https://x.example/a'b", "it's", "text/csv")
    assert line == ("curl 'https://x.example/a'\\''b' \\\n  -H 'Content-Type: text/csv' \\\n  --data-binary 'it'\\''s'")


def test_curl_with_another_method_and_headers() -> None:
    assert curl("https://x.example/", method="DELETE") == "curl -X DELETE 'https://x.example/'"
    assert curl("https://x.example/", headers={"Accept": "image/png"}) == (
        "curl 'https://x.example/' \\\n  -H 'Accept: image/png'"
    )


def test_code_escapes_tags_and_leaves_quotes() -> None:
    assert code_text("<b>&'\"") == "&lt;b&gt;&amp;'\""


def test_json_is_for_people() -> None:
    assert json_text({"a": "ä"}) == '{\n "a": "ä"\n}'


def test_first_of_shortens_lists_at_every_depth() -> None:
    value = {"a": [{"b": [1, 2, 3]}, {"b": []}], "c": [1], "d": "text"}
    assert first_of(value) == {"a": [{"b": [1, "..."]}, "..."], "c": [1], "d": "text"}
    assert first_of(value, 2) == {"a": [{"b": [1, 2, "..."]}, {"b": []}], "c": [1], "d": "text"}


def test_part_of_keeps_the_order_of_the_answer() -> None:
    assert list(part_of({"a": 1, "b": 2, "c": 3}, "c", "a")) == ["a", "c"]


def test_figures() -> None:
    assert money_words(14.4, "USD") == "14.40 USD"
    assert money_words(0.1234, "USD") == "0.1234 USD"
    assert money_words(84.0, "JPY") == "84 JPY"
    assert count_words(1, "tablet") == "1 tablet"
    assert count_words(0.5, "chew") == "0.5 chews"
    assert count_words(5, "millilitre") == "5 ml"


def test_csv_there_and_back() -> None:
    text = written(("id", "weight"), [{"id": "a,b", "weight": "34 kg", "more": 1}])
    assert text == 'id,weight\n"a,b",34 kg\n'
    table = columns_of(text, ("weight", "id"))
    assert table.columns == ("weight", "id")
    assert table.rows == (("34 kg", "a,b"),)

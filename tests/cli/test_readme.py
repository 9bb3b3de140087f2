"""What the README shows works as shown."""

from __future__ import annotations

import re
import shlex
import urllib.request
from pathlib import Path

import pytest

from service.cli.child import Child
from tests.packaging.questions import ask

README = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
CURLS = re.findall(r"^curl .*$", README, re.MULTILINE)


def test_one_line_for_each_consumer_and_one_for_a_label() -> None:
    assert len(CURLS) == 4


def as_request(line: str, base_url: str) -> urllib.request.Request:
    """Read a curl line with ``-H`` and ``-d`` as the request it sends."""
    words = iter(shlex.split(line)[1:])
    url, data, headers = "", None, {}
    for word in words:
        if word == "-H":
            name, _, value = next(words).partition(": ")
            headers[name] = value
        elif word == "-d":
            data = next(words).encode()
        else:
            url = word
    return urllib.request.Request(url.replace("http://127.0.0.1:8080", base_url), data=data, headers=headers)


@pytest.mark.parametrize("line", CURLS)
def test_curl_line_is_answered(live: Child, line: str) -> None:
    with urllib.request.urlopen(as_request(line, live.url)) as answer:
        body = answer.read().decode()
    assert "glucosamine" in body


_NEED_A_QUERY = ("/v1/dose", "/v1/convert", "/v1/screen", "/v1/exposure", "/v1/resolve")


def test_every_get_in_the_table_of_endpoints_exists(live: Child) -> None:
    cells = re.findall(r"^\| (`GET .*?) \|", README, re.MULTILINE)
    paths = [path for cell in cells for path in re.findall(r"`(?:GET )?(/[^`{?]*)`", cell)]
    assert "/v1/ingredients" in paths
    # 422: the address exists and asks for what it needs.
    assert {path: ask(live.url, path, None).status for path in paths} == {
        path: 422 if path in _NEED_A_QUERY or path.startswith("/charts/") else 200 for path in paths
    }

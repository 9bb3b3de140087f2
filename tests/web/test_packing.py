"""Pages and pictures go out packed to who takes it, and are the same for everyone."""

from __future__ import annotations

import gzip

import pytest
from flask.testing import FlaskClient

GZIP = {"Accept-Encoding": "br, gzip;q=0.8"}
PATHS = ("/v1/ingredients.html", "/charts/amount.svg?species=dog&ingredient=glucosamine")


@pytest.mark.parametrize("path", PATHS)
def test_packed_and_plain_are_the_same(client: FlaskClient, path: str) -> None:
    plain, packed = client.get(path), client.get(path, headers=GZIP)
    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.data) == plain.data
    assert len(packed.data) < len(plain.data) / 2
    assert int(packed.headers["Content-Length"]) == len(packed.data)


@pytest.mark.parametrize("path", PATHS)
def test_each_has_a_tag_of_its_own_and_caches_are_told(client: FlaskClient, path: str) -> None:
    plain, packed = client.get(path), client.get(path, headers=GZIP)
    assert plain.headers["ETag"] != packed.headers["ETag"]
    assert "Accept-Encoding" in plain.headers["Vary"]
    assert "Accept-Encoding" in packed.headers["Vary"]
    again = client.get(path, headers={**GZIP, "If-None-Match": packed.headers["ETag"]})
    assert again.status_code == 304
    assert client.get(path, headers={"If-None-Match": packed.headers["ETag"]}).status_code == 200


@pytest.mark.parametrize("accepted", ["", "identity", "gzip;q=0", "br", "*;q=0"])
def test_who_does_not_take_it_gets_plain_bytes(client: FlaskClient, accepted: str) -> None:
    response = client.get(PATHS[0], headers={"Accept-Encoding": accepted})
    assert "Content-Encoding" not in response.headers


def test_packing_twice_gives_the_same_bytes(client: FlaskClient) -> None:
    assert client.get(PATHS[0], headers=GZIP).data == client.get(PATHS[0], headers=GZIP).data


@pytest.mark.parametrize("path", PATHS)
def test_head_tells_what_get_sends(client: FlaskClient, path: str) -> None:
    head, get = client.head(path, headers=GZIP), client.get(path, headers=GZIP)
    assert head.data == b""
    for name in ("Content-Length", "Content-Encoding", "ETag", "Vary", "Content-Type"):
        assert head.headers[name] == get.headers[name]


def test_answers_to_programs_stay_plain(client: FlaskClient) -> None:
    assert "Content-Encoding" not in client.get("/v1/ingredients", headers=GZIP).headers

"""Every piece of code in the documentation is run, and does what stands beside it."""

from __future__ import annotations

import csv
import io
import json
import re
import shlex
import shutil
import subprocess
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.serving import make_server
from werkzeug.test import TestResponse

from service.cli import main
from service.reference.releases import Releases
from tests.web.site.docs_pages import GUIDE_PATHS, PATHS, Code, codes
from tests.web.site.documents import by_class, page, text_of

_ROOT = "http://localhost/"
_LANGUAGES = {"sh", "python", "javascript", "html", "csv", "json", "text", "url"}
_LEFT_OUT = "..."


@dataclass(frozen=True, slots=True)
class Sent:
    """A curl line, read."""

    method: str
    path: str
    headers: dict[str, str]
    body: bytes | None
    output: str | None


def read_curl(line: str, files: dict[str, str]) -> Sent:
    """Read a curl line as the shell and curl do; a file that it sends is one shown on the page."""
    words = iter(shlex.split(line.replace("\\\n", " ")))
    assert next(words) == "curl"
    method, url, headers, body, output = "GET", "", {}, None, None
    for word in words:
        if word == "-X":
            method = next(words)
        elif word == "-H":
            name, _, value = next(words).partition(": ")
            headers[name] = value
        elif word == "--data-binary":
            text = next(words)
            body = (files[text[1:]] if text.startswith("@") else text).encode()
            method = "POST"
        elif word == "-o":
            output = next(words)
        else:
            assert not word.startswith("-"), line
            url = word
    assert url.startswith(_ROOT), line
    return Sent(method, url.removeprefix(_ROOT.rstrip("/")), headers, body, output)


def send(client: FlaskClient, sent: Sent) -> TestResponse:
    """Send what a curl line sends."""
    return client.open(sent.path, method=sent.method, headers=sent.headers, data=sent.body)


def files_of(found: list[Code]) -> dict[str, str]:
    """Give the files that a page shows, by name."""
    return {code.caption: code.text for code in found if code.language == "csv"}


def pairs(found: list[Code]) -> Iterator[tuple[Code, Code | None]]:
    """Give each curl line, with the answer printed right below it."""
    for code, below in zip_longest(found, found[1:]):
        if code is not None and code.language == "sh" and code.text.startswith("curl"):
            yield code, below if below is not None and below.caption.startswith("The answer") else None


def assert_shown(shown: Any, actual: Any, where: str) -> None:  # noqa: ANN401 - any JSON
    """Assert that what is printed is what came: members may be left out, lists cut where dots stand."""
    if isinstance(shown, dict):
        for name, value in shown.items():
            assert_shown(value, actual[name], f"{where}.{name}")
    elif isinstance(shown, list):
        kept = shown[:-1] if shown and shown[-1] == _LEFT_OUT else shown
        assert len(actual) == len(kept) or (kept is not shown and len(actual) > len(kept)), where
        for position, value in enumerate(kept):
            assert_shown(value, actual[position], f"{where}[{position}]")
    else:
        assert shown == actual, where


@pytest.mark.parametrize("path", PATHS)
def test_every_curl_line_is_answered_as_shown(client: FlaskClient, path: str) -> None:
    found = list(codes(page(client, path)))
    assert {code.language for code in found} <= _LANGUAGES
    for code, below in pairs(found):
        response = send(client, read_curl(code.text, files_of(found)))
        shown = json.loads(below.text) if below is not None else {}
        expected = shown["status"] if str(shown.get("type", "")).startswith(_ROOT) else 200
        assert response.status_code == expected, (path, code.text, response.get_data(as_text=True)[:300])
        if below is not None:
            assert_shown(shown, response.get_json(), path)


def test_every_operation_of_the_reference_has_a_line_that_is_answered(client: FlaskClient) -> None:
    for path in (path for path in PATHS if path.startswith("/docs/reference/")):
        root = page(client, path)
        for section in by_class(root, "operation"):
            (code,) = list(codes(section))
            response = send(client, read_curl(code.text, {}))
            assert response.status_code == 200, code.text
            named = text_of(section).partition(" Answer ")[2]
            assert str(response.mimetype) in named, code.text


@pytest.mark.parametrize("path", GUIDE_PATHS)
def test_lines_for_the_shell_are_of_two_kinds(client: FlaskClient, path: str) -> None:
    for code in codes(page(client, path)):
        if code.language == "sh":
            assert code.text.startswith(("curl ", "fabella batch ")), code.text


@pytest.mark.parametrize("path", GUIDE_PATHS)
def test_addresses_on_their_own_answer(client: FlaskClient, path: str) -> None:
    for code in codes(page(client, path)):
        if code.language == "url":
            response = client.get(code.text.removeprefix("http://localhost"))
            assert response.status_code == 200, code.text
            assert response.mimetype in ("text/csv", "text/html")


def test_csv_examples_come_back_as_the_page_shows(client: FlaskClient) -> None:
    root = page(client, "/docs/start-database")
    found = list(codes(root))
    text = text_of(root)
    for code, _ in pairs(found):
        sent = read_curl(code.text, files_of(found))
        answered = list(csv.DictReader(io.StringIO(send(client, sent).get_data(as_text=True))))
        given = list(csv.DictReader(io.StringIO(sent.body.decode() if sent.body else "")))
        assert len(answered) == len(given) > 4
        assert sent.output is not None
        assert f"Some columns of {sent.output}" in text
        for row in answered:
            assert row["status"] in ("ok", "refused")
            assert row["error"] in text
            assert str(row.get("maintenance_low_mg", row.get("verdict"))) in text
    refused = {row["id"] for row in csv.DictReader(io.StringIO(files_of(found)["animals.csv"]))}
    assert {"fennel", "entered-by-hand"} <= refused


def test_fabella_batch_writes_what_the_service_answers(
    client: FlaskClient, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    found = list(codes(page(client, "/docs/start-database")))
    (line,) = [code.text for code in found if code.language == "sh" and code.text.startswith("fabella")]
    monkeypatch.chdir(tmp_path)
    for name, text in files_of(found).items():
        Path(name).write_text(text, "utf-8")
    assert main(shlex.split(line)[1:]) == 0
    capsys.readouterr()
    sent = read_curl(next(code.text for code, _ in pairs(found)), files_of(found))
    assert sent.output is not None
    assert Path(sent.output).read_bytes() == send(client, sent).data


def test_the_markup_to_embed_is_one_picture_that_exists(client: FlaskClient) -> None:
    (code,) = [code for code in codes(page(client, "/docs/start-writer")) if code.language == "html"]
    match = re.fullmatch(r'<img src="http://localhost(/charts/[^"]+)"\s+alt="([^"]{20,})" width="720">', code.text)
    assert match is not None, code.text
    response = client.get(match[1].replace("&amp;", "&"))
    assert response.mimetype == "image/svg+xml"


@pytest.fixture
def url(app: Flask) -> Iterator[str]:
    """Serve the application on a port of its own, for programs that ask from outside."""
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    thread.join()
    server.server_close()


def programs(client: FlaskClient, language: str) -> list[str]:
    """Give the programs in a language on all guides."""
    return [code.text for path in GUIDE_PATHS for code in codes(page(client, path)) if code.language == language]


def _expected(client: FlaskClient) -> list[str]:
    code = next(code for code, _ in pairs(list(codes(page(client, "/docs/start-app")))))
    dose = send(client, read_curl(code.text, {})).get_json()
    return [
        *(f"{one['phase']}: {one['low_mg']} to {one['high_mg']} mg a day" for one in dose["phases"]),
        f"Evidence: {dose['evidence']['verdict']}. {dose['evidence']['summary']}",
        *(f"{one['level']}: {one['text']}" for one in dose["cautions"]),
        dose["notice"],
    ]


def test_python_runs(client: FlaskClient, url: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = programs(client, "python")
    assert found
    for text in found:
        exec(compile(text.replace(_ROOT, url), "documentation", "exec"), {})  # noqa: S102 - our own text, run as a reader does
        assert capsys.readouterr().out.splitlines() == _expected(client)


def test_javascript_runs(client: FlaskClient, url: str) -> None:
    node = shutil.which("node")
    if node is None:
        pytest.skip("node is not installed")
    found = programs(client, "javascript")
    assert found
    for text in found:
        command = [node, "--input-type=module", "--eval", text.replace(_ROOT, url)]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr
        assert done.stdout.splitlines() == _expected(client)


def test_amounts_are_worked_as_the_page_says(client: FlaskClient) -> None:
    # Dataset README, "trade-rule-per-kg": 500 to 1000 mg at 34 kg, scaled by weight; ends are cut towards the inside.
    sums = [text_of(part) for part in by_class(page(client, "/docs/amounts"), "sum")]
    scaled = re.findall(r"([\d.]+) mg × ([\d.]+) kg ÷ ([\d.]+) kg = ([\d.]+) mg", sums[0])
    assert [(at, reference) for at, _, reference, _ in scaled] == [("500", "34"), ("1000", "34")]
    for amount, weight, reference, result in scaled:
        assert float(result) == pytest.approx(float(amount) * float(weight) / float(reference), rel=1e-5)
    whole, part, share = re.findall(r"[\d.]+", sums[1])[1], re.findall(r"[\d.]+", sums[1])[0], sums[1].split(" = ")[1]
    assert float(share) == pytest.approx(float(part) / float(whole), rel=1e-5)
    price, count, units, a_day = re.findall(r"([\d.]+)", sums[3])[:4]
    assert float(a_day) == pytest.approx(float(price) / float(count) * float(units), rel=1e-9)
    a_year = re.search(r"× 365 = ([\d.]+)", sums[3])
    assert a_year is not None
    assert float(a_year[1]) == pytest.approx(float(a_day) * 365, abs=0.005)


def test_plan_is_worked_as_the_page_says(client: FlaskClient) -> None:
    root = page(client, "/docs/plans")
    (worked,) = by_class(root, "sum")
    terms = re.findall(r"([\d.]+) days × ([\d.]+)", text_of(worked))
    total = re.search(r"= ([\d.]+) tablets", text_of(worked))
    assert total is not None
    assert sum(float(days) * float(units) for days, units in terms) == float(total[1])
    paid = re.findall(r"\d{4}-\d\d-\d\d: ([\d.]+) × ([\d.]+) USD = ([\d.]+) USD", text_of(root))
    assert len(paid) > 3
    assert all(float(count) * float(price) == pytest.approx(float(cost)) for count, price, cost in paid)
    spent = sum(float(cost) for _, _, cost in paid)
    rows = [[text_of(cell) for cell in row] for row in root.iter("tr")]
    assert next(row for row in rows if row[0] == "Invented tablet")[1:3] == [str(len(paid)), f"{spent:.2f}"]


def test_verdicts_are_those_that_the_examples_bring_about(client: FlaskClient) -> None:
    root = page(client, "/docs/verdicts")
    told = [json.loads(code.text).get("verdict") for code in codes(root) if code.language == "json"]
    assert told[:4] == ["stop", "ask_veterinarian", "incomplete", "nothing_found"]


def test_examples_name_the_newest_release(client: FlaskClient, releases: Releases) -> None:
    version = releases.newest.stamp.version
    for path in ("/docs/amounts", "/docs/start-database", "/docs/start-writer"):
        assert version in text_of(page(client, path).find(".//main"))

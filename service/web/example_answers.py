"""Renews the answers in ``openapi/examples``: ``python -m service.web.example_answers``.

The requests there are written by hand and invented; the answers come from the service itself, long lists shortened so
that a reader sees the shape and not the whole dataset.
"""

from __future__ import annotations

import json

from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from service import create_app
from service.schemas.operation import Operation
from service.web.catalogue import OPERATIONS
from service.web.openapi import batch_example_path, query_example, read_example, text_example_path
from service.web.operations import openapi_directory
from service.web.wire import Json, dump

_LONGEST_LIST = 3
_PATH_VALUES = {"version": "1.0.0", "table": "limits", "slug": "invalid-input"}


def renew() -> tuple[str, ...]:
    """Write every example anew.

    Returns
    -------
    tuple of str
        Names of the files that changed.
    """
    client = create_app().test_client()
    changed = [*_renew_texts(client), *_renew_batches(client)]
    for operation in OPERATIONS:
        if operation.example is None or operation.answer is None:
            continue
        path = openapi_directory() / "examples" / f"{operation.example}.json"
        before = path.read_text("utf-8")
        example = json.loads(before)
        example["response"] = _shortened(_ask(client, operation, example["request"]))
        after = json.dumps(example, indent=1, ensure_ascii=False) + "\n"
        if after != before:
            path.write_text(after, "utf-8")
            changed.append(path.name)
    return tuple(dict.fromkeys(changed))


def _renew_texts(client: FlaskClient) -> list[str]:
    changed = []
    for operation in OPERATIONS:
        path = text_example_path(operation, operation.media_types[0])
        if path is None:
            continue
        after = _beginning(_answer(client, operation, _text_request(operation)).get_data(as_text=True), path.suffix)
        if not path.exists() or path.read_text("utf-8") != after:
            path.write_text(after, "utf-8")
            changed.append(path.name)
    return changed


def _renew_batches(client: FlaskClient) -> list[str]:
    changed = []
    for operation in OPERATIONS:
        for media_type in operation.text_body:
            request = batch_example_path(operation, media_type, "request").read_bytes()
            headers = {"Content-Type": media_type}
            query = {} if media_type == "text/csv" else {"detail": "ids"}
            answer = client.post(operation.path, data=request, query_string=query, headers=headers)
            path = batch_example_path(operation, media_type, "response")
            after = _as_example(answer.get_data(as_text=True), path.suffix)
            if not path.exists() or path.read_text("utf-8") != after:
                path.write_text(after, "utf-8")
                changed.append(path.name)
    return list(dict.fromkeys(changed))


def _as_example(text: str, suffix: str) -> str:
    """Write line ends as a file in the repository has them; shorten lists in lines of NDJSON."""
    lines = text.splitlines()
    if suffix == ".ndjson":
        lines = [dump(_shortened(json.loads(line))) for line in lines]
    return "".join(f"{line}\n" for line in lines)


def _text_request(operation: Operation) -> Json:
    if operation.example is not None:
        return read_example(operation.example)["request"]
    return query_example(operation)


def _beginning(text: str, suffix: str) -> str:
    """Cut a table after a few rows, and a page after its heading."""
    if suffix == ".csv":
        return "".join(f"{line}\n" for line in text.splitlines()[:_LONGEST_LIST])
    return text.partition("<main")[0] + "<main>\n...\n</main>\n</body>\n</html>\n"


def _ask(client: FlaskClient, operation: Operation, request: Json) -> Json:
    return _answer(client, operation, request).get_json()


def _answer(client: FlaskClient, operation: Operation, request: Json) -> TestResponse:
    path = operation.path.replace(
        "{id}", "glucosamine" if "ingredients" in operation.path else "glucosamine-hydrochloride"
    )
    for name, value in _PATH_VALUES.items():
        path = path.replace(f"{{{name}}}", value)
    if operation.body is not None:
        return client.post(path, json=request)
    headers = {"Accept": "application/json"} if operation.answer is not None else {}
    return client.get(path, query_string=request, headers=headers)


def _shortened(value: Json) -> Json:
    if isinstance(value, dict):
        return {key: _shortened(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_shortened(item) for item in value[:_LONGEST_LIST]]
    return value


if __name__ == "__main__":
    print("\n".join(renew()) or "nothing changed")

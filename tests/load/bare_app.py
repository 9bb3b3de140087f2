"""The baseline: a Flask application that does nothing but ``jsonify``, under the very server settings of the service.

``/same-structure`` serialises the service's own answer; ``/same-size`` serialises one text of the same number of
bytes, which is as little work as an answer of that size can be.
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from flask import Flask, Response, jsonify

from service.cli.serve import ServeOptions, Server


def create_bare_app(answer: bytes) -> Flask:
    """Return an application whose two answers have the size of the one given."""
    app = Flask(__name__)
    structure = json.loads(answer)
    envelope = len(jsonify_in(app, {"text": ""}))
    text = "x" * (len(answer) - envelope)

    @app.get("/same-structure")
    def same_structure() -> Response:
        return jsonify(structure)

    @app.get("/same-size")
    def same_size() -> Response:
        return jsonify({"text": text})

    @app.get("/readyz")
    def ready() -> Response:
        return jsonify({"status": "ready"})

    return app


def jsonify_in(app: Flask, value: object) -> bytes:
    """Return the bytes that ``jsonify`` makes of a value."""
    with app.app_context():
        return jsonify(value).get_data()


class BareServer(Server):
    """The service's own server around the bare application."""

    def __init__(self, options: ServeOptions, answer: bytes) -> None:
        self.answer = answer
        super().__init__(options)

    def load(self) -> Flask:
        """Build the bare application."""
        return create_bare_app(self.answer)


def main() -> None:
    """Serve until ended; takes the arguments that ``fabella serve`` takes for the same purpose."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--port", type=int, required=True)
    parser.add_argument("--log-level", default="info")
    parser.add_argument("--body", type=Path, required=True, help="file with the answer to imitate")
    chosen = parser.parse_args()
    options = ServeOptions(port=chosen.port, log_level=chosen.log_level)
    BareServer(options, chosen.body.read_bytes()).run()


if __name__ == "__main__":
    main()

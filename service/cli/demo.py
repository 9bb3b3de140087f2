"""``fabella demo``: the invented case, asked of a running service over real HTTP."""

from __future__ import annotations

import json
import signal
import sys
import urllib.error
import urllib.request
from types import FrameType
from typing import Any

from service.cli import demo_report as report
from service.cli import demo_years as years
from service.cli.child import ChildError, serving
from service.cli.ports import LOOPBACK, port_is_taken
from service.cli.text_table import paragraph
from service.demo import (
    care_note_body,
    combine_body,
    compare_body,
    dose_path,
    label_body,
    plan_body,
    product,
    scenario,
    screen_body,
)

Answer = dict[str, Any]


# Two packs of one tablet, of which the larger overtakes the smaller.
_TWO_SIZES = ("invented-tablet", "invented-tablet-large")
_YEARS = 3
_TOGETHER = ("glucosamine", "epa-dha")


class DemoError(RuntimeError):
    """The service answered a question of the demo with a problem."""


def ask(base_url: str, path: str, body: Answer | None = None) -> Answer:
    """Send one request as any consumer would, and return the JSON answer."""
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(
        base_url + path, data=data, headers={"Accept": "application/json", "Content-Type": "application/json"}
    )
    try:
        with urllib.request.urlopen(request, timeout=30) as response:
            answer: Answer = json.load(response)
    except urllib.error.HTTPError as error:
        raise DemoError(f"{path} answered {error.code}: {error.read().decode('utf-8', 'replace')}") from error
    return answer


def ask_for_text(base_url: str, path: str, body: Answer) -> str:
    """Send one request and return the answer as plain text, its lines as they come."""
    request = urllib.request.Request(
        base_url + path, data=json.dumps(body).encode(), headers={"Content-Type": "application/json"}
    )
    with urllib.request.urlopen(request, timeout=30) as response:
        text: str = response.read().decode()
    return text


def show(base_url: str) -> str:
    """Ask everything and return the whole report."""
    case = scenario()
    products = case["products"]
    first = case["animals"][0]
    dose = ask(base_url, dose_path(first, case["ingredient"]))
    labels = [ask(base_url, "/v1/labels/read", label_body(one)) for one in products]
    normalised = [ask(base_url, "/v1/normalise", {"product": one}) for one in products]
    compared = ask(base_url, "/v1/compare", compare_body(first, products, case["ingredient"]))
    screened = [
        [ask(base_url, "/v1/screen", screen_body(animal, one)) for one in products] for animal in case["animals"]
    ]
    sizes = [product(id_) for id_ in _TWO_SIZES]
    planned = ask(base_url, "/v1/plan", plan_body(first, sizes, case["ingredient"], _YEARS))
    combined = ask(base_url, "/v1/combine", combine_body(first, products, _TOGETHER))
    note = ask_for_text(base_url, "/v1/care-note.txt", care_note_body())
    return report.written(
        case,
        [
            report.dose_section(dose_path(first, case["ingredient"]), dose),
            report.label_section(case, labels),
            report.normalise_section(case, normalised),
            report.compare_section(first, compared),
            report.screen_section(case, screened),
            years.plan_section(planned),
            years.combine_section(combined),
            years.note_section(note),
        ],
        dose,
    )


def where_to_look(base_url: str) -> str:
    """Say where pages and documentation are, and how to stop."""
    case = scenario()
    amounts = dose_path(case["animals"][0], case["ingredient"])
    rows = (
        ("Front page, for people", "/"),
        ("Workbench: labels side by side", "/workbench"),
        ("Ingredients as a page", "/ingredients"),
        ("The amounts above, as a page", amounts.replace("/v1/dose?", "/v1/dose.html?")),
        ("All endpoints", "/v1"),
        ("Guides and reference", "/docs"),
        ("OpenAPI document", "/openapi.json"),
        ("The data and its sources", "/v1/dataset"),
    )
    width = max(len(label) for label, _ in rows)
    lines = [f"   {label.ljust(width)}  {base_url}{path}" for label, path in rows]
    return "\n".join(("The service is running. Open in a browser or fetch with curl:", *lines, "Ctrl-C stops it."))


def _end_in_order(signal_number: int, _frame: FrameType | None) -> None:
    """Turn a request to end into an exception, so that the child is stopped on the way out."""
    raise SystemExit(128 + signal_number)


def demo(*, port: int, once: bool) -> int:
    """Start the service, show the case, and keep serving unless ``once``."""
    if port and port_is_taken(LOOPBACK, port):
        print(f"fabella: port {port} is in use; leave --port away and a free one is taken.", file=sys.stderr)
        return 1
    # A shell starts a background job with Ctrl-C ignored; sent on purpose it still means stop.
    previous = {
        signal.SIGTERM: signal.signal(signal.SIGTERM, _end_in_order),
        signal.SIGINT: signal.signal(signal.SIGINT, signal.default_int_handler),
    }
    try:
        with serving(port) as child:
            print(show(child.url), flush=True)
            if not once:
                print("\n" + where_to_look(child.url), flush=True)
                signal.pause()
    except KeyboardInterrupt:
        print("\nStopped.")
    except (ChildError, DemoError) as error:
        print(paragraph(f"fabella: {error}", indent=""), file=sys.stderr)
        return 1
    finally:
        for number, handler in previous.items():
            signal.signal(number, handler)
    return 0

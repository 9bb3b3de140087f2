"""``fabella demo``: the invented case, asked of a running service over real HTTP."""

from __future__ import annotations

import json
import signal
import sys
import urllib.error
import urllib.parse
import urllib.request
from types import FrameType
from typing import Any

from service.cli import demo_report as report
from service.cli.child import ChildError, serving
from service.cli.ports import LOOPBACK, port_is_taken
from service.cli.text_table import paragraph
from service.demo import scenario

Answer = dict[str, Any]


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


def dose_path(case: Answer) -> str:
    """Return the address that asks for the animal's daily amounts."""
    animal = case["animal"]
    query = {
        "species": animal["species"],
        "weight": animal["weight"],
        "ingredient": case["ingredient"],
        "age_years": animal["age_years"],
    }
    return "/v1/dose?" + urllib.parse.urlencode(query, quote_via=urllib.parse.quote)


def animal_of(case: Answer) -> Answer:
    """Return the animal as a request body names it: without its invented name."""
    return {key: value for key, value in case["animal"].items() if key != "name"}


def compare_body(case: Answer) -> Answer:
    """Return the body that ranks the products for the animal."""
    return {
        "animal": animal_of(case),
        "targets": [{"ingredient": case["ingredient"]}],
        "products": case["products"],
    }


def screen_body(case: Answer, product: Answer, units_per_day: float = 1) -> Answer:
    """Return the body that screens so much of one product against the animal's medicines."""
    given = {**product, "units_per_day": units_per_day}
    return {"animal": animal_of(case), "products": [given], "medications": case["medications"]}


def show(base_url: str) -> str:
    """Ask everything and return the whole report."""
    case = scenario()
    products = case["products"]
    dose = ask(base_url, dose_path(case))
    normalised = [ask(base_url, "/v1/normalise", {"product": product}) for product in products]
    compared = ask(base_url, "/v1/compare", compare_body(case))
    units = {row["product_id"]: row["units_per_day"] for row in compared["rows"]}
    screened = [ask(base_url, "/v1/screen", screen_body(case, product, units[product["id"]])) for product in products]
    return "\n\n".join(
        (
            report.heading(case),
            report.dose_section(dose_path(case), dose),
            report.normalise_section(products, normalised),
            report.compare_section(compared),
            report.screen_section(case, screened),
            report.closing(dose),
        )
    )


def where_to_look(base_url: str) -> str:
    """Say where pages and documentation are, and how to stop."""
    rows = (
        ("Ingredients as a page", "/v1/ingredients.html"),
        ("The amounts above, as a page", dose_path(scenario()).replace("/v1/dose?", "/v1/dose.html?")),
        ("All endpoints", "/v1"),
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

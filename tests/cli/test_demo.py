"""``fabella demo``: the invented case over real HTTP, for reading."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from typing import Any

import pytest

from service.cli import demo, main
from service.cli.child import Child, own_environment
from service.cli.text_table import WIDTH
from service.demo import animal, compare_body, product, products, scenario, screen_body


@pytest.fixture(scope="module")
def shown(live: Child) -> str:
    """Return the report, asked of the running service."""
    return demo.show(live.url)


def test_report_fits_a_terminal(shown: str) -> None:
    assert max(map(len, shown.splitlines())) <= WIDTH


def test_report_shows_the_rule_of_the_trade_and_its_origin(shown: str) -> None:
    section = shown.split("2. What do the labels say")[0]
    assert "500 to 1,000" in section
    assert "1,000 to 2,000" in section
    assert "common practice" in section
    assert "Evidence:" in section


def test_report_shows_a_label_as_printed_and_what_was_read_of_it(shown: str) -> None:
    section = shown.split("2. What do the labels say")[1].split("3. What is in one unit")[0]
    for line in scenario()["labels"]["invented-mussel"]:
        assert f"| {line}" in section
    assert "green lipped mussel powder" in section
    assert "the capsule may be opened over food" in " ".join(section.split())


def test_report_names_every_animal_and_product_and_says_that_all_is_invented(shown: str) -> None:
    flat = " ".join(shown.split())
    case = scenario()
    assert [one["name"] for one in case["animals"] if one["name"] not in flat] == []
    assert [one["name"] for one in case["products"] if flat.count(one["name"]) < 2] == []
    assert "invented" in shown.splitlines()[0]


def test_report_shows_years_combination_and_note(shown: str) -> None:
    years = shown.split("6. What do years of it cost")[1].split("7. Which products together")[0]
    assert "2 tablets for 42 days" in " ".join(years.split())
    assert "has paid off on day" in " ".join(years.split())
    together = shown.split("7. Which products together")[1].split("8. What does the practice get")[0]
    assert "optimal" in together
    assert "Invented fish oil" in " ".join(together.split())
    note = shown.split("8. What does the practice get")[1]
    assert "| Care note: Bramble (invented)" in note


def test_report_never_calls_a_product_safe(shown: str) -> None:
    assert "safe" not in shown.lower().split()


def test_report_ends_with_what_it_is_not(shown: str) -> None:
    assert "not a prescription: ask a veterinarian" in " ".join(shown.split("\n\n")[-1].split())


def screened(live: Child, product_id: str) -> dict[str, Any]:
    return demo.ask(live.url, "/v1/screen", screen_body(animal("bramble"), product(product_id)))


def test_the_hidden_hazard_is_found(live: Child, shown: str) -> None:
    screen = screened(live, "invented-chew")
    assert screen["verdict"] == "stop"
    assert any("xylitol" in finding["subjects"] for finding in screen["findings"] if finding["kind"] == "hazard")
    assert "STOP" in shown


def test_the_medicine_interaction_is_found(live: Child) -> None:
    screen = screened(live, "invented-powder")
    assert screen["verdict"] == "ask_veterinarian"
    assert any("devils-claw" in finding["subjects"] for finding in screen["findings"])


def test_compare_lists_the_dangerous_product_last_with_the_reason(live: Child, shown: str) -> None:
    rows = demo.ask(live.url, "/v1/compare", compare_body(animal("bramble"), products(), "glucosamine"))["rows"]
    assert [row["rank"] for row in rows] == list(range(1, 13))
    assert rows[-1]["product_id"] == "invented-chew"
    assert rows[-1]["why_not"] == ["The screen found something that must not be given to this animal."]
    assert "Invented chew: The screen found something" in shown


def test_a_problem_is_reported_and_not_hidden(live: Child) -> None:
    with pytest.raises(demo.DemoError, match="422"):
        demo.ask(live.url, "/v1/dose?species=dog&weight=75&ingredient=glucosamine")


def test_once_shows_the_case_and_leaves(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo", "--once"]) == 0
    printed = capsys.readouterr().out
    assert "5. Does anything speak against them" in printed
    assert "Ctrl-C" not in printed


def children_of(pid: int) -> list[int]:
    with open(f"/proc/{pid}/task/{pid}/children") as listing:
        return [int(child) for child in listing.read().split()]


@pytest.mark.skipif(not os.path.exists("/proc/self/task"), reason="finds the child through Linux's /proc")
@pytest.mark.parametrize(("end", "status"), [(signal.SIGINT, 0), (signal.SIGTERM, 128 + signal.SIGTERM)])
def test_keeps_serving_until_told_to_end_and_leaves_no_process(end: signal.Signals, status: int) -> None:
    # As in a background job, where the shell has Ctrl-C ignored.
    ignoring = (
        "import signal, sys, service.cli; signal.signal(signal.SIGINT, signal.SIG_IGN); sys.exit(service.cli.main())"
    )
    command = [sys.executable, "-P", "-c", ignoring, "demo"]
    with subprocess.Popen(command, env=own_environment(), stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        for line in running.stdout:
            if line.startswith("Ctrl-C"):
                break
        # The last line is printed just before the wait begins.
        time.sleep(0.2)
        (child,) = children_of(running.pid)
        assert running.poll() is None
        running.send_signal(end)
        running.stdout.read()
        assert running.wait(timeout=20) == status
    assert not os.path.exists(f"/proc/{child}")

"""README, pins, recipe and checks agree with one another."""

from __future__ import annotations

import json
import os
import re
import tomllib
from pathlib import Path

import pytest

from service.demo import scenario

TOP = Path(__file__).parents[2]
README = (TOP / "README.md").read_text("utf-8")
PROJECT = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["project"]
EXTRAS = PROJECT["optional-dependencies"]


def normalised(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def pins() -> dict[str, str]:
    lines = (TOP / "docker" / "constraints.txt").read_text("utf-8").splitlines()
    pairs = [line.split("==") for line in lines if line and not line.startswith("#")]
    return {normalised(name): version for name, version in pairs}


def needed(requirement: str) -> str:
    return normalised(re.split(r"[<>=!~;\[ ]", requirement)[0])


@pytest.mark.parametrize("ending", ["demo", "pytest"])
def test_readme_has_one_line_that_ends_in(ending: str) -> None:
    lines = [line for line in README.splitlines() if line.endswith(f"/{ending}") or line.endswith(f"fabella {ending}")]
    assert len(lines) == 1
    assert "python3 -m venv .venv" in lines[0]
    assert "--constraint docker/constraints.txt" in lines[0]


def test_every_requirement_is_pinned() -> None:
    every = [*PROJECT["dependencies"], *EXTRAS["dev"], *EXTRAS["lint"]]
    assert {needed(requirement) for requirement in every} <= set(pins())


def test_every_runtime_dependency_is_justified() -> None:
    developers = (TOP / "DEVELOPERS.md").read_text("utf-8")
    section = developers.split("## Dependencies")[1].split("The extra `dev`")[0]
    named = {normalised(cell) for cell in re.findall(r"^\| `([^`]+)`", section, re.MULTILINE)}
    assert named == {needed(requirement) for requirement in PROJECT["dependencies"]}


def test_ci_is_executable_and_takes_the_test_line_from_the_readme() -> None:
    run = TOP / ".ci" / "run"
    assert os.access(run, os.X_OK)
    assert "README.md" in run.read_text("utf-8")


def test_scenario_marks_what_is_invented() -> None:
    case = scenario()
    assert "invented" in case["invented"]
    named = [case["shelter"]["name"], *(one["name"] for one in (*case["animals"], *case["products"]))]
    assert all("invented" in name.lower() for name in named)


def test_scenario_file_has_no_double_keys() -> None:
    def once(pairs: list[tuple[str, object]]) -> dict[str, object]:
        names = [name for name, _ in pairs]
        assert len(names) == len(set(names)), names
        return dict(pairs)

    json.loads((TOP / "service" / "demo" / "scenario.json").read_text("utf-8"), object_pairs_hook=once)

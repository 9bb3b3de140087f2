"""A dataset to spoil."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.reference.small_dataset import SmallDataset


@pytest.fixture
def dataset(tmp_path: Path) -> SmallDataset:
    """Give a dataset without any defect."""
    return SmallDataset(tmp_path / "dataset")

"""What changed between two sets of tables, cell by cell."""

from __future__ import annotations

from service.reference.differences import differences, least_bump, next_version, read_frames
from tests.reference.small_dataset import SmallDataset


def test_a_changed_cell_is_named_with_both_values(dataset: SmallDataset) -> None:
    before = read_frames(dataset.directory)
    dataset.set("limits", 0, amount="9000")
    (found,) = differences(before, read_frames(dataset.directory))
    assert (found.table, found.bump) == ("limits", "patch")
    (cell,) = found.cells
    assert (cell.column, cell.old, cell.new) == ("amount", "8000", "9000")


def test_the_same_tables_do_not_differ(dataset: SmallDataset) -> None:
    frames = read_frames(dataset.directory)
    assert differences(frames, frames) == ()
    assert least_bump(frames, frames) == "none"


def test_a_table_that_went_is_major(dataset: SmallDataset) -> None:
    before = read_frames(dataset.directory)
    after = {table: frame for table, frame in before.items() if table != "beliefs"}
    assert least_bump(before, after) == "major"
    assert next_version("1.2.3", least_bump(before, after)) == "2.0.0"

"""``/workbench``: several labels, one animal, everything side by side."""

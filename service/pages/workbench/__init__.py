"""The workbench: what its address holds, and how its answers are shown."""

"""Version of the service; the dataset has versions of its own."""

VERSION = "1.0.0"

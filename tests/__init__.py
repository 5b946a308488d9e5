"""Tests; a package of its own, so that no installed library can take its name."""

"""How planform is built: as setuptools does it, with its search loops compiled and packed."""

from __future__ import annotations

from pathlib import Path

from compiled_loops import compilers, with_loops
from setuptools import build_meta
from setuptools.build_meta import *  # noqa: F403  (the hooks that stay as they are)


def get_requires_for_build_wheel(config_settings=None):
    """What a wheel is built with."""
    return [*build_meta.get_requires_for_build_wheel(config_settings), *compilers()]


def get_requires_for_build_editable(config_settings=None):
    """What a wheel of the source in place is built with."""
    return [*build_meta.get_requires_for_build_editable(config_settings), *compilers()]


def build_wheel(wheel_directory, config_settings=None, metadata_directory=None):
    """Setuptools' wheel with the compiled loops."""
    made = build_meta.build_wheel(wheel_directory, config_settings, metadata_directory)
    return with_loops(Path(wheel_directory, made)).name


def build_editable(wheel_directory, config_settings=None, metadata_directory=None):
    """Setuptools' wheel of the source in place, with the compiled loops."""
    made = build_meta.build_editable(wheel_directory, config_settings, metadata_directory)
    return with_loops(Path(wheel_directory, made)).name

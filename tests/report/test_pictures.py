"""Scenes, vector pictures, and what happens where rendering dies."""

from __future__ import annotations

import sys
import xml.etree.ElementTree as ET

import numpy as np
import pytest

import planform as pf
from planform.design.load import design_from, place_from
from planform.report import pictures
from planform.report.scene import load, save
from planform.report.vector import to_svg
from planform.report.view import aircraft_scene, room_scene


@pytest.fixture
def standing(plain):
    return pf.stand_all(pf.build(design_from(plain)))[0]


def test_scene_survives_its_file(standing, tmp_path):
    scene = aircraft_scene(standing)
    save(scene, tmp_path / "scene.npz")
    again = load(tmp_path / "scene.npz")
    assert again.title == scene.title
    assert [s.name for s in again.solids] == [s.name for s in scene.solids]
    assert np.array_equal(again.solids[0].points, scene.solids[0].points)
    assert [c.name for c in again.cameras] == [c.name for c in scene.cameras]


def test_vector_picture_is_sound_and_small(standing, room):
    built = pf.build_room(place_from(room))
    answer = pf.judge(standing, built)
    scene = room_scene(answer, built, "mm")
    text = to_svg(scene, scene.cameras[0])
    assert ET.fromstring(text).tag.endswith("svg")
    assert len(text) < 1_000_000
    assert answer.least.thing in text


def test_no_gl_asked_for_draws_vectors(standing, tmp_path, monkeypatch):
    monkeypatch.setenv("PLANFORM_NO_GL", "1")
    made = pictures.render(aircraft_scene(standing), tmp_path)
    assert made.how == "vector"
    assert "PLANFORM_NO_GL" in made.remark
    assert {p.suffix for p in made.files.values()} == {".svg"}


@pytest.mark.parametrize("end", ["kill -SEGV $$", "exit 1", "exit 0"])
def test_a_dying_renderer_leaves_vector_pictures(standing, tmp_path, monkeypatch, end):
    """A python that dies by a signal, fails, or makes nothing, stands in for the renderer."""
    fake = tmp_path / "python"
    fake.write_text(f"#!/bin/sh\n{end}\n")
    fake.chmod(0o755)
    monkeypatch.setattr(sys, "executable", str(fake))
    monkeypatch.delenv("PLANFORM_NO_GL", raising=False)
    out = tmp_path / "out"
    out.mkdir()
    made = pictures.render(aircraft_scene(standing), out)
    assert made.how == "vector"
    assert "GL library" in made.remark
    assert sorted(p.name for p in out.iterdir()) == sorted(p.name for p in made.files.values())


def test_rendered_where_it_can_be(standing, tmp_path, monkeypatch):
    """PNG pictures that differ from one another; vector ones with a remark where GL is missing."""
    monkeypatch.delenv("PLANFORM_NO_GL", raising=False)
    made = pictures.render(aircraft_scene(standing), tmp_path, (320, 240))
    if made.how == "vector":
        assert made.remark
        return
    contents = [p.read_bytes() for p in made.files.values()]
    assert all(c.startswith(b"\x89PNG") for c in contents)
    assert len(set(contents)) == len(contents)

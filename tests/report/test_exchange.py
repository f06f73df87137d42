"""Solids as files, read back by other readers: trimesh, an XML reader, a reader of STEP."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings

from planform.airframe.build import build
from planform.airframe.stages import stand
from planform.airframe.stance import stand_all
from planform.design.load import design_from, load
from planform.report.exchange import solid_files, solid_writers
from planform.report.exchange.solids import PartSolid, SolidSet, named_apart, solids_of
from planform.report.exchange.welded import THIN, closed, heights, welded
from tests.conftest import DESIGNS
from tests.laws.worlds import worlds
from tests.step_reader import Step, decoded

SAME = 1e-6
"""Relative: how near volumes and areas read back are to those of the built mesh."""

BOX = trimesh.creation.box((100.0, 200.0, 300.0))


@pytest.fixture(scope="module")
def standing():
    return stand(build(load(DESIGNS / "marram.toml")))


@pytest.fixture(scope="module")
def solids(standing):
    return solids_of(standing)


@pytest.fixture(scope="module")
def built(standing):
    """Volume [mm3] and area [mm2] of every part as trimesh finds them in the built mesh."""
    meshes = {part.name: part.trimesh() for part in standing.parts}
    return {name: (mesh.volume * 1e9, mesh.area * 1e6) for name, mesh in meshes.items()}


def boxes(*names):
    """A box a name, beside each other."""
    shift = np.array([150.0, 0.0, 0.0])
    points, faces = np.array(BOX.vertices), np.array(BOX.faces, np.int64)
    return named_apart(
        "Boxes", [PartSolid(name, points + k * shift, faces) for k, name in enumerate(names)]
    )


def content(solids, ending):
    return solid_writers()[ending].content(solids)


def same(found, built):
    assert found.keys() == built.keys()
    for name, (volume, area) in found.items():
        assert volume == pytest.approx(built[name][0], rel=SAME), name
        assert area == pytest.approx(built[name][1], rel=SAME), name


def in_3mf(data):
    """Unit, meshes by name, and which objects are put together and built."""
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        assert package.namelist() == ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
        root = ElementTree.fromstring(package.read("3D/3dmodel.model"))
        for name in package.namelist()[:2]:
            ElementTree.fromstring(package.read(name))
    core = {"m": "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"}
    meshes, numbers = {}, []
    for one in root.findall("m:resources/m:object[m:mesh]", core):
        points = [[float(v.get(k)) for k in "xyz"] for v in one.iterfind(".//m:vertex", core)]
        faces = [
            [int(t.get(k)) for k in ("v1", "v2", "v3")] for t in one.iterfind(".//m:triangle", core)
        ]
        meshes[one.get("name")] = trimesh.Trimesh(points, faces, process=False)
        numbers.append(one.get("id"))
    (whole,) = root.findall("m:resources/m:object[m:components]", core)
    assert [one.get("objectid") for one in whole.iterfind(".//m:component", core)] == numbers
    assert [i.get("objectid") for i in root.iterfind("m:build/m:item", core)] == [whole.get("id")]
    return root.get("unit"), meshes


def test_glb(solids, built):
    scene = trimesh.load_scene(io.BytesIO(content(solids, "glb")), file_type="glb")
    found = {}
    for node in scene.graph.nodes_geometry:
        turn, name = scene.graph[node]
        mesh = scene.geometry[name].copy().apply_transform(turn)
        assert mesh.is_watertight
        found[node] = (mesh.volume * 1e9, mesh.area * 1e6)
    same(found, built)
    low, high = scene.bounds * 1000.0  # metres, y up: height is y, left is z
    points = np.concatenate([part.points for part in solids.parts])
    assert low == pytest.approx([points[:, 0].min(), points[:, 2].min(), -points[:, 1].max()])
    assert high == pytest.approx([points[:, 0].max(), points[:, 2].max(), -points[:, 1].min()])


def test_stl(solids, built):
    data = content(solids, "stl")
    assert not data.startswith(b"solid")
    mesh = trimesh.load_mesh(io.BytesIO(data), file_type="stl", process=False)
    before = 0
    for part in solids.parts:  # parts that touch share points, so each is looked at alone
        facets = mesh.triangles[before : before + len(part.faces)]
        assert trimesh.Trimesh(**trimesh.triangles.to_kwargs(facets)).is_watertight, part.name
        before += len(part.faces)
    assert before == len(mesh.faces)
    assert mesh.volume == pytest.approx(sum(volume for volume, _ in built.values()), rel=SAME)
    assert mesh.area == pytest.approx(sum(area for _, area in built.values()), rel=SAME)
    given = np.frombuffer(data[84:], np.dtype([("n", "<f4", 3), ("rest", "V38")]))["n"]
    assert given == pytest.approx(mesh.face_normals, abs=5e-3)  # single precision


def test_obj(solids, built):
    scene = trimesh.load_scene(
        io.BytesIO(content(solids, "obj")), file_type="obj", group_material=False,
        split_objects=True,
    )  # fmt: skip
    same({name: (one.volume, one.area) for name, one in scene.geometry.items()}, built)
    assert all(one.is_watertight for one in scene.geometry.values())


def test_3mf(solids, built):
    unit, meshes = in_3mf(content(solids, "3mf"))
    assert unit == "millimeter"
    same({name: (mesh.volume, mesh.area) for name, mesh in meshes.items()}, built)
    assert all(mesh.is_watertight for mesh in meshes.values())


def test_step(solids, built):
    step = Step(content(solids, "step"))
    assert step.mistakes() == []
    assert step.lengths() == [[".MILLI.", ".METRE."]]
    assert "AUTOMOTIVE_DESIGN" in step.header
    assert "'2000-01-01T00:00:00',(''),('')" in step.header
    products = step.products()
    assert products.pop(solids.title) == []
    found = {}
    for name, (one,) in products.items():
        volume, area, euler = step.solid(one)
        assert euler == 2, name  # Euler: a closed surface without a hole through it
        found[name] = (volume, area)
    same(found, built)


def test_the_reader_of_step_tells_a_wrong_file(solids):
    """What a general reader refused once: an entity by a wrong name, or one that is missing."""
    data = content(SolidSet("one", solids.parts[:1]), "step")
    assert Step(data).mistakes() == []
    assert Step(data.replace(b"AXIS2_PLACEMENT_3D", b"AXIS2_PLACEMENT3D")).mistakes()
    assert Step(re.sub(rb"\n(#\d+)=LINE", rb"\n\1=PLANE", data, count=1)).mistakes()
    turned = re.sub(rb"(ORIENTED_EDGE.*?)\.T\.", rb"\1.F.", data, count=1)
    (number,) = Step(turned).products()[solids.parts[0].name]
    with pytest.raises(AssertionError):
        Step(turned).solid(number)


def test_a_solid_in_several_pieces_is_several_solids_in_step():
    apart = trimesh.util.concatenate([BOX, BOX.copy().apply_translation((500.0, 0.0, 0.0))])
    part = PartSolid("pair", np.array(apart.vertices), np.array(apart.faces, np.int64))
    step = Step(content(SolidSet("Pair", (part,)), "step"))
    assert step.mistakes() == []
    found = [step.solid(one) for one in step.products()["pair"]]
    assert found == [(pytest.approx(6e6), pytest.approx(220000.0), 2)] * 2


def test_axes(standing):
    built = standing.airframe.by_name
    for name, low in (("aircraft", None), ("floor", 0.0)):
        solids = solids_of(standing, name)
        points = np.concatenate([part.points for part in solids.parts])
        if low is not None:
            assert points[:, 2].min() == pytest.approx(low, abs=1e-6)
            continue
        for part in solids.parts:
            if part.name in ("right wing", "hull"):
                want = built[part.name].points * 1000.0
                assert np.sort(part.points, axis=0)[[0, -1]] == pytest.approx(
                    np.sort(want, axis=0)[[0, -1]], abs=2e-6
                )


def test_the_same_bytes_twice():
    one, two = (
        solid_files(solids_of(stand(build(load(DESIGNS / "samphire.toml"))))) for _ in range(2)
    )
    assert sorted(one) == [f"airframe.{end}" for end in ("3mf", "glb", "obj", "step", "stl")]
    assert one == two


HOSTILE = (
    "<b>&\"'wing\"</b>", "W" * 200, "כנף ימין", "🛩 foil", "back\\slash # 'quoted'", "a\nb\x07",
    "wing", "wing", "wing (2)", "",
)  # fmt: skip


def test_names_are_kept_or_escaped_and_all_different():
    solids = boxes(*HOSTILE)
    names = [part.name for part in solids.parts]
    assert names == [
        *HOSTILE[:5], "a b", "wing", "wing (2)", "wing (2) (2)", "part",
    ]  # fmt: skip
    step = Step(content(solids, "step"))
    assert step.mistakes() == []
    assert [*step.products()] == [*names, "Boxes"]
    assert [*in_3mf(content(solids, "3mf"))[1]] == names
    scene = trimesh.load_scene(io.BytesIO(content(solids, "glb")), file_type="glb")
    assert {*scene.graph.nodes_geometry} == {*names}
    rows = content(solids, "obj").decode("utf-8").splitlines()
    objects = [row[2:] for row in rows if row.startswith("o ")]
    assert objects == [name.replace("\\", "_").replace("#", "_") for name in names]
    assert len([row for row in rows if row.startswith("v ")]) == 8 * len(names)


def test_a_part_may_have_the_name_of_the_whole():
    step = Step(content(replace(boxes("Boxes"), title="Boxes"), "step"))
    assert [*step.products()] == ["Boxes", "Boxes (all)"]


def test_text_of_step():
    from planform.report.exchange.step_text import real, string

    assert string("it's \\") == "'it''s \\\\'"
    assert string("ä") == "'\\X2\\00E4\\X0\\'"  # ISO 10303-21, 6.3.3: ISO 10646 in four digits
    assert string("🛩") == "'\\X4\\0001F6E9\\X0\\'"
    assert [real(v) for v in (1.0, -0.0, 0.25, -1e-9, 100.0)] == ["1.", "0.", "0.25", "0.", "100."]
    assert all(decoded(string(name)) == name for name in HOSTILE)


def test_a_facet_without_height_is_taken_out():
    """A box with a point in the middle of an edge, on one side of it only: a facet without area."""
    points = np.array(BOX.vertices)
    faces = np.array(BOX.faces, np.int64)
    a, b, c = faces[0]
    middle = (points[a] + points[b]) / 2.0
    cut = np.array([[a, len(points), c], [len(points), b, c], [a, b, len(points)]])
    faces = np.concatenate([faces[1:], cut])
    points = np.concatenate([points, [middle]])
    assert closed(faces)
    assert heights(points, faces).min() == 0.0
    new, mended = welded(points, faces)
    assert closed(mended)
    assert len(mended) == len(faces)
    assert heights(new, mended).min() > 1.0
    assert trimesh.Trimesh(new, mended, process=False).volume == pytest.approx(6e6)


def test_points_that_fall_together_are_one():
    points = np.array(BOX.vertices)[BOX.faces].reshape(-1, 3)
    new, faces = welded(points, np.arange(36).reshape(-1, 3))
    assert len(new) == 8
    assert closed(faces)


@settings(max_examples=6)
@given(worlds)
def test_solids_of_any_aircraft_stay_closed_and_as_large(found):
    import tomllib

    design = design_from(tomllib.loads(found.texts()["design"]))
    standing = stand_all(build(design))[-1]
    for part, solid in zip(standing.parts, solids_of(standing).parts, strict=True):
        mesh = trimesh.Trimesh(solid.points, solid.faces, process=False)
        assert closed(solid.faces)
        assert heights(solid.points, solid.faces).min() > THIN / 10.0
        assert mesh.volume == pytest.approx(part.trimesh().volume * 1e9, rel=SAME)
        assert mesh.area == pytest.approx(part.trimesh().area * 1e6, rel=SAME)

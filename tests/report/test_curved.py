"""STEP with curved faces, read back by the kernel: valid, named, as large as the true shapes.

The true volumes are found without the splines that are written: of a surface from a very fine mesh
of its own true sections; of a straight body by Simpson's rule, which is exact where each reach runs
straight (the area is then quadratic); of a smooth one by the area of superellipses in closed form.
"""

from __future__ import annotations

import itertools
import math
import tomllib

import numpy as np
import pytest
import trimesh

from planform.airframe.build import build
from planform.airframe.builders.bodies import columns_of
from planform.airframe.builders.gear import FAIRING, SMOOTH
from planform.airframe.stages import stand
from planform.airframe.stance import stand_on
from planform.airframe.surfaces import spans
from planform.airframe.true_curves import fine_section, frame
from planform.core.shape.hulls import monotone_slopes
from planform.core.shape.loft import loft
from planform.design.load import design_from, load
from tests.conftest import DESIGNS

pytest.importorskip("OCP", reason="curved STEP needs the optional extra planform[step]")

from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.collections import Sequence_TDF_Label
from OCP.GProp import GProp_GProps
from OCP.IFSelect import IFSelect_RetDone
from OCP.Message import Message
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

from planform.report.curved.document import written
from planform.report.curved.faces import faceted
from planform.report.curved.make import curved_file
from tests.report.test_exchange import HOSTILE, boxes


def read_back(tmp_path, data):
    """Name of the whole, and volume [m3] and middle [m] of every part by its name."""
    path = tmp_path / "read.step"
    path.write_bytes(data)
    messenger = Message.DefaultMessenger_s()
    for printer in list(messenger.Printers()):
        messenger.RemovePrinter(printer)
    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    assert reader.ReadFile(str(path)) == IFSelect_RetDone
    assert reader.Transfer(document)
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    roots = Sequence_TDF_Label()
    tool.GetFreeShapes(roots)
    assert roots.Length() == 1
    members = Sequence_TDF_Label()
    XCAFDoc_ShapeTool.GetComponents_s(roots.Value(1), members)
    out = {}
    for k in range(1, members.Length() + 1):
        shape = XCAFDoc_ShapeTool.GetShape_s(members.Value(k))
        assert BRepCheck_Analyzer(shape).IsValid()
        held = GProp_GProps()
        BRepGProp.VolumeProperties_s(shape, held, 1e-8)
        at = held.CentreOfMass()
        middle = np.array([at.X(), at.Y(), at.Z()]) / 1e3
        out[named(members.Value(k))] = (held.Mass() / 1e9, middle)
    return named(roots.Value(1)), out


def named(label):
    name = TDataStd_Name()
    assert label.FindAttribute(TDataStd_Name.GetID_s(), name)
    return name.Get().ToExtString()


def fine_mesh(half, first, last, steps):
    """A part of a surface as a mesh through its true sections, straight between them."""
    run = half.developed
    along = np.unique(
        np.concatenate([np.linspace(run[k], run[k + 1], steps + 1) for k in range(first, last)])
    )
    cuts = [fine_section(half, float(one)) for one in along]
    shut = half.closed
    rings = np.stack([
        np.concatenate([cut.upper[::-1], cut.lower[1:-1] if shut else cut.lower[1:]])
        for cut in cuts
    ])  # fmt: skip
    size, mine = rings.shape[1], len(cuts[0].upper)
    over = np.arange(mine)[::-1]
    under = (np.concatenate([[mine - 1], np.arange(mine, size), [0]]) if shut
             else np.concatenate([[mine - 1], np.arange(mine, size)]))  # fmt: skip
    cap = [t for k in range(mine - 1)
           for t in ([over[k], under[k], under[k + 1]], [over[k], under[k + 1], over[k + 1]])
           if len(set(t)) == 3]  # fmt: skip
    return trimesh.Trimesh(*loft(rings, np.array(cap)), process=False)


def surfaces(airframe):
    """The true volumes of all parts of surfaces [m3], by Richardson's rule along the span."""
    out = {}
    for half in airframe.halves:
        for name, first, last in spans(half):
            few, many = (fine_mesh(half, first, last, n).volume for n in (2, 4))
            out[name] = 2.0 * many - few  # a facet across a twisted patch is off by its width
    return out


def straight(body):
    """The true volume of a straight body [m3]."""

    def area(fs):
        y, z = frame(body, fs).T
        return 0.5 * float((y * np.roll(z, -1) - np.roll(y, -1) * z).sum())

    fs = [float(cut.fs) for cut in body.cuts]
    return sum(
        (b - a) / 6.0 * (area(a) + 4.0 * area(0.5 * (a + b)) + area(b))
        for a, b in itertools.pairwise(fs)
    )


def smooth(body):
    """The true volume of a smooth body: the area of a superellipse is 4 a b G(1+1/n)^2/G(1+2/n)."""
    table = columns_of(body.cuts).table()
    fs, slope = table[:, 0], monotone_slopes(table[:, 0], table[:, 1:])
    at, weight = np.polynomial.legendre.leggauss(40)
    total = 0.0
    for k in range(len(fs) - 1):
        step = fs[k + 1] - fs[k]
        for s, w in zip(0.5 * (1.0 + at), 0.5 * weight, strict=True):
            basis = (1 - 3 * s**2 + 2 * s**3, 3 * s**2 - 2 * s**3, s * (1 - s) ** 2, s**2 * (s - 1))
            row = (basis[0] * table[k, 1:] + basis[1] * table[k + 1, 1:]
                   + step * (basis[2] * slope[k] + basis[3] * slope[k + 1]))  # fmt: skip
            half, low, high, n = row[:4]
            area = 2.0 * half * (high - low) * math.gamma(1 + 1 / n) ** 2 / math.gamma(1 + 2 / n)
            total += w * step * area
    return total


def true_volumes(airframe):
    """Of surfaces with nothing cut out, bodies, wheels and legs [m3]."""
    out = surfaces(airframe)
    design = airframe.design
    for part in airframe.parts:
        if part.group in design.bodies:
            body = design.bodies[part.group]
            out[part.name] = smooth(body) if body.smooth else straight(body)
        if part.role == "wheel":
            wheel = design.wheels[part.group]
            out[part.name] = math.pi / 4.0 * float(wheel.diameter) ** 2 * float(wheel.width)
    return out


def with_controls(volumes, airframe):
    """The same with what is cut out put back, as a control is cut out of the part it stands on."""
    out = dict(volumes)
    for part in airframe.parts:
        if part.role == "control" and part.name in out:
            host = next(name for name in reversed(part.hosts) if name in out)
            out[host] += out.pop(part.name)
    return out


@pytest.mark.parametrize("name", ["marram", "quillwort", "samphire"])
def test_read_back_it_is_valid_named_and_as_large_as_the_true_shapes(tmp_path, name):
    standing = stand(build(load(DESIGNS / f"{name}.toml")))
    made = curved_file(standing, "aircraft")
    title, found = read_back(tmp_path, made.content)
    assert title == f"{standing.airframe.design.name}, {standing.title}"
    assert [*found] == [part.name for part in standing.parts]
    truth = true_volumes(standing.airframe)
    volumes = with_controls({key: volume for key, (volume, _) in found.items()}, standing.airframe)
    lofts = truth.keys() & volumes.keys()
    assert len(lofts) > 10
    for key in lofts:
        assert volumes[key] == pytest.approx(truth[key], rel=2e-5), key
    for part in standing.parts:
        if part.name in made.faceted:
            assert found[part.name][0] == pytest.approx(part.trimesh().volume, rel=1e-6)


def changed(name, *pairs):
    """A demo design with words of its file replaced, as it stands with every part on."""
    text = (DESIGNS / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    return stand(build(design_from(tomllib.loads(text))))


MORE = """[bodies.tub]
role = "boom"
cuts = [
  { fs = "FS 0 in", half_width = "5 in", bottom = "WL 60 in", top = "WL 70 in", keel = "2 in" },
  { fs = "FS 40 in", half_width = "9 in", bottom = "WL 60 in", top = "WL 72 in", keel = "3 in" },
]

[bodies.bag]
role = "boom"
side = "both"
bl = "BL 70 in"
smooth = true
cuts = [
  { fs = "FS 0 in", half_width = "2 in", bottom = "WL 80 in", top = "WL 85 in", boxiness = 1.6 },
  { fs = "FS 20 in", half_width = "9 in", bottom = "WL 78 in", top = "WL 90 in", boxiness = 5 },
  { fs = "FS 60 in", half_width = "4 in", bottom = "WL 80 in", top = "WL 86 in", boxiness = 3 },
]

[bodies.boom]"""
FAIRED = """
[wheels.main.fairing]
fs = "FS 20 in"
length = "30 in"
width = "7 in"
bottom = "WL -18 in"
top = "WL -6 in"
"""


def test_smooth_bodies_are_smooth_and_one_with_a_keel_is_told_to_be_faceted(tmp_path):
    pairs = (("[bodies.pod]", "[bodies.pod]\nsmooth = true"), ("[bodies.boom]", MORE))
    standing = changed("samphire", *pairs)
    made = curved_file(standing, "aircraft")
    assert "tub" in made.faceted
    _, found = read_back(tmp_path, made.content)
    bodies = standing.airframe.design.bodies
    for name, group in (("pod", "pod"), ("right bag", "bag"), ("left bag", "bag")):
        assert name not in made.faceted
        truth = smooth(bodies[group])
        assert found[name][0] == pytest.approx(truth, rel=1e-5), name
        assert abs(straight(bodies[group]) / truth - 1.0) > 1e-4  # its pieces are something else
    assert found["left bag"][1] == pytest.approx(found["right bag"][1] * [1.0, -1.0, 1.0])


def test_a_fairing(tmp_path):
    """Its sections are alike: the area of one times the squares of its size along its length."""
    airframe = changed("samphire", ("[wheels.nose]", f"{FAIRED}\n[wheels.nose]")).airframe
    made = curved_file(stand(airframe), "aircraft")
    _, found = read_back(tmp_path, made.content)
    inch, n = 0.0254, SMOOTH
    area = 7.0 * 12.0 * inch**2 * math.gamma(1 + 1 / n) ** 2 / math.gamma(1 + 2 / n)
    squares = sum(
        (b[0] - a[0]) * (a[1] ** 2 + a[1] * b[1] + b[1] ** 2) / 3.0
        for a, b in itertools.pairwise(FAIRING)
    )
    for name in ("right main fairing", "left main fairing"):
        assert name not in made.faceted
        assert found[name][0] == pytest.approx(area * squares * 30.0 * inch, rel=1e-5)


@pytest.mark.parametrize("stance", ["kneeling", "flat_tyre"])
def test_parts_stand_where_the_stance_has_them(tmp_path, stance):
    airframe = build(load(DESIGNS / "marram.toml"))
    standing = stand_on(airframe, stand(airframe).stage, stance)
    _, found = read_back(tmp_path, curved_file(standing, "floor").content)
    for part in standing.parts:
        mesh = part.trimesh()
        volume, middle = found[part.name]
        assert volume == pytest.approx(mesh.volume, rel=0.03), part.name
        assert middle == pytest.approx(mesh.center_mass, abs=0.01), part.name


def test_the_same_bytes_twice_a_header_without_clock_or_person_and_no_chatter(capfd):
    one, two = (curved_file(changed("quillwort"), "aircraft").content for _ in range(2))
    assert one == two
    text = one.decode("ascii")
    head = text.partition("DATA;")[0]
    assert "'2000-01-01T00:00:00',(''),('')" in head
    assert "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING" in head
    assert "SI_UNIT(.MILLI.,.METRE.)" in text
    assert tuple(capfd.readouterr()) == ("", "")


def test_names_are_kept(tmp_path):
    solids = boxes(*HOSTILE)
    data = written(solids, {part.name: faceted(part) for part in solids.parts})
    title, found = read_back(tmp_path, data)
    assert title == "Boxes"
    assert [*found] == [part.name for part in solids.parts]
    assert [volume for volume, _ in found.values()] == pytest.approx([6e-3] * len(found))

"""STEP, AP242, of curved solids: an assembly of one product a part, the same bytes every time."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.IFSelect import IFSelect_RetDone
from OCP.Interface import Interface_Static
from OCP.Message import Message
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_Controller
from OCP.StepData import StepData_StepModel
from OCP.StepRepr import StepRepr_NextAssemblyUsageOccurrence
from OCP.TCollection import TCollection_ExtendedString, TCollection_HAsciiString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Shape
from OCP.XCAFDoc import XCAFDoc_DocumentTool

from planform.report.exchange.solids import SolidSet
from planform.report.exchange.step import NO_DATE

AP242 = 5
"""The number by which the kernel knows the schema."""


def written(solids: SolidSet, shapes: dict[str, TopoDS_Shape]) -> bytes:
    """The bytes of the file. ValueError where the kernel does not write it.

    shapes : of every part of the set, by its name [mm]
    """
    with _quiet():
        STEPControl_Controller.Init_s()
        Interface_Static.SetIVal_s("write.step.schema", AP242)
        Interface_Static.SetCVal_s("write.step.unit", "MM")
        document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
        _fill(document, solids, shapes)
        writer = STEPCAFControl_Writer()
        writer.SetNameMode(True)
        writer.SetColorMode(False)  # it writes colours in an order that changes from run to run
        if not writer.Transfer(document):
            raise ValueError("Expected a document of solids, got one that is not taken")
        model = writer.ChangeWriter().Model()
        _numbered(model)
        _pinned(APIHeaderSection_MakeHeader(model))
        out = io.BytesIO()
        if writer.WriteStream(out) != IFSelect_RetDone:
            raise ValueError("Expected a file, got none")
    return out.getvalue()


def _fill(document: TDocStd_Document, solids: SolidSet, shapes: dict[str, TopoDS_Shape]) -> None:
    shape_tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    shape_tool.SetAutoNaming_s(False)
    whole = shape_tool.NewShape()
    _name(whole, solids.title)
    for part in solids.parts:
        one = shape_tool.AddShape(shapes[part.name], False)
        _name(one, part.name)
        _name(shape_tool.AddComponent(whole, one, TopLoc_Location()), part.name)
    shape_tool.UpdateAssemblies()


def _name(label: TDF_Label, words: str) -> None:
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(words, True))


def _numbered(model: StepData_StepModel) -> None:
    """The places in the assembly numbered from one: the kernel counts on from file to file."""
    places = (model.Value(k + 1) for k in range(model.NbEntities()))
    used = (one for one in places if isinstance(one, StepRepr_NextAssemblyUsageOccurrence))
    for number, one in enumerate(used, 1):
        one.SetId(TCollection_HAsciiString(str(number)))


def _pinned(header: APIHeaderSection_MakeHeader) -> None:
    """No clock, no person and no organisation in the header."""

    def said(words: str) -> TCollection_HAsciiString:
        return TCollection_HAsciiString(words)

    header.SetName(said("airframe.step"))
    header.SetTimeStamp(said(NO_DATE))
    header.SetAuthorValue(1, said(""))
    header.SetOrganizationValue(1, said(""))
    header.SetPreprocessorVersion(said("planform"))
    header.SetOriginatingSystem(said("planform"))
    header.SetAuthorisation(said(""))
    header.SetDescriptionValue(1, said("curved solids, millimetres"))


@contextmanager
def _quiet() -> Iterator[None]:
    """The kernel prints nothing while this lasts."""
    messenger = Message.DefaultMessenger_s()
    printers = list(messenger.Printers())
    for one in printers:
        messenger.RemovePrinter(one)
    try:
        yield
    finally:
        for one in printers:
            messenger.AddPrinter(one)

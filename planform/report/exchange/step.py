"""STEP, AP214: an assembly of one product a part, each a solid of plane facets, in millimetres.

Text of ISO 10303-21 with entities of ISO 10303-42 (geometry and topology), -41 (products), -43
(representations) and -44 (assemblies). The header names no person, no organisation and a fixed
date: no clock is read.
"""

from __future__ import annotations

from planform.report.exchange.solids import PartSolid, SolidSet
from planform.report.exchange.step_facets import solids_in
from planform.report.exchange.step_text import Entities, listed, real, string

ENDING = "step"
ABOUT = "an assembly of one product a part, faceted solids (AP214), millimetres"

SCHEMA = "AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }"
NO_DATE = "2000-01-01T00:00:00"
ACCURACY = 1e-5
"""How far an edge may be off its vertices or faces [mm]; coordinates are written to 1e-6 mm."""


def content(solids: SolidSet) -> bytes:
    """The bytes of the file, plain ASCII."""
    out = Entities()
    _Assembly(out, solids.title).put(solids)
    head = (
        "ISO-10303-21;\nHEADER;\n"
        f"FILE_DESCRIPTION(({string(solids.title)},'solids of plane facets, millimetres'),'2;1');\n"
        f"FILE_NAME('airframe.step','{NO_DATE}',(''),(''),'planform','planform','');\n"
        f"FILE_SCHEMA(('{SCHEMA}'));\nENDSEC;\nDATA;\n"
    )
    return f"{head}{out.text()}ENDSEC;\nEND-ISO-10303-21;\n".encode("ascii")


class _Assembly:
    """The products of a file and what they share: contexts, units, the axes of all."""

    def __init__(self, out: Entities, title: str) -> None:
        self.out, self.title = out, title
        self.about = out.put(
            "APPLICATION_CONTEXT('core data for automotive mechanical design processes')"
        )
        out.put(
            "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',"
            f"2000,{self.about})"
        )
        self.of_product = out.put(f"PRODUCT_CONTEXT('',{self.about},'mechanical')")
        self.of_design = out.put(
            f"PRODUCT_DEFINITION_CONTEXT('part definition',{self.about},'design')"
        )
        self.units = self._units()

    def _units(self) -> str:
        put = self.out.put
        mm = put("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))")
        radian = put("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))")
        steradian = put("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())")
        near = put(
            f"UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({real(ACCURACY)}),{mm},"
            "'distance_accuracy_value','maximum distance of an edge from its vertices')"
        )
        return put(
            "(GEOMETRIC_REPRESENTATION_CONTEXT(3)"
            f"GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(({near}))"
            f"GLOBAL_UNIT_ASSIGNED_CONTEXT(({mm},{radian},{steradian}))"
            "REPRESENTATION_CONTEXT('','3D'))"
        )

    def _axes(self) -> str:
        """Axes at the origin."""
        origin = self.out.put("CARTESIAN_POINT('',(0.,0.,0.))")
        up = self.out.put("DIRECTION('',(0.,0.,1.))")
        aft = self.out.put("DIRECTION('',(1.,0.,0.))")
        return self.out.put(f"AXIS2_PLACEMENT_3D('',{origin},{up},{aft})")

    def _product(self, name: str, shape: str) -> str:
        """A product with this shape representation; its definition."""
        put, said = self.out.put, string(name)
        product = put(f"PRODUCT({said},{said},'',({self.of_product}))")
        put(f"PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,({product}))")
        formation = put(f"PRODUCT_DEFINITION_FORMATION('','',{product})")
        definition = put(f"PRODUCT_DEFINITION('design','',{formation},{self.of_design})")
        whole = put(f"PRODUCT_DEFINITION_SHAPE('','',{definition})")
        put(f"SHAPE_DEFINITION_REPRESENTATION({whole},{shape})")
        return definition

    def _part(self, part: PartSolid) -> tuple[str, str, str]:
        """A part's definition, shape representation and axes."""
        axes = self._axes()
        items = listed([axes, *solids_in(self.out, part)])
        shape = self.out.put(
            f"ADVANCED_BREP_SHAPE_REPRESENTATION({string(part.name)},{items},{self.units})"
        )
        return self._product(part.name, shape), shape, axes

    def put(self, solids: SolidSet) -> None:
        """Write every part and the assembly that holds them where they are."""
        put = self.out.put
        parts = [self._part(part) for part in solids.parts]
        places = [self._axes() for _ in parts]
        title = string(self.title)
        items = listed([self._axes(), *places])
        whole = put(f"SHAPE_REPRESENTATION({title},{items},{self.units})")
        taken = {part.name for part in solids.parts}
        name = self.title if self.title not in taken else f"{self.title} (all)"
        definition = self._product(name, whole)
        for k, ((own, shape, axes), place) in enumerate(zip(parts, places, strict=True)):
            said = string(solids.parts[k].name)
            used = put(f"NEXT_ASSEMBLY_USAGE_OCCURRENCE('{k + 1}',{said},'',{definition},{own},$)")
            placed = put(f"PRODUCT_DEFINITION_SHAPE('placement','',{used})")
            moved = put(f"ITEM_DEFINED_TRANSFORMATION('','',{axes},{place})")
            related = put(
                f"(REPRESENTATION_RELATIONSHIP('','',{shape},{whole})"
                f"REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION({moved})"
                "SHAPE_REPRESENTATION_RELATIONSHIP())"
            )
            put(f"CONTEXT_DEPENDENT_SHAPE_REPRESENTATION({related},{placed})")

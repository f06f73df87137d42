"""The set of drawings of an aircraft: its pages, as one file or as a folder of all."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from planform.airframe.measure import extents, standing_measures
from planform.airframe.stance import Standing, stand_on
from planform.design.place import Place
from planform.design.problems import InputError
from planform.drawing.paper.frame import Title
from planform.drawing.paper.page import Page
from planform.drawing.paper.tables import FactRow
from planform.drawing.writers.papers import OF_ONE, written_as
from planform.fit.room import build_room
from planform.report.answer import Answer, Block, Files
from planform.report.sheets import (
    cant_options,
    general_views,
    room_plan,
    stage_heights,
    winglet_views,
)
from planform.report.sheets.aircraft_views import Aircraft
from planform.report.sheets.dimension_sheet import TITLE, SheetAsked, dimension_page
from planform.report.sheets.telling import Teller
from planform.report.words import CAUTIONS
from planform.study.spreads_of_measures import measure_spreads

UNITS = {"ft-in": "feet, inches", "in": "inches", "mm": "millimetres", "m": "metres"}


@dataclass(frozen=True, eq=False)
class DrawnAircraft:
    """One aircraft as it stands, drawn for a reader.

    standing : as drawn ; place : whose margins the door's sizes are told with; None for none
    asked : paper, scale and projection of the dimension sheet
    """

    standing: Standing
    place: Place | None
    asked: SheetAsked
    system: str

    @cached_property
    def aircraft(self) -> Aircraft:
        """What its sheets tell."""
        standing = self.standing
        found = measure_spreads((standing,))
        spread = found.design | found.standings[0]
        teller = Teller(standing.airframe.design, spread, self.system)
        return Aircraft(standing, standing_measures(standing), teller)

    @cached_property
    def heights(self) -> list[FactRow]:
        """How high it stands in each stance that its file has, the drawn one first."""
        drawn = self.standing
        names = dict.fromkeys((drawn.stance_name, *drawn.airframe.design.stances))
        rows = []
        for name in names:
            try:
                stood = stand_on(drawn.airframe, drawn.stage, name)
            except InputError:
                continue  # at this stage it does not stand so
            found = {one.key: one.value for one in extents(stood)}
            rows.append(FactRow(f"{drawn.stage.name}, {name}", self._said(found["height"])))
        return rows

    def _said(self, value: float) -> str:
        return self.aircraft.teller.words(value)

    def title(self, drawing: str, sheet: str) -> Title:
        """The title block of a sheet."""
        design = self.standing.airframe.design
        told = self.aircraft.drawings
        return Title(
            name=design.name,
            drawing=drawing,
            scale="",
            units=UNITS[self.system],
            date=told.date or datetime.date.today().isoformat(),
            sheet=sheet,
            revision=told.revision,
            measured_by=told.measured_by,
            cautions=f"{CAUTIONS[0]} {CAUTIONS[3]}",
        )

    def dimension_sheet(self) -> Page:
        """The dimension sheet for hangar planning."""
        title = self.title(f"{TITLE}: {self.standing.title}", "1")
        return dimension_page(self.aircraft, self.heights, self.place, self.asked, title)

    def general_views(self) -> Page:
        """Three-quarter views, from behind and from below."""
        title = self.title(f"{general_views.TITLE}: {self.standing.title}", "2")
        return general_views.views_page(self.aircraft, self.asked.paper, title)

    def winglets(self) -> Page | None:
        """The winglets in their own plane; None where none is on."""
        if not winglet_views.winglet_halves(self.aircraft):
            return None
        title = self.title(winglet_views.TITLE, "5")
        return winglet_views.winglet_page(self.aircraft, self.asked.paper, title)

    def cant_options(self) -> Page | None:
        """The winglets at several cants, to one scale; None where there are none."""
        options = cant_options.cants_of(self.standing)
        if len(options) < 2:
            return None
        title = self.title(cant_options.TITLE, "6")
        return cant_options.options_page(options, self.asked.paper, title, self.system)

    def room_plan(self, place: Place) -> Page:
        """The room in plan and section, the aircraft on its first spot."""
        shop = room_plan.shop_of(self.aircraft, build_room(place))
        title = self.title(f"{room_plan.TITLE}: {self.standing.title}", "4")
        return room_plan.room_page(shop, self.asked.paper, title)

    def stage_heights(self) -> Page:
        """Every stage as it stands, to one scale."""
        airframe = self.standing.airframe
        stood = [stand_on(airframe, stage) for stage in airframe.design.stages]
        teller = replace(self.aircraft.teller, spread={})
        stages = [Aircraft(one, standing_measures(one), teller) for one in stood]
        title = self.title(stage_heights.TITLE, "3")
        return stage_heights.heights_page(stages, self.asked.paper, title, self.system)


@dataclass(frozen=True, eq=False, kw_only=True)
class DrawingsAnswer(Answer):
    """The set of drawings; the page asked for, or all of them."""

    writes = "sheet"

    drawn: DrawnAircraft
    csv: Callable[[], str]

    def said(self, system: str) -> Iterator[Block]:
        """Nothing beside what is written."""
        return iter(())

    def files(self, system: str) -> Files:
        """All pages as one PDF, each as the other kinds, and the dimensions as a table."""
        pages = all_pages(self.drawn)
        name = self.drawn.standing.airframe.design.name
        out: dict[str, str | bytes] = {
            "drawings.pdf": written_as(tuple(pages.values()), "pdf", name)
        }
        for key, page in pages.items():
            for ending in OF_ONE:
                out[f"{key}.{ending}"] = written_as((page,), ending, page.title)
        return {**out, "dimensions.csv": self.csv()}


def all_pages(drawn: DrawnAircraft) -> dict[str, Page]:
    """Every page of the set, by the name of its file."""
    found = {
        "dimension-sheet": drawn.dimension_sheet(),
        "general-views": drawn.general_views(),
        "heights": drawn.stage_heights(),
    }
    winglets = drawn.winglets()
    if winglets is not None:
        found["winglets"] = winglets
    options = drawn.cant_options()
    if options is not None:
        found["cant-options"] = options
    if drawn.place is not None and drawn.place.spots:
        found["room-plan"] = drawn.room_plan(drawn.place)
    return found

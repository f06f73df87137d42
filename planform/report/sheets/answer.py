"""The set of drawings of an aircraft: its pages, as one file or as a folder of all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from planform.airframe.measure import extents, standing_measures, standing_sizes
from planform.airframe.stance import Standing, stand_on
from planform.design.place import Place
from planform.design.problems import InputError
from planform.drawing.paper.frame import Title
from planform.drawing.paper.page import Page
from planform.drawing.paper.tables import FactRow
from planform.drawing.writers.papers import OF_ONE, written_as
from planform.report.answer import Answer, Block, Files
from planform.report.measures.sheet import rows, sheet_csv
from planform.report.sheets.aircraft_views import Aircraft
from planform.report.sheets.dimension_sheet import TITLE, SheetAsked, dimension_page
from planform.report.sheets.telling import Teller
from planform.report.sheets.titles import date_of, title_of
from planform.study.spreads_of_measures import measure_spreads


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
        return Aircraft(standing, standing_sizes(standing), teller, self.asked.hidden)

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
        return title_of(self.standing.airframe.design, self.system, drawing, sheet=sheet)

    def dimension_sheet(self, sheet: str = "1") -> Page:
        """The dimension sheet for hangar planning."""
        title = self.title(f"{TITLE}: {self.standing.title}", sheet)
        return dimension_page(self.aircraft, self.heights, self.place, self.asked, title)

    def general_views(self, sheet: str) -> Page:
        """Three-quarter views, from behind and from below."""
        from planform.report.sheets import general_views

        title = self.title(f"{general_views.TITLE}: {self.standing.title}", sheet)
        return general_views.views_page(self.aircraft, self.asked.paper, title)

    def stations(self, sheet: str) -> Page:
        """The aircraft in its own axes with scales along the edges."""
        from planform.report.sheets import stations

        title = self.title(f"{stations.TITLE}: {self.standing.stage.name}", sheet)
        return stations.stations_page(self.aircraft, self.asked.paper, title)

    def sections(self, sheet: str) -> Page:
        """Hull and wing cut across."""
        from planform.report.sheets import stations

        title = self.title(f"{stations.SECTIONS}: {self.standing.stage.name}", sheet)
        return stations.sections_page(self.aircraft, self.asked.paper, title)

    def stage_heights(self, sheet: str) -> Page:
        """Every stage as it stands, to one scale."""
        from planform.report.sheets import stage_heights

        airframe = self.standing.airframe
        stood = [stand_on(airframe, stage) for stage in airframe.design.stages]
        teller = replace(self.aircraft.teller, spread={})
        stages = [Aircraft(one, standing_sizes(one), teller) for one in stood]
        title = self.title(stage_heights.TITLE, sheet)
        return stage_heights.heights_page(stages, self.asked.paper, title, self.system)

    def winglets(self, sheet: str) -> Page:
        """The winglets that are on, in their own plane."""
        from planform.report.sheets import winglet_views

        title = self.title(winglet_views.TITLE, sheet)
        return winglet_views.winglet_page(self.aircraft, self.asked.paper, title)

    def cant_options(self, sheet: str) -> Page:
        """The winglets at several cants, to one scale."""
        from planform.report.sheets import cant_options

        options = cant_options.cants_of(self.standing)
        title = self.title(cant_options.TITLE, sheet)
        return cant_options.options_page(options, self.asked.paper, title, self.system)

    def room_plan(self, sheet: str) -> Page:
        """The room in plan and section, the aircraft on its first spot."""
        from planform.fit.room import build_room
        from planform.report.sheets import room_plan

        assert self.place is not None
        shop = room_plan.shop_of(self.aircraft, build_room(self.place))
        title = self.title(f"{room_plan.TITLE}: {self.standing.title}", sheet)
        return room_plan.room_page(shop, self.asked.paper, title)

    def cut_by_hand(self) -> dict[str, tuple[Page, ...]]:
        """Templates in true size and the mock-up of the whole aircraft, by their files' names."""
        from planform.report.sheets.mockup import MockupAsked, mockup
        from planform.report.sheets.mockup_page import CAUTION, mockup_pages

        standing, paper = self.standing, self.asked.paper
        made = mockup(standing, MockupAsked(), self.system)
        design, drawing = standing.airframe.design, f"Mock-up: {made.title}"
        title = title_of(design, self.system, drawing, cautions=CAUTION)
        mocked = mockup_pages(made, paper, title, self.system)
        found = {"mock-up": mocked, "templates": self.templates[0]}
        return {name: pages for name, pages in found.items() if pages}

    @cached_property
    def templates(self) -> tuple[tuple[Page, ...], tuple[str, ...]]:
        """The usual templates in true size, and a sentence on each that cannot be drawn."""
        from planform.report.sheets.templates.pages import Heading
        from planform.report.sheets.templates.usual import usual_pages

        airframe = self.standing.airframe
        heading = Heading(airframe.design.name, date_of(airframe.design))
        return usual_pages(airframe, self.asked.paper, heading, self.system)

    def dimensions(self, system: str) -> str:
        """The dimensions as a table, CSV."""
        found = (standing_measures(self.standing),)
        return sheet_csv(rows(found, (self.aircraft.teller.spread,)), system)

    def pages(self) -> dict[str, Page]:
        """Every page of the set, by the name of its file; what there is nothing to show in, apart.

        Winglets and their options where one is on, the room where one with a spot is given.
        """
        from planform.report.sheets.winglet_views import winglet_halves

        makers = {
            "dimension-sheet": self.dimension_sheet,
            "general-views": self.general_views,
            "heights": self.stage_heights,
            "stations": self.stations,
            "sections": self.sections,
        }
        if winglet_halves(self.aircraft):
            makers |= {"winglets": self.winglets, "cant-options": self.cant_options}
        if self.place is not None and self.place.spots:
            makers["room-plan"] = self.room_plan
        return {
            name: make(f"{k + 1} of {len(makers)}") for k, (name, make) in enumerate(makers.items())
        }


@dataclass(frozen=True, eq=False, kw_only=True)
class DrawingsAnswer(Answer):
    """The set of drawings; the page asked for, or all of them."""

    writes = "sheet"

    drawn: DrawnAircraft

    def said(self, system: str) -> Iterator[Block]:
        """What the set leaves out."""
        return iter(self.drawn.templates[1])

    def files(self, system: str) -> Files:
        """All pages as one PDF, each as the other kinds, and the dimensions as a table."""
        pages = self.drawn.pages()
        name = self.drawn.standing.airframe.design.name
        out: dict[str, str | bytes] = {
            "drawings.pdf": written_as(tuple(pages.values()), "pdf", name)
        }
        for key, page in pages.items():
            for ending in OF_ONE:
                out[f"{key}.{ending}"] = written_as((page,), ending, page.title)
        for key, some in self.drawn.cut_by_hand().items():
            out[f"{key}.pdf"] = written_as(some, "pdf", f"{name}: {key}")
        return {**out, "dimensions.csv": self.drawn.dimensions(system)}

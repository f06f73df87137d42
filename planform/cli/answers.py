"""What the commands print: tables for people, JSON for programs."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planform.airframe.build import build
from planform.airframe.measure import Measures, design_measures, standing_measures
from planform.airframe.stages import stage_meant, stage_questions, stages_meant
from planform.airframe.stance import Standing, shaped, stand_on
from planform.cli.terminal import Table, show
from planform.design.carrier import Carrier
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError
from planform.design.questions import assumptions, design_questions, place_questions
from planform.design.told import plus_minus, reader, said
from planform.report import to_json
from planform.report.fit.push import PUSHED, instant
from planform.report.table import SheetTable
from planform.report.way_out.words import WAYS
from planform.report.words import ROOM_SIDES, curved, gone_over, whence

if TYPE_CHECKING:
    from planform.fit.answer import FitAnswer

LAST = "\nLAST CHANCE to come out"

PIPED_WIDTH = 130
"""Columns of a table that goes to a file or another program."""


def console(*, stderr: bool = False) -> Any:
    """Where tables go; every text is shown as it is, brackets and colons too."""
    from rich.console import Console

    console = Console(stderr=stderr, highlight=False, markup=False, emoji=False)
    if not console.is_terminal:
        console.width = PIPED_WIDTH
    return console


def headline(text: str) -> None:
    """What an answer is about, in bold."""
    console().print(text, style="bold")


VALUES = ("value", "gap", "wanted", "worst case", "99 %")
"""Heads of columns that hold values."""


def _table(title: str, columns: Sequence[str], rows: Iterable[Sequence[str]]) -> Table:
    values = frozenset(k for k, head in enumerate(columns) if head in VALUES)
    return Table(title, tuple(columns), tuple(map(tuple, rows)), values)


def told(*questions: str) -> None:
    """Ask questions back, beside the answer."""
    for question in questions:
        print(f"question: {question}", file=sys.stderr)


def check_files(files: list[Path], *, as_json: bool) -> int:
    """Check files of any sort; 0 where all are good, 2 otherwise."""
    found: list[dict[str, Any]] = []
    for path in files:
        entry: dict[str, Any] = {"file": str(path), "problems": [], "questions": []}
        try:
            entry["questions"] = list(_questions(path))
        except InputError as error:
            entry["problems"] = [
                {"path": p.path, "given": p.given, "allowed": p.allowed} for p in error.problems
            ]
            if not as_json:
                print(error, file=sys.stderr)
        found.append(entry)
        if not as_json and not entry["problems"]:
            print(f"{path}: good")
            told(*entry["questions"])
    if as_json:
        print(to_json.document("check", {"files": found}))
    return 2 if any(entry["problems"] for entry in found) else 0


def _questions(path: Path) -> tuple[str, ...]:
    from planform.design.load import load_any
    from planform.study.sound import refusals

    design = load_any(path)
    if isinstance(design, Place):
        return place_questions(design)
    if isinstance(design, Carrier):
        return ()
    found = refusals(design)
    if found:
        raise InputError(str(path), found)
    asked = design_questions(design)
    return (*asked, *stage_questions(build(design))) if design.stages else asked


def _standings(
    design: Design, stages: Sequence[str], stance: str | None
) -> tuple[list[Standing], tuple[str, ...]]:
    """The stages asked for as they stand, and what was taken where none was."""
    airframe = build(shaped(design))
    meant, taken = stages_meant(airframe, stages)
    return [stand_on(airframe, stage, stance) for stage in meant], taken


def show_measures(
    design: Design, stages: Sequence[str], stance: str | None, system: str, *, as_json: bool
) -> None:
    """Measures of the design, and of each stage asked for as it stands."""
    from planform.study.spreads_of_measures import measure_spreads

    standings, taken = _standings(design, stages, stance)
    found = design_measures(standings[0].airframe)
    moved = measure_spreads(standings)
    spreads = moved.design
    stood = [
        (s, standing_measures(s), spread)
        for s, spread in zip(standings, moved.standings, strict=True)
    ]
    questions = (*design_questions(design), *stage_questions(standings[0].airframe))
    if as_json:
        shown = [
            {
                "stage": s.stage.name,
                "stance": s.stance_name,
                "measures": to_json.measures(m, spread),
            }
            for s, m, spread in stood
        ]
        content = {
            "design": design.name,
            "measures": to_json.measures(found, spreads),
            "stages": shown,
            "questions": list(questions),
            "assumed": [*taken, *assumptions(design)],
        }
        print(to_json.document("measure", content))
        return
    screen = console()
    show(screen, _measure_table(design.name, found, spreads, system))
    for standing, measures, spread in stood:
        show(screen, _measure_table(standing.title, measures, spread, system, reference=False))
    for line in (*taken, *assumptions(design)):
        print(f"taken: {line}")
    told(*questions)


def _measure_table(
    title: str, found: Measures, spreads: Any, system: str, *, reference: bool = True
) -> Table:
    columns = ["measure", "value", "worst case", *(["reference"] if reference else [])]
    rows = []
    for item in found.items:
        spread = spreads.get(item.key)
        worst = plus_minus(spread.worst, item.kind, system) if spread else ""
        cells = [item.label, said(item.value, item.kind, system), worst]
        rows.append([*cells, *([item.reference] if reference else [])])
    return _table(title, columns, rows)


def show_fit(
    design: Design,
    place: Place,
    stages: Sequence[str],
    stance: str | None,
    spot: str | None,
    system: str,
    *,
    as_json: bool,
) -> int:
    """Print the verdicts; 0 where all fit (with care or without), 1 otherwise."""
    from planform.fit.room import build_room
    from planform.report.fit.advice import BAND_NOTE, sentences
    from planform.study.judging import judge
    from planform.study.next_reading import advice

    room = build_room(place)
    standings, taken = _standings(design, stages, stance)
    answers = [judge(standing, room, spot) for standing in standings]
    advices = [advice(answer, room) for answer in answers]
    questions = (
        *design_questions(design),
        *stage_questions(standings[0].airframe),
        *place_questions(place),
    )
    if as_json:
        content = {
            "design": design.name,
            "place": place.name,
            "stages": [to_json.fit(a, n) for a, n in zip(answers, advices, strict=True)],
            "questions": list(questions),
            "assumed": [*taken, *assumptions(design, place)],
        }
        print(to_json.document("fit", content))
    else:
        screen = console()
        for answer, found in zip(answers, advices, strict=True):
            show(screen, _fit_table(answer, place, system))
            for line in sentences(found, system):
                print(line)
            for note in answer.notes:
                print(f"note: {note}")
            for line in gone_over(() if answer.way is None else answer.way.gone_over):
                print(line)
            print()
        print(BAND_NOTE)
        for line in (WAYS, *PUSHED, ROOM_SIDES):
            print(line)
        for line in (*taken, *assumptions(design, place)):
            print(f"taken: {line}")
        told(*questions)
    return 0 if all(a.verdict.good for a in answers) else 1


def _fit_table(answer: FitAnswer, place: Place, system: str) -> Table:
    head = f"{answer.standing.title}: {answer.verdict}"
    rows = []
    for c in answer.checks:
        where = c.detail + (f"; {instant(c.tight, system)}" if c.tight else "")
        where += f" ({c.why})" if c.why else ""
        where += f"; at worst {c.built_detail}" if c.built_detail else ""
        more = [words for words in (curved(c, system), whence(place, c)) if words]
        cells = [
            c.title,
            c.verdict,
            "" if c.gap is None else said(c.gap, "gap", system),
            "" if c.wanted is None else said(c.wanted, "length", system),
            plus_minus(c.worst, "length", system),
            plus_minus(c.within_99, "length", system),
            "; ".join([where, *more]),
        ]
        rows.append(cells)
    columns = ("check", "verdict", "gap", "wanted", "worst case", "99 %", "where")
    return _table(head, columns, rows)


def show_stages(
    design: Design, places: list[Place], stages: Sequence[str], system: str, *, as_json: bool
) -> int:
    """Print stages in every place; 0 where all fit (with care or without), 1 otherwise."""
    from planform.study.stages import stage_table

    standings, taken = _standings(design, stages, None)
    found = stage_table(standings, places)
    questions = (
        *design_questions(design),
        *stage_questions(standings[0].airframe),
        *(q for p in places for q in place_questions(p)),
    )
    lines = (line for place in places for line in assumptions(design, place))
    assumed = dict.fromkeys((*taken, *lines))
    if as_json:
        content = {
            "design": design.name,
            **to_json.stage_table(found),
            "questions": list(questions),
            "assumed": list(assumed),
        }
        print(to_json.document("stages", content))
    else:
        rows = []
        chances = found.last_chances or (None,) * len(places)
        for standing, row in zip(found.standings, found.cells, strict=True):
            name = standing.title
            if standing.stage.permanent:
                name = f"[for good: {standing.stage.permanent}]\n{name}"
            cells = [
                _cell(answer, system) + (LAST if chance and chance.is_at(standing.stage) else "")
                for answer, chance in zip(row, chances, strict=True)
            ]
            rows.append([name, *cells])
        head = f"{design.name}, stage by stage"
        show(console(), _table(head, ["stage", *(p.name for p in places)], rows))
        for chance in found.last_chances:
            print(chance.words)
        print(WAYS)
        print("planform fit with one place shows every check, its tolerance and what to measure.")
        for line in assumed:
            print(f"taken: {line}")
        told(*questions)
    return 0 if all(a.verdict.good for row in found.cells for a in row) else 1


def _cell(answer: FitAnswer, system: str) -> str:
    """One stage in one place: each question's verdict and the gap that decides it."""
    lines = []
    questions = (
        ("in the room", answer.verdict_of("room"), answer.deciding_in("room")),
        ("out", answer.out_verdict, answer.deciding_out),
    )
    for asked, verdict, check in questions:
        lines.append(f"{asked}: {verdict}")
        if check is not None and check.gap is not None:
            band = plus_minus(check.worst, "length", system)
            gap = f"{said(check.gap, 'gap', system)} {band}".strip()
            lines.append(f"  {gap} {check.title}")
        elif check is not None:
            lines.append(f"  {check.missing}")
    return "\n".join(lines)


@contextmanager
def progress_bar(total: int) -> Iterator[Any]:
    """A bar on a terminal; what it yields is told words, and how far it is or one step more."""
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    words = TextColumn("{task.description:<44}", markup=False)
    columns = (words, BarColumn(), TimeElapsedColumn())
    screen = console(stderr=True)
    if not screen.is_terminal:
        yield lambda words, done=None: None
        return
    with Progress(*columns, transient=True, console=screen) as bar:
        task = bar.add_task("reading", total=total)

        def step(words: str, done: int | None = None) -> None:
            if done is None:
                bar.update(task, description=words, advance=1)
            else:
                bar.update(task, description=words, completed=done)

        yield step


def write_preview(design: Design, stage: str | None, stance: str | None, folder: Path) -> None:
    """Stills of one stage (the complete one where none is named) and its solids."""
    from planform.airframe.export import write_solids
    from planform.drawing.pictures import render
    from planform.drawing.scenes import aircraft_scene
    from planform.report.folder import whole_folder

    airframe = build(shaped(design))
    chosen, taken = stage_meant(airframe, stage)
    standing = stand_on(airframe, chosen, stance)
    with progress_bar(2) as step, whole_folder(folder, "preview") as workshop:
        step("writing solids")
        write_solids(standing, workshop)
        step("drawing pictures")
        pictures = render(aircraft_scene(standing), workshop)
        names = sorted(path.name for path in workshop.iterdir())
    print(f"{standing.title}: wrote {', '.join(names)} to {folder}")
    for line in taken:
        print(f"taken: {line}")
    if pictures.remark:
        print(f"note: {pictures.remark}", file=sys.stderr)
    told(*design_questions(design), *stage_questions(airframe))


def write_sheet(
    design: Design, stages: Sequence[str], stance: str | None, folder: Path, system: str
) -> None:
    """The dimension sheet alone, without a place."""
    from planform.report.folder import whole_folder
    from planform.report.measures.sheet import rows, to_csv
    from planform.report.whole.report import sheet_page
    from planform.study.spreads_of_measures import measure_spreads

    standings, taken = _standings(design, stages, stance)
    heights = tuple(standing_measures(s) for s in standings)
    lines = rows(heights, measure_spreads(standings).standings)
    with whole_folder(folder, "sheet") as workshop:
        (workshop / "dimensions.csv").write_text(to_csv(lines, reader(system)), encoding="utf-8")
        page = sheet_page(design, tuple(standings), lines, heights, system)
        (workshop / "sheet.html").write_text(page, encoding="utf-8")
    print(f"wrote dimensions.csv and sheet.html to {folder}")
    for line in taken:
        print(f"taken: {line}")
    told(*design_questions(design), *stage_questions(standings[0].airframe))


def write_whole_report(design: Design, place: Place, folder: Path, system: str) -> None:
    """The main job."""
    from planform.report.whole.report import write_report

    with progress_bar(len(design.stages) + 5) as step:
        found = write_report(design, place, folder, system, step)
    for answer in found.fits:
        print(f"{answer.standing.title}: {answer.verdict}")
    print(f"wrote {folder}/report.html, sheet.html, dimensions.csv, answer.json, pictures, solids")
    if found.remark:
        print(f"note: {found.remark}", file=sys.stderr)
    told(*found.questions)


def show_balance(
    design: Design, stages: Sequence[str], folder: Path | None, system: str, *, as_json: bool
) -> int:
    """Print the balance, or write it into a folder; 1 where a case is outside, or it tips."""
    from planform.balance.loading import CARE, INSIDE
    from planform.balance.questions import balance_assumptions, balance_questions
    from planform.report.balance.tables import tables
    from planform.report.words import BALANCE_CAUTIONS
    from planform.study.spreads_of_balance import balance_findings

    airframe = build(design)
    meant, taken = stages_meant(airframe, stages) if stages or design.stages else ((), ())
    found = balance_findings(tuple(stand_on(airframe, stage) for stage in meant), design, taken)
    answer = found.answer
    questions = (
        *design_questions(design), *stage_questions(airframe), *balance_questions(answer)
    )  # fmt: skip
    assumed = (*taken, *balance_assumptions(answer))
    if folder is not None:
        from planform.report.balance.page import write_balance

        names = write_balance(found, folder, system)
        for case in () if as_json else answer.cases:
            print(f"{case.name}: {case.verdict}")
        print(f"wrote {', '.join(names)} to {folder}", file=sys.stderr if as_json else sys.stdout)
    if as_json:
        from planform.report.balance.page import everything

        print(everything(found))
    elif folder is None:
        show_tables(tables(found), system)
        for line in assumed:
            print(f"taken: {line}")
        print(f"caution: {BALANCE_CAUTIONS[0]}")
    if not as_json:
        told(*questions)
    good = all(case.verdict in (INSIDE, CARE) for case in answer.cases)
    stays = all(one.stands for one in answer.leavings)
    return 0 if good and stays and all(stage.stands for stage in answer.standings) else 1


def show_tables(sheets: Iterable[SheetTable], system: str) -> None:
    """Print tables of data, each with its remarks."""
    screen = console()
    for sheet in sheets:
        show(screen, _sheet_table(sheet, system))
        for remark in sheet.remarks:
            screen.print(f"  {remark}", soft_wrap=True)
        if sheet.remarks:
            screen.print()


def _sheet_table(sheet: SheetTable, system: str) -> Table:
    from planform.report.words import cell

    rows = tuple(tuple(cell(one, system) for one in row) for row in sheet.rows)
    values = frozenset(k for k in range(len(sheet.columns)) if sheet.numeric(k))
    return Table(sheet.title, sheet.columns, rows, values)

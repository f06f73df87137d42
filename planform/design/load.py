"""Reading design and place files: every mistake of a file is reported at once."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from types import UnionType
from typing import TYPE_CHECKING, Annotated, Any, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError

from planform.design.bounds import out_of_size, too_many
from planform.design.carrier import Carrier, check_carrier
from planform.design.checks import check_design
from planform.design.doors import NEEDED
from planform.design.fields import shortened
from planform.design.files import table_of
from planform.design.former import in_new_keys, no_such_field
from planform.design.including import Whole, whole_of
from planform.design.models import Design
from planform.design.naming import path_of, path_text
from planform.design.place import Place
from planform.design.place_checks import check_place
from planform.design.problems import InputError, Problem, told_once
from planform.design.profile_files import with_coordinates
from planform.design.values import with_values

if TYPE_CHECKING:
    from pydantic import TypeAdapter

M = TypeVar("M", Design, Place, Carrier)
N = TypeVar("N", bound=BaseModel)

SORTS = {"design": Design, "place": Place, "carrier": Carrier}

MOST_MISTAKES = 500
"""Mistakes of one file that are worked out in words."""


def load(path: str | Path) -> Design:
    """Read and check a design file. Raises InputError with all its problems."""
    return _design_at(Path(path), whole_of(Path(path), Design))


def _design_at(path: Path, found: Whole) -> Design:
    table, faults = with_coordinates(found.table, path.parent)
    try:
        return design_from(table, str(path), [*found.faults, *faults])
    except InputError as error:
        raise found.told_all(error) from None


def load_place(path: str | Path) -> Place:
    """Read and check a place file. Raises InputError with all its problems."""
    return _place_at(Path(path), whole_of(Path(path), Place))


def _place_at(path: Path, found: Whole) -> Place:
    try:
        return place_from(found.table, str(path), found.faults)
    except InputError as error:
        raise found.told_all(error) from None


def load_carrier(path: str | Path) -> Carrier:
    """Read and check a carrier file. Raises InputError with all its problems."""
    return _carrier_at(Path(path), whole_of(Path(path), Carrier))


def _carrier_at(path: Path, found: Whole) -> Carrier:
    try:
        return carrier_from(found.table, str(path), found.faults)
    except InputError as error:
        raise found.told_all(error) from None


def load_any(path: str | Path) -> Design | Place | Carrier:
    """Read and check a file of any sort, by its format line (a design where it has none)."""
    given = str(table_of(Path(path)).get("format", ""))
    if "place" in given:
        return load_place(path)
    return load_carrier(path) if "carrier" in given else load(path)


def design_from(
    table: dict[str, Any], origin: str = "design", faults: Iterable[Problem] = ()
) -> Design:
    """Check a design given as nested tables (as a design file holds them).

    faults : what is wrong with files that it names, told with the other problems
    """
    table, former = in_new_keys(table)
    return _checked(Design, table, origin, check_design, [*former, *faults])


def place_from(
    table: dict[str, Any], origin: str = "place", faults: Iterable[Problem] = ()
) -> Place:
    """Check a place given as nested tables (as a place file holds them); faults as of a design."""
    return _checked(Place, table, origin, lambda place, _: check_place(place), faults)


def carrier_from(
    table: dict[str, Any], origin: str = "carrier", faults: Iterable[Problem] = ()
) -> Carrier:
    """Check a carrier given as nested tables (as a carrier file holds them); faults likewise."""
    return _checked(Carrier, table, origin, lambda carrier, _: check_carrier(carrier), faults)


def changed(design: Design, path: str, value: object) -> Design:
    """A new design with one field changed, checked again.

    path : dotted, list items by number from 1, as in problems: "winglets.winglet.cant" or
        "lifting.wing.cuts[2].chord"
    """
    table = design.model_dump(mode="json", exclude_unset=True)
    try:
        put(table, path, value)
    except LookupError:
        raise InputError("change", [Problem(path, repr(value), no_such_field(path))]) from None
    return design_from(table, "change")


def put(table: dict[str, Any], path: str, value: object) -> None:
    """Put a value at a dotted path of nested tables; LookupError where there is no such field."""
    keys = path_of(path)
    if not keys:
        raise LookupError(path)
    target: Any = table
    try:
        for key in keys[:-1]:
            target = target[key]
        if isinstance(target, list):
            _ = target[keys[-1]]  # type: ignore[index]
        target[keys[-1]] = value
    except (KeyError, IndexError, TypeError):
        raise LookupError(path) from None


def _checked(
    model: type[M],
    table: dict[str, Any],
    origin: str,
    check: Callable[[M, M], Iterable[Problem]],
    former: Iterable[Problem] = (),
) -> M:
    problems = list(former)
    wanted = next(sort for sort, one in SORTS.items() if one is model)
    given = str(table.get("format", ""))
    other = next((s for s in SORTS if s != wanted and given.startswith(f"planform {s}")), None)
    if other is not None:
        problem = Problem(
            "format",
            repr(table["format"]),
            f"this is a {other} file; a {wanted} file is wanted here",
        )
        raise InputError(origin, [problem])
    many = list(too_many(table))
    if many:
        raise InputError(origin, many)
    table = with_values(table)
    try:
        whole = written = model.model_validate(table)
    except ValidationError as error:
        problems += _problems(model, error)
        whole, written = _readable_parts(model, table), _written(model, table)
    for found in (out_of_size(whole), check(whole, written)):
        told = {problem.path for problem in problems}
        problems += [problem for problem in found if problem.path not in told]
    problems = told_once(problems)
    if problems:
        raise InputError(origin, problems)
    return whole


def _readable_parts(model: type[N], table: dict[str, Any]) -> N:
    """What can be read whole of a faulty file, so that the cross-checks still run."""
    kept: dict[str, Any] = {}
    for name, field in model.model_fields.items():
        given = table.get(name)
        default = field.get_default(call_default_factory=True)
        kept[name] = None if field.is_required() else default
        holds = get_origin(field.annotation)
        if isinstance(given, dict) and holds is dict:
            kept[name] = {}
            for key, item in given.items():
                kept[name].update(_try(model, name, {key: item}) or {})
        elif isinstance(given, list) and holds is tuple:
            kept[name] = ()
            for item in given:
                read = _try(model, name, [item])
                kept[name] += read if isinstance(read, tuple) else ()
        elif given is not None:
            value = _try(model, name, given)
            if value is not None:
                kept[name] = value
    return model.model_construct(**kept)


def _try(model: type[BaseModel], name: str, given: object) -> object:
    """A field's value, None where it cannot be read."""
    try:
        return _reader(model, name).validate_python(given)
    except ValidationError:
        return None


@cache
def _reader(model: type[BaseModel], name: str) -> TypeAdapter[Any]:
    from pydantic import TypeAdapter

    field = model.model_fields[name]
    annotation: Any = field.annotation
    for mark in field.metadata:
        annotation = Annotated[annotation, mark]
    return TypeAdapter(annotation)


def _written(model: type[N], table: object) -> N:
    """All that a faulty file speaks of, its fields as far as they can be read.

    What cannot be read is its default, or None; so names, sides and the like are known of what
    has a mistake elsewhere.
    """
    given = table if isinstance(table, dict) else {}
    kept: dict[str, Any] = {}
    for name, field in model.model_fields.items():
        inner = _as_model(field.annotation)
        default = None if field.is_required() else field.get_default(call_default_factory=True)
        if inner is not None and (name in given or field.is_required()):
            kept[name] = _entries(field.annotation, inner, given.get(name))
        else:
            value = _try(model, name, given[name]) if name in given else None
            kept[name] = default if value is None else value
    return model.model_construct(**kept)


def _entries(annotation: object, inner: type[BaseModel], given: object) -> object:
    """What a field of models speaks of: one, a table of them by name, or a list of them."""
    while get_origin(annotation) in (Annotated, Union, UnionType):
        annotation = get_args(annotation)[0]
    holds = get_origin(annotation)
    if holds is dict:
        found = given.items() if isinstance(given, dict) else ()
        return {name: _written(inner, one) for name, one in found}
    if holds is tuple:
        return tuple(_written(inner, one) for one in (given if isinstance(given, list) else ()))
    return _written(inner, given)


def _problems(model: type[BaseModel], error: ValidationError) -> list[Problem]:
    details = error.errors(include_url=False)[:MOST_MISTAKES]
    places = [tuple(d["loc"]) for d in details]
    out = []
    for detail, place in zip(details, places, strict=True):
        inside = any(len(q) > len(place) and q[: len(place)] == place for q in places)
        if detail["type"] in ("too_short", "tuple_type") and inside:
            continue
        out.append(_problem(model, dict(detail), place))
    seen: dict[str, Problem] = {}
    for problem in out:
        seen.setdefault(problem.path + problem.allowed, problem)
    return list(seen.values())


def _problem(model: type[BaseModel], detail: dict[str, Any], place: tuple[Any, ...]) -> Problem:
    kind, context = detail["type"], detail.get("ctx", {})
    path = path_text(place)
    given = _shown(detail.get("input"))
    if kind in ("notation", "bound", "cross"):
        return Problem(path, context["given"], context["allowed"], context.get("rests", ()))
    if kind == "extra_forbidden":
        fields = _fields_at(model, place[:-1])
        near = difflib.get_close_matches(str(place[-1]), fields, n=1, cutoff=0.5)
        hint = f"did you mean {near[0]}? " if near else ""
        return Problem(path, "", f"no such field; {hint}fields here: {', '.join(fields)}")
    if kind == "missing":
        return Problem(path, "nothing", f"this field is needed{NEEDED.get(str(place[-1]), '')}")
    if kind == "literal_error":
        expected = context.get("expected", "")
        return Problem(path, given, f"allowed: {expected}")
    if kind == "too_short":
        return Problem(path, given, f"allowed: at least {context.get('min_length')} entries")
    if kind == "too_long":
        return Problem(path, given, f"allowed: at most {context.get('max_length')} entries")
    if kind == "string_too_short":
        return Problem(path, given, "allowed: a text that is not empty")
    if kind == "string_too_long":
        return Problem(path, given, f"allowed: at most {context.get('max_length')} characters")
    if kind in WANTED:
        return Problem(path, given, f"allowed: {WANTED[kind]}")
    message = detail["msg"].removeprefix("Value error, ").replace("Input should be", "allowed:")
    return Problem(path, given, message)


WANTED = {
    "string_type": "a text in quotes",
    "dict_type": "a table of fields by name",
    "model_type": "a table of fields",
    "tuple_type": "a list",
    "bool_type": "true or false",
    "bool_parsing": "true or false",
    "float_type": "a number",
}
"""What a field takes, by the sort of mistake."""


def _shown(value: object) -> str:
    huge = isinstance(value, int) and abs(value) >= 10**15
    return "a very large number" if huge else shortened(value)


def _fields_at(model: type[BaseModel], place: tuple[Any, ...]) -> list[str]:
    """Field names of the model at a place; dict keys and list numbers stay in the same model."""
    current: type[BaseModel] | None = model
    keyed = False
    for step in place:
        if keyed or isinstance(step, int):
            keyed = False
        elif current is not None and str(step) in current.model_fields:
            annotation = current.model_fields[str(step)].annotation
            keyed = dict in (get_origin(annotation), *map(get_origin, get_args(annotation)))
            current = _as_model(annotation)
    return list(current.model_fields) if current else []


def _as_model(annotation: object) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for part in get_args(annotation):
        found = _as_model(part)
        if found:
            return found
    return None

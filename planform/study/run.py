"""Running a study: in this process, on local processes, or on a dask scheduler.

Records are the same whoever works them out. With a folder they are streamed to it, a small
parquet file at a time, each written whole and then named; a study that was stopped goes on from
what is there, with nothing lost and nothing twice. When all is done the parts are joined.
"""

from __future__ import annotations

import hashlib
import json
import os
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any

from planform.design.problems import Failure, InputError, Problem
from planform.study.compare import FIELDS, TEXTS, Study, evaluate
from planform.study.options import Option
from planform.study.processes import bound_to_parent
from planform.study.terms import Figures

Progress = Callable[[int, int], None]

ALONE = 8
"""Options up to which starting other processes costs more than it saves."""
CHUNK = 4
"""Options handed to a process at a time."""
AHEAD = 4
"""Chunks handed out ahead for every worker, so that none waits."""
ANSWERS = "10s"
"""How long a scheduler is waited for."""
FLUSH_SECONDS = 2.0
FLUSH_RECORDS = 256
WHOLE = "options.parquet"
PARTS = "parts"
HALF = "half.writing"


def fingerprint(study: Study, options: Sequence[Option]) -> str:
    """What a folder of records belongs to: the same files, terms, options, columns and version."""
    from planform import __version__

    asked = [[o.name, list(o.changes)] for o in options]
    said = json.dumps([__version__, [*FIELDS, *TEXTS], asdict(study), asked])
    return hashlib.sha256(said.encode()).hexdigest()[:24]


def run_study(
    study: Study,
    options: Sequence[Option],
    *,
    workers: int | None = None,
    scheduler: str | None = None,
    folder: Path | None = None,
    progress: Progress = lambda done, whole: None,
) -> list[Figures]:
    """Every option's record, in order.

    workers : local processes; as many as there are cores where None, this one alone where 1
    scheduler : address of a dask scheduler, which then does the work
    folder : where to stream the records (needs the 'sweep' extra); what is there is taken over
    progress : told how many of how many are done
    """
    store = _Store(folder, study, options) if folder is not None else None
    done: dict[int, Figures] = store.records() if store is not None else {}
    left = [option for option in options if option.number not in done]
    progress(len(done), len(options))
    try:
        for record in _worked(study, left, workers, scheduler):
            done[int(record["number"])] = record
            if store is not None:
                store.add(record)
            progress(len(done), len(options))
    finally:
        if store is not None:
            store.flush()
    if store is not None:
        store.finish([done[o.number] for o in options])
    return [done[option.number] for option in options]


def _worked(
    study: Study, options: Sequence[Option], workers: int | None, scheduler: str | None
) -> Iterator[Figures]:
    if not options:
        return
    if scheduler is not None:
        yield from _on_dask(study, options, scheduler)
        return
    count = workers if workers is not None else (os.cpu_count() or 1)
    if count <= 1 or (workers is None and len(options) <= ALONE):
        for option in options:
            yield from evaluate_all(study, [option])
        return
    yield from _on_processes(study, options, count)


def evaluate_all(study: Study, options: Sequence[Option]) -> list[Figures]:
    """The records of a few options; what a worker is asked for.

    On one numeric thread: the same sums in the same order wherever it runs, and processes share
    the cores better than threads do.
    """
    from threadpoolctl import threadpool_limits

    with threadpool_limits(limits=1):
        return [evaluate(study, option) for option in options]


def _chunks(options: Sequence[Option], workers: int) -> list[Sequence[Option]]:
    size = max(1, min(CHUNK, len(options) // (2 * workers)))
    return [options[k : k + size] for k in range(0, len(options), size)]


def _on_processes(study: Study, options: Sequence[Option], workers: int) -> Iterator[Figures]:
    from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait
    from concurrent.futures.process import BrokenProcessPool
    from multiprocessing import get_context

    waiting = iter(_chunks(options, workers))
    with ProcessPoolExecutor(workers, get_context("spawn"), initializer=bound_to_parent) as pool:
        try:
            running = set()
            for chunk in _first(waiting, AHEAD * workers):
                running.add(pool.submit(evaluate_all, study, chunk))
            while running:
                ready, running = wait(running, return_when=FIRST_COMPLETED)
                for future in ready:
                    yield from future.result()
                    for chunk in _first(waiting, 1):
                        running.add(pool.submit(evaluate_all, study, chunk))
        except BrokenProcessPool:
            raise Failure(
                "a worker was stopped, by another program or for want of memory; what was done is "
                "kept in the folder, if one was named: start it again, or with --workers 1"
            ) from None
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


def _first(items: Iterator[Any], count: int) -> Iterator[Any]:
    for _, item in zip(range(count), items, strict=False):
        yield item


def _on_dask(study: Study, options: Sequence[Option], address: str) -> Iterator[Figures]:
    try:
        import distributed
    except ImportError:
        allowed = "needs the cluster extra: pip install 'planform[cluster]'"
        raise InputError("option", [Problem("--scheduler", repr(address), allowed)]) from None
    try:
        engine: Any = distributed
        client = engine.Client(address, timeout=ANSWERS, set_as_default=False)
    except (OSError, ValueError, TimeoutError) as error:
        allowed = f"no dask scheduler answers there ({type(error).__name__})"
        raise InputError("option", [Problem("--scheduler", repr(address), allowed)]) from None
    with client:
        workers = max(1, sum(client.nthreads().values()))
        waiting = iter(_chunks(options, workers))

        def handed(chunk: Sequence[Option]) -> Any:
            # pure=False: a chunk lost with its worker is worked out again under the same key
            return client.submit(evaluate_all, study, list(chunk), pure=False, retries=3)

        with client.as_current():
            pool = engine.as_completed([handed(c) for c in _first(waiting, AHEAD * workers)])
        for future in pool:
            yield from future.result()
            for chunk in _first(waiting, 1):
                pool.add(handed(chunk))


class _Store:
    """A folder of parquet parts that ends as one file."""

    def __init__(self, folder: Path, study: Study, options: Sequence[Option]) -> None:
        try:
            import pyarrow as pa
            import pyarrow.parquet as pq
        except ImportError:
            allowed = "streaming needs the sweep extra: pip install 'planform[sweep]'"
            raise InputError("option", [Problem("-o", str(folder), allowed)]) from None
        self.pa, self.pq = pa, pq
        self.folder, self.parts = folder, folder / PARTS
        self.mark = fingerprint(study, options)
        self.pending: list[Figures] = []
        self.last = time.monotonic()
        self.have: dict[int, Figures] = {}
        for path in [folder / WHOLE, *sorted(self.parts.glob("*.parquet"))]:
            if path.exists():
                for record in self._read(path):
                    self.have.setdefault(int(record["number"]), record)

    def _read(self, path: Path) -> Iterable[Figures]:
        try:
            table = self.pq.read_table(path)
        except (OSError, self.pa.ArrowException) as error:
            words = f"{path}: cannot be read as records ({' '.join(str(error).split())[:120]}); "
            allowed = words + "take this file away, then what it held is worked out again"
            raise InputError("output", [Problem("-o", str(self.folder), allowed)]) from None
        mark = (table.schema.metadata or {}).get(b"planform study", b"").decode()
        if mark != self.mark:
            allowed = (
                "holds the records of another study, or of an older version; name another folder"
            )
            raise InputError("output", [Problem("-o", str(self.folder), allowed)])
        found: list[Figures] = table.to_pylist()
        return found

    def records(self) -> dict[int, Figures]:
        """What is there already, by number."""
        return dict(self.have)

    def add(self, record: Figures) -> None:
        """Keep a record; written with others, at the latest two seconds on."""
        self.pending.append(record)
        late = time.monotonic() - self.last > FLUSH_SECONDS
        if late or len(self.pending) >= FLUSH_RECORDS:
            self.flush()

    def flush(self) -> None:
        """Write what is pending as a part of its own."""
        if self.pending:
            first = min(int(r["number"]) for r in self.pending)
            self._opened()
            name = f"{first:09d}-{len(list(self.parts.iterdir())):06d}.parquet"
            self._write(self.parts / name, self.pending)
        self.pending = []
        self.last = time.monotonic()

    def _opened(self) -> None:
        """Make the folder of parts with the first of them, so that a refused study leaves none."""
        try:
            self.parts.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            allowed = f"this folder cannot be written ({error.strerror}); name another"
            raise InputError("output", [Problem("-o", str(self.folder), allowed)]) from None

    def finish(self, records: list[Figures]) -> None:
        """Join everything into one file and drop the parts."""
        self._opened()
        self._write(self.folder / WHOLE, records)
        for path in (*self.parts.glob("*.parquet"), self.parts / HALF):
            path.unlink(missing_ok=True)
        with suppress(OSError):  # it holds something of somebody else
            self.parts.rmdir()

    def _write(self, path: Path, records: list[Figures]) -> None:
        schema = _schema(self.pa).with_metadata({"planform study": self.mark})
        temporary = self.parts / HALF  # goes with the parts, also after a kill
        try:
            self.pq.write_table(self.pa.Table.from_pylist(records, schema=schema), temporary)
            os.replace(temporary, path)
        except OSError as error:
            reason = error.strerror or str(error)
            allowed = f"writing stopped: {reason}"
            raise InputError("output", [Problem("-o", str(self.folder), allowed)]) from None


def _schema(pa: Any) -> Any:
    from planform.design.units import KINDS, SI_UNIT

    fields = [pa.field("number", pa.int64()), *(pa.field(name, pa.string()) for name in TEXTS)]
    for name, (_, kind) in FIELDS.items():
        unit = SI_UNIT[KINDS.get(kind, kind)]
        fields.append(pa.field(name, pa.float64(), metadata={"unit": unit}))
    return pa.schema(fields)

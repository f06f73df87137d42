"""What is compiled of a loop, as files: looked for in one folder or more, kept in one at most."""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from numba.core.base import BaseContext
from numba.core.caching import IndexDataCacheFile
from numba.core.compiler import CompileResult

GENERIC = ("generic", "")
"""CPU and features, as the compiler names them, that every machine of a kind has."""


@dataclass(frozen=True)
class Folders:
    """Folders that hold loops of this content, made by this compiler.

    packed : compiled when installed, for every machine of this kind; only read
    kept : compiled on this machine's own account ; None: no such folder
    full : told where `kept` takes no more
    """

    packed: Path | None
    kept: Path | None
    full: Callable[[], None]


class KeptLoop:
    """Takes the place of the compiler's own store of one function.

    Errors in files are no errors here: the loop is then compiled.
    """

    def __init__(self, function: Callable[..., object], folders: Folders) -> None:
        self.folders = folders
        self.code = hashlib.sha256(function.__code__.co_code).hexdigest()
        python = f"{sys.implementation.cache_tag}{getattr(sys, 'abiflags', '')}"
        self.name = f"{function.__module__}.{function.__qualname__}-{python}"
        for sign in "<>":
            self.name = self.name.replace(sign, "")

    @property
    def cache_path(self) -> str | None:
        """The folder that it is kept in."""
        return None if self.folders.kept is None else str(self.folders.kept)

    def _file(self, folder: Path) -> IndexDataCacheFile:
        return IndexDataCacheFile(str(folder), self.name, self.code)

    def load_overload(
        self, signature: tuple[object, ...], context: BaseContext
    ) -> CompileResult | None:
        """What is compiled for a signature and this machine; None where nothing is found whole."""
        context.refresh()
        here = context.codegen().magic_tuple()  # kind of machine, CPU, its features
        packed, kept = self.folders.packed, self.folders.kept
        for folder, machine in ((packed, (here[0], *GENERIC)), (kept, here)):
            if folder is None:
                continue
            try:
                found = self._file(folder).load((signature, machine))
                if found is not None:
                    return CompileResult._rebuild(context, *found)
            except Exception:  # whatever a file cut short makes of it
                continue
        return None

    def save_overload(self, signature: tuple[object, ...], made: CompileResult) -> None:
        """Keep what was compiled, where there is a folder for it."""
        kept = self.folders.kept
        if kept is None or made.lifted or made.library.has_dynamic_globals:
            return
        key, parts = (signature, made.codegen.magic_tuple()), made._reduce()
        try:
            try:
                self._file(kept).save(key, parts)
            except OSError:
                raise
            except Exception:  # the index that it adds to is broken
                self.flush()
                self._file(kept).save(key, parts)
        except OSError:
            self.folders.full()

    def flush(self) -> None:
        """Forget what is kept."""
        if self.folders.kept is not None:
            self._file(self.folders.kept).flush()

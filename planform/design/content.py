"""What a model holds, as bytes: the same for the same content, however it came about."""

from __future__ import annotations

import hashlib
import io
import pickle
from collections.abc import Hashable, Mapping

from pydantic import BaseModel


def content(model: object) -> bytes:
    """A digest of all that a model holds, or a table of models: tolerances and texts with it.

    Pickled without remembering what was met before: which of its values are one object and which
    are equal ones does not count.
    """
    written = io.BytesIO()
    pickler = pickle.Pickler(written, protocol=4)
    pickler.fast = True
    pickler.dump(model)
    return hashlib.sha256(written.getvalue()).digest()


def told_apart(piece: object) -> Hashable:
    """What tells a piece of a design from others: its content; of what was built, itself."""
    return content(piece) if isinstance(piece, BaseModel | Mapping) else id(piece)

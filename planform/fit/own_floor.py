"""An aircraft and a room as they are from the floor that the aircraft stands on."""

from __future__ import annotations

from planform.airframe.raised import raised
from planform.airframe.stance import Standing
from planform.design.levels import floor_height
from planform.fit.levels import EDGE
from planform.fit.room import Room, at_height, spot_point


def there(standing: Standing, room: Room, spot: str | None) -> tuple[Standing, Room]:
    """The aircraft raised to the floor of its spot, and the room as it is met from that floor.

    spot : its name, the first where None ; the very same two where the place has no levels
    Raises InputError where the place has no spot of that name.
    """
    if not room.place.floor.levels:
        return standing, room
    point = spot_point(room.place, spot)
    if point is None:
        return standing, room
    height = floor_height(room.place, float(point.at[0]), float(point.at[1]))
    blocks = max((contact.support for contact in standing.settled.contacts), default=0.0)
    return raised(standing, height), at_height(room, height, EDGE + blocks)

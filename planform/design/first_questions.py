"""What a builder can measure in ten minutes: the questions of a first design and place, as data."""

from __future__ import annotations

from dataclasses import dataclass, replace

AIRCRAFT, STANCE, SHOP = GROUPS = ("the aircraft", "how it stands", "the shop")
"""What the questions are about, in order."""

NOSE_WHEEL, TAIL_WHEEL = GEARS = ("nose wheel", "tail wheel")


@dataclass(frozen=True)
class FirstQuestion:
    """One question: what is asked, what is taken where it is not answered, how to measure it.

    key : its name in answers ; kind : 'length', 'angle', 'choice' or 'name'
    usual : what is taken, in inches and in millimetres; '' where it follows from another answer
    of : that answer's key and the share of it that is taken
    how : how to measure it, to replace what was taken
    least, most : what is allowed, as texts ; choices : of a choice
    """

    key: str
    words: str
    kind: str
    how: str = ""
    usual: tuple[str, str] = ("", "")
    of: tuple[str, float] | None = None
    least: str = ""
    most: str = ""
    group: str = AIRCRAFT
    choices: tuple[str, ...] = ()


def _length(
    key: str,
    words: str,
    how: str,
    ends: tuple[str, str],
    usual: tuple[str, str] | tuple[str, float],
) -> FirstQuestion:
    """A question for a length; ends : least and most [m] ; usual : texts, or a share of another."""
    least, most = (f"{end} m" for end in ends)
    first, second = usual
    if isinstance(second, float):
        return FirstQuestion(key, words, "length", how, of=(first, second), least=least, most=most)
    return FirstQuestion(key, words, "length", how, (first, second), least=least, most=most)


def _angle(key: str, words: str, how: str, ends: tuple[str, str], usual: str) -> FirstQuestion:
    least, most = (f"{end} deg" for end in ends)
    return FirstQuestion(key, words, "angle", how, (usual, usual), least=least, most=most)


OF_AIRCRAFT = (
    FirstQuestion("name", "what the aircraft is called", "name", usual=("My aircraft",) * 2),
    _length(
        "span", "span of the wing, tip to tip, winglets left aside",
        "plumb both tips to the floor and tape between the marks", ("2", "30"),
        ("320 in", "8100 mm"),
    ),
    _length(
        "root_chord", "chord of the wing on the centre line",
        "a level along the root rib, leading to trailing edge", ("0.2", "8"), ("span", 0.205),
    ),
    _length(
        "tip_chord", "chord of the wing at its tip",
        "a tape along the tip rib, leading to trailing edge", ("0.1", "8"), ("root_chord", 0.43),
    ),
    _angle(
        "sweep", "sweep of the wing's leading edge, seen from above",
        "plumb the leading edge at root and tip; aft over outward is its tangent", ("-30", "60"),
        "24 deg",
    ),
    _angle(
        "dihedral", "dihedral of the wing", "a digital level on the front spar, root to tip",
        ("-10", "15"), "1 deg",
    ),
    _length(
        "winglet_length", "length of a winglet along its face; 0 for none",
        "a tape up the winglet, root to tip", ("0", "4"), ("span", 0.145),
    ),
    _angle(
        "cant", "cant of a winglet from the vertical, outboard positive",
        "a digital level against the winglet's face", ("-60", "80"), "12 deg",
    ),
    _length(
        "length", "length of the body, nose to the aft end of the propeller",
        "plumb both ends to the floor and tape between", ("1.5", "25"), ("span", 0.65),
    ),
    _length(
        "width", "width of the body where it is widest",
        "a straight edge on either side, tape between", ("0.3", "4"), ("length", 0.2),
    ),
    _length(
        "depth", "depth of the body where it is deepest, canopy shut",
        "a level over the canopy and a tape to the underside", ("0.3", "4"), ("length", 0.22),
    ),
    _length(
        "wing_at", "from the nose aft to the wing's leading edge on the centre line",
        "plumb both to the floor and tape along the centre line", ("0", "20"), ("length", 0.57),
    ),
    _length(
        "wing_height", "from the underside of the body up to the wing's leading edge",
        "a level and a tape at the wing's root", ("-1", "4"), ("depth", 0.4),
    ),
    _length(
        "foreplane_span", "span of the foreplane, tip to tip; 0 for none",
        "a tape from tip to tip", ("0", "20"), ("span", 0.45),
    ),
    _length(
        "foreplane_chord", "chord of the foreplane at its root", "a level along the root rib",
        ("0.1", "4"), ("root_chord", 0.24),
    ),
    _length(
        "foreplane_at", "from the nose aft to the foreplane's leading edge",
        "plumb both to the floor and tape along the centre line", ("0", "15"), ("length", 0.1),
    ),
    _length(
        "propeller", "diameter of the propeller; 0 for none",
        "a tape from tip to tip, ignition off, the key in your pocket", ("0", "4"),
        ("depth", 1.3),
    ),
)  # fmt: skip

OF_STANCE = (
    FirstQuestion(
        "gear", "which small wheel it has", "choice", usual=(NOSE_WHEEL,) * 2, choices=GEARS
    ),
    _length(
        "main_axle_at", "from the nose aft to the main axle",
        "plumb the nose and an axle end to the floor", ("0.2", "24"), ("length", 0.7),
    ),
    _length(
        "small_axle_at", "from the nose aft to the nose or tail wheel's axle",
        "plumb the nose and the axle to the floor", ("0", "24"), ("main_axle_at", 0.25),
    ),
    _length(
        "track", "main wheels, middle to middle", "chalk both tyres' middles on the floor",
        ("0.4", "8"), ("width", 1.6),
    ),
    _length(
        "stands", "from the floor up to the underside of the body, level",
        "a tape under the body beside the main wheels", ("0.05", "3"), ("depth", 0.48),
    ),
    _length(
        "tyre", "diameter of a main tyre", "a square on either side of it", ("0.1", "1"),
        ("14 in", "360 mm"),
    ),
)  # fmt: skip

OF_SHOP = (
    _length(
        "floor_width", "floor, along the wall with the door", "a tape from wall to wall",
        ("2", "200"), ("34 ft", "10400 mm"),
    ),
    _length(
        "floor_depth", "floor, from that wall to the one across", "a tape from wall to wall",
        ("2", "200"), ("28 ft", "8600 mm"),
    ),
    _length(
        "ceiling", "lowest thing overhead: truss, lamp, door track",
        "a tape up from the floor under it", ("1", "40"), ("10 ft", "3050 mm"),
    ),
    _length(
        "door_width", "door, the width that is clear with it open",
        "a tape between the jambs, or the open leaves", ("0.5", "200"), ("floor_width", 0.88),
    ),
    _length(
        "door_height", "door, the height that is clear with it open",
        "a tape from the sill to whatever hangs lowest", ("0.5", "40"), ("ceiling", 0.9),
    ),
)  # fmt: skip

QUESTIONS = (
    *OF_AIRCRAFT,
    *(replace(question, group=STANCE) for question in OF_STANCE),
    *(replace(question, group=SHOP) for question in OF_SHOP),
)
"""In the order in which they are asked."""

BY_KEY = {question.key: question for question in QUESTIONS}

"""The answer: what explains the readings, how sure that is, and what is not determined."""

from __future__ import annotations

from dataclasses import dataclass

from planform.core.vectors import Array


@dataclass(frozen=True)
class Deviation:
    """A deviation that is part of the simplest explanation [rad] or [m].

    half_width : half the width of the 95 % interval, with all that was not found left free
    alone : its half width if nothing but what was found differs from the drawing
    significant : it is in every explanation that is about as good, so it may be built in
    """

    name: str
    is_angle: bool
    by: float
    half_width: float
    alone: float
    significant: bool


@dataclass(frozen=True)
class Interval:
    """A candidate in the full model, with every candidate free at once [rad] or [m].

    half_width : half the width of the 95 % interval
    determined : the readings say more than the assumption of how far off it plausibly is
    """

    name: str
    is_angle: bool
    by: float
    half_width: float
    determined: bool


@dataclass(frozen=True)
class Rival:
    """Another explanation.

    names, by : its deviations, and how far [rad] or [m]
    wrong : numbers of the readings that would be wrong in it
    worse : how much worse it explains the readings, as a sum of squares with the prices of
        its members; from `rivals.MARGIN` on it is not about as good
    larger : it needs more deviations to come together than the simplest one does
    parted_by : the reading that parts it from the simplest one; empty where none was found
    """

    names: tuple[str, ...]
    by: tuple[float, ...]
    wrong: tuple[int, ...]
    worse: float
    larger: bool
    parted_by: str


@dataclass(frozen=True)
class Suspect:
    """A reading that looks wrong.

    residual : what was read, less what all others let expect there [m] or [rad]
    sd : standard deviation of the residual
    looks_like : the mistake that would give just that; empty where none does
    certain : no explanation that is about as good takes it as right
    """

    number: int
    words: str
    is_angle: bool
    read: float
    expected: float
    residual: float
    sd: float
    looks_like: str
    certain: bool


@dataclass(frozen=True)
class Unseen:
    """A reading that could be wrong by ten tolerances and not be known as the wrong one.

    alike : what its mistake would be taken for: a deviation, or another reading
    """

    number: int
    words: str
    alike: str


@dataclass(frozen=True)
class Undetermined:
    """A candidate that the readings do not determine.

    alike : candidates that do to all readings what it does; empty where no reading sees it
    """

    name: str
    alike: tuple[str, ...]


@dataclass(frozen=True)
class NextReading:
    """A reading worth taking next.

    parts : what it tells apart
    differs : how much it reads different under one and the other [m] or [rad]
    tolerance : it must be as good as this, or better [m] or [rad]; 0: none is good enough
    """

    words: str
    is_angle: bool
    parts: tuple[str, str]
    differs: float
    tolerance: float


@dataclass(frozen=True)
class Remaining:
    """What is left when the explanation is taken off.

    rms : root mean square of the residuals, in tolerances
    chi2 : the sum of squares of the residuals, in standard deviations
    freedom : readings beyond those needed
    limit : with right readings and tolerances the sum is above this in 1 of 100 aircraft
    """

    rms: float
    chi2: float
    freedom: int
    limit: float

    @property
    def explained(self) -> bool:
        """Whether what is left is no more than the tolerances give."""
        return self.chi2 <= self.limit


@dataclass(frozen=True, eq=False)
class Explanation:
    """The simplest explanation of readings, and what else there is to say.

    found : its deviations, the clearest first
    intervals : every candidate that some reading sees, in the full model
    correlation : (k, k) between the estimates of the intervals, in their order
    rivals : the nearest first; more_rivals are as near and not told
    residuals : (m,) read less expected, of all readings, suspects too [m] or [rad]
    unknown : (u,) the placement, slopes, zeros, ... as found
    tried : how many candidates were tried, for which the threshold is corrected
    too_few : why no answer is given; empty where one is
    """

    found: tuple[Deviation, ...]
    intervals: tuple[Interval, ...]
    correlation: Array
    rivals: tuple[Rival, ...]
    more_rivals: int
    suspects: tuple[Suspect, ...]
    unseen: tuple[Unseen, ...]
    undetermined: tuple[Undetermined, ...]
    next_readings: tuple[NextReading, ...]
    remaining: Remaining
    residuals: Array
    unknown: Array
    tried: int
    too_few: str

    @property
    def significant(self) -> tuple[Deviation, ...]:
        """The deviations that may be built in."""
        return tuple(one for one in self.found if one.significant)

    @property
    def certain(self) -> bool:
        """Whether there is one explanation and no rival about as good."""
        rivals = [one for one in self.rivals if not one.larger]
        return not self.too_few and not rivals

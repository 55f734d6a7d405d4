"""Volume of the cap against an independent mesh cut, its spread against Monte Carlo, and what both cost.

Run ``python -m bench.volume`` (``--caps 20 --draws 1000`` for a quick look, ``--write`` keeps docs/bench/volume.md). All is
seeded; the chimneys are those of `bench.virtual`. Times are of this machine; ratios are within the same run.
"""

from __future__ import annotations

import argparse
import statistics
import time
from dataclasses import replace
from pathlib import Path

import numpy as np
import shapely
from numpy.typing import NDArray

from bench.virtual.mason import Mason
from bench.virtual.truth import make_chimney
from crownwright.cap.choices import CapChoices
from crownwright.cap.design import design_cap
from crownwright.cap.joint import ring_of
from crownwright.cap.model import CapDesign
from crownwright.cap.solid import concrete_solid, groove_solid, stone_solid
from crownwright.cap.spread import face_of
from crownwright.geometry.envelope import facets
from crownwright.geometry.hull import frame
from crownwright.geometry.solid import Solid, between, cut, prism
from crownwright.quantity.units import FT3, INCH
from crownwright.survey.adjust import adjust
from crownwright.survey.model import Survey

Array = NDArray[np.float64]
OUT = Path(__file__).parents[1] / "docs" / "bench" / "volume.md"
STEP = 0.75 * INCH  # of the Monte Carlo's own grid


def survey_of(seed: int) -> Survey:
    """One virtual chimney, read once with no slip and adjusted."""
    rng = np.random.default_rng(seed)
    survey, problems = adjust(Mason(make_chimney(rng), rng).climb(slip_chance=0)[0])
    assert survey is not None, problems
    return survey


def choices_of(seed: int) -> CapChoices:
    """Every third cap keyed into a hollowed-out top course."""
    return CapChoices(hollow_depth=1.5 * INCH, hollow_inset=3 * INCH) if seed % 3 == 0 else CapChoices()


def plane_of(cap: CapDesign) -> Array:
    """Planes (k,3) of the wash's facets, from its triangles."""
    p = cap.top.points[cap.top.triangles]
    n = np.cross(p[:, 1] - p[:, 0], p[:, 2] - p[:, 0])
    n, p = n[n[:, 2] > 1e-7], p[n[:, 2] > 1e-7]
    slope = -n[:, :2] / n[:, 2:]
    return np.column_stack([slope, p[:, 0, 2] - (slope * p[:, 0, :2]).sum(1)])


class Draws:
    """Monte Carlo on a survey and the cap planned from it: the plan stands, the stone and the flues are drawn anew.

    Each draw is measured afresh: areas of the drawn outlines exactly, heights of the drawn stone over a grid of points.
    """

    def __init__(self, survey: Survey, cap: CapDesign, seed: int) -> None:
        self.survey, self.cap, self.rng = survey, cap, np.random.default_rng(seed)
        u, v = cap.corners[1] - cap.corners[0], cap.corners[3] - cap.corners[0]
        nu, nv = round(np.linalg.norm(u) / STEP), round(np.linalg.norm(v) / STEP)
        grid = np.stack(np.meshgrid((np.arange(nu) + 0.5) / nu, (np.arange(nv) + 0.5) / nv), -1).reshape(-1, 2)
        self.points = cap.corners[0] + grid @ np.array([u, v])
        planes = np.unique(np.round(plane_of(cap), 7), axis=0)
        self.facets = [(planes[k], shapely.Polygon(region)) for k, region in facets(planes, cap.corners)]
        self.whole = self.under_wash(shapely.Polygon(cap.corners))
        self.joint = cap.flues[0].joint_width if cap.flues else 0.0
        values, vectors = np.linalg.eigh(survey.covariance)
        self.root = vectors * np.sqrt(np.clip(values, 0, None))
        self.face = face_of(survey)
        values, vectors = np.linalg.eigh(self.face.own)
        self.face_root = vectors * np.sqrt(np.clip(values, 0, None))

    def outline(self, moved: Array) -> Array:
        """The face on strings between moved corners, with each stone's own amount."""
        survey = self.survey
        new = dict(zip(survey.parameters, survey.estimate + moved, strict=True))
        corners = np.array([(new.get(f"{c}.x", 0.0), new.get(f"{c}.y", 0.0)) for c in survey.names])
        side, old = survey.outline.side, survey.corners
        after = (side + 1) % len(old)
        run = old[after] - old[side]
        length = np.linalg.norm(run, axis=1)[:, None]
        away = survey.outline.face - old[side]
        share = (away * run).sum(1, keepdims=True) / length**2
        out = (away[:, 0] * run[:, 1] - away[:, 1] * run[:, 0])[:, None] / length
        new_run = corners[after] - corners[side]
        normal = np.column_stack([new_run[:, 1], -new_run[:, 0]]) / np.linalg.norm(new_run, axis=1)[:, None]
        own = self.face_root @ self.rng.standard_normal(len(self.face_root))
        return corners[side] + share * new_run + out * normal + own[:, None] * self.face.normal

    def holes(self, moved: Array) -> list[Array]:
        """The joints' rings round flues drawn anew."""
        new, found = dict(zip(self.survey.parameters, self.survey.estimate + moved, strict=True)), []
        box = np.array([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)])
        for flue in self.survey.flues:
            centre = np.array([new[f"{flue.name}.x"], new[f"{flue.name}.y"]])
            if flue.shape == "round":
                at = [self.survey.parameters.index(f"{flue.name}.{axis}") for axis in "xy"]
                placed = np.linalg.eigvalsh(self.survey.covariance[np.ix_(at, at)]).max()
                grown = 2 * self.rng.normal(0, np.sqrt(max(flue.sd**2 - placed, 0.0)))
                drawn = replace(flue, centre=tuple(centre), size=(flue.size[0] + grown,) * 2)
            else:
                size = np.array([new[f"{flue.name}.along"], new[f"{flue.name}.across"]])
                drawn = replace(flue, ring=centre + box * size @ frame(new[f"{flue.name}.turn"]), centre=tuple(centre))
            found.append(ring_of(drawn, self.joint))
        return found

    def under_wash(self, region: shapely.Polygon) -> float:
        """Volume from the soffit's level up to the wash over a region, m3: facet by facet, area times height at the centroid."""
        total = 0.0
        for (a, b, c), facet in self.facets:
            part = facet.intersection(region)
            if not part.is_empty:
                total += part.area * (a * part.centroid.x + b * part.centroid.y + c - self.cap.soffit)
        return total

    def one(self) -> float:
        """Volume of one draw, m3, but for groove and hollow, which every draw has alike."""
        moved = self.root @ self.rng.standard_normal(len(self.root))
        stone = shapely.make_valid(shapely.Polygon(self.outline(moved)))
        shapely.prepare(stone)
        points = self.points[shapely.contains_xy(stone, self.points)]
        height = self.survey.surface.sample(points, self.rng) - self.cap.soffit
        volume = self.whole - stone.area * height.mean()
        for ring in map(shapely.Polygon, self.holes(moved)):
            volume += ring.area * height[shapely.contains_xy(ring, points)].mean() - self.under_wash(ring)
        return float(volume)


def boolean(caps: int) -> list[str]:
    """Volume against a mesh boolean on random caps."""
    off, worst = [], (0.0, 0)
    for seed in range(caps):
        survey = survey_of(seed)
        cap = design_cap(survey, choices_of(seed))
        cast = concrete_solid(cap, survey, grid=INCH)
        assert cast.closed
        off.append(cap.volume.all.mean / cast.volume - 1)
        worst = max(worst, (abs(off[-1]), seed))
    size = [abs(x) for x in off]
    return [
        f"| caps compared | {caps} |",
        f"| difference, median / largest | {statistics.median(size):.4%} / {max(size):.4%} (seed {worst[1]}) |",
        f"| difference, mean (bias) | {statistics.mean(off):+.4%} |",
        f"| within 0.1 % | {sum(x <= 1e-3 for x in size)} of {caps} |",
    ]


def spread(seeds: list[int], draws: int) -> list[str]:
    """Standard error against Monte Carlo."""
    rows = [
        "| cap | volume, cu ft | standard error | Monte Carlo's | ratio | mean, ours / Monte Carlo's |",
        "|---|---|---|---|---|---|",
    ]
    for seed in seeds:
        survey = survey_of(seed)
        cap = design_cap(survey, CapChoices())
        run = Draws(survey, cap, seed)
        drawn = np.array([run.one() for _ in range(draws)]) / FT3
        drip = next(f.value for f in cap.figures if f.key == "cap.drip.volume") / FT3
        ours = cap.volume.all
        ratio = ours.sd / FT3 / drawn.std(ddof=1)
        mean = ours.mean / FT3 / (drawn.mean() - drip)
        kind = f"seed {seed}, {survey.readings.masonry}, {len(survey.flues)} flues"
        rows.append(
            f"| {kind} | {ours.mean / FT3:.2f} | {ours.sd / FT3:.4f} | {drawn.std(ddof=1):.4f} | {ratio:.3f} | {mean:.4f} |"
        )
    return rows


def parts_of(cap: CapDesign, survey: Survey) -> tuple[Solid, list[Solid]]:
    """Block and what is taken away, made once, so that only the cutting is timed."""
    stone = stone_solid(survey, cap, cap.soffit - 12 * INCH)
    top = cap.top.points
    block = between("block", top[:, :2], cap.top.triangles, np.full(len(top), cap.soffit - INCH), top[:, 2])
    grown = cap.corners + 0.05 * (cap.corners - cap.corners.mean(0))
    under = prism("under", grown, cap.soffit - 2 * INCH, cap.soffit, [survey.outline.face])
    assert cap.drip is not None
    return block, [stone, under, groove_solid(cap.drip, cap.corners, cap.soffit)]


def cost(seeds: range, cuts: int) -> list[str]:
    """Time of 1,000 mesh booleans against the whole design with its spread, same caps, same run."""
    cases = [(survey, design_cap(survey, CapChoices())) for survey in map(survey_of, seeds)]
    times = []
    for _ in range(5):
        for survey, _ in cases:
            start = time.perf_counter()
            design_cap(survey, CapChoices())
            times.append(time.perf_counter() - start)
    solids = [parts_of(cap, survey) for survey, cap in cases]
    start = time.perf_counter()
    for k in range(cuts):
        block, away = solids[k % len(solids)]
        assert cut("cap", block, away).volume > 0
    booleans = (time.perf_counter() - start) / cuts * 1000
    middle, most = statistics.median(times), sorted(times)[int(0.95 * len(times))]
    return [
        f"| whole design_cap with volume and spread, warm, median / 95 % | {middle * 1e3:.1f} / {most * 1e3:.1f} ms |",
        f"| 1,000 mesh booleans, meshes ready ({cuts} timed) | {booleans:.2f} s |",
        f"| ratio | {booleans / middle:.0f} |",
    ]


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--caps", type=int, default=200)
    ask.add_argument("--draws", type=int, default=10_000)
    ask.add_argument("--cuts", type=int, default=1000)
    ask.add_argument("--write", action="store_true", help="keep the table in docs/bench")
    given = ask.parse_args()
    head = ["| what | measured |", "|---|---|"]
    parts = ["# Volume of the cap", "", *head, *boolean(given.caps), "", *head, *cost(range(20), given.cuts), ""]
    text = "\n".join([*parts, f"{given.draws:,} draws each:", "", *spread([0, 2, 4, 10, 16], given.draws), ""])
    print(text)
    if given.write:
        OUT.parent.mkdir(parents=True, exist_ok=True)
        OUT.write_text(text, "utf-8")


if __name__ == "__main__":
    main()

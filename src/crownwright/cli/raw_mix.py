"""The command for concrete from raw sand and stone in place of bags."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable

from crownwright.cli.answer import Answer, Section
from crownwright.cli.codes import Code
from crownwright.cli.patience import patience
from crownwright.quantity.problems import Problem

Adder = Callable[..., ArgumentParser]


def add_commands(command: Adder) -> None:
    """Put the command among the others."""
    does = "work out concrete for the cap from sand, stone and portland in place of bags: what to weigh out, damp"
    sub = command("raw-mix", does, raw_mix, job=True)
    sub.add_argument("--strength", metavar="LOAD", default="4500 psi", help="strength at 28 days; left out, 4500 psi")
    sub.add_argument("--slump", metavar="IN", default="3-4", help="slump in inches, 1-2, 3-4 or 6-7; left out, 3-4")
    sub.add_argument("--stone", metavar="IN", default="3/8", help="largest stone, 3/8, 1/2, 3/4 ...; left out, 3/8")
    sub.add_argument("--fineness", metavar="N", type=float, default=2.8, help="fineness of the sand, 2.4 to 3.0; left out, 2.8")
    sub.add_argument("--rodded", metavar="WEIGHT", default="100 pcf", help="dry-rodded weight of the stone; left out, 100 pcf")
    sub.add_argument("--sand-wet", metavar="SHARE", default="5 %", help="free moisture of the sand; left out, 5 %%")
    sub.add_argument("--stone-wet", metavar="SHARE", default="1 %", help="free moisture of the stone; left out, 1 %%")


def raw_mix(args: Namespace) -> Answer:
    """Proportion concrete from the piles."""
    from crownwright.cli.verbs import bad_job, open_named
    from crownwright.concrete.proportion import Aggregates
    from crownwright.quantity.display import show, show_figure
    from crownwright.service.mix_from_piles import SIZES, SLUMPS, mix_from_piles
    from crownwright.service.plan_a_job import plan_a_job

    asked = _asked(args)
    wrong = [found for found in asked.values() if isinstance(found, Problem)]
    for option, value, known in (("--slump", args.slump, SLUMPS), ("--stone", args.stone, SIZES)):
        if value not in known:
            wrong.append(Problem(option, f"“{value}” is in no table", f"There are: {', '.join(known)}"))
    if wrong:
        return Answer(Code.ASKED_WRONG, problems=tuple(wrong), next="ask again; crownwright raw-mix --help shows each")
    opened = open_named(args.job)
    if opened.job is None:
        return bad_job(opened)
    with patience("Planning"):
        plan = plan_a_job(opened.job, opened.text, cut_list=False).plan
    number = {key: value for key, value in asked.items() if isinstance(value, float)}
    piles = Aggregates(
        args.stone, args.fineness, rodded=number["rodded"], sand_free=number["sand_wet"], stone_free=number["stone_wet"]
    )
    mix = mix_from_piles(plan, number["strength"], args.slump, piles)
    if isinstance(mix, Problem):
        code = Code.NOT_READY if mix.where == "plan" else Code.ASKED_WRONG
        return Answer(code, opened.job.title, problems=(mix, *plan.problems), next="put that right and ask again")
    units = opened.job.units
    weigh = [figure for figure in mix.figures if figure.unit == "kg"]
    why = (
        f"water/cement {mix.per_cubic.water_cement:.2f}, set by {mix.governs}; {100 * mix.per_cubic.air:.1f} % air, entrained",
        f"{mix.bags:.1f} bags of portland, 94 lb each",
        f"a cubic foot takes {show(mix.weighed.cement * 0.3048**3, 'kg', units)} of portland" if units == "us" else "",
        "make a trial batch: the tables give a first mix, and the look of it decides the water",
    )
    sections = (
        Section("Weigh out for the cap, the piles damp as told", tuple(show_figure(f, units) for f in weigh),
                tuple(f.label for f in weigh)),
        Section("How it comes about", tuple(filter(None, why))),
    )  # fmt: skip
    data = {"mix": mix, "figures": mix.figures}
    return Answer(Code.DONE, opened.job.title, sections, "weigh the stone and sand as they lie, and hold back some water", data)


def _asked(args: Namespace) -> dict[str, float | Problem]:
    from crownwright.quantity.measures import parse_measure

    return {
        "strength": parse_measure(args.strength, "pressure", "--strength"),
        "rodded": parse_measure(args.rodded, "density", "--rodded"),
        "sand_wet": parse_measure(args.sand_wet, "share", "--sand-wet"),
        "stone_wet": parse_measure(args.stone_wet, "share", "--stone-wet"),
    }

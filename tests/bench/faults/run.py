"""Puts faults into sound machines and prints what the rules find.

Run as ``python -m tests.bench.faults``; ``--part spares`` puts spares into sound axes instead, and
``--part order`` tells whether the first finding of an axis is the fault that was put in.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter

from ..guide_page import write_part
from .fault_list import FAULTS
from .measure import SHARES, FaultCounts, FaultRun, SoundCounts, run_faults, run_sound, run_thinned
from .order_measure import OrderRun, order_main
from .swap_measure import last_commit_to_rules
from .swap_run import swaps_main
from .verdicts import EXPECTED, OPEN, UNSEEN

CONCERN = {fault.name: fault.concern for fault in FAULTS}
AUDITED = sum(concern == "audited" for concern in CONCERN.values())
NARROWED = (
    "The list of faults was written before the rules were read. Kinds that the first runs missed "
    "were then judged: narrowed to where they do harm, called undetectable, or given a rule (14 "
    "kinds). Full recall is the outcome of that, not of one blind run. The kinds in planted, "
    "planted_gravity, planted_limits, planted_reactions, plausible, linear_motors, swings, "
    "telescopes, windings, cranks, torque_curves and motion_cycles came before their rules. Nine "
    "more kinds, and the "
    f"{AUDITED} of an audit of the rules, came "
    "together with rules that find them."
)

WHAT = {fault.name: fault.what for fault in FAULTS}


def main(arguments: list[str] | None = None) -> int:
    """Run the bench and print its tables; return 1 if a fault is missed or a finding is false."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.faults", description=__doc__)
    parser.add_argument("--axes", type=int, default=10_000, help="sound axes to check (10000)")
    parser.add_argument("--per-kind", type=int, help="axes per kind of fault (40), of swap (3)")
    parser.add_argument(
        "--part", choices=("faults", "spares", "order"), default="faults", help="faults"
    )
    parser.add_argument(
        "--seed", type=int, help="seed (made from the hash of the last commit to rules)"
    )
    parser.add_argument("--jobs", type=int, default=2, help="processes (2)")
    parser.add_argument("--kinds", nargs="*", default=[], help="only these kinds of fault")
    parser.add_argument("--markdown", action="store_true", help="the tables as Markdown")
    parser.add_argument("--guide", action="store_true", help="write them into the guide, too")
    options = parser.parse_args(arguments)
    if options.part == "spares":
        name = " ".join(options.kinds)
        return swaps_main(options.seed, options.per_kind or 3, options.jobs, name)
    if options.part == "order":
        kinds = tuple(options.kinds)
        return order_main(OrderRun(options.seed, options.per_kind or 1, options.jobs, kinds))
    unknown = set(options.kinds) - set(CONCERN)
    if unknown:
        parser.error(f"no such kind of fault: {', '.join(sorted(unknown))}")
    seed, per_kind = options.seed, options.per_kind or 40
    if seed is None:
        seed = int(last_commit_to_rules()[:8], 16)
        print(f"seed {seed}, from the hash of the last commit to rules")
    run = FaultRun(seed, options.axes, per_kind, tuple(options.kinds))
    found = run_faults(run, options.jobs)
    if options.kinds:
        print("\n".join(by_kind(found)))
        return 0
    sound = run_sound(run, options.jobs)
    thin = run_thinned(run, max(1, options.axes // 25), options.jobs)
    render = markdown if options.markdown else text
    print("\n".join(render(found, sound, thin)))
    if options.guide:
        write_part("faults", tables(found, sound, thin))
    return 1 if faults_of_the_tool(found, sound, thin) else 0


def faults_of_the_tool(
    found: list[FaultCounts], sound: SoundCounts, thin: list[SoundCounts]
) -> list[str]:
    """The faults of axisproof: missed kinds, and findings on sound axes."""
    missed = [f"{each.kind} missed" for each in found if each.kind in EXPECTED and each.missed]
    false = [*sound.false, *(each for part in thin for each in part.false)]
    return missed + [f"{rule} on sound {axis} of machine {seed}" for seed, rule, axis in false]


def by_kind(found: list[FaultCounts]) -> list[str]:
    """A line for each kind of fault."""
    lines = [f"{'kind of fault':40} found  beside  by"]
    for each in found:
        others = each.others.total() / max(1, each.injected)
        share = f"{each.found}/{each.injected}"
        if each.kind in UNSEEN:
            by = f"not detectable: {UNSEEN[each.kind]}"
        elif each.kind in OPEN:
            by = f"SHORTFALL: {OPEN[each.kind]}"
        else:
            by = " ".join(rule for rule, _ in each.by.most_common())
        lines.append(f"{each.kind:40} {share:>6} {others:6.1f}  {by}")
        if each.kind in EXPECTED and each.missed:
            lines.append(f"  missed: machine {each.missed[0][0]}, {each.missed[0][1]}")
    return lines


def _concerns(found: list[FaultCounts]) -> list[tuple[str, int, int, int, float]]:
    """Concern, kinds, faults put in, faults found, other findings per fault."""
    rows = []
    for concern in dict.fromkeys(CONCERN[each.kind] for each in found):
        some = [e for e in found if CONCERN[e.kind] == concern and e.kind in EXPECTED]
        injected = sum(each.injected for each in some)
        if some:
            others = sum(each.others.total() for each in some) / max(1, injected)
            rows.append((concern, len(some), injected, sum(each.found for each in some), others))
    return rows


def text(found: list[FaultCounts], sound: SoundCounts, thin: list[SoundCounts]) -> list[str]:
    """The report for a terminal."""
    lines = by_kind(found)
    lines += ["", f"{'concern':14} kinds  faults   found  beside"]
    for concern, kinds, injected, hits, others in _concerns(found):
        lines.append(f"{concern:14} {kinds:5} {injected:7} {hits:7} {others:7.2f}")
    lines += ["", f"sound axes: {sound.axes}, findings on them: {len(sound.false)}"]
    lines += [f"  {rule}: {count}" for rule, count in _rules(sound)]
    lines += [sound.newer.told(sound.axes)]
    lines += [f"  {count} with {kind}" for kind, count in sound.newer.by_kind.most_common()]
    lines += [f"checks that hold: {sound.holds}, undecided: {sound.undecided.total()}"]
    lines += [f"  {rule}: {count}" for rule, count in sound.undecided.most_common()]
    lines += ["", "facts left out  checks undecided  findings on sound axes"]
    for share, part in zip(SHARES, thin, strict=True):
        lines.append(f"{share:13.0%} {part.share_undecided:17.1%} {len(part.false):23}")
        lines += [f"  {rule}: {count}" for rule, count in _rules(part)]
    return lines


def _rules(part: SoundCounts) -> list[tuple[str, int]]:
    return Counter(rule for _, rule, _ in part.false).most_common()


def tables(found: list[FaultCounts], sound: SoundCounts, thin: list[SoundCounts]) -> list[str]:
    """The tables of the guide."""
    lines = [
        "| concern | kinds of fault | put in | found | other findings per fault |",
        "|---|--:|--:|--:|--:|",
    ]
    rows = _concerns(found)
    for concern, count, injected, hits, others in rows:
        lines.append(f"| {concern} | {count} | {injected} | {hits} | {others:.2f} |")
    sums = [sum(column) for column in zip(*(row[1:4] for row in rows), strict=True)]
    lines.append(f"| **together** | {sums[0]} | {sums[1]} | {sums[2]} | |")
    short = [each for each in found if each.kind in OPEN]
    if short:
        put_in, by_any = (sum(n) for n in zip(*((e.injected, e.found) for e in short), strict=True))
        lines.append(f"| shortfall | {len(short)} | {put_in} | {by_any} by some rule | |")
    return [
        *lines,
        "",
        f"{sound.axes} sound axes: {len(sound.false)} findings, {sound.holds} checks passed, "
        f"{sound.undecided.total()} cannot be decided. {sound.newer.told(sound.axes)}",
        "",
        *sound.newer.table(),
        "",
        "| facts left out | " + " | ".join(f"{share:.0%}" for share in SHARES) + " |",
        "|---|" + "--:|" * len(SHARES),
        "| checks that cannot be decided | "
        + " | ".join(f"{part.share_undecided:.1%}" for part in thin)
        + " |",
        "| findings on sound axes | " + " | ".join(str(len(part.false)) for part in thin) + " |",
    ]


def markdown(found: list[FaultCounts], sound: SoundCounts, thin: list[SoundCounts]) -> list[str]:
    """The tables, and what they do not tell."""
    lines = [*tables(found, sound, thin), "", NARROWED]
    kinds = {each.kind: each for each in found}
    for title, table in (("Not detectable from the facts", UNSEEN), ("Shortfall", OPEN)):
        if table:
            lines += ["", f"{title}:", ""]
            for kind, reason in table.items():
                seen = f" (found {kinds[kind].recall:.0%})" if kinds[kind].found else ""
                lines.append(f"- {kind}: somebody {WHAT[kind]}; {reason}{seen}")
    return lines


if __name__ == "__main__":
    sys.exit(main())

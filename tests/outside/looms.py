"""Made-up looms of any size for checks and benchmarks, and the same loom for the ngspice program."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import CLOSED_SWITCH_OHM, OPEN_SWITCH_OHM, Columns, Element, Network
from rushlight.electric.led import law_spread
from rushlight.electric.network import columns_of, resistor, source, string, switch, wire
from rushlight.electric.regulator import RegulatorLaw, regulator_law

COLOURS = ("red", "yellow", "green", "blue", "warm_white")
OHM_PER_M = {22: 0.05296, 24: 0.08421, 26: 0.1339, 28: 0.2129, 30: 0.3386, 32: 0.5383, 34: 0.8560, 36: 1.3610}
GROUPS = 6
STATES = {
    "all": (0, 1, 2, 3, 4, 5), "under way": (0, 1, 3), "anchor": (2, 4), "works": (1, 2, 5), "one": (3,),
}


@dataclass(frozen=True)
class Loom:
    """A network, its five states, and the names of its lamps."""

    network: Network
    columns: Columns
    lamps: tuple[str, ...]


def made_loom(leds: int, seed: int, *, emf_v: float = 12.0, inner_ohm: float = 0.3) -> Loom:
    """A loom of about `leds` LEDs: six groups of single lamps and strip segments on two wire trees."""
    rng = np.random.default_rng(seed)
    elements: list[Element] = [source("supply", "plus", "minus", emf_v=emf_v, inner_ohm=inner_ohm)]
    lamps: list[str] = []
    share = [leds // GROUPS + (1 if g < leds % GROUPS else 0) for g in range(GROUPS)]
    for group, count in enumerate(share):
        elements += _group(group, count, rng, lamps)
    network = Network.of(elements)
    states = {state: tuple(f"sw{g}" for g in on) for state, on in STATES.items()}
    return Loom(network, columns_of(network, states), tuple(lamps))


def _group(group: int, leds: int, rng: np.random.Generator, lamps: list[str]) -> list[Element]:
    head = f"g{group}"
    out = [switch(f"sw{group}", "plus", f"{head}_in")]
    feed = f"{head}_in"
    if group % 3 == 0:
        feed = f"{head}_after"
        out.append(string(f"block{group}", f"{head}_in", feed, laws=[law_spread("silicon_diode").typical]))
    high, low = [feed], ["minus"]
    made = 0
    while made < leds:
        at = int(rng.integers(max(0, len(high) - 6), len(high)))
        n = len(high)
        for side, nodes in (("p", high), ("m", low)):
            gauge = int(rng.choice(list(OHM_PER_M)))
            ohm = OHM_PER_M[gauge] * float(rng.uniform(0.005, 0.15))
            node = f"{head}_{side}{n}"
            out.append(wire(f"w_{node}", nodes[at], node, ohm=ohm))
            nodes.append(node)
        for _ in range(int(rng.integers(1, 4))):
            made += _lamp(out, lamps, rng, ends=(high[-1], low[-1]), left=leds - made)
    return out


def _lamp(out: list[Element], lamps: list[str], rng: np.random.Generator, *, ends: tuple[str, str], left: int) -> int:
    if left <= 0:
        return 0
    name = f"lamp{len(lamps)}_{ends[0]}"
    count = 3 if left >= 3 and rng.random() < 0.3 else 1
    ohm = float(rng.choice([470, 680, 1000, 1500]) if count == 1 else rng.choice([100, 120, 150]))
    law = law_spread(str(rng.choice(COLOURS))).typical
    lead = OHM_PER_M[36] * float(rng.uniform(0.02, 0.2))
    out.append(wire(f"l_{name}", ends[0], f"{name}_a", ohm=lead))
    out.append(resistor(f"r_{name}", f"{name}_a", f"{name}_b", ohm=ohm))
    out.append(string(name, f"{name}_b", ends[1], laws=[law] * count))
    lamps.append(name)
    return count


def spice_text(
    network: Network, columns: Columns, raw: Path, options: str, *, turned: Collection[str] = (),
    warmed: Mapping[str, Warmed] | None = None, warm_leds: Mapping[str, WarmLed] | None = None,
) -> str:
    """The network as an ngspice deck that solves every column and writes one raw file for each."""
    lines, models = ["loom"], {}
    kinds: dict[str, int] = {}
    alters: list[list[str]] = [[] for _ in columns.names]
    number = {node: at + 1 for at, node in enumerate(network.nodes)}
    for at, e in enumerate(network.elements):
        a, b = (f"n{number[node]}" for node in (e.node_a, e.node_b))
        row = kinds[e.kind] = kinds.get(e.kind, -1) + 1
        if e.kind in ("resistor", "wire"):
            lines.append(f"R{at} {a} {b} {e.ohm!r}")
        elif e.kind == "switch":
            lines.append(f"R{at} {a} {b} {CLOSED_SWITCH_OHM}")
            for c in range(columns.count):
                closed = columns.closed[row, c if columns.closed.shape[1] > 1 else 0]
                alters[c].append(f"alter r{at} {e.ohm if closed else OPEN_SWITCH_OHM!r}")
        elif e.kind == "source":
            lines += [f"V{at} e{at} {b} {e.emf_v!r}", f"R{at} e{at} {a} {e.ohm!r}"]
        else:
            node = a
            if e.ohm:
                lines.append(f"R{at} {a} s{at}_r {e.ohm!r}")
                node = f"s{at}_r"
            if e.regulator:
                lines += _behavioural(at, node, e.regulator, turned=e.name in turned, warmed=(warmed or {}).get(e.name))
                node = f"s{at}_g"
            if warm_leds and e.name in warm_leds:
                lines += _warm_diodes(at, node, b, len(e.laws), warm_leds[e.name])
                node = f"s{at}_w"
            for k, law in enumerate(e.laws):
                model = models.setdefault(law, f"d{len(models)}")
                after = b if k == len(e.laws) - 1 else f"s{at}_{k}"
                lines.append(f"D{at}_{k} {node} {after} {model}")
                node = after
    reference = next(number[e.node_b] for e in network.elements if e.kind == "source")
    lines = [re.sub(rf"\bn{reference}\b", "0", line) for line in lines]
    for law, model in models.items():
        lines.append(f".model {model} D(IS={law.saturation_a!r} N={law.ideality!r} RS={law.series_ohm!r})")
    lines += [f".options {options}" if options else "*", ".control", "set filetype=binary"]
    for c, changes in enumerate(alters):
        lines += [*changes, "op", f"write {raw}{c} all"]
    return "\n".join([*lines, "quit", ".endc", ".end", ""])


@dataclass(frozen=True)
class Warmed:
    """What warmth does to a regulator: share lost per kelvin, air over the junction's warmth at the test, K/W."""

    fall_per_k: float
    over_test_k: float
    k_per_w: float


@dataclass(frozen=True)
class WarmLed:
    """What warmth does to a string of LEDs: volts lost per kelvin in each, air over the laws' 27 C, K/W."""

    fall_v_per_k: float
    over_law_k: float
    k_per_w: float


def _warm_diodes(at: int, node: str, end: str, count: int, warm: WarmLed) -> list[str]:
    """What warm diodes lose of their voltage as a source before cold ones, with a thermal circuit beside them."""
    lost = f"-{count * warm.fall_v_per_k!r}*({warm.over_law_k!r}+V(t{at}))"
    return [f"VA{at} {node} s{at}_v 0", f"BV{at} s{at}_v s{at}_w V={lost}",
            f"BP{at} 0 t{at} I=V({node},{end})*I(VA{at})", f"RT{at} t{at} 0 {warm.k_per_w!r}"]


def _behavioural(at: int, node: str, law: RegulatorLaw, *, turned: bool, warmed: Warmed | None) -> list[str]:
    """A regulator as a source whose current is the law, written anew in the program's own expressions.

    One that warms has a thermal circuit beside it, as is usual: a source of its power into its thermal resistance,
    whose node's voltage is the rise of its junction.
    """
    across = f"V({node},s{at}_g)"
    if turned:
        return [f"B{at} {node} s{at}_g I={law.plateau_a!r}*(exp({across}/{law.knee_v!r})-1)"]
    cool = f"({law.plateau_a!r}*(1-exp(-{across}/{law.knee_v!r}))+{law.slope_siemens!r}*{across})"
    if warmed is None:
        return [f"B{at} {node} s{at}_g I={cool}"]
    warm = f"{cool}*exp(-{warmed.fall_per_k!r}*({warmed.over_test_k!r}+V(t{at})))"
    return [f"B{at} {node} s{at}_g I={warm}", f"BP{at} 0 t{at} I={across}*{warm}", f"RT{at} t{at} 0 {warmed.k_per_w!r}"]


def with_regulators(loom: Loom, seed: int, share: float = 0.5) -> Loom:
    """The same loom with a regulator in place of the resistor of about this share of its lamps.

    One ohm stays in place of the resistor, by which the current is read.
    """
    rng = np.random.default_rng(seed)
    drawn = {lamp: float(rng.choice([0.0047, 0.010, 0.015, 0.020, 0.030])) for lamp in loom.lamps if rng.random() < share}
    elements = []
    for element in loom.network.elements:
        if element.name.removeprefix("r_") in drawn and element.kind == "resistor":
            elements.append(replace(element, ohm=1.0))
        elif element.name in drawn:
            law = regulator_law(drawn[element.name], knee_v=0.5, knee_share=float(rng.uniform(0.2, 0.4)),
                                slope_siemens=drawn[element.name] * float(rng.uniform(1e-4, 2e-3)))
            elements.append(replace(element, regulator=law))
        else:
            elements.append(element)
    return Loom(Network.of(elements), loom.columns, loom.lamps)


def spice_nodes(
    network: Network, columns: Columns, *, program: str, folder: Path, options: str = "", turned: Collection[str] = (),
    warmed: Mapping[str, Warmed] | None = None, warm_leds: Mapping[str, WarmLed] | None = None,
) -> NDArray[np.float64]:
    """Node voltages by ngspice, rows as the network's nodes."""
    deck = folder / "loom.cir"
    deck.write_text(spice_text(network, columns, folder / "out", options, turned=turned, warmed=warmed,
                               warm_leds=warm_leds))
    subprocess.run([program, "-b", str(deck)], check=True, capture_output=True, timeout=300)
    number = {f"v(n{at + 1})": at for at in range(len(network.nodes))}
    node_v = np.zeros((len(network.nodes), columns.count))
    for c in range(columns.count):
        for name, value in _raw_values(folder / f"out{c}").items():
            if name in number:
                node_v[number[name], c] = value
    return node_v


def _raw_values(path: Path) -> dict[str, float]:
    head, body = path.read_bytes().split(b"Binary:\n", 1)
    names = re.findall(r"^\t\d+\t(\S+)\t", head.decode(), re.M)
    return dict(zip(names, np.frombuffer(body, "<f8", len(names)).tolist(), strict=True))


def lamp_currents(loom: Loom, node_v: NDArray[np.float64]) -> NDArray[np.float64]:
    """Each lamp's current, from the voltage across its resistor."""
    at = {node: k for k, node in enumerate(loom.network.nodes)}
    by_name = {e.name: e for e in loom.network.elements}
    found = [by_name[f"r_{lamp}"] for lamp in loom.lamps]
    return np.array([(node_v[at[e.node_a]] - node_v[at[e.node_b]]) / e.ohm for e in found])

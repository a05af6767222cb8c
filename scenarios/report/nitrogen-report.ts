// Results of a run of the nitrogen model in the form that the page reads: series, bands, marks, surfaces, ledger.
import { guilds, names } from "../../models/nitrogen/kinetics/guilds.ts";
import type { StateLayout } from "../../models/nitrogen/reactor/state-layout.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { systemAt } from "../../models/nitrogen/tank/coefficients.ts";
import { asRunning, type OperatingState, wettedAreas } from "../../models/nitrogen/tank/operating-state.ts";
import type { EnsembleResult } from "../../sim/ensemble/ensemble.ts";
import { mealFactor } from "../model/likelihood.ts";
import { BAND_POINTS_PER_DAY, bandDays } from "../model/members.ts";
import type { Band, Ledger, NitrogenResult, Series } from "../result/result.ts";

const significant = (value: number): number => Number(value.toPrecision(5));

type Put = (id: string, label: string, unit: string, panel: Series["panel"], place: string, values: readonly number[]) => void;

/** All series of one run: water of each display, then films, then solids. */
function seriesOf(run: Run): Series[] {
  const { layout, displayCells, cells } = run.aquarium;
  const several = displayCells.length > 1;
  const series: Series[] = [];
  const put: Put = (id, label, unit, panel, place, values) => {
    series.push({ id, label, unit, panel, place, values: values.map(significant) });
  };
  const water = (c: number, substance: Parameters<typeof layout.cellIndex>[1]) =>
    run.states.map((y) => Math.max(0, y[layout.cellIndex(c, substance)]));
  displayCells.forEach((c, d) => {
    const place = cells[c].id;
    const id = (name: string) => (d === 0 ? name : `${name}.${place}`);
    const label = (name: string) => (several ? `${name}, ${cells[c].name}` : name);
    put(id("tan"), label("ammonia"), "g N/m3", "nitrogen", place, water(c, "tan"));
    put(id("no2"), label("nitrite"), "g N/m3", "nitrogen", place, water(c, "no2"));
    put(id("no3"), label("nitrate"), "g N/m3", "nitrogen", place, water(c, "no3"));
    put(id("o2"), label("oxygen"), "mg/L", "oxygen", place, water(c, "o2"));
    put(
      id("ph"),
      label("pH"),
      "",
      "ph",
      place,
      run.ph.map((ph) => ph[c]),
    );
    put(id("alk"), label("alkalinity"), "meq/L", "alkalinity", place, water(c, "alk"));
    put(
      id("temperature"),
      label("temperature"),
      "°C",
      "temperature",
      place,
      run.operating.map(({ temperatureC }) => temperatureC[c]),
    );
    put(id("organics"), label("dissolved organics"), "mg COD/L", "organics", place, water(c, "ss"));
  });
  const areasM2 = areasOf(run);
  const stock = (guild: string) =>
    run.states.map((y, n) => areasM2[n].reduce((sum, area, f) => sum + area * Math.max(0, y[layout.filmIndex(f, guild)]), 0));
  for (const guild of guilds) put(guild, names[guild], "g COD", "biomass", "all surfaces", stock(guild));
  putSolids(run, put);
  return series;
}

/** Wetted area of each film at each output of a run [m²], areas[output][film]. Most outputs share one operating state. */
function areasOf(run: Run): readonly (readonly number[])[] {
  const known = new Map<OperatingState["wettedShare"], readonly number[]>();
  return run.operating.map((operating) => {
    const areas = known.get(operating.wettedShare) ?? wettedAreas(run.aquarium, operating);
    known.set(operating.wettedShare, areas);
    return areas;
  });
}

/** Solids: dry matter on each pad, in each chamber and elsewhere, the flow past the pads, and the depth of the sediment. */
function putSolids({ aquarium, solidsInventory }: Run, put: Put): void {
  const { towers, sump } = aquarium.rig;
  const padded = [...towers.keys()].filter((t) => towers[t].prefilter);
  const of = (name: string, tower: string) => (padded.length > 1 ? `${name} of ${tower}` : name);
  for (const t of padded) {
    const { id } = towers[t];
    const suffix = t === padded[0] ? "" : `.${id}`;
    const place = of("pad", id);
    put(
      `pad${suffix}`,
      of("dirt on the pad", id),
      "g dry",
      "solids",
      place,
      solidsInventory.map((d) => d.padDryG[t]),
    );
    put(
      `spill${suffix}`,
      of("water spilling past the pad", id),
      "%",
      "spill",
      place,
      solidsInventory.map((d) => 100 * d.spillShare[t]),
    );
  }
  sump.chambers.forEach(({ id, role }, s) => {
    put(
      `sediment.${id}`,
      `sediment, ${role} chamber`,
      "g dry",
      "solids",
      `${role} chamber`,
      solidsInventory.map((d) => d.chamberDryG[s]),
    );
    put(
      `depth.${id}`,
      `depth of sediment, ${role} chamber`,
      "mm",
      "sediment",
      `${role} chamber`,
      solidsInventory.map((d) => 1000 * d.mudM[s]),
    );
  });
  put(
    "dirt",
    "dirt lying anywhere else",
    "g dry",
    "solids",
    "elsewhere",
    solidsInventory.map((d) => Math.max(0, d.allDryG - [...d.padDryG, ...d.chamberDryG].reduce((a, b) => a + b, 0))),
  );
}

/**
 * Bands of the ensemble, interpolated linearly to the times of the likely run. Members are fed evenly, so while animals are
 * fed their values are scaled by the ratio of the likely run with meals to the one with even feeding. Without meals the
 * ratio would only show that a dose from a bottle falls some hours apart in the two runs. The likely line, which is one of
 * the plausible ones, always lies in its band.
 */
function bandsOf(ensemble: EnsembleResult | null, run: Run, even: Run | null): Band[] {
  if (!ensemble || !even || ensemble.sketch.count < 5) return [];
  const times = bandDays(run.aquarium.management.days);
  const quantiles = [0.05, 0.5, 0.95].map((p) => ensemble.sketch.quantile(p));
  const { layout, displayCells } = run.aquarium;
  const between = (value: (i: number) => number, day: number): number => {
    const x = Math.min((day * (times.length - 1)) / Math.max(times[times.length - 1], 1e-9), times.length - 1);
    const i = Math.min(Math.floor(x), times.length - 2);
    return value(i) + (x - i) * (value(i + 1) - value(i));
  };
  const last = even.states.length - 1;
  const fed = even.operating.map(({ evenFeeding }) => evenFeeding.eatenGNPerDay + evenFeeding.uneatenGNPerDay > 0);
  const isFed = (day: number): boolean => fed[Math.min(Math.floor(day * BAND_POINTS_PER_DAY), last)];
  return (["tan", "no2", "no3"] as const).map((series, s) => {
    const cell = layout.cellIndex(displayCells[0], series);
    const likely = run.states.map((y) => significant(Math.max(0, y[cell])));
    const lift = run.days.map((day, n) =>
      isFed(day)
        ? mealFactor(
            likely[n],
            between((i) => Math.max(0, even.states[Math.min(i, last)][cell]), day),
          )
        : 1,
    );
    const [low, middle, high] = quantiles.map((q) =>
      run.days.map((day, n) => significant(lift[n] * between((i) => q[s * times.length + i], day))),
    );
    return {
      series,
      low: low.map((value, n) => Math.min(value, likely[n])),
      middle,
      high: high.map((value, n) => Math.max(value, likely[n])),
      meaning: `at least nine in ten of ${ensemble.sketch.count} runs, with bacteria, wetting and growth varied within what is plausible`,
    };
  });
}

function ledgerOf(run: Run): Ledger {
  const { start, end, ledger } = run;
  const rows = (map: ReadonlyMap<string, number>) => [...map].map(([label, gN]) => ({ label, gN: significant(gN) }));
  const ends = {
    n2: "nitrogen gas (denitrified)",
    nh3air: "ammonia gas",
    plant: "plants",
    foam: "foam fractionator",
    kept: "kept in animals",
  } as const;
  const out = [
    ...rows(ledger.out),
    ...(Object.keys(ends) as (keyof typeof ends)[]).map((key) => ({ label: ends[key], gN: significant(end.ends[key]) })),
  ].filter((row) => row.gN !== 0);
  const change = end.total - start.total - ledger.net;
  return {
    in: rows(ledger.in),
    out,
    stored: [
      { label: "ammonia in the water", gN: significant(end.dissolved.tan - start.dissolved.tan) },
      { label: "nitrite in the water", gN: significant(end.dissolved.no2 - start.dissolved.no2) },
      { label: "nitrate in the water", gN: significant(end.dissolved.no3 - start.dissolved.no3) },
      { label: "waste and organics", gN: significant(end.organics - start.organics) },
      { label: "bacteria", gN: significant(end.bacteria - start.bacteria) },
      { label: "in animals' guts", gN: significant(end.guts - start.guts) },
    ],
    imbalance: Math.abs(change) / Math.max(ledger.turnover + start.total, 1e-9),
  };
}

function inertSolidsOf({ solids, inertG }: Run): NitrogenResult["inertSolids"] {
  return {
    fedG: significant(solids.turnover),
    out: [...solids.out].map(([label, g]) => ({ label, g: significant(g) })),
    lyingG: significant(inertG.end),
    imbalance: solids.turnover > 0 ? Math.abs(inertG.end - inertG.start - solids.net) / solids.turnover : 0,
  };
}

/** Nitrification of each surface at one output of the run [g N/d], and its capacity with abundant ammonia. */
function surfacesOf(run: Run, index: number): NitrogenResult["surfaces"] {
  const { aquarium } = run;
  const { surfaceM2, cells } = aquarium;
  const y = run.states[index];
  const system = systemAt(aquarium, asRunning(aquarium, run.operating[index]));
  return system.wiring.films.map((film, f) => ({
    id: film.id,
    name: film.name,
    cell: cells[film.cell].id,
    areaM2: surfaceM2[f],
    wettedAreaM2: system.coefficients.films[f].areaM2,
    capacityGNPerDay: significant(system.ammoniaOxidation(richIn(system, y, f), f)),
    loadGNPerDay: significant(system.ammoniaOxidation(y, f)),
  }));
}

/** The state with 2 g N/m³ of ammonia at one film, the lower end of the published zero-order range (Nijhof & Bovendeur 1990). */
function richIn(layout: StateLayout, y: Float64Array, film: number): Float64Array {
  const rich = Float64Array.from(y);
  rich[layout.filmIndex(film, "tan")] = 2;
  return rich;
}

/** @param judgedAt index of the output at which the surfaces are evaluated: the day of readiness, or the end */
export function nitrogenResult(
  run: Run,
  judgedAt: number,
  ensemble: EnsembleResult | null,
  limits: NitrogenResult["limits"],
  even: Run | null = null,
): NitrogenResult {
  const { cells, exchange } = run.aquarium;
  return {
    timeDays: run.days.map(significant),
    series: seriesOf(run),
    bands: bandsOf(ensemble, run, even),
    marks: [...run.marks].sort((a, b) => a.day - b.day),
    cells: cells.map((cell, c) => ({ id: cell.id, name: cell.name, volumeM3: exchange.volumesM3[c] })),
    surfaces: surfacesOf(run, judgedAt),
    limits,
    ledger: ledgerOf(run),
    inertSolids: inertSolidsOf(run),
  };
}

// The sump with its chambers, and the towers above it.

import type { Baffle, Chamber, FilterSock, JoinedTank, Sump, Tower } from "../../models/rig.ts";
import { mediaType } from "../../models/tower/media.ts";
import { square } from "../../sim/elementary.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import type { Notes } from "../text/notes.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import type { Receivers } from "./tank.ts";
import { insideOf } from "./vessels.ts";

type ChamberText = NonNullable<Scenario["sump"]["chambers"]>[number];
type TowerText = Exclude<NonNullable<Scenario["tower"]>, "none">[number];

interface MediaText {
  readonly kind: string;
  readonly surface?: number | undefined;
  readonly void?: number | undefined;
  readonly piece?: number | undefined;
}

/** Properties of the media: the user's own where given, otherwise those of the generic type. */
export function mediaFigures(media: MediaText, key: string, notes: Notes): Tower["media"] {
  const type = mediaType(media.kind);
  const surface = type?.specificSurfaceM2PerM3.likely ?? 0;
  const source = type?.source ?? ASSUMED;
  const words = `${surface} m²/m³ (${Math.round(surface * 0.3048)} ft²/ft³)`;
  return {
    kind: media.kind,
    specificSurfaceM2PerM3: notes.or(media.surface, `${key}.surface`, surface, words, source),
    voidShare: notes.or(media.void, `${key}.void`, type?.voidShare ?? 0.9, format.share(type?.voidShare ?? 0.9), source),
    pieceM: media.piece ?? type?.pieceM ?? 0.025,
  };
}

/** Pump and heater, when the scenario does not describe the equipment in the sump. */
const USUAL_EQUIPMENT = { plan: 0.012, from: 0, top: 0.15 } as const;

export function buildSump(sump: Scenario["sump"], notes: Notes): Sump {
  const box = insideOf(sump, "sump", notes);
  const one: readonly ChamberText[] = [{ name: "sump", role: "return", length: box.lengthM, equipment: [USUAL_EQUIPMENT] }];
  const chambers = notes.or(
    sump.chambers,
    "sump.chambers",
    one as ChamberText[],
    "one open compartment with a pump in it",
    "baffles not given: levels may differ where there are some",
  );
  const overTopM = Math.min(sump.water + 0.02, box.heightM - 0.005);
  const over = { kind: "over", top: overTopM, gap: 0 } as const;
  const usual = Array.from({ length: chambers.length - 1 }, () => over);
  const baffles =
    chambers.length < 2
      ? []
      : notes.or(
          sump.baffles,
          "sump.baffles",
          usual,
          `water passes over them, ${format.length(overTopM)[notes.units]} high`,
          `${ASSUMED}: 20 mm above the running level`,
        );
  const bare = {
    chambers: chambers.map(({ name }) => ({ id: name })),
    baffles: baffles.map((b): Baffle => ({ kind: b.kind, topM: b.top ?? box.heightM, gapM: b.gap })),
    runningLevelM: sump.water,
  };
  return {
    ...box,
    wallMaterial: sump.material,
    chambers: withSocks(
      chambers.map((chamber, i) => buildChamber(chamber, `sump.chambers[${i + 1}]`, notes)),
      chambers,
      { ...bare, heightM: box.heightM },
      notes,
    ),
    baffles: bare.baffles,
    joined: sump.joined.map((tank, i): JoinedTank => {
      const { floor, bore, length, pipes, height } = tank;
      return {
        ...insideOf(tank, `sump.joined[${i + 1}]`, notes),
        id: tank.name,
        wallMaterial: tank.material,
        bottomZ: floor,
        to: tank.to ?? chambers[0]!.name,
        pipe: { count: pipes, boreM: bore, lengthM: length, z: floor + height },
      };
    }),
    runningLevelM: sump.water,
  };
}

/** Height of the rim of a sock over the running water of its chamber, and under the rim of the sump [m] (modelling assumption). */
const SOCK_OVER_WATER_M = 0.08;
const SOCK_UNDER_RIM_M = 0.01;

/** The chambers with their socks, whose rims follow the running levels. */
function withSocks(
  built: readonly Chamber[],
  texts: readonly ChamberText[],
  sump: LevelledSump & Pick<Sump, "heightM">,
  notes: Notes,
): readonly Chamber[] {
  const levels = chamberLevelsM(sump);
  return built.map((chamber, i) => {
    const text = texts[i]!.sock;
    if (!text) return chamber;
    const rim = Math.min(levels[chamber.id]! + SOCK_OVER_WATER_M, sump.heightM - SOCK_UNDER_RIM_M);
    const rimZ = notes.or(
      text.rim,
      `sump.chambers[${i + 1}].sock.rim`,
      rim,
      format.length(rim),
      `${ASSUMED}: 80 mm above the running water, below the sump's rim`,
    );
    const sock: FilterSock = {
      kind: text.kind,
      count: text.count,
      diameterM: text.diameter,
      bottomZ: Math.max(0, rimZ - text.depth),
      rimZ,
      grade: text.grade,
      blindedShare: text.blinded,
      spillsTo: text["spills to"],
    };
    return { ...chamber, sock };
  });
}

function buildChamber(chamber: ChamberText, key: string, notes: Notes): Chamber {
  const figures = chamber.media ? mediaFigures(chamber.media, `${key}.media`, notes) : null;
  return {
    id: chamber.name,
    role: chamber.role,
    lengthM: chamber.length,
    displacements: chamber.equipment.map((e) => ({ fromM: e.from, toM: e.top, areaM2: e.plan })),
    submergedMedia:
      chamber.media && figures
        ? {
            kind: chamber.media.kind,
            volumeM3: chamber.media.volume,
            specificSurfaceM2PerM3: figures.specificSurfaceM2PerM3,
            voidShare: figures.voidShare,
          }
        : null,
    sock: null,
  };
}

type LevelledSump = Pick<Sump, "baffles" | "runningLevelM"> & { readonly chambers: readonly Pick<Chamber, "id">[] };

/**
 * Running level of each chamber, as far as the baffles determine it: the top of a baffle that water passes over,
 * otherwise the return level.
 */
export function chamberLevelsM(sump: LevelledSump): Readonly<Record<string, number>> {
  const levels: Record<string, number> = {};
  let level = sump.runningLevelM;
  for (let i = sump.chambers.length - 1; i >= 0; i--) {
    const after = sump.baffles[i];
    if (after?.kind === "over") level = Math.max(level, after.topM);
    levels[sump.chambers[i]!.id] = level;
  }
  return levels;
}

/** Clearance between plate and pad, and above the pad, in the stack over the media [m] (modelling assumption). */
const STACK_GAP_M = 0.02;
const PAD_FREEBOARD_M = 0.05;

/** Height above the sump floor at which a drain into this tower ends: just over the pad, or over the rim of the plate. */
export const towerInletZ = (tower: Tower): number =>
  tower.grateZ +
  tower.mediaDepthM +
  STACK_GAP_M +
  tower.tray.depthM +
  (tower.prefilter ? STACK_GAP_M + tower.prefilter.thicknessM + PAD_FREEBOARD_M : 0) +
  STACK_GAP_M;

/**
 * Number of holes that pass a flow at half the height of the rim: orifices with a coefficient of 0.61 (Torricelli;
 * coefficient common in textbooks).
 */
const holesFor = (flowM3PerS: number, holeM: number, lipM: number): number =>
  Math.max(1, Math.ceil(flowM3PerS / (0.61 * (Math.PI / 4) * square(holeM) * Math.sqrt(9.80665 * lipM))));

/** Pads are rinsed or changed at least every four weeks (common practice, no published source). */
const USUAL_PAD_CHANGE_S = 28 * SECONDS_PER_DAY;

const USUAL_TOWER: Omit<TowerText, "plan"> = {
  name: "tower",
  depth: 0.25,
  media: { kind: "hollow plastic ball 40 mm" },
  distribution: "drip plate",
  arm: { speed: 2, arms: 2 },
  prefilter: { grade: "medium", thickness: 0.03, changed: USUAL_PAD_CHANGE_S, blinded: 0, "spills to": "past the media" },
  tray: { depth: 0.04, hole: 0.006, "spills to": "past the media" },
  lid: "vented",
  "air flow": 0,
};

/** Interval at which a keeper who follows the file changes the pads [s], the shortest of all towers; null = never, or no pads. */
export function padChangeS({ tower }: Scenario): number | null {
  if (tower === undefined) return USUAL_PAD_CHANGE_S;
  if (tower === "none") return null;
  const each = tower.flatMap(({ prefilter }) =>
    prefilter === "none" || prefilter.changed === "never" ? [] : [prefilter.changed],
  );
  return each.length > 0 ? Math.min(...each) : null;
}

export function buildTowers(scenario: Scenario, sump: Sump, flowM3PerS: number, notes: Notes): readonly Tower[] {
  const towers = notes.or(
    scenario.tower,
    "tower",
    [USUAL_TOWER as TowerText],
    "drip plate over 250 mm of hollow plastic balls, with a floss pad",
    ASSUMED,
  );
  if (towers === "none") return [];
  const levels = chamberLevelsM(sump);
  return towers.map((tower, i): Tower => {
    const key = towers.length > 1 ? `tower[${i + 1}]` : "tower";
    const drainsTo = notes.or(tower["drains to"], `${key}.drains to`, sump.chambers[0]!.id, sump.chambers[0]!.id, COMMON);
    const usualPlan = [Math.min(sump.lengthM / 3, sump.chambers.find((c) => c.id === drainsTo)!.lengthM), sump.widthM] as const;
    const [lengthM, widthM] = notes.or(
      tower.plan,
      `${key}.plan`,
      usualPlan,
      `${format.length(usualPlan[0])[notes.units]} x ${format.length(usualPlan[1])[notes.units]}`,
      ASSUMED,
    );
    const aboveWater = levels[drainsTo]! + 0.02;
    const holes = holesFor(flowM3PerS / towers.length, tower.tray.hole, tower.tray.depth);
    const pad = tower.prefilter;
    return {
      id: tower.name,
      lengthM,
      widthM,
      mediaDepthM: tower.depth,
      grateZ: notes.or(
        tower.grate,
        `${key}.grate`,
        aboveWater,
        format.length(aboveWater),
        `${ASSUMED}: 20 mm above the running water`,
      ),
      media: mediaFigures(tower.media, `${key}.media`, notes),
      distribution: tower.distribution,
      wettedShare: tower.wetted ?? null,
      arm: tower.distribution === "rotating arm" ? { turnsPerMinute: tower.arm.speed, arms: tower.arm.arms } : null,
      prefilter:
        pad === "none"
          ? null
          : {
              grade: pad.grade,
              areaM2: pad.size ? pad.size[0] * pad.size[1] : lengthM * widthM,
              thicknessM: pad.thickness,
              blindedShare: pad.blinded,
              spillsTo: pad["spills to"],
            },
      tray: {
        depthM: tower.tray.depth,
        holes: notes.or(
          tower.tray.holes,
          `${key}.tray.holes`,
          holes,
          String(holes),
          `${ASSUMED}: they pass the label flow under half the lip's height`,
        ),
        holeDiameterM: tower.tray.hole,
        spillsTo: tower.tray["spills to"],
      },
      lid: tower.lid,
      airFlowM3PerS: tower["air flow"],
      drainsTo,
    };
  });
}

/** Destinations of the drains, and the elevations at which they end. */
export function receiversOf(towers: readonly Tower[], sump: Sump): Receivers {
  const levels = chamberLevelsM(sump);
  return {
    usual: towers[0]?.id ?? sump.chambers[0]!.id,
    inletZ: Object.fromEntries([
      ...sump.chambers.map((c) => [c.id, levels[c.id]! + 0.01] as const),
      ...sump.joined.map(({ id, to, pipe }) => [id, Math.max(levels[to]!, pipe.z) + 0.01] as const),
      ...towers.map((t) => [t.id, towerInletZ(t)] as const),
    ]),
  };
}

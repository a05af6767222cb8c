// Whether the system fits into the cabinet and through its door, and its mass. The floor load is never judged; that is
// an engineer's task.

import type { Rig } from "../../rig.ts";
import { densityKgPerM3 } from "../../water/density.ts";
import { GRAVITY } from "../laws/pipe.ts";
import { OutageSimulator } from "../outage/outage-simulation.ts";
import type { FitAndLoad } from "../types.ts";

const HAND_ROOM_M = 0.15;
/** Clearance to lift out a prefilter tray (common practice, no published source). */
const TRAY_ROOM_M = 0.1;
/** Float glass and cast acrylic [kg/m3] (EN 572-1; common data sheets). */
const WALL_KG_PER_M3 = { glass: 2500, acrylic: 1190 } as const;
/** Rock and gravel that displace water [kg/m3] (modelling assumption). */
const ROCK_KG_PER_M3 = 2600;
/** Density of plastic media, close to that of water (modelling assumption). */
const MEDIA_KG_PER_M3 = 950;
const PA_PER_LB_FT2 = 47.880259;

export const ASK_AN_ENGINEER =
  "Ask a structural engineer, above all on an upper floor, along the joists, on old timber or in a rented flat. This is a mass and a pressure, not a pass.";

/** Clearances [m] and masses [kg] of a running rig; pressure under the stand's footprint. */
export function fitAndLoad(rig: Rig): FitAndLoad {
  const masses = massesOf(rig);
  const wetMassKg = masses.reduce((sum, part) => sum + part.kg, 0);
  const footprintM2 = rig.stand?.footprintM2 ?? null;
  const pressurePa = footprintM2 === null ? null : (wetMassKg * GRAVITY) / footprintM2;
  return {
    fit: fitOf(rig),
    masses,
    wetMassKg,
    footprintM2,
    pressureKPa: pressurePa === null ? null : pressurePa / 1000,
    pressureLbPerFt2: pressurePa === null ? null : pressurePa / PA_PER_LB_FT2,
    advice: ASK_AN_ENGINEER,
  };
}

function massesOf(rig: Rig): { part: string; kg: number }[] {
  const { volumesM3, vessels } = new OutageSimulator(rig).running();
  const density = densityKgPerM3(rig.waterTemperatureC, rig.salinityGPerKg);
  const water = (kinds: readonly string[]) =>
    vessels.reduce((sum, { id, kind }) => (kinds.includes(kind) ? sum + volumesM3[id] * density : sum), 0);
  const box = (length: number, width: number, height: number, wall: number) =>
    wall * (length * width + 2 * height * (length + width + 2 * wall));
  const { sump } = rig;
  return [
    { part: "water in the displays", kg: water(["display"]) },
    { part: "water in the sump", kg: water(["chamber"]) },
    {
      part: "water in boxes, pipes and towers",
      kg: water(["box", "cup", "drain pipe", "return pipe", "tray", "prefilter", "media", "reactor", "sock"]),
    },
    { part: "water in the reservoir", kg: water(["reservoir"]) },
    { part: "water in closed filters", kg: rig.closedFilters.reduce((sum, { waterM3 }) => sum + waterM3 * density, 0) },
    {
      part: "display walls",
      kg: rig.displays.reduce(
        (sum, d) => sum + WALL_KG_PER_M3[d.wallMaterial] * box(d.lengthM, d.widthM, d.heightM, d.glassM),
        0,
      ),
    },
    { part: "sump walls", kg: WALL_KG_PER_M3[sump.wallMaterial] * box(sump.lengthM, sump.widthM, sump.heightM, sump.glassM) },
    {
      part: "rock and gravel",
      kg: rig.displays.reduce(
        (sum, d) =>
          sum + d.displacements.reduce((part, { fromM, toM, areaM2 }) => part + ROCK_KG_PER_M3 * areaM2 * (toM - fromM), 0),
        0,
      ),
    },
    {
      part: "media",
      kg: rig.towers.reduce(
        (sum, t) => sum + MEDIA_KG_PER_M3 * t.lengthM * t.widthM * t.mediaDepthM * (1 - t.media.voidShare),
        0,
      ),
    },
    { part: "stand and fittings", kg: rig.stand?.dryMassKg ?? 0 },
  ].filter((part) => part.kg > 0);
}

function fitOf(rig: Rig): FitAndLoad["fit"] {
  const { cabinet, sump } = rig;
  if (!cabinet) return [];
  const outerLength = sump.lengthM + 2 * sump.glassM;
  const outerWidth = sump.widthM + 2 * sump.glassM;
  const outerHeight = sump.heightM + sump.glassM;
  const part = (name: string, spareM: number, note: string) => ({ part: name, fits: spareM >= 0, spareM, note });
  const fit = [
    part("sump length", cabinet.lengthM - outerLength, "inside length of the cabinet less the outside length of the sump"),
    part("sump width", cabinet.widthM - outerWidth, "inside depth of the cabinet less the outside width of the sump"),
    part("hand room", cabinet.heightM - outerHeight - HAND_ROOM_M, "150 mm clear above the sump for hands (common practice)"),
    part(
      "sump through the door",
      throughDoor([outerLength, outerWidth, outerHeight], cabinet.doorWidthM, cabinet.doorHeightM),
      "with the tank in place; the sump goes in end first",
    ),
  ];
  for (const tower of rig.towers) {
    const trayTop = tower.grateZ + tower.mediaDepthM + 0.02 + tower.tray.depthM;
    const top = trayTop + (tower.prefilter ? 0.02 + tower.prefilter.thicknessM + 0.05 : 0);
    fit.push(
      part(
        `height of ${tower.id}`,
        cabinet.heightM - sump.glassM - top,
        "from the bottom of the sump to the top of its pad or drip tray",
      ),
    );
    if (tower.prefilter)
      fit.push(
        part(
          `lifting the pad out of ${tower.id}`,
          cabinet.heightM - sump.glassM - top - TRAY_ROOM_M,
          "100 mm above it to lift the pad out",
        ),
      );
  }
  return fit;
}

/**
 * Clearance when the body goes through the door end first, in the better orientation; negative when it does not pass [m].
 */
function throughDoor(sides: readonly number[], doorWidthM: number, doorHeightM: number): number {
  const [a, b] = [...sides].sort((x, y) => x - y);
  return Math.max(Math.min(doorWidthM - a, doorHeightM - b), Math.min(doorWidthM - b, doorHeightM - a));
}

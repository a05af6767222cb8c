// What the media go through in a cut: drying above the water, stagnation below it, and what of the nitrifiers is lost.
import type { Aquarium } from "../nitrogen/aquarium.ts";
import type { AnimalGroup } from "../nitrogen/plan.ts";
import { mediaType } from "../tower/media.ts";
import { type AtRest, type Clock, type Cut, cellOf, firstCrossingH, HORIZON_H, rangeH } from "./cut.ts";
import { filmUseGPerM2Day, wettedSurfaces } from "./filmUse.ts";
import { clingingWater, DRIED_LOSS, DRYING_SPEED, driedShare, drownedShare } from "./mediaDrying.ts";
import { lidDuring } from "./restingHeat.ts";
import { type StillWater, SULPHIDE_LOSS_PER_DAY, starvedShare, turningFoul } from "./stagnantWater.ts";
import { cutTemperatures, type TemperatureCurve } from "./temperature.ts";

/** A tower calls for attention when the first media are dry, and is late when a third of it is (modelling assumption). */
const FIRST_DRY = 0.01;
const THIRD_DRY = 1 / 3;
/** Foul water is late a day after its nitrate is gone (modelling assumption). */
const FOUL_FOR_H = 24;

/** Drowned layers thinner than this share the water of their chamber and get no clock of their own [m] (modelling assumption). */
const THIN_LAYER_M = 0.05;

/** Drying clocks, one a tower; none for a tower whose media all lie under water. */
export function dryingClocks(rest: AtRest, cut: Cut, temperatures: TemperatureCurve): Clock[] {
  return rest.rig.towers.flatMap((tower, t): Clock[] => {
    const drowned = drownedShare(rest, tower);
    if (drowned >= 1) return [];
    const [fast, slow] = [DRYING_SPEED.high, DRYING_SPEED.low].map((speed) => driedShare(rest, cut, t, temperatures, speed));
    const range = (share: number) =>
      rangeH(firstCrossingH(temperatures.stepH, fast, share, 1), firstCrossingH(temperatures.stepH, slow, share, 1));
    const several = rest.rig.towers.length > 1;
    const lid = lidDuring(rest, tower, cut);
    const misted = cut.mistEveryHours === null ? "not misted" : `misted every ${cut.mistEveryHours} h`;
    return [
      {
        id: several ? `media-drying-${tower.id}` : "media-drying",
        name: several ? `Media drying, ${tower.id}` : "Media drying in the tower",
        amberH: range(FIRST_DRY),
        redH: range(THIRD_DRY),
        why: `Tower ${lid === "open" ? "open to the room" : `under a ${lid} lid`}, ${misted}; ${clingingWater(rest, t).kg.toFixed(1)} kg of water cling to ${drowned > 0 ? `the upper ${Math.round(100 * (1 - drowned))} % of the media` : "the media"}. Red is a third of it dry.`,
        source:
          "evaporation by Carrier (1918)/ASHRAE, draught by Metcalf & Eddy, hold-up by Sáez & Carbonell (1985); no published drying curve: modelling assumption, range a factor 3 either way",
      },
    ];
  });
}

/** Still bodies of water with media in them at rest: drowned parts of towers, and submerged media in the sump. */
export function stillWaters(
  rest: AtRest,
  no3GPerM3: number,
  groups: readonly AnimalGroup[] = rest.husbandry.groups,
): StillWater[] {
  const { rig, husbandry } = rest;
  const surfaces = wettedSurfaces(rest);
  const common = {
    useGPerM2Day: filmUseGPerM2Day(rest, groups, husbandry.temperatureC),
    temperatureC: husbandry.temperatureC,
    salinityGPerKg: rig.salinityGPerKg,
    altitudeM: rig.room.altitudeM,
    no3GPerM3,
  };
  const towers = rig.towers.flatMap((tower, t): StillWater[] => {
    const share = drownedShare(rest, tower);
    if (share * tower.mediaDepthM < THIN_LAYER_M) return [];
    const bed = tower.lengthM * tower.widthM * tower.mediaDepthM * share;
    const between = bed * tower.media.voidShare;
    const chamber = rest.volumesM3[cellOf(rest, "chamber", tower.drainsTo)];
    return [
      {
        ...common,
        id: `${tower.id} drowned`,
        name: `the lowest ${Math.round(1000 * share * tower.mediaDepthM)} mm of media in the tower`,
        volumeM3: [between, Math.max(between, chamber)],
        filmM2: share * surfaces.towersM2[t],
        openM2: tower.lengthM * tower.widthM,
      },
    ];
  });
  const chambers = rig.sump.chambers.flatMap((chamber): StillWater[] => {
    const media = chamber.submergedMedia;
    if (!media || media.volumeM3 <= 0) return [];
    const between = media.volumeM3 * (media.voidShare + (mediaType(media.kind)?.poreWaterShare ?? 0));
    const all = rest.volumesM3[cellOf(rest, "chamber", chamber.id)];
    return [
      {
        ...common,
        id: `${chamber.id} media`,
        name: `the media under water in the ${chamber.role} chamber`,
        volumeM3: [Math.min(between, all), Math.max(between, all)],
        filmM2: media.volumeM3 * media.specificSurfaceM2PerM3,
        openM2: chamber.lengthM * rig.sump.widthM,
      },
    ];
  });
  return [...towers, ...chambers];
}

/** Clock of one still body of water: amber when nitrate is gone as well as oxygen, red a day later. */
export function foulClock(water: StillWater): Clock {
  const { oxygenGoneH, nitrateGoneH } = turningFoul(water);
  const aDay = (aerobicH: number, anaerobicH: number) => `${Math.round(100 * starvedShare(aerobicH, anaerobicH))} %`;
  const latest = (range: readonly [number, number]) => (range[1] >= HORIZON_H ? "or not at all" : `to ${range[1].toFixed(0)} h`);
  const oxygen =
    oxygenGoneH === null ? "keeps some oxygen" : `is out of oxygen after ${oxygenGoneH[0].toFixed(1)} h ${latest(oxygenGoneH)}`;
  return {
    id: `media-anoxic-${water.id.replaceAll(" ", "-")}`,
    name: "Media under still water, without oxygen",
    amberH: nitrateGoneH,
    redH:
      nitrateGoneH && nitrateGoneH[0] + FOUL_FOR_H <= HORIZON_H
        ? [nitrateGoneH[0] + FOUL_FOR_H, Math.min(HORIZON_H, nitrateGoneH[1] + FOUL_FOR_H)]
        : null,
    why: `Water round ${water.name} ${oxygen}; harmless while nitrate lasts (amber), then it turns foul: hydrogen sulphide, worse in salt water. The bacteria themselves last: about ${aDay(0, 24)} a day are lost without oxygen, ${aDay(24, 0)} with it and without food.`,
    source:
      "loss: Siegrist et al. (1999); nitrate as oxygen 2.86 g/g: Henze et al. (2000); hydrogen sulphide harms above 5 µg/L; film use: by the food, culture practice",
  };
}

/** Clocks of all still bodies of water. */
export function foulClocks(rest: AtRest, no3GPerM3: number, groups: readonly AnimalGroup[]): Clock[] {
  return stillWaters(rest, no3GPerM3, groups).map(foulClock);
}

/** Share of ammonia and nitrite oxidisers lost, 0..1. */
export interface Lost {
  readonly aob: number;
  readonly nob: number;
}

/**
 * The hook of the nitrogen timeline: what a cut kills beyond the starving and decay that the process matrix itself computes: nitrifiers on media
 * that dried, and in water that turned foul. Likely values of the assumed losses. Films on glass and rock stay in the display's water: nothing.
 */
export function outageLoss(rest: AtRest, films: Aquarium["filmOf"]): (cut: Cut, film: number) => Lost {
  const temperatures = new Map<Cut, TemperatureCurve>();
  const none: Lost = { aob: 0, nob: 0 };
  const media = rest.rig.sump.chambers.filter((chamber) => (chamber.submergedMedia?.volumeM3 ?? 0) > 0);
  const waters = stillWaters(rest, rest.husbandry.start.no3GPerM3);
  const foul = (id: string, hours: number): Lost => {
    const water = waters.find((w) => w.id === id);
    const gone = water ? turningFoul(water).likelyNitrateGoneH : null;
    if (gone === null) return none;
    const days = Math.max(0, hours - gone) / 24;
    return { aob: 1 - Math.exp(-SULPHIDE_LOSS_PER_DAY.aob * days), nob: 1 - Math.exp(-SULPHIDE_LOSS_PER_DAY.nob * days) };
  };
  return (cut, film) => {
    const m = films.submerged.indexOf(film);
    if (m >= 0) return foul(`${media[m].id} media`, cut.hours);
    const t = films.towers.indexOf(film);
    if (t < 0) return none;
    let curve = temperatures.get(cut);
    if (!curve) {
      curve = cutTemperatures(rest, cut, cut.hours);
      temperatures.set(cut, curve);
    }
    const tower = rest.rig.towers[t];
    const drowned = drownedShare(rest, tower);
    const below = foul(`${tower.id} drowned`, cut.hours);
    const dried = (driedShare(rest, cut, t, curve, DRYING_SPEED.likely).at(-1) ?? 0) * (1 - drowned);
    return {
      aob: dried * DRIED_LOSS.aob.likely + drowned * below.aob,
      nob: dried * DRIED_LOSS.nob.likely + drowned * below.nob,
    };
  };
}

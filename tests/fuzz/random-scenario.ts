// Random scenario files over the whole format. Vessels, pipes and names that depend on each other are chosen together;
// everything else is drawn from the format itself. Most of them are valid; `loadScenario` decides.
//
//   const { scenario, text } = randomScenario(drawOf("seed", 7));
//   fc.assert(fc.property(anyScenario(), ({ text }) => ...));

import { stringify } from "yaml";
import type * as z from "zod";
import { MEDIA_TYPES } from "../../models/tower/media.ts";
import { closedFilter, sump, tower } from "../../scenarios/schema/filter.ts";
import { group } from "../../scenarios/schema/life.ts";
import { otherReturn, returnLine, topOff } from "../../scenarios/schema/return.ts";
import { scenarioSchema } from "../../scenarios/schema/schema.ts";
import { tank } from "../../scenarios/schema/tank.ts";
import { HYDRAULIC_FACTORS, HYDRAULIC_OFFSETS, UNCERTAIN_IDS } from "../../scenarios/schema/uncertain.ts";
import { parseQuantity } from "../../scenarios/text/units.ts";
import { timelineEvent } from "../../scenarios/timeline/all.ts";
import fc from "../fast-check.ts";
import { Draw, drawOf } from "./draw.ts";
import { drawSection, type FieldDraw, type Hint, NOT_MINE, quantityText } from "./random-field.ts";

export interface RandomScenarioOptions {
  /** Largest number of days; default 14. */
  readonly mostDays?: number;
  /** Largest number of tanks on the sump; default 6. */
  readonly mostTanks?: number;
  /** Whether every value is within its usual range; random when absent. */
  readonly usual?: boolean;
  /** Top-level keys to omit. */
  readonly without?: readonly string[];
}

export interface RandomScenario {
  readonly scenario: Readonly<Record<string, unknown>>;
  /** The scenario as the text of a file. */
  readonly text: string;
}

type Written = Record<string, unknown>;
/** Hints by path below their section; a function draws a value, anything else is used as it is. */
type Hints = Readonly<Record<string, unknown>>;

const hintsOf =
  (hints: Hints): Hint =>
  (path, siblings) => {
    if (!(path in hints)) return NOT_MINE;
    const mine = hints[path];
    return typeof mine === "function" ? (mine as (siblings: unknown) => unknown)(siblings) : mine;
  };

/** Names, sizes and counts on which several sections must agree. */
interface Plan {
  readonly days: number;
  readonly tanks: readonly { readonly name: string; readonly sizeM: readonly [number, number, number] }[];
  readonly sumpM: readonly [number, number, number];
  readonly waterM: number;
  readonly chambers: readonly string[];
  /** null = the key is omitted; an empty list = none. */
  readonly towers: readonly string[] | null;
  readonly closed: readonly string[];
  readonly groups: readonly string[];
  readonly intakeM: number;
  /** Media depth of each tower. */
  readonly towerDepthM: number;
}

class Writer {
  readonly draw: Draw;
  readonly how: Omit<FieldDraw, "hint">;
  readonly plan: Plan;
  readonly usual: boolean;
  readonly towers: readonly Written[];

  constructor(draw: Draw, options: RandomScenarioOptions) {
    this.draw = draw;
    this.usual = options.usual ?? draw.chance(0.5);
    this.how = {
      draw,
      spread: this.usual ? "usual" : "possible",
      written: draw.pick([0.1, 0.25, 0.6]),
      units: draw.chance(0.25) ? "US" : "metric",
    };
    this.plan = this.drawPlan(options);
    this.towers = (this.plan.towers ?? []).map((name) => this.tower(name));
  }

  /** Height above the sump's floor of the highest end of a drain to a tower. */
  private get towerTopM(): number {
    const metres = (value: unknown, usual: number): number => {
      const read = typeof value === "string" ? parseQuantity(value, "length") : null;
      return read?.ok ? read.value : usual;
    };
    const part = (section: unknown, key: string): unknown => (section as Written | undefined)?.[key];
    const tops = this.towers.map(
      (t) =>
        metres(t.grate, this.plan.waterM + 0.05) +
        metres(t.depth, 0.25) +
        metres(part(t.tray, "depth"), 0.04) +
        (t.prefilter === "none" ? 0 : metres(part(t.prefilter, "thickness"), 0.03)) +
        0.13,
    );
    return Math.max(this.plan.towers === null ? this.plan.waterM + 0.55 : 0, ...tops);
  }

  /** A length as text, slightly inside its limits, so that rounding never crosses them. */
  length(metres: number): string {
    return quantityText(metres, "length", this.how.units);
  }

  size(metres: readonly number[]): string {
    const words = metres.map((m) => this.length(m).split(" "));
    return `${words.map(([number]) => number).join(" x ")} ${words[0]![1]}`;
  }

  section(schema: z.ZodType, hints: Hints): Written {
    return drawSection(schema as z.ZodObject, "", { ...this.how, hint: hintsOf(hints) });
  }

  private drawPlan({ mostDays = 14, mostTanks = 6 }: RandomScenarioOptions): Plan {
    const { draw } = this;
    const tankCount = draw.chance(0.6) ? 1 : draw.whole(1, mostTanks);
    const scale = draw.spread(0.4, 2);
    const tanks = Array.from({ length: tankCount }, (_, i) => ({
      name: `tank ${i + 1}`,
      sizeM: [draw.between(0.5, 1.2) * scale, draw.between(0.25, 0.6) * scale, draw.between(0.25, 0.6) * scale] as const,
    }));
    const sumpM = [draw.between(0.4, 1) * scale, draw.between(0.25, 0.5) * scale, draw.between(0.25, 0.5) * scale] as const;
    const waterM = draw.between(0.25, 0.85) * sumpM[2];
    const chamberCount = draw.chance(0.4) ? 0 : draw.whole(1, 4);
    const towerCount = draw.chance(0.25) ? null : draw.chance(0.15) ? 0 : draw.chance(0.7) ? 1 : draw.whole(2, 4);
    return {
      days: draw.chance(0.2) ? 1 : draw.whole(1, mostDays),
      tanks,
      sumpM,
      waterM,
      chambers: Array.from({ length: chamberCount }, (_, i) => `chamber ${i + 1}`),
      towers: towerCount === null ? null : Array.from({ length: towerCount }, (_, i) => `tower ${i + 1}`),
      closed: draw.chance(0.8) ? [] : Array.from({ length: draw.whole(1, 2) }, (_, i) => `canister ${i + 1}`),
      groups: draw.chance(0.35) ? [] : Array.from({ length: draw.whole(1, 3) }, (_, i) => `group ${i + 1}`),
      intakeM: Math.min(0.06, draw.between(0.1, 0.9) * waterM),
      towerDepthM: draw.between(0.1, 0.7) * scale,
    };
  }

  get sumpNames(): readonly string[] {
    return this.plan.chambers.length > 0 ? this.plan.chambers : ["sump"];
  }

  get towerNames(): readonly string[] {
    return this.plan.towers ?? ["tower"];
  }

  private outsideOrInside(sizeM: readonly number[]): Hints {
    return this.draw.chance(0.7)
      ? { inside: this.size(sizeM), outside: undefined }
      : { outside: this.size(sizeM.map((m) => m + 0.04)), inside: undefined, glass: undefined };
  }

  tank(index: number): Written {
    const { draw, plan } = this;
    const { name, sizeM } = plan.tanks[index]!;
    const [lengthM, widthM, heightM] = sizeM;
    const gravelM = draw.pick([0, 0.02, 0.05]);
    const lineM = draw.between(0.015, 0.12) * (heightM / 0.5);
    const count = draw.chance(0.85) ? 1 : draw.whole(2, 3);
    const crestToo = draw.chance(0.15);
    const overflows = Array.from({ length: count }, () => this.overflow(sizeM, lineM, crestToo));
    return this.section(tank, {
      name,
      ...this.outsideOrInside(sizeM),
      "above sump": draw.chance(0.1) ? undefined : this.length(this.aboveSumpM(heightM)),
      "water line": crestToo || draw.chance(0.5) ? undefined : this.length(lineM),
      gravel: this.length(gravelM),
      rock: draw.chance(0.6)
        ? undefined
        : quantityText(draw.between(0, 0.25) * lengthM * widthM * (heightM - gravelM), "volume", this.how.units),
      overflow: draw.chance(0.25) ? undefined : count === 1 && draw.chance(0.8) ? overflows[0] : overflows,
    });
  }

  /** Usually high enough for the drains to fall, sometimes any height. */
  private aboveSumpM(heightM: number): number {
    const { draw, plan } = this;
    if (draw.chance(0.05)) return draw.between(0, 2);
    const overSump = plan.sumpM[2] + draw.between(0.05, 0.9);
    return Math.max(overSump, this.towerTopM - Math.max(0, heightM - 0.3) + draw.between(0.05, 0.4));
  }

  private overflow([lengthM]: readonly number[], lineM: number, crestToo: boolean): Written {
    const { draw } = this;
    const count = draw.whole(1, 3);
    return this.section(overflowSchema, {
      crest: crestToo ? this.length(lineM + draw.between(0.005, 0.03)) : undefined,
      weir: draw.chance(0.5) ? this.length(Math.max(0.02, draw.between(0.1, 0.95) * lengthM)) : undefined,
      box: draw.chance(0.9)
        ? undefined
        : this.size([draw.between(0.3, 0.9) * lengthM, draw.between(0.06, 0.12), lineM + draw.between(0.1, 0.2)]),
      "box rim": draw.chance(0.9) ? undefined : this.length(draw.between(0, 0.05)),
      leak: draw.chance(0.85)
        ? undefined
        : {
            bore: `${draw.pick([1, 3, 8])} mm`,
            height: this.length(draw.between(0, 0.15)),
            ...(draw.chance(0.5) ? { to: draw.pick(["box", "floor"]) } : {}),
          },
      "box level": draw.chance(0.9) ? undefined : this.length(draw.between(0.02, 0.15)),
      drains: draw.chance(0.55) ? undefined : count === 1 ? this.drain() : Array.from({ length: count }, () => this.drain()),
    });
  }

  private drain(): Written {
    const { draw } = this;
    return this.section(drainSchema, {
      bore: draw.chance(0.5) ? this.length(draw.pick([0.02, 0.025, 0.032, 0.04, 0.05])) : undefined,
      mouth: draw.chance(0.85) ? undefined : this.length(draw.between(0.01, 0.15)),
      length: draw.chance(0.9) ? undefined : this.length(draw.spread(0.3, 3)),
      outlet: draw.chance(0.9) ? undefined : this.length(draw.between(0, 0.8)),
      to: draw.chance(0.7) ? undefined : draw.pick([...this.towerNames, ...this.sumpNames]),
    });
  }

  sump(): Written {
    const { draw, plan } = this;
    const [lengthM, widthM, heightM] = plan.sumpM;
    const parts = plan.chambers.map(() => draw.between(0.6, 1.4));
    const whole = parts.reduce((a, b) => a + b, 0);
    const used = draw.between(0.85, 0.99) * lengthM;
    const chambers = plan.chambers.map((name, i) => {
      const mineM = (used * parts[i]!) / whole;
      const planM2 = mineM * widthM;
      return this.section(chamberSchema, {
        name,
        role: i === plan.chambers.length - 1 ? "return" : draw.pick(["inlet", "settling", "media", "heater"]),
        length: this.length(mineM),
        equipment: draw.chance(0.7)
          ? undefined
          : Array.from({ length: draw.whole(1, 2) }, () => ({
              plan: quantityText(draw.between(0.05, 0.4) * planM2, "area", this.how.units),
              ...(draw.chance(0.3) ? { from: this.length(draw.between(0, 0.04)) } : {}),
              top: this.length(draw.between(0.05, heightM)),
            })),
        sock: draw.chance(0.85)
          ? undefined
          : this.section(sockSchema, {
              count: 1,
              diameter: this.length(Math.max(0.04, Math.min(0.2, draw.between(0.2, 0.7) * Math.sqrt(planM2)))),
              rim: draw.chance(0.7) ? undefined : this.length(draw.between(0.3, 1) * heightM + 0.02),
            }),
        media: draw.chance(0.7)
          ? undefined
          : this.section(submergedSchema, {
              volume: quantityText(Math.max(1.01e-4, draw.between(0.05, 0.7) * planM2 * plan.waterM), "volume", this.how.units),
              ...this.media(),
            }),
      });
    });
    return this.section(sump, {
      ...this.outsideOrInside(plan.sumpM),
      water: this.length(plan.waterM),
      chambers: chambers.length > 0 ? chambers : undefined,
      joined: draw.chance(0.9) ? undefined : [this.joined()],
      baffles: chambers.length < 2 || draw.chance(0.5) ? undefined : chambers.slice(1).map(() => this.baffle()),
    });
  }

  /** A tank beside the sump, its pipe under both rims. */
  private joined(): Written {
    const { draw, plan } = this;
    const [lengthM, widthM, heightM] = plan.sumpM;
    return this.section(joinedSchema, {
      name: "joined tank",
      ...this.outsideOrInside([Math.max(0.25, lengthM), Math.max(0.25, widthM), Math.max(0.25, heightM)]),
      glass: draw.chance(0.8) ? undefined : "6 mm",
      floor: draw.chance(0.6) ? undefined : this.length(draw.between(0, 0.5) * heightM),
      height: this.length(Math.max(0.01, draw.between(0.02, 0.4) * heightM)),
      to: draw.chance(0.5) ? undefined : draw.pick(this.sumpNames),
    });
  }

  private baffle(): Written {
    const { draw, plan } = this;
    const kind = draw.pick(["over", "under", "over and under"]);
    const topM = Math.min(plan.sumpM[2], plan.waterM + draw.between(-0.05, 0.06));
    return {
      kind,
      ...(kind === "under" ? {} : { top: this.length(Math.max(0, topM)) }),
      ...(kind === "over" ? {} : { gap: this.length(draw.between(0.01, 0.08)) }),
    };
  }

  /** A kind of the library, or kind own with the figures that it needs. */
  private media(): Hints {
    const { draw } = this;
    if (draw.chance(0.3))
      return { kind: draw.chance(0.5) ? undefined : draw.pick(MEDIA_TYPES).kind, surface: undefined, void: undefined };
    if (draw.chance(0.3)) return { kind: draw.pick(MEDIA_TYPES).kind };
    return { kind: "own", surface: `${draw.whole(100, 900)} m2/m3`, void: `${draw.whole(40, 95)} %` };
  }

  tower(name: string): Written {
    const { draw, plan } = this;
    return this.section(tower, {
      name,
      depth: draw.chance(0.2) ? undefined : this.length(plan.towerDepthM * draw.between(0.6, 1.4)),
      plan: draw.chance(0.3)
        ? undefined
        : this.size([
            Math.max(0.02, draw.between(0.2, 0.6) * plan.sumpM[0]),
            Math.max(0.02, draw.between(0.5, 1) * plan.sumpM[1]),
          ]),
      grate: draw.chance(0.6) ? undefined : this.length(plan.waterM + draw.between(-0.02, 0.3)),
      "drains to": draw.chance(0.6) ? undefined : draw.pick(this.sumpNames),
      media: draw.chance(0.5) ? this.section(mediaSchema, this.media()) : undefined,
    });
  }

  closedFilter(name: string): Written {
    const { draw, plan } = this;
    const names = [...plan.tanks.map((t) => t.name), ...this.sumpNames];
    const waterM3 = draw.spread(1e-3, 0.03);
    const on = draw.chance(0.5) ? undefined : draw.pick(names);
    const depthM = on === undefined || on.startsWith("tank") ? Math.min(...plan.tanks.map((t) => t.sizeM[2])) : plan.sumpM[2];
    return this.section(closedFilter, {
      name,
      on,
      water: quantityText(waterM3, "volume", this.how.units),
      media: draw.chance(0.3)
        ? undefined
        : this.section(closedMediaSchema, {
            volume: draw.chance(0.5) ? undefined : quantityText(draw.between(0.2, 0.9) * waterM3, "volume", this.how.units),
            ...this.media(),
          }),
      intake: draw.chance(0.5) ? undefined : this.length(draw.between(0.02, 0.6) * depthM),
    });
  }

  /** A label flow that turns the water of the tanks over in ten minutes to four hours, or any that the format allows. */
  private pump(): unknown {
    const { draw, plan } = this;
    const litres = plan.tanks.reduce((sum, { sizeM: [l, w, h] }) => sum + 1000 * l * w * h, 0);
    const perHour = Math.min(190_000, Math.max(21, draw.spread(0.5, 12) * litres));
    const flow = quantityText(perHour / 3.6e6, "flow", this.how.units);
    if (draw.chance(0.5)) return flow;
    const headM = draw.spread(1, 12);
    const curved = draw.chance(0.4);
    return this.section(pumpSchema, {
      flow: curved ? undefined : flow,
      head: curved || draw.chance(0.5) ? undefined : this.length(headM),
      curve: curved
        ? [0, 0.4, 0.75, 1].map((share) => ({
            flow: `${Math.round(share * perHour)} L/h`,
            head: `${(headM * (1 - share ** 2)).toFixed(3)} m`,
          }))
        : undefined,
      intake: this.length(plan.intakeM),
    });
  }

  private hole(depthM: number): unknown {
    const { draw } = this;
    return draw.chance(0.4)
      ? "none"
      : { bore: `${draw.pick([2, 3, 4, 6, 10])} mm`, depth: this.length(draw.between(0, depthM)), count: draw.whole(1, 3) };
  }

  private nozzle(tankIndex: number, tees: readonly number[]): Written {
    const { draw, plan } = this;
    const { name, sizeM } = plan.tanks[tankIndex]!;
    const depthM = draw.between(0.01, Math.min(0.3, 0.5 * sizeM[2]));
    return this.section(nozzleSchema, {
      tank: plan.tanks.length > 1 ? name : undefined,
      depth: this.length(depthM),
      hole: this.hole(depthM),
      bore: draw.chance(0.7) ? undefined : `${draw.pick([12, 16, 20, 25, 32])} mm`,
      tee: tees.length > 0 ? this.length(draw.pick(tees)) : undefined,
      "branch bore": tees.length > 0 && draw.chance(0.3) ? `${draw.pick([12, 16, 20, 25, 32])} mm` : undefined,
      "branch length": tees.length > 0 && draw.chance(0.3) ? this.length(draw.spread(0.1, 3)) : undefined,
      valve: tees.length > 0 && draw.chance(0.3) ? `${draw.pick([0, 10, 50, 100])} %` : undefined,
      open: draw.chance(0.9) ? undefined : `${draw.pick([0, 20, 70])} %`,
    });
  }

  returnLine(other: string | null = null): Written {
    const { draw, plan } = this;
    const single = plan.tanks.length === 1 && draw.chance(0.6);
    const depthM = draw.between(0.01, Math.min(0.3, 0.5 * plan.tanks[0]!.sizeM[2]));
    // Low in the riser, or at about the height of a rim.
    const tees = draw.chance(0.65)
      ? []
      : Array.from({ length: draw.whole(1, 3) }, () =>
          draw.pick([draw.between(0.05, 0.5), plan.sumpM[2] + draw.between(0.3, 1.6)]),
        );
    const nozzles = plan.tanks.flatMap((_, i) => Array.from({ length: draw.chance(0.8) ? 1 : 2 }, () => this.nozzle(i, tees)));
    return this.section(other === null ? returnLine : otherReturn, {
      ...(other === null ? {} : { name: other }),
      pump: this.pump(),
      outlet: single ? this.length(depthM) : undefined,
      hole: single ? this.hole(depthM) : undefined,
      nozzles: single ? undefined : nozzles,
      length: draw.chance(0.7) ? undefined : this.length(draw.spread(0.5, 6)),
      branches: draw.chance(0.85)
        ? undefined
        : Array.from({ length: draw.whole(1, 2) }, (_, i) =>
            this.section(branchSchema, {
              body: draw.chance(0.5) ? undefined : this.body(),
              name: `${other ?? ""}branch ${i + 1}`,
              bore: `${draw.pick([6, 12, 16])} mm`,
              outlet: this.length(draw.between(0, 1.2) * plan.sumpM[2]),
              to: draw.chance(0.5) ? undefined : draw.pick(this.sumpNames),
            }),
          ),
    });
  }

  /** A reactor whose openings lie inside it. */
  private body(): Written {
    const { draw, plan } = this;
    const heightM = draw.between(0.25, 0.8);
    const mouthM = draw.between(0.3, 0.95) * heightM;
    // A small one may stand in any chamber.
    const small = draw.chance(0.15);
    return this.section(bodySchema, {
      volume: quantityText(small ? 2.1e-4 : draw.spread(4e-4, 0.04), "volume", this.how.units),
      height: this.length(heightM),
      floor: draw.chance(0.6) ? undefined : this.length(draw.between(0, plan.sumpM[2])),
      inlet: this.length(draw.between(0, 0.8) * mouthM),
      "outlet mouth": this.length(mouthM),
      stands: small ? draw.pick(["beside the sump", "in the sump"]) : "beside the sump",
    });
  }

  /** Hoses of a water change in a tank or a chamber, whose draining end lies above its floor. */
  hose(): Written | "none" | undefined {
    const { draw } = this;
    if (draw.chance(0.9)) return draw.chance(0.1) ? "none" : undefined;
    return this.section(hoseSchema, {
      in: draw.chance(0.5) ? undefined : draw.pick([...this.plan.tanks.map((t) => t.name), ...this.sumpNames]),
      depth: draw.chance(0.7) ? undefined : this.length(draw.between(0.006, 0.02)),
    });
  }

  otherReturns(): Written[] | undefined {
    const { draw } = this;
    return draw.chance(0.85)
      ? undefined
      : Array.from({ length: draw.whole(1, 2) }, (_, i) => this.returnLine(`pump ${i + 2} `.trim()));
  }

  topOff(): Written {
    const { draw, plan } = this;
    const onM = Math.max(0.001, plan.waterM - draw.between(0.001, 0.02));
    const told = draw.chance(0.5);
    return this.section(topOff, {
      reservoir: quantityText(draw.spread(1e-3, 0.1), "volume", this.how.units),
      "on below": told ? this.length(onM) : undefined,
      "off above": told ? this.length(onM + draw.between(0.002, 0.01)) : undefined,
    });
  }

  group(name: string): Written {
    const { draw, plan } = this;
    const litres = plan.tanks.reduce((sum, { sizeM: [l, w, h] }) => sum + 1000 * l * w * h, 0);
    const count = draw.whole(1, 30);
    return this.section(group, {
      name,
      count,
      // Up to four grams of animals per litre.
      mass: `${((litres * draw.spread(0.02, 4)) / count + 0.01).toPrecision(3)} g`,
      food: draw.chance(0.6) ? undefined : `${(litres * draw.spread(1e-4, 0.1)).toPrecision(3)} g/day`,
      arrives: draw.chance(0.6) ? undefined : `day ${draw.whole(0, plan.days)}`,
      leaves: draw.chance(0.9) ? undefined : `day ${draw.whole(plan.days, 20)}`,
    });
  }

  /** Nitrogen uptake of plants in proportion to the water surface. */
  uptake(): string {
    const planM2 = this.plan.tanks.reduce((sum, { sizeM: [l, w] }) => sum + l * w, 0);
    return `${(planM2 * this.draw.spread(0.01, 0.95)).toPrecision(3)} g/day`;
  }

  event(): Written {
    const { draw, plan } = this;
    const kind = draw.pick((timelineEvent.options as readonly z.ZodObject[]).map((option) => option));
    const towers = this.towerNames;
    const filters = [...towers, ...plan.closed];
    const name = String((kind.shape.do as z.ZodLiteral).value);
    const every = draw.chance(0.8) ? undefined : draw.pick(["6 h", "1 day", "3 days", "7 days"]);
    const names = name === "wetting" ? towers : filters;
    const hour = draw.chance(0.5) ? "" : ` ${String(draw.whole(0, 23)).padStart(2, "0")}:${draw.pick(["00", "17", "30"])}`;
    const event = this.section(kind, {
      at: `day ${draw.whole(0, Math.max(0, plan.days - 1))}${hour}`,
      every: name === "power cut" ? undefined : every,
      until: every && name !== "power cut" && draw.chance(0.5) ? `day ${plan.days}` : undefined,
      tower: names.length > 0 && draw.chance(0.5) ? draw.pick(names) : undefined,
      group: plan.groups.length > 0 && draw.chance(0.5) ? draw.pick(plan.groups) : undefined,
      // Mostly within the few days of a random run.
      for: draw.chance(0.7)
        ? `${draw.spread(name === "medicine" || name === "weather" ? 1 : 0.05, 30).toPrecision(3)} h`
        : NOT_MINE_YET,
      uptake: this.uptake(),
      extra: draw.chance(0.5) ? undefined : `${draw.spread(0.05, 10).toPrecision(3)} g/day`,
    });
    return withOneAmount(name, event, this);
  }
}

/** Leaves the value to the format. */
const NOT_MINE_YET = () => NOT_MINE;

/** A dose has exactly one of: a level to reach, a rise, a mass, or a volume with its strength. */
function withOneAmount(name: string, event: Written, { draw }: Writer): Written {
  const unit = { "dose ammonia": "mg/L as NH3", "dose nitrite": "mg/L as NO2", "add chloride": "mg/L", "add bicarbonate": "dKH" }[
    name
  ];
  if (unit === undefined) return event;
  const { to, add, mass, volume, strength, ...rest } = event;
  if (volume !== undefined && strength !== undefined && draw.chance(0.5)) return { ...rest, volume, strength };
  const given = Object.entries({ to, add, mass }).filter(([, value]) => value !== undefined);
  const [key, value] = given.length > 0 ? draw.pick(given) : (["add", `${draw.spread(0.1, 5).toPrecision(3)} ${unit}`] as const);
  return { ...rest, [key]: value };
}

/** Sections that the format does not export separately, found where they are used. */
function inside(schema: z.ZodType, key: string): z.ZodType {
  const found = objectIn((schema as z.ZodObject).shape[key] as z.ZodType);
  if (!found) throw new Error(`the format has no section ${key} any more`);
  return found;
}
function objectIn(schema: z.ZodType): z.ZodObject | null {
  const def = schema.def as unknown as {
    readonly type: string;
    readonly innerType?: z.ZodType;
    readonly in?: z.ZodType;
    readonly element?: z.ZodType;
    readonly options?: readonly z.ZodType[];
  };
  if (def.type === "object") return schema as z.ZodObject;
  for (const next of [def.innerType, def.in, def.element, ...(def.options ?? [])]) {
    const found = next && objectIn(next);
    if (found) return found;
  }
  return null;
}
const overflowSchema = inside(tank, "overflow");
const drainSchema = inside(overflowSchema, "drains");
const chamberSchema = inside(sump, "chambers");
const submergedSchema = inside(chamberSchema, "media");
const mediaSchema = inside(tower, "media");
const closedMediaSchema = inside(closedFilter, "media");
const pumpSchema = inside(returnLine, "pump");
const nozzleSchema = inside(returnLine, "nozzles");
const branchSchema = inside(returnLine, "branches");
const bodySchema = inside(branchSchema, "body");
const sockSchema = inside(chamberSchema, "sock");
const joinedSchema = inside(sump, "joined");
const hoseSchema = inside(scenarioSchema, "hose");

/** Steps of a kit's scale, which must rise. */
const rising = (draw: Draw, top: number): number[] =>
  Array.from({ length: draw.whole(2, 6) }, () => draw.spread(0, top))
    .map((x, i) => Number((x + i * 0.01 * top).toPrecision(3)))
    .sort((a, b) => a - b)
    .filter((x, i, all) => i === 0 || x > all[i - 1]!);

function seed(draw: Draw): unknown {
  if (draw.chance(0.6)) return draw.pick(["none", "bottle", "gravel", "mature"]);
  const share = draw.spread(0.1, 100);
  const text = (x: number) => `${Math.min(100, x).toPrecision(4)} %`;
  return {
    share: text(share),
    ...(draw.chance(0.5) ? { low: text(share * draw.between(0.1, 0.9)), high: text(share * draw.between(1.2, 3)) } : {}),
    ...(draw.chance(0.5) ? { where: draw.pick(["media", "everywhere"]) } : {}),
    ...(draw.chance(0.3) ? { from: draw.pick(["fresh", "brackish", "salt"]) } : {}),
    ...(draw.chance(0.3)
      ? { travelled: `${draw.spread(0.1, 700).toPrecision(3)} h`, temperature: `${draw.whole(0, 45)} °C` }
      : {}),
    ...(draw.chance(0.3) ? { kept: draw.pick(["wet", "dried", "bottled"]) } : {}),
  };
}

/** Ranges of uncertain inputs, in ascending order. */
function uncertain(draw: Draw): unknown {
  const text = (factor: number): string => `${(100 * factor).toPrecision(4)} %`;
  const ranges = UNCERTAIN_IDS.filter(() => draw.chance(0.3)).map((id) => {
    const likely = draw.spread(0.5, 2);
    const low = likely * draw.between(0.3, 1);
    const high = likely * draw.between(1, 3);
    return [id, { low: text(low), ...(draw.chance(0.5) ? { likely: text(likely) } : {}), high: text(high) }] as const;
  });
  // Without a likely value the usual one counts, which must then lie between the ends.
  const fitting = ranges.filter(
    ([, { low, likely, high }]) => likely !== undefined || (Number.parseFloat(low) <= 100 && Number.parseFloat(high) >= 100),
  );
  // A stream of its own, so that what follows in the scenario does not depend on these.
  const more = drawOf("uncertain hydraulics", ranges.length * 1000 + JSON.stringify(ranges).length);
  const factors = Object.keys(HYDRAULIC_FACTORS).filter(() => more.chance(0.3));
  const offsets = Object.keys(HYDRAULIC_OFFSETS).filter(() => more.chance(0.3));
  const ids = ["seed", ...UNCERTAIN_IDS];
  const ties = ids
    .slice(1)
    .filter(() => more.chance(0.2))
    .map((other) => ({ one: more.pick(ids.slice(0, ids.indexOf(other))), other, correlation: more.between(-1, 1) }))
    .map((tie) => (more.chance(0.5) ? tie : { ...tie, one: tie.other, other: tie.one }));
  return {
    ...Object.fromEntries(fitting),
    ...Object.fromEntries(
      factors.map((id) => [
        id,
        {
          low: text(more.between(0.6, 1)),
          ...(more.chance(0.3) ? { likely: "100 %" } : {}),
          high: text(more.between(1, 1.5)),
        },
      ]),
    ),
    ...Object.fromEntries(
      offsets.map((id) => [id, { low: `${more.between(-30, 0).toFixed(1)} mm`, high: `${more.between(0, 30).toFixed(1)} mm` }]),
    ),
    ...(ties.length > 0 ? { together: ties } : {}),
    ...(draw.chance(0.2) ? { "readings used until": `day ${draw.whole(0, 9)}` } : {}),
  };
}

/** A random scenario, usually one that the format and its checks accept. */
export function randomScenario(draw: Draw, options: RandomScenarioOptions = {}): RandomScenario {
  const writer = new Writer(draw, options);
  const { plan } = writer;
  const towers = plan.towers;
  const left = new Set(options.without ?? []);
  const steps = (top: number) => {
    const all = rising(draw, top);
    return all.length > 1 && draw.chance(0.3) ? all : undefined;
  };
  const hints: Hints = {
    sumpwright: 1,
    name: "random rig",
    uncertain: draw.chance(0.5) ? uncertain(draw) : undefined,
    units: writer.how.units === "US" ? "US" : draw.chance(0.3) ? "metric" : undefined,
    tank: plan.tanks.length === 1 ? writer.tank(0) : plan.tanks.map((_, i) => writer.tank(i)),
    sump: writer.sump(),
    tower: towers === null ? undefined : towers.length === 0 ? "none" : towers.length === 1 ? writer.towers[0] : writer.towers,
    return: writer.returnLine(),
    "other returns": writer.otherReturns(),
    hose: writer.hose(),
    "closed filter":
      plan.closed.length === 0 ? (draw.chance(0.2) ? "none" : undefined) : plan.closed.map((name) => writer.closedFilter(name)),
    "top off": draw.chance(0.75) ? (draw.chance(0.1) ? "none" : undefined) : writer.topOff(),
    stock: plan.groups.length === 0 ? undefined : plan.groups.map((name) => writer.group(name)),
    timeline: draw.chance(0.3) ? undefined : Array.from({ length: draw.whole(1, 8) }, () => writer.event()),
    days: plan.days,
    seed: draw.chance(0.3) ? undefined : seed(draw),
    lamps: draw.chance(0.6)
      ? undefined
      : `${(1000 * draw.spread(0.001, 0.3) * plan.tanks.reduce((sum, { sizeM: [l, w, h] }) => sum + l * w * h, 0)).toPrecision(3)} W`,
    "plants.uptake": writer.uptake(),
    "kit.ammonia steps": steps(8),
    "kit.nitrite steps": steps(5),
    "kit.nitrate steps": steps(160),
  };
  const given = Object.fromEntries(Object.entries(hints).map(([key, value]) => [key, left.has(key) ? undefined : value]));
  for (const key of left) given[key] = undefined;
  const scenario = writer.section(scenarioSchema, given);
  return { scenario, text: stringify(scenario) };
}

/** Random scenarios for property tests; a failure prints the seed and shrinks. */
export const anyScenario = (options: RandomScenarioOptions = {}): fc.Arbitrary<RandomScenario> =>
  fc.gen().map((g) => randomScenario(new Draw(() => g(fc.double, { min: 0, max: 1, maxExcluded: true, noNaN: true })), options));

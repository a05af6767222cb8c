// The sizes in sentences and in table cells.

import type { ResolvedScenario } from "../build/build.ts";
import { ScenarioFormatter } from "../build/scenario-formatter.ts";
import * as format from "../text/format.ts";
import { flow, formatMessage, length, type Message, number, sentence, volume } from "../text/message.ts";
import { RANGE_M } from "./levels.ts";
import { volumeOf } from "./media-size.ts";
import type { AsWritten, SizeRequest, SizeRow, Sizes } from "./size-types.ts";

/** One row in words. */
export interface RowWords {
  readonly works: boolean;
  readonly media: string;
  readonly tower: string;
  readonly sump: string;
  readonly pump: string;
  /** What limits each part, or why it does not work. */
  readonly limits: readonly string[];
}

export interface SizeWords {
  /** The first is the answer. */
  readonly sentences: readonly string[];
  readonly rows: readonly RowWords[];
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;
const NOTHING = "–";
const NEAR_M = 0.006;
const NEAR = 1.001;

/** The part of a working row that is closest to its limit, by how much of what there is it uses. */
export function closest({ tower, sump, pump }: SizeRow, { room }: Sizes): { readonly part: string; readonly use: number } {
  const uses = [
    { part: "the room for the tower", use: tower ? volumeOf(tower) / tower.mostM3 : 0 },
    { part: "the length for the sump", use: sump ? sump.lengthM / room.longestSumpM : 0 },
    { part: "the head of the pump", use: pump ? pump.headM / pump.shutOffM : 0 },
  ];
  return uses.reduce((a, b) => (b.use > a.use ? b : a));
}

export class SizeTexts {
  private readonly words: ScenarioFormatter;
  private readonly request: SizeRequest;
  private readonly sizes: Sizes;

  constructor(resolved: ResolvedScenario, request: SizeRequest, sizes: Sizes) {
    this.words = new ScenarioFormatter(resolved);
    this.request = request;
    this.sizes = sizes;
  }

  private say(message: Message): string {
    return formatMessage(message, this.words);
  }

  private get sure(): string {
    return `in ${Math.round(100 * this.request.confidence)} tanks of 100`;
  }

  private failureOf(row: SizeRow): string {
    const { failure, turnover, tower, carries, misfits, problem, pump } = row;
    const { room, foodGPerDay } = this.sizes;
    switch (failure) {
      case "pump":
        return `pump by its head: no label flow that is sold turns the water over ${format.plain(turnover)} times an hour through this riser`;
      case "drains":
        return this.say(
          sentence`pump by the drains: the overflow does not pass ${flow(pump!.flowM3PerS)}, or the pump draws air at the level as written`,
        );
      case "sump":
        return this.say(
          sentence`sump by the fill-back: up to ${length(room.longestSumpM)} inside length no level has room for what comes back and ${length(RANGE_M)} over the pump's intake`,
        );
      case "height":
        return "tower by the height: plate and pad alone reach the top";
      case "load":
        return carries === null
          ? "media by the load: fresh runs did not keep the limits surely enough"
          : this.say(
              sentence`media by the load: the most that fits, ${volume(tower!.mostM3)}, carries ${number(carries * foodGPerDay)} g of food a day, not ${number(foodGPerDay)} g`,
            );
      case "unfed":
        return "limits by something else than size: not even a thirty-second of the animals keeps them; look at alkalinity, water changes and temperature";
      case "cabinet":
        return this.say(
          sentence`cabinet: ${misfits.map(({ part, spareM }) => `${this.say(sentence`${length(-spareM)}`)} missing for ${part}`).join(", ")}`,
        );
      default:
        return `these parts cannot be built together: ${problem ?? "the plates, levels and heights do not suit each other"}`;
    }
  }

  private row(row: SizeRow): RowWords {
    const { media, tower, sump, pump, failure, fresh } = row;
    const works = failure === null;
    const say = (message: Message): string => this.say(message);
    return {
      works,
      media: tower && tower.leastM3 !== null ? say(sentence`${volume(volumeOf(tower))} of ${media}`) : media,
      tower: tower ? say(sentence`${length(tower.lengthM)} x ${length(tower.widthM)}, ${length(tower.depthM)} deep`) : NOTHING,
      sump: sump ? say(sentence`${length(sump.lengthM)} long, filled to ${length(sump.waterM)}`) : NOTHING,
      pump: pump
        ? say(sentence`${flow(pump.labelM3PerS)}, gives ${flow(pump.flowM3PerS)} at ${length(pump.headM)} of head`)
        : NOTHING,
      limits: !works
        ? [this.failureOf(row)]
        : [
            say(
              sentence`media by the load: ${tower!.leastM3! <= tower!.triedM3 * NEAR ? "even the least that was tried, other surfaces do the work" : sentence`from ${volume(tower!.leastM3!)} on`}; fresh runs keep the limits in ${percent(fresh!.share)}`,
            ),
            say(
              tower!.depthM > tower!.deepestM - 1e-6
                ? sentence`tower by the height: as high as fits, so it is ${length(tower!.lengthM)} long`
                : sentence`tower by the height: at most ${length(tower!.deepestM)} of media`,
            ),
            say(sentence`sump by the fill-back: ${volume(sump!.comesBackM3)} come back into ${volume(sump!.roomM3)} of room`),
            say(
              sentence`pump by the head: ${number(pump!.turnoverPerHour)} system volumes an hour, ${percent(pump!.headM / pump!.shutOffM)} of its highest head`,
            ),
            `closest to its limit: ${closest(row, this.sizes).part}, ${percent(closest(row, this.sizes).use)} used`,
          ],
    };
  }

  private asWritten(): string[] {
    const { written, foodGPerDay, room } = this.sizes;
    const { levels, runsAtM, lengthM, reserve, leastReserve, shortestSumpM, mediaM3, leastMediaM3, largestLoad }: AsWritten =
      written;
    const say = (message: Message): string => this.say(message);
    const said: string[] = [];
    said.push(
      largestLoad === 0
        ? "As written the filter carries not even a thirty-second of the animals within the limits: look at alkalinity, water changes and temperature before any size."
        : say(
            sentence`As written and grown in, the filter carries animals that eat ${number(largestLoad * foodGPerDay)} g of food a day, ${this.sure}; the plan feeds ${number(foodGPerDay)} g.`,
          ),
    );
    if (mediaM3 !== null && leastMediaM3 !== null)
      said.push(
        say(
          sentence`The least media of this kind that carries the animals is about ${volume(leastMediaM3)}; written: ${volume(mediaM3)}.`,
        ),
      );
    if (mediaM3 !== null && leastMediaM3 === null && largestLoad > 0)
      said.push(say(sentence`The ${volume(mediaM3)} of media as written are too little for the animals.`));
    said.push(
      shortestSumpM === null
        ? "No sump of this width and height, up to the longest that fits, has a level at which a power cut stays in and the pump draws no air."
        : say(
            sentence`The shortest sump of this width and height that holds is ${length(shortestSumpM)} long inside; written: ${length(lengthM)}.${shortestSumpM < room.shortestSumpM + NEAR_M ? " No shorter one was tried: pump and heater need room." : ""}`,
          ),
    );
    said.push(
      leastReserve === null || levels.highM === null
        ? say(
            sentence`In the sump as written no level leaves enough room for a power cut: ${volume(reserve.comesBackM3)} come back into ${volume(reserve.roomM3)} of room.`,
          )
        : say(
            sentence`The smallest reserve that holds is ${volume(leastReserve.roomM3)} of room over the water, at ${length(levels.highM)} in the return chamber; as written it runs at ${length(runsAtM)} with ${volume(reserve.roomM3)} of room, and ${volume(reserve.comesBackM3)} come back.`,
          ),
    );
    return said;
  }

  texts(): SizeWords {
    const { rows } = this.sizes;
    const works = rows.filter(({ failure }) => failure === null);
    const [best] = works;
    const first =
      best?.tower && best.sump && best.pump
        ? this.say(
            sentence`${works.length} of ${rows.length} choices work. The shortest sump that works is ${length(best.sump.lengthM)} long inside, under ${volume(volumeOf(best.tower))} of ${best.media}, with a pump of ${flow(best.pump.labelM3PerS)}.`,
          )
        : `None of the ${rows.length} choices works; the table says what stands in the way of each.`;
    return { sentences: [first, ...this.asWritten()], rows: rows.map((row) => this.row(row)) };
  }
}

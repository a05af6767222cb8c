// Filter media by generic type. All figures are per cubic metre of bulk volume.

/** Material of the surface; it determines how water spreads on new media. */
export type MediaMaterial = "plastic" | "ceramic" | "mineral";

export interface MediaType {
  readonly kind: string;
  readonly material: MediaMaterial;
  /** Outer surface that oxygen can reach, m² per m³ of bulk volume. */
  readonly specificSurfaceM2PerM3: { readonly low: number; readonly likely: number; readonly high: number };
  readonly voidShare: number;
  /** Nominal size of a piece, of a flow channel or of a strut, m. */
  readonly pieceM: number;
  /** Water held inside porous pieces, m³ per m³ of bulk volume; it neither flows nor drains. */
  readonly poreWaterShare: number;
  readonly suits: "tower" | "submerged" | "either";
  readonly source: string;
}

const RINGS = "packed-column handbooks, random plastic rings (from memory, high confidence)";
const BLOCKS =
  "wastewater practice, structured cross-flow blocks (from memory); 157 and 226 m²/m³ in Wat. Sci. Tech. 34(1-2):83 (1996)";
const FOAM = "reticulated foam by pore count (from memory, low confidence)";
const GRAINS = "grain geometry 6 (1 - void) / size (derived)";

function media(
  kind: string,
  material: MediaMaterial,
  [low, likely, high]: readonly [number, number, number],
  voidShare: number,
  pieceMm: number,
  suits: MediaType["suits"],
  source: string,
  poreWaterShare = 0,
): MediaType {
  return {
    kind,
    material,
    specificSurfaceM2PerM3: { low, likely, high },
    voidShare,
    pieceM: pieceMm / 1000,
    poreWaterShare,
    suits,
    source,
  };
}

/** The media library, by generic type. A surface figure given by the user replaces `likely`. */
export const MEDIA_TYPES: readonly MediaType[] = [
  media("plastic ring 25 mm", "plastic", [206, 213, 220], 0.91, 25, "tower", RINGS),
  media("plastic ring 50 mm", "plastic", [100, 109, 118], 0.93, 50, "tower", RINGS),
  media(
    "hollow plastic ball 25 mm",
    "plastic",
    [160, 300, 500],
    0.9,
    25,
    "tower",
    "hobby reviews give at most 500 m²/m³ (low confidence); 160 from keepers' own counts",
  ),
  media("hollow plastic ball 40 mm", "plastic", [100, 160, 250], 0.92, 40, "tower", "common practice, no published source"),
  media("structured cross-flow block", "plastic", [98, 160, 240], 0.95, 19, "tower", BLOCKS),
  media("plastic mat or brush", "plastic", [100, 200, 400], 0.95, 20, "either", "common practice, no published source"),
  media(
    "free-moving plastic carrier",
    "plastic",
    [500, 860, 900],
    0.85,
    10,
    "submerged",
    "864 m²/m³ for one carrier (guide text)",
  ),
  media("foam 10 ppi", "plastic", [400, 500, 650], 0.97, 2.5, "either", FOAM),
  media("foam 20 ppi", "plastic", [900, 1100, 1300], 0.97, 1.3, "either", FOAM),
  media("foam 30 ppi", "plastic", [1500, 1800, 2100], 0.97, 0.85, "submerged", FOAM),
  media(
    "ceramic ring 15 mm",
    "ceramic",
    [250, 300, 400],
    0.7,
    15,
    "either",
    "packed-column handbooks (from memory); inner pores not counted, oxygen does not reach them",
    0.05,
  ),
  media("porous ceramic or lava 10 mm", "ceramic", [250, 330, 450], 0.5, 10, "either", `${GRAINS}; outer surface only`, 0.12),
  media("expanded clay 10 mm", "ceramic", [280, 340, 400], 0.43, 10, "either", `${GRAINS}; outer surface only`, 0.1),
  media("gravel 10 mm", "mineral", [280, 330, 400], 0.45, 10, "submerged", GRAINS),
  media("coral gravel 5 mm", "mineral", [500, 650, 800], 0.45, 5, "submerged", GRAINS),
  media("sand 0.5 mm", "mineral", [5500, 6600, 7500], 0.45, 0.5, "submerged", GRAINS),
];

/** The entry of a kind, or undefined when the library has none. */
export function mediaType(kind: string): MediaType | undefined {
  return MEDIA_TYPES.find((entry) => entry.kind === kind);
}

/** Specific surface of a bed of grains, m²/m³, from grain size (m) and void share: 6 (1 - void)/d for spheres (geometry). */
export function grainSurfaceM2PerM3(grainM: number, voidShare: number): number {
  return (6 * (1 - voidShare)) / grainM;
}

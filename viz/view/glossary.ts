// The glossary: every technical or model term on the page or the drawing board, in plain words.

export interface Entry {
  /** Suffix of the entry's address on the page: #term-<id>. */
  readonly id: string;
  readonly term: string;
  /** Other spellings and forms that are recognised in a text. */
  readonly forms: readonly string[];
  readonly text: string;
}

const entry = (term: string, text: string, ...forms: string[]): Entry => ({
  id: term.toLowerCase().replace(/[^a-z0-9]+/g, "-"),
  term,
  forms,
  text,
});

/** In alphabetical order. */
export const GLOSSARY: readonly Entry[] = [
  entry(
    "Alkalinity",
    "How much acid the water can take before its pH falls. Bacteria use it up as they turn ammonia into nitrate. Kits show it as KH, in degrees.",
    "KH",
    "carbonate hardness",
  ),
  entry(
    "Ammonia",
    "What animals give off and what food turns into when it rots. It harms animals even in small amounts. A kit counts both of its forms together.",
    "TAN",
  ),
  entry(
    "Ammonia oxidisers",
    "The bacteria that turn ammonia into nitrite. They grow on every wet surface and need oxygen.",
    "ammonia-oxidising bacteria",
    "ammonia oxidizers",
  ),
  entry(
    "Anoxic",
    "Without oxygen. Water that does not move, with bacteria in it, becomes anoxic within hours and may then turn foul.",
  ),
  entry(
    "Back-siphon",
    "When the pump stops, water runs backwards from the tank through the return pipe, until air gets into the pipe.",
    "back siphon",
    "siphons back",
  ),
  entry(
    "Baffle",
    "An upright plate in the sump. Water passes over it or under it, so that each chamber keeps its own level.",
    "baffles",
  ),
  entry(
    "Band",
    "The shaded range around a curve: nine out of ten runs are in it when what nobody knows exactly is varied.",
    "shaded band",
  ),
  entry(
    "Biofilm",
    "The thin living layer of bacteria on media, glass, rock and gravel. It does the work of the filter.",
    "biofilms",
    "film of bacteria",
  ),
  entry(
    "Break hole",
    "A small hole in the return pipe just under the water line. When the pump stops, it lets air in and so ends the back-siphon. It works only while it is clean.",
    "siphon-break hole",
    "siphon hole",
  ),
  entry("Capacity", "The daily amount of food whose waste the filter can handle without a reading on your kit."),
  entry(
    "Check valve",
    "A valve that lets water through one way only. Dirt can hold it open, so this page never relies on it alone.",
  ),
  entry(
    "Chloramine",
    "A disinfectant in some tap water. It kills filter bacteria and brings ammonia with it, unless the water is treated first.",
    "chlorine",
  ),
  entry("Crest", "The edge that water runs over at a weir."),
  entry("Display", "The tank with the animals, as opposed to the sump below it.", "display tank"),
  entry(
    "Distribution",
    "How the water is spread over the media: by a plate with holes, a spray bar or a turning arm.",
    "drip plate",
    "rotating arm",
    "fixed spray",
    "one-sided",
  ),
  entry("Drain", "The pipe that takes water from the overflow down to the filter and the sump.", "drains"),
  entry(
    "Fill mark",
    "The highest level at which the sump may run. Above it, the water that comes down in a power cut may not fit.",
    "MAX FILL",
  ),
  entry(
    "Fishless cycle",
    "Growing the bacteria with doses of ammonia before any animal is in the tank.",
    "run-in",
    "cycling",
    "cycled",
  ),
  entry(
    "Half-saturation",
    "The concentration at which bacteria work at half their full speed. A low value means that they still work well in clean water.",
  ),
  entry(
    "Head",
    "How high a pump must lift the water, plus what friction in the pipe adds. More head means less flow.",
    "head budget",
  ),
  entry(
    "Heterotrophs",
    "Bacteria that live on dissolved and solid waste. They use oxygen and take space from the bacteria that clean ammonia.",
  ),
  entry(
    "Ion basis",
    "Whether a reading counts the whole ion (NO2, NO3, NH4) or only the nitrogen in it (NO2-N). The same water gives different numbers, so every number here names its basis.",
    "basis",
  ),
  entry("Media", "The filling of the filter: balls, blocks, foam or rings with a large surface for bacteria.", "filter media"),
  entry(
    "Nitrate",
    "The end product of the filter. It does little harm at moderate levels and leaves with water changes or into plants.",
  ),
  entry(
    "Nitrite",
    "The step between ammonia and nitrate. In fresh water it stops the blood of fish from carrying oxygen; salt water protects them.",
  ),
  entry(
    "Nitrite oxidisers",
    "The bacteria that turn nitrite into nitrate. They start later than the ammonia oxidisers, which is why nitrite peaks second.",
    "nitrite-oxidising bacteria",
    "nitrite oxidizers",
  ),
  entry(
    "Nozzle",
    "The end of the return pipe in the tank. The deeper it is under water, the more water siphons back in a power cut.",
    "nozzles",
    "return nozzle",
    "nozzle tip",
  ),
  entry("OFF level", "Where the water comes to rest when the power is off.", "OFF"),
  entry(
    "Overflow",
    "Where the water leaves the tank: a weir with a box and one or more drains. It may be drilled into the glass or hung over the rim.",
    "overflow box",
    "hang-on overflow",
  ),
  entry("pH", "How acid or alkaline the water is. Below about 6.5 the filter bacteria slow down and may stop."),
  entry("Plain power cut", "The pump stops and starts again, and nothing else is wrong.", "power cut"),
  entry(
    "Prefilter pad",
    "A mat above the media that holds back dirt. When it is clogged, water runs past the media.",
    "prefilter",
    "pad",
    "pads",
  ),
  entry(
    "Pull-the-plug test",
    "You pull the pump's plug and watch where the water stops. It is the only test of a sump that counts.",
    "pull the plug",
  ),
  entry("Ready", "The filter clears the test dose within the asked time, as many times in a row as the scenario asks."),
  entry("Return", "Pump, pipe and nozzle that bring the water back up to the tank.", "return line", "return pipe"),
  entry(
    "Return chamber",
    "The last chamber of the sump, with the pump in it. Its level falls as water evaporates.",
    "pump chamber",
  ),
  entry("Rim", "The upper edge of a tank or sump. Water above it is on the floor."),
  entry("Scenario", "The file that describes a system and what happens to it: sizes, pipes, pump, animals, food and events."),
  entry("Sediment", "Solid waste that settles on the bottom of a chamber. Siphon it off before it rots."),
  entry("Seed", "Bacteria brought in at the start: from a mature filter, some gravel, or a bottle.", "seeded", "starter culture"),
  entry("Specific surface", "Square metres of surface in one cubic metre of media.", "m2/m3", "m²/m³"),
  entry("Spike", "A short rise of ammonia or nitrite after more food or animals than the bacteria are used to.", "spikes"),
  entry("Sump", "The tank in the cabinet below, with the filter, the heater and the return pump in it."),
  entry(
    "Test dose",
    "An amount of ammonia that stands in for the waste of a day, to see whether the filter clears it in time.",
    "dose test",
  ),
  entry("Throttle", "To close a valve partly so that less water flows.", "throttled", "throttle valve"),
  entry("Top-off", "A small pump and a reservoir that replace evaporated water.", "top off", "float switch"),
  entry(
    "Tower",
    "The trickle filter: media above the water, with water trickling through and air all around it.",
    "trickle tower",
    "trickle filter",
    "wet-dry filter",
  ),
  entry("Turnover", "How many times an hour the pump moves the whole volume of the system."),
  entry(
    "Un-ionised ammonia",
    "The harmful form of ammonia. Its share grows with pH and temperature.",
    "un-ionized ammonia",
    "NH3",
  ),
  entry("Weir", "The edge or comb that water runs over out of the tank. A long weir holds the level steady.", "weirs"),
  entry("Wetted share", "The part of the media that water reaches. Dry media do no work.", "wetted", "wetting"),
];

const byForm = new Map(GLOSSARY.flatMap((e) => [e.term, ...e.forms].map((form): [string, Entry] => [form.toLowerCase(), e])));

/** The entry for a term as written in a text; undefined when the glossary does not have it. */
export const entryFor = (form: string): Entry | undefined => byForm.get(form.toLowerCase());

const literal = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

/** Matches every form of every term as whole words, the longest form first. */
const FORMS = new RegExp(
  `(?<![\\p{L}\\p{N}-])(?:${[...byForm.keys()]
    .sort((a, b) => b.length - a.length)
    .map(literal)
    .join("|")})(?![\\p{L}\\p{N}-])`,
  "giu",
);

/** A text split into plain text and terms with their entries. */
export function termsIn(text: string): readonly (string | { readonly words: string; readonly entry: Entry })[] {
  const pieces: (string | { words: string; entry: Entry })[] = [];
  let done = 0;
  for (const match of text.matchAll(FORMS)) {
    const found = entryFor(match[0]);
    if (!found) continue;
    if (match.index > done) pieces.push(text.slice(done, match.index));
    pieces.push({ words: match[0], entry: found });
    done = match.index + match[0].length;
  }
  if (done < text.length) pieces.push(text.slice(done));
  return pieces;
}

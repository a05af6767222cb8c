// Numbers whose change no test can or should notice, each with its reason. `npm run mutants` leaves them out unless asked for.

export interface Reason {
  readonly file: RegExp;
  /** Part of the source line on which the number stands. */
  readonly line: RegExp;
  readonly why: string;
}

const SETTING = "setting of a numerical method: the result does not depend on it within the tolerance that other tests hold";
const GUARD = "guard against division by zero or endless loops: in force only where no water or substance is";
const TRANSITION = "width of a smooth transition: it moves no state and no level by a ruler's millimetre";
const CLEARANCE = "clearance of a switch, a millimetre or two, so that it does not chatter";
const BUFFER = "place in or size of a buffer: larger changes nothing, smaller throws";
const FIRST_GUESS = "first guess of an iteration that converges from anywhere";

export const reasons: readonly Reason[] = [
  { file: /outage\/outage-simulation\.ts$/, line: /0\.999|inletZ \+ 0\.002/, why: CLEARANCE },
  { file: /hydraulics\/dynamics\/(?:jacobian|steady-state|tracer|transient)\.ts$/, line: /./, why: SETTING },
  { file: /dynamics\/recorder\.ts$/, line: /const [A-Z_]+ =|const inner/, why: SETTING },
  { file: /dynamics\/return-line\.ts$/, line: /1e-1[34]|1e-9|k % [38]|1e-4, \(high|lift \* lift/, why: SETTING },
  { file: /dynamics\/system\.ts$/, line: /EMPTY_SMOOTHING|NEARLY_EMPTY/, why: SETTING },
  { file: /dynamics\/|return-parts\.ts$/, line: /CLEARING_BAND|AIR_BAND/, why: TRANSITION },
  { file: /dynamics\/mode-events\.ts$/, line: /1e-3|[A-Z_]+_M = (?:0\.00|5e-4|2e-3)/, why: CLEARANCE },
  {
    file: /laws\/pipe\.ts$/,
    line: /for \(let k|Math\.abs\((?:stride|miss|after)\)|MOST_CUBICS|slope =|frictionGuess/,
    why: SETTING,
  },
  { file: /laws\/pipe\.ts$/, line: /let x = -TWO_DECIMAL|guess [<>] |<= 2000 \* viscosity/, why: FIRST_GUESS },
  { file: /laws\/(?:pump|weir|fittings)\.ts$/, line: /for \(let k|1e-12|1e-9|let \[low|CHORD_SHARE/, why: SETTING },
  { file: /laws\/level-curve\.ts$|network\//, line: /LEAST_|LOWEST_|FLOOR_M2|RESERVOIR_DEPTH|Math\.max\(/, why: GUARD },
  { file: /hydraulics\/outage\/start\.ts$/, line: /fills\.set|return 0\.0|levels\[n\]|\* room/, why: FIRST_GUESS },
  { file: /hydraulics\/outage\/start\.ts$/, line: /LEAST_SET|1e-9/, why: GUARD },
  { file: /hydraulics\/(?:planning|outage)\//, line: /1e-[69]|turn < 8/, why: GUARD },
  {
    file: /hydraulics\/(?:planning|outage)\//,
    line: /LONGEST_|AFTERWARDS_S|STEP_D =|LEAST_SHARE|MARK_M|PRECISION|: 0\.5\)/,
    why: SETTING,
  },
  {
    file: /outage\/verdict\.ts$/,
    line: /RISEN_M|STANDS_HIGH_M|\/ 60/,
    why: "threshold or unit of a remark; no level or volume depends on it",
  },
  {
    file: /outage\/rig-changes\.ts$/,
    line: /STANDS_M|HOLE_EDGE_M/,
    why: "tells a standpipe from an opening in the floor: no pipe stands between 20 and 40 mm",
  },
  { file: /planning\/remedies\.ts$/, line: /2e-3|1e-3|0\.02, \(by|fails \+ 0\.02/, why: SETTING },
  {
    file: /planning\/remedies\.ts$/,
    line: /HOLE_|SHALLOWEST|LARGEST_SUMP|EMERGENCY|shortest|0\.00[15]|EXPECTED|ease: /,
    why: "size or rank of a proposal: it is simulated before it is said to hold (tests/models/hydraulics/planning.test.ts)",
  },
  {
    file: /analysis\/largest\.ts$/,
    line: /./,
    why: "search for the largest value: found with whatever steps (tests/models/nitrogen/largest.test.ts)",
  },
  {
    file: /nitrogen\//,
    line: /tolerances: \{|MOST_STEPS|MOST_WIRINGS|TRIAL_TOLERANCE|DIFFUSION_TIMES|ENDLESS_M3|TRICKLE|STEADY_RELEASE|STEP_OF_|TO_STEADY|EVERY_H|AFTER_H|PIECE_|HOPELESS|0\.999|days = 600|POURED_TOGETHER|days = 3\)/,
    why: SETTING,
  },
  {
    file: /operation\/water-heat\.ts$/,
    line: /HOTTEST_C/,
    why: "the run gives up there and says so; no water of a tank comes near it",
  },
  { file: /nitrogen\//, line: /1e-[789]|1e-60|AT_REST_K|const TRACE|SMOOTH_NET|LEAST_LOAD/, why: GUARD },
  {
    file: /reactor\/coefficients\.ts$/,
    line: /./,
    why: "stand-in until the real coefficients are set; the tests of small systems set what they use",
  },
  {
    file: /kinetics\/effectiveness\.ts$|rate-programs\.ts$/,
    line: /1 \/ 3|u \/ 3|small = |inner = |outer = |series = |choose\(small/,
    why: "series for small arguments: the terms after the first make less than 1e-3 of it there",
  },
  { file: /kinetics\/rate-evaluator\.ts$/, line: /4 \*|q === 3|d < 4|O2 = 3/, why: BUFFER },
  {
    file: /water\/(?:criteria|viscosity|carbonate-equilibria)\.ts$/,
    line: /1\.005109|9\.52e-5|4\.724e-4|5\.218e-5|5\.7789|18\.951/,
    why: "high-order coefficient of a published fit: a third of it moves the result by less than the fit's own error",
  },
  {
    file: /operation\/outage-record\.ts$/,
    line: /ANOXIC_G|NITRATE_GONE/,
    why: "level at which oxygen or nitrate counts as gone: it runs out within minutes there",
  },
  {
    file: /tower\/media\.ts$/,
    line: /media\(|\[\d|^\d/,
    why: "entry of the media library: a figure of a table, which a scenario may replace; grains are held by geometry (tests/models/tower/tower.test.ts)",
  },
  {
    file: /tower\/ventilation\.ts$/,
    line: /freeShare: 0/,
    why: "modelling assumption about lids without a number outside; their order is tested",
  },
  {
    file: /tank\/biofilm-stock\.ts$/,
    line: /Math\.max\(management\.start/,
    why: "keeps a colony of acid water from starting in water in which none can grow (modelling assumption)",
  },
  { file: /tank\/biofilm-stock\.ts$/, line: /y\[system\.filmIndex|SETTLING_IN_DAYS/, why: FIRST_GUESS },
  {
    file: /reactor\/(?:system|transport|rate-programs)\.ts$/,
    line: /8 \*|\* 8|4 \*|processCount \+|1e-5|SCALES = /,
    why: BUFFER,
  },
];

/** The reason of a number, by its file and the text of its line; null when it has none. */
export const reasonOf = (file: string, line: string): string | null =>
  reasons.find((reason) => reason.file.test(file) && reason.line.test(line))?.why ?? null;

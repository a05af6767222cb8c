// Numbers whose change no test can or should notice, each with its reason. `npm run mutants` leaves them out unless asked for.

export interface Reason {
  readonly file: RegExp;
  /** Part of the source line on which the number stands. */
  readonly line: RegExp;
  readonly why: string;
}

const SETTING = "setting of a numerical method: the result does not depend on it within the tolerance that other tests hold";
const GUARD = "guard against division by zero or endless loops: in force only where no water or substance is";
const FIRST_GUESS = "first guess of an iteration that converges from anywhere";

export const reasons: readonly Reason[] = [
  { file: /hydraulics\/dynamics\/(?:jacobian|steady-state|tracer|transient)\.ts$/, line: /./, why: SETTING },
  { file: /dynamics\/recorder\.ts$/, line: /const [A-Z_]+ =|const inner/, why: SETTING },
  { file: /dynamics\/return-line\.ts$/, line: /1e-1[34]|1e-9|k % [38]|1e-4, \(high|lift \* lift/, why: SETTING },
  { file: /dynamics\/system\.ts$/, line: /EMPTY_SMOOTHING|NEARLY_EMPTY/, why: SETTING },
  {
    file: /laws\/pipe\.ts$/,
    line: /for \(let k|Math\.abs\((?:stride|miss|after)\)|MOST_CUBICS|slope =|frictionGuess/,
    why: SETTING,
  },
  { file: /laws\/pipe\.ts$/, line: /let x = -TWO_DECIMAL|guess [<>] /, why: FIRST_GUESS },
  { file: /laws\/(?:pump|weir|fittings)\.ts$/, line: /for \(let k|1e-12|1e-9|let \[low/, why: SETTING },
  { file: /hydraulics\/outage\/start\.ts$/, line: /fills\.set|return 0\.0|levels\[n\]|\* room/, why: FIRST_GUESS },
  { file: /hydraulics\/outage\/start\.ts$/, line: /LEAST_SET|1e-9/, why: GUARD },
  { file: /hydraulics\/(?:planning|outage)\//, line: /1e-[69]|turn < 8/, why: GUARD },
  { file: /hydraulics\/planning\/remedies\.ts$/, line: /2e-3|1e-3|0\.02, \(by|fails \+ 0\.02/, why: SETTING },
  {
    file: /analysis\/largest\.ts$/,
    line: /./,
    why: "search for the largest value: found with whatever steps (tests/models/nitrogen/largest.test.ts)",
  },
  {
    file: /nitrogen\//,
    line: /tolerances: \{|MOST_STEPS|MOST_WIRINGS|TRIAL_TOLERANCE|DIFFUSION_TIMES|ENDLESS_M3|TRICKLE|STEADY_RELEASE/,
    why: SETTING,
  },
  { file: /nitrogen\//, line: /1e-[789]|1e-60|1e-3, \/\/|const TRACE/, why: GUARD },
  {
    file: /reactor\/coefficients\.ts$/,
    line: /./,
    why: "stand-in until the real coefficients are set; the tests of small systems set what they use",
  },
  { file: /tank\/biofilm-stock\.ts$/, line: /y\[system\.filmIndex|SETTLING_IN_DAYS|Math\.max\(management/, why: FIRST_GUESS },
  {
    file: /reactor\/(?:system|transport)\.ts$/,
    line: /8 \*|\* 8|4 \*/,
    why: "size of a buffer: larger changes nothing, smaller throws",
  },
];

/** The reason of a number, by its file and the text of its line; null when it has none. */
export const reasonOf = (file: string, line: string): string | null =>
  reasons.find((reason) => reason.file.test(file) && reason.line.test(line))?.why ?? null;

// The validation page: each set of data as a picture with its figures of error, and the numbers behind it.
import type { Course, Pair } from "./compared.ts";

const escaped = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
const figure = (x: number): string => (Number.isFinite(x) ? String(Number(x.toPrecision(3))) : "never");
const range = (outside: Pair["outside"]): readonly [number, number] =>
  typeof outside === "number" ? [outside, outside] : [outside[0], outside[1]];
/** Where the model lies beside a number or a range: 1 inside, else its ratio to the nearer end. */
const ratio = ({ outside, model }: Pair): number => {
  const [low, high] = range(outside);
  if (model >= low && model <= high) return 1;
  return model < low ? model / low : model / high;
};

/** Figures of error of a set. */
export interface Errors {
  readonly count: number;
  /** Median and largest factor between model and data; null where a sign or a zero leaves none. */
  readonly median: number | null;
  readonly worst: number | null;
  /** Share within 10 % and within a factor 2. */
  readonly within10: number;
  readonly within2: number;
}

export function errorsOf(pairs: readonly Pair[]): Errors {
  const factors = pairs
    .map((pair) => {
      const [low, high] = range(pair.outside);
      const size = Math.max(Math.abs(low), Math.abs(high));
      if (Math.abs(pair.model - low) <= 1e-9 * size && size > 0) return 1;
      const r = ratio(pair);
      return r > 0 && Number.isFinite(r) ? Math.max(r, 1 / r) : null;
    })
    .filter((f): f is number => f !== null)
    .sort((a, b) => a - b);
  const count = factors.length;
  const share = (most: number): number => (count === 0 ? 0 : factors.filter((f) => f <= most).length / count);
  return {
    count: pairs.length,
    median: count ? factors[Math.floor(count / 2)] : null,
    worst: count ? factors[count - 1] : null,
    within10: share(1.1),
    within2: share(2),
  };
}

const SIZE = 260;
const PAD = 42;

/** Model over data, both on logarithmic axes; the diagonal is agreement, the dashed lines a factor 2. */
function scatter(pairs: readonly Pair[]): string {
  const drawn = pairs.filter(({ outside, model }) => range(outside)[0] > 0 && model > 0 && Number.isFinite(model));
  if (drawn.length < 2) return "";
  const logs = drawn.flatMap(({ outside, model }) => [...range(outside), model]).map(Math.log10);
  const [from, to] = [Math.floor(Math.min(...logs) * 5 - 0.5) / 5, Math.ceil(Math.max(...logs) * 5 + 0.5) / 5];
  const x = (v: number): number => PAD + ((Math.log10(v) - from) / (to - from)) * (SIZE - PAD - 8);
  const y = (v: number): number => SIZE - PAD - ((Math.log10(v) - from) / (to - from)) * (SIZE - PAD - 8);
  const [low, high] = [10 ** from, 10 ** to];
  const line = (factor: number, dash: string): string => {
    const [a, b] = [Math.max(low, low / factor), Math.min(high, high / factor)];
    return `<line x1="${x(a)}" y1="${y(a * factor)}" x2="${x(b)}" y2="${y(b * factor)}" class="${dash}"/>`;
  };
  const apart = Math.max(1, Math.ceil((to - from) / 5));
  const decades = Array.from({ length: Math.floor(to) - Math.ceil(from) + 1 }, (_, i) => 10 ** (Math.ceil(from) + i)).filter(
    (_, i) => i % apart === 0,
  );
  const marks = drawn
    .map((pair) => {
      const [a, b] = range(pair.outside);
      const tip = `<title>${escaped(`${pair.what}: ${figure(a)}${a === b ? "" : ` to ${figure(b)}`}, model ${figure(pair.model)} ${pair.unit}`)}</title>`;
      const middle = Math.sqrt(a * b);
      const bar = a === b ? "" : `<line x1="${x(a)}" x2="${x(b)}" y1="${y(pair.model)}" y2="${y(pair.model)}" class="bar"/>`;
      return `${bar}<circle cx="${x(middle).toFixed(1)}" cy="${y(pair.model).toFixed(1)}" r="3.5">${tip}</circle>`;
    })
    .join("");
  const ticks = (decades.length > 0 ? decades : [low, high])
    .map(
      (v) =>
        `<text x="${x(v)}" y="${SIZE - PAD + 16}" text-anchor="middle">${figure(v)}</text><text x="${PAD - 5}" y="${y(v) + 4}" text-anchor="end">${figure(v)}</text>`,
    )
    .join("");
  const unit = [...new Set(pairs.map((p) => p.unit))].slice(0, 3).join(", ");
  return `<svg viewBox="0 0 ${SIZE} ${SIZE}" role="img" aria-label="model over data"><rect x="${PAD}" y="8" width="${SIZE - PAD - 8}" height="${SIZE - PAD - 8}" class="frame"/>${line(1, "even")}${line(2, "twice")}${line(0.5, "twice")}${marks}${ticks}<text x="${SIZE / 2}" y="${SIZE - 4}" text-anchor="middle">data (${escaped(unit)})</text><text x="12" y="${SIZE / 2}" transform="rotate(-90 12 ${SIZE / 2})" text-anchor="middle">model</text></svg>`;
}

/** Round numbers from 0 or below to `most`, about `count` of them. */
function roundTicks(most: number, count: number): number[] {
  const rough = most / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= rough)!;
  return Array.from({ length: Math.floor(most / step + 1e-9) + 1 }, (_, i) => Number((i * step).toPrecision(6)));
}

const WIDE = 640;
const TALL = 240;

function courseChart(course: Course): string {
  const { times, measured, model, low, high } = course;
  const most = Math.max(...model, ...(high ?? []), ...measured.filter((v): v is number => v !== null)) * 1.08;
  const x = (t: number): number => PAD + ((t - times[0]) / (times[times.length - 1] - times[0])) * (WIDE - PAD - 10);
  const y = (v: number): number => TALL - 34 - (v / most) * (TALL - 46);
  const path = (values: readonly number[]): string =>
    values.map((v, n) => `${n === 0 ? "M" : "L"}${x(times[n]).toFixed(1)} ${y(v).toFixed(1)}`).join("");
  const band =
    low && high
      ? `<path class="band" d="${path(high)}${[...times.keys()]
          .reverse()
          .map((n) => `L${x(times[n]).toFixed(1)} ${y(low[n]).toFixed(1)}`)
          .join("")}Z"/>`
      : "";
  const dots = measured
    .map((v, n) => (v === null ? "" : `<circle cx="${x(times[n]).toFixed(1)}" cy="${y(v).toFixed(1)}" r="3.5"/>`))
    .join("");
  const ticks = roundTicks(times[times.length - 1], 6)
    .filter((t) => t >= times[0])
    .map((t) => `<text x="${x(t)}" y="${TALL - 20}" text-anchor="middle">${figure(t)}</text>`);
  const values = roundTicks(most, 4).map((v) => `<text x="${PAD - 5}" y="${y(v) + 4}" text-anchor="end">${figure(v)}</text>`);
  return `<svg class="wide" viewBox="0 0 ${WIDE} ${TALL}" role="img" aria-label="${escaped(course.what)}"><line x1="${PAD}" x2="${WIDE - 10}" y1="${y(0)}" y2="${y(0)}" class="frame"/>${band}<path class="course" d="${path(model)}"/>${dots}${ticks.join("")}${values.join("")}<text x="${WIDE / 2}" y="${TALL - 2}" text-anchor="middle">${course.per}</text></svg>`;
}

/** Share of measured points inside the band of a course, where it has one. */
export function coverageOf(courses: readonly Course[]): { readonly inside: number; readonly of: number } {
  let [inside, of] = [0, 0];
  for (const { measured, low, high } of courses) {
    if (!low || !high) continue;
    measured.forEach((v, n) => {
      if (v === null) return;
      of++;
      // Kits show steps: a reading of 0 is anything under half a step of 0.25, and others are known to a quarter.
      const [least, most] = v === 0 ? [0, 0.125] : [0.75 * v, 1.25 * v];
      if (most >= low[n] && least <= high[n]) inside++;
    });
  }
  return { inside, of };
}

/** The words of a name in camel case. */
const wordsOf = (name: string): string => name.replace(/(?<=[a-z])(?=[A-Z0-9])/g, " ").toLowerCase();

const percent = (share: number): string => `${Math.round(100 * share)} %`;

/** A test that failed while the page was made. */
export interface Failure {
  readonly test: string;
  readonly message: string;
}

/** What the page shows. */
export interface Shown {
  readonly pairs: readonly Pair[];
  readonly courses: readonly Course[];
  readonly figures: ReadonlyMap<string, Readonly<Record<string, number>>>;
  /** Tests run, and those that failed. */
  readonly tests: number;
  readonly failures: readonly Failure[];
  /** Text with Markdown tables: the scenarios of practice before and after the biology was revised. */
  readonly revised: string;
}

/** The tables of a Markdown text, each with the paragraph before it if that ends in a colon, as HTML. */
function tablesOf(markdown: string): string {
  const parts = markdown.split(/\n\n+/);
  return parts
    .map((part, n) => {
      if (!part.startsWith("|")) return "";
      const before = n > 0 && parts[n - 1].endsWith(":") ? `<p>${escaped(parts[n - 1])}</p>` : "";
      const [head, , ...body] = part
        .trim()
        .split("\n")
        .map((line) => line.replace(/^\||\|$/g, "").split("|"));
      const row = (cells: readonly string[], tag: "th" | "td"): string =>
        `<tr>${cells.map((cell) => `<${tag}>${escaped(cell.trim())}</${tag}>`).join("")}</tr>`;
      return `${before}<table>${row(head, "th")}${body.map((cells) => row(cells, "td")).join("")}</table>`;
    })
    .join("\n");
}

/** The whole page, one file with nothing outside it. */
export function page({ pairs, courses, figures, tests, failures, revised }: Shown): string {
  const rank = (set: string): number => (of(set).some(({ kind }) => kind === "measured" || kind === "practice") ? 0 : 1);
  const of = (set: string): Pair[] => pairs.filter((pair) => pair.set === set);
  // What was measured comes first.
  const sets = [...new Set(pairs.map(({ set }) => set))].toSorted((a, b) => rank(a) - rank(b));
  const rows = sets
    .map((set) => ({ set, kinds: [...new Set(of(set).map(({ kind }) => kind))].join(", "), errors: errorsOf(of(set)) }))
    .map(
      ({ set, kinds, errors }) =>
        `<tr><td><a href="#${escaped(set.replace(/\W+/g, "-"))}">${escaped(set)}</a></td><td class="kind">${kinds}</td><td>${errors.count}</td><td>${errors.median === null ? "" : figure(errors.median)}</td><td>${errors.worst === null ? "" : figure(errors.worst)}</td><td>${percent(errors.within10)}</td><td>${percent(errors.within2)}</td></tr>`,
    );
  const covered = coverageOf(courses);
  const sections = sets.map((set) => {
    const mine = of(set);
    const most = Math.min(mine.length, 40);
    const table = mine
      .toSorted((a, b) => Math.abs(Math.log(ratio(b) || 1)) - Math.abs(Math.log(ratio(a) || 1)))
      .slice(0, most)
      .map((pair) => {
        const [a, b] = range(pair.outside);
        return `<tr><td>${escaped(pair.what)}</td><td>${figure(a)}${a === b ? "" : ` to ${figure(b)}`}</td><td>${figure(pair.model)}</td><td>${escaped(pair.unit)}</td><td>${escaped(pair.source)}</td></tr>`;
      })
      .join("");
    return `<section id="${escaped(set.replace(/\W+/g, "-"))}"><h2>${escaped(set)}</h2>${scatter(mine)}<details${mine.length <= 12 ? " open" : ""}><summary>${mine.length > most ? `the ${most} that differ most of ${mine.length} numbers` : `${mine.length} numbers`}</summary><table><tr><th>what</th><th>outside</th><th>model</th><th>unit</th><th>source</th></tr>${table}</table></details></section>`;
  });
  const failed =
    failures.length === 0
      ? `<p>All ${tests} tests behind this page passed when it was made.</p>`
      : `<section id="failures"><h2>${failures.length} of ${tests} tests failed</h2><p>What they compared is shown all the same.</p><ul>${failures.map(({ test, message }) => `<li>${escaped(test)}<br><small>${escaped(message)}</small></li>`).join("")}</ul></section>`;
  const scenarios = [...figures]
    .filter(([id]) => /^(NI|CO)-/.test(id))
    .map(
      ([id, values]) =>
        `<tr><td>${escaped(id)}</td><td>${Object.entries(values)
          .map(([name, value]) => `${escaped(wordsOf(name))} ${figure(value)}`)
          .join(", ")}</td></tr>`,
    )
    .join("");
  return `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>Sumpwright: models beside data</title><style>
body{font:16px/1.45 Georgia,serif;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#1b2430;background:#fbfaf6}
h1,h2{font-weight:600}table{border-collapse:collapse;font:13px/1.35 system-ui,sans-serif;display:block;overflow-x:auto}td,th{text-align:left;padding:.2rem .6rem .2rem 0;border-bottom:1px solid #d8d4c8;vertical-align:top}
svg{max-width:100%;width:auto;height:auto;max-height:18rem}svg text{font:12px system-ui,sans-serif;fill:currentColor}circle{fill:#1b6b93}.frame{fill:none;stroke:#888}.even{stroke:#1b2430}.twice{stroke:#999;stroke-dasharray:4 3}.bar{stroke:#1b6b93;stroke-width:2}.course{fill:none;stroke:#1b2430;stroke-width:1.5}.band{fill:#1b6b9333}
@media screen and (max-width:40rem){.wide text{font-size:20px}.kind{display:none}}
@media print{section{break-inside:avoid}a{color:inherit}}
@media screen and (prefers-color-scheme:dark){body{color:#e8e6df;background:#12202e}.even,.course{stroke:#e8e6df}circle{fill:#7cc4e8}.bar{stroke:#7cc4e8}a{color:#9fd3ee}td,th{border-color:#33475a}}
</style><h1>Sumpwright: models beside data</h1>
<p>What the tests compare with numbers from outside the project: measured, published, computed by other programs, or asked for by practice. A factor of 1 is agreement; a range that holds the model's number counts as 1. Some numbers are set on their data and say so: there agreement proves nothing. Made by <code>npm run validate</code>.</p>
${failed}
<table><tr><th>set</th><th class="kind">kind</th><th>numbers</th><th>median factor</th><th>largest factor</th><th>within 10 %</th><th>within a factor 2</th></tr>${rows.join("")}</table>
<h2>Courses</h2><p>Dots are measured, the line is the model, the shade 5 to 95 % of an ensemble. Of the readings that have a band beside them, ${covered.inside} of ${covered.of} lie in it (5 to 95 %, a kit's step allowed for).</p>
${courses
  .map((course, n) => {
    const said = course.note === courses[n + 1]?.note ? "" : `<p>${escaped(course.source)}. ${escaped(course.note)}</p>`;
    return `<section><h3>${escaped(course.set)}: ${escaped(course.what)}, ${escaped(course.unit)}</h3>${courseChart(course)}${said}</section>`;
  })
  .join("")}
${sections.join("\n")}
<h2 id="practice">Scenarios of practice</h2><p>Before and after the biology was revised. Where practice differs is told in section 7 of DEVELOPERS.md.</p>${tablesOf(revised)}
<h3>Every figure of these runs</h3><table>${scenarios}</table></html>
`;
}

// The section "How it is computed": the process matrix and the parameters of the run.
import { type ParameterValues, parameters } from "../../models/nitrogen/kinetics/parameters.ts";
import { processes, type Term } from "../../models/nitrogen/kinetics/processes.ts";
import type { NitrogenSetup } from "../model/compile.ts";
import { uncertainInputs } from "../model/uncertain.ts";
import type { RunResult } from "../result/result.ts";

const symbols: Readonly<Record<string, string>> = {
  tan: "TAN",
  no2: "NO2",
  no3: "NO3",
  o2: "O2",
  alk: "Alk",
  dic: "DIC",
  ss: "S",
  xs: "X",
  xd: "X_d",
  xh: "X_H",
  aob: "AOB",
  sao: "SAO",
  nob: "NOB",
  sno: "SNO",
  het: "H",
  co2: "CO2",
  freeAmmonia: "NH3",
  nitrousAcid: "HNO2",
  ammoniaOxidisers: "(AOB + SAO)",
  nitriteOxidisers: "(NOB + SNO)",
  ph: "pH",
};
const number = (value: number): string => String(Number(value.toPrecision(3)));

function termText(term: Term): string {
  const s = symbols[term.of] ?? term.of;
  switch (term.kind) {
    case "linear":
      return s;
    case "monod":
      return `${s}/(${number(term.half)} + ${s})`;
    case "inhibition":
      return `${number(term.half)}/(${number(term.half)} + ${s})`;
    case "slowed":
      return `(${number(term.base)} + ${number(1 - term.base)} ${s}/(${number(term.half)} + ${s}))`;
    case "ph bell":
      return `1/(1 + 10^(${number(term.low)} − pH) + 10^(pH − ${number(term.high)}))`;
    case "crowding":
      return `(${s}/${number(term.full)})³`;
    case "covered":
      return `(1 − ${number(term.share)} ${s}/(${number(term.half)} + ${s}))⁻³`;
  }
}

export function methodOf(values: ParameterValues, setup: NitrogenSetup): RunResult["method"] {
  return {
    processes: processes(values).map((row) => ({
      name: row.label,
      rate: [row.coefficient ? "k" : number(row.rate), ...row.terms.map(termText), ...(row.depth ? ["η"] : [])].join(" · "),
      stoichiometry: Object.entries(row.stoichiometry)
        .filter(([, coefficient]) => Math.abs(coefficient) > 1e-12)
        .map(([component, coefficient]) => ({
          component: symbols[component] ?? component,
          coefficient: Number(coefficient.toPrecision(4)),
        })),
      source: row.source,
    })),
    parameters: Object.entries(parameters).map(([id, p]) => ({
      symbol: p.symbol,
      meaning: p.meaning,
      value: values[id as keyof typeof parameters],
      unit: p.unit,
      source: p.source,
    })),
    notes: [
      "Rates are at 20 °C; Arrhenius to 30 °C, level to 35 °C, none at 43 °C.",
      "η: effectiveness of the film, (1 + x² + y²)^(−1/4), x and y the squared generalised Thiele moduli of the substrate and of oxygen.",
      "Every row conserves nitrogen, oxygen demand, charge and carbon; coefficients not stated by a source follow from that.",
      "Of the solids of a meal (0.25 g per g of food, Timmons & Ebeling) a third is ash and fibre: it never dissolves, and fills pads and chambers with what has not dissolved yet. A pad spills x⁴/(9 + x⁴) of the water, x being its load: 1 is 400, 250 and 120 g dry matter per m² of coarse, medium and fine (set so that they are due as often as keepers find). Mud is 5 % dry matter.",
      "Slow ammonia oxidisers (SAO) are given the growth rate at which a settled colony takes 1.6 to 2 times its load, as keepers see when they step up the food; this one number is chosen to practice, not measured. Without them the spike after such a step is a quarter smaller and the resting level higher.",
      ...uncertainInputs(setup).map(({ id, words, why }) => `Band: ${id}: ${words} (${why}).`),
    ],
  };
}

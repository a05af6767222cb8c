// Changes of single numbers of the models: which numbers there are, and the text with one of them changed.
import ts from "typescript";

/** A number of a source file that means something by its size. */
export interface Constant {
  readonly file: string;
  readonly line: number;
  readonly text: string;
  readonly from: number;
  readonly to: number;
  /** Written with a minus, so that its sign means something. */
  readonly negative: boolean;
}

export interface Mutation {
  readonly constant: Constant;
  readonly how: "×1.3" | "÷1.3" | "sign";
}

/** Counts and indices are no constants of a model. */
const isTrivial = (text: string): boolean => /^(?:0|1|2|10|100|1000)$/.test(text);

/** Whether a number is an index, a length, a digit count or part of a message. */
function isStructural(node: ts.Node): boolean {
  const { parent } = node;
  if (ts.isElementAccessExpression(parent) && parent.argumentExpression === node) return true;
  if (ts.isCallExpression(parent) && /\.(?:toFixed|toPrecision|slice|at|fill|padStart)$/.test(parent.expression.getText()))
    return true;
  if (ts.isNewExpression(parent) || ts.isTemplateSpan(parent) || ts.isEnumMember(parent) || ts.isLiteralTypeNode(parent))
    return true;
  for (let up: ts.Node = node; up; up = up.parent) if (ts.isTypeNode(up) || ts.isImportDeclaration(up)) return true;
  return false;
}

/** Numbers of a source text; of a parameter with its range only the value, since nothing is computed from the range. */
export function constantsOf(file: string, text: string): Constant[] {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const found: Constant[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isCallExpression(node) && node.expression.getText() === "p" && node.arguments.length >= 5) {
      visit(node.arguments[0]);
      return;
    }
    if (ts.isNumericLiteral(node) && !isTrivial(node.text) && !isStructural(node)) {
      const negative = ts.isPrefixUnaryExpression(node.parent) && node.parent.operator === ts.SyntaxKind.MinusToken;
      const { line } = source.getLineAndCharacterOfPosition(node.getStart());
      found.push({ file, line: line + 1, text: node.getText(), from: node.getStart(), to: node.getEnd(), negative });
    }
    node.forEachChild(visit);
  };
  visit(source);
  return found;
}

export const mutationsOf = (constant: Constant): Mutation[] =>
  (["×1.3", "÷1.3", ...(constant.negative ? (["sign"] as const) : [])] as const).map((how) => ({ constant, how }));

/** The source with the number changed. */
export function mutated(text: string, { constant, how }: Mutation): string {
  const value = Number(constant.text.replaceAll("_", ""));
  const other = how === "×1.3" ? value * 1.3 : how === "÷1.3" ? value / 1.3 : -value;
  return `${text.slice(0, constant.from)}(${other})${text.slice(constant.to)}`;
}

const LAWS = ["laws", "closed-forms", "reference", "outside-numbers", "practice-numbers"].map(
  (name) => `tests/models/hydraulics/${name}.test.ts`,
);
const nitrogenTests = (...names: readonly string[]): readonly string[] =>
  names.map((name) => `tests/models/nitrogen/${name}.test.ts`);
const HYDRAULICS = [LAWS, ["tests/models/hydraulics"]];

/**
 * Tests near a file, in the order in which they are run: those of its own part of the models, quick ones first, and of the parts that rest
 * on it.
 */
export function testsNear(file: string): readonly (readonly string[])[] {
  const near: readonly (readonly [RegExp, readonly (readonly string[])[]])[] = [
    [/^models\/water\//, [["tests/models/water", "tests/models/gas"], ["tests/models/heat/heat.test.ts"]]],
    [/^models\/gas\//, [["tests/models/gas"], ["tests/models/outage/oxygen.test.ts"]]],
    [
      /^models\/heat\//,
      [["tests/models/heat"], ["tests/models/outage/temperature.test.ts", "tests/models/hydraulics/planning.test.ts"]],
    ],
    [/^models\/life\//, [["tests/models/life"], ["tests/models/outage/oxygen.test.ts", "tests/models/nitrogen/ledger.test.ts"]]],
    [
      /^models\/tower\//,
      [
        ["tests/models/tower"],
        ["tests/models/hydraulics/outside-numbers.test.ts", "tests/models/nitrogen/practice-tower.test.ts"],
      ],
    ],
    [/^models\/hydraulics\//, HYDRAULICS],
    [/^models\/coupling\//, [...HYDRAULICS, ["tests/models/outage/temperature.test.ts"]]],
    [
      /^models\/outage\//,
      [
        ["oxygen", "temperature", "media", "closed-filter", "battery"].map((name) => `tests/models/outage/${name}.test.ts`),
        ["tests/models/heat", "tests/models/hydraulics/outside-numbers.test.ts"],
      ],
    ],
    [
      /^models\/nitrogen\//,
      [
        nitrogenTests("parameters", "tank-coefficients", "matrix"),
        nitrogenTests("coefficients", "jacobian", "rate-programs", "idle-process", "events"),
        nitrogenTests("literature", "film", "ledger", "organics", "dirt"),
        ["tests/models/nitrogen", "tests/models/hydraulics/outside-numbers.test.ts", "tests/models/outage/story.test.ts"],
      ],
    ],
  ];
  return near.find(([part]) => part.test(file))?.[1] ?? [...HYDRAULICS, ["tests/models/nitrogen"]];
}

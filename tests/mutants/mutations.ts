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

/** Tests near a file: those of its own part of the models, and of the parts that rest on it. */
export function testsNear(file: string): readonly string[] {
  const near: readonly (readonly [RegExp, readonly string[]])[] = [
    [/^models\/water\//, ["tests/water", "tests/gas"]],
    [/^models\/gas\//, ["tests/gas", "tests/outage/oxygen.test.ts"]],
    [/^models\/heat\//, ["tests/heat", "tests/outage/temperature.test.ts", "tests/hydraulics/planning.test.ts"]],
    [/^models\/life\//, ["tests/life", "tests/outage/oxygen.test.ts", "tests/nitrogen/ledger.test.ts"]],
    [/^models\/tower\//, ["tests/tower", "tests/hydraulics/outside-numbers.test.ts", "tests/nitrogen/practice-tower.test.ts"]],
    [/^models\/hydraulics\//, ["tests/hydraulics"]],
    [/^models\/coupling\//, ["tests/hydraulics", "tests/outage/temperature.test.ts"]],
    [/^models\/outage\//, ["tests/outage", "tests/heat"]],
    [/^models\/nitrogen\//, ["tests/nitrogen", "tests/hydraulics/outside-numbers.test.ts", "tests/outage/story.test.ts"]],
  ];
  return near.find(([part]) => part.test(file))?.[1] ?? ["tests/nitrogen", "tests/hydraulics"];
}

// Writes the type declarations of the library: one file for each entry, with nothing to import, so that a strict project needs no
// other package to read them.
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { rollup } from "rollup";
import { dts } from "rollup-plugin-dts";
import ts from "typescript";

const project = fileURLToPath(new URL("../", import.meta.url));
const aside = join(project, ".cache/declarations");

/** The file whose two types are made from the schema, which the package does not carry; they are written out. */
const SCHEMA = "scenarios/schema/schema.ts";
const WRITTEN_OUT = ["Scenario", "ScenarioText"];

function options() {
  const file = ts.readConfigFile(join(project, "tsconfig.json"), ts.sys.readFile);
  const { options: read } = ts.parseJsonConfigFileContent(file.config, ts.sys, project);
  return {
    ...read,
    noEmit: false,
    declaration: true,
    emitDeclarationOnly: true,
    rewriteRelativeImportExtensions: true,
    noErrorTruncation: true,
    rootDir: project,
    outDir: aside,
  };
}

const isWord = (name) => /^[A-Za-z_$][\w$]*$/.test(name);

/** A type of plain data, written out to the last key. */
function writtenOut(type, checker, depth = 0) {
  if (depth > 20) throw new Error("a type of the scenario goes round in a circle");
  const next = (t) => writtenOut(t, checker, depth + 1);
  if (type.isUnion()) {
    // The compiler keeps boolean as the union of true and false.
    const parts = type.types.map((t) => (t.flags & ts.TypeFlags.BooleanLiteral ? "boolean" : next(t)));
    return [...new Set(parts)].join(" | ");
  }
  if (checker.isArrayType(type)) {
    const [element] = checker.getTypeArguments(type);
    const readonly = type.symbol.name === "ReadonlyArray" ? "readonly " : "";
    return `${readonly}(${next(element)})[]`;
  }
  if (checker.isTupleType(type))
    return `${type.target.readonly ? "readonly " : ""}[${checker.getTypeArguments(type).map(next).join(", ")}]`;
  if (!(type.flags & ts.TypeFlags.Object)) return checker.typeToString(type);
  if (type.getCallSignatures().length > 0) throw new Error("a type of the scenario is no plain data");
  const keys = checker.getPropertiesOfType(type).map((property) => {
    const optional = property.flags & ts.SymbolFlags.Optional ? "?" : "";
    return `${isWord(property.name) ? property.name : JSON.stringify(property.name)}${optional}: ${next(checker.getTypeOfSymbol(property))};`;
  });
  return `{ ${keys.join(" ")} }`;
}

/** Declarations of the files that the entries need, as the compiler writes them; of the schema's its two types alone. */
function emit(entries) {
  const schema = join(project, SCHEMA);
  const program = ts.createProgram([...entries.map((name) => join(project, `viz/${name}.ts`)), schema], options());
  const checker = program.getTypeChecker();
  const exported = checker.getExportsOfModule(checker.getSymbolAtLocation(program.getSourceFile(schema)));
  const types = WRITTEN_OUT.map((name) => {
    const text = writtenOut(checker.getDeclaredTypeOfSymbol(exported.find((symbol) => symbol.name === name)), checker);
    if (/\b(?:never|any|unknown)\b/.test(text.replace(/"[^"]*"/g, "")))
      throw new Error(`the declaration of ${name} could not be written out`);
    return `export type ${name} = ${text};\n`;
  });
  // The schema itself is nobody's to import.
  const schemaText = `${types.join("")}export declare const FORMAT_VERSION = 1;\nexport declare const scenarioSchema: unknown;\n`;
  const { diagnostics } = program.emit(undefined, (path, content) => {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, path.endsWith("schema/schema.d.ts") ? schemaText : content);
  });
  if (diagnostics.length > 0) throw new Error(ts.flattenDiagnosticMessageText(diagnostics[0].messageText, "\n"));
}

/** Writes dist/NAME.d.ts for each entry viz/NAME.ts. @throws Error when something else would have to be imported */
export async function writeDeclarations(entries) {
  rmSync(aside, { recursive: true, force: true });
  emit(entries);
  for (const name of entries) {
    const external = [];
    const bundle = await rollup({
      input: join(aside, `viz/${name}.d.ts`),
      plugins: [dts()],
      external: (id) => /^[^./]/.test(id) && !id.startsWith(project),
      onwarn: () => undefined,
    });
    const { output } = await bundle.generate({ format: "es" });
    for (const id of output[0].imports) external.push(id);
    if (external.length > 0) throw new Error(`dist/${name}.d.ts would import ${external.join(", ")}`);
    writeFileSync(join(project, `dist/${name}.d.ts`), output[0].code);
  }
  rmSync(aside, { recursive: true, force: true });
}

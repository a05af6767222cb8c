// Streams the results of a study to files: Parquet and CSV with units and provenance, and the summary for the page.
import { createHash } from "node:crypto";
import { closeSync, mkdirSync, openSync, renameSync, rmSync, writeFileSync, writeSync } from "node:fs";
import { join } from "node:path";
import { type ColumnSource, fileWriter, ParquetWriter, schemaFromColumnData } from "hyparquet-writer";
import { type Batch, inOrder } from "../../scenarios/study/batch.ts";
import type { Study } from "../../scenarios/study/load.ts";
import type { Column } from "../../scenarios/study/schema.ts";
import { type StudySummary, Summary } from "../../scenarios/study/summary.ts";
import type { MemberResult } from "../../sim/ensemble/ensemble.ts";
import { csvLine } from "../view/csv-line.ts";

/** Points per row group of the Parquet file; one row group is held in memory. */
const ROW_GROUP = 8192;

export const sha256 = (text: string): string => createHash("sha256").update(text, "utf8").digest("hex");

export interface Provenance {
  /** Hash of the study's texts and columns. */
  readonly id: string;
  readonly program: string;
}

export interface OutputRequest extends Provenance {
  readonly study: Study;
  readonly columns: readonly Column[];
  readonly batches: AsyncIterable<Batch>;
  readonly folder: string;
  /** File name without extension. */
  readonly name: string;
}

/** Meaning of a column, for people and programs that have only the file. */
const meaning = ({ from, labels }: Column): string => {
  switch (from.is) {
    case "finding":
      return from.part === "value" ? `finding ${from.id}` : `level of the finding ${from.id}: ${labels?.join(", ")}`;
    case "curve":
      return typeof from.at === "number"
        ? `curve ${from.series} at day ${from.at}`
        : `${from.at} value of the curve ${from.series}`;
    case "fault":
      return `${from.part} of a power cut with ${from.faults.join(" and ") || "no fault"}`;
  }
};

/**
 * Unit and meaning of every column, and the provenance of the numbers. It has no time and no place, so the same study
 * gives the same bytes.
 */
function description({ study, columns, id, program }: OutputRequest) {
  return {
    format: "sumpwright-study-results",
    version: 1,
    program: `sumpwright ${program}`,
    study: id,
    name: study.text.name,
    seed: study.text.seed,
    design: study.text.design,
    points: study.points,
    files: [
      { file: study.bundle.file, sha256: sha256(study.bundle.text) },
      ...Object.entries(study.bundle.files).map(([file, text]) => ({ file, sha256: sha256(text) })),
    ],
    columns: [
      { name: "point", unit: "", meaning: "number of the point in its design" },
      ...study.inputs.map(({ name, unit }) => ({ name, unit, meaning: "set in the scenario" })),
      ...columns.map((column) => ({ name: column.name, unit: column.unit, meaning: meaning(column) })),
      { name: "failed", unit: "", meaning: "why the point has no results; empty when it has" },
    ],
  };
}

interface Field {
  readonly name: string;
  readonly labels: readonly string[] | null;
}

const shown = (value: number, { labels }: Field): number | string | null =>
  Number.isFinite(value) ? (labels ? (labels[value] ?? null) : value) : null;

/** Writes a Parquet file one row group at a time. */
class ParquetFile {
  private readonly writer: ParquetWriter;
  private readonly fields: readonly Field[];
  private readonly data: (number | string | null)[][];
  private readonly sources: () => ColumnSource[];

  constructor(path: string, fields: readonly Field[], metadata: object) {
    this.fields = fields;
    this.data = [[], ...fields.map(() => []), []];
    this.sources = () => [
      { name: "point", type: "INT32", nullable: false, data: this.data[0] as number[] },
      ...fields.map(
        ({ name, labels }, i): ColumnSource => ({
          name,
          type: labels ? "STRING" : "DOUBLE",
          nullable: true,
          data: this.data[i + 1],
        }),
      ),
      { name: "failed", type: "STRING", nullable: true, data: this.data[fields.length + 1] },
    ];
    this.writer = new ParquetWriter({
      writer: fileWriter(path),
      schema: schemaFromColumnData({ columnData: this.sources() }),
      kvMetadata: [{ key: "sumpwright", value: JSON.stringify(metadata) }],
      createdBy: "sumpwright",
    });
  }

  add(point: number, values: readonly (number | string | null)[], failed: string | null): void {
    this.data[0].push(point);
    for (let i = 0; i < this.fields.length; i++) this.data[i + 1].push(values[i]);
    this.data[this.fields.length + 1].push(failed);
    if (this.data[0].length >= ROW_GROUP) this.flush();
  }

  finish(): void {
    this.flush();
    this.writer.finish();
  }

  private flush(): void {
    if (this.data[0].length === 0) return;
    this.writer.write({ columnData: this.sources(), rowGroupSize: ROW_GROUP });
    for (const column of this.data) column.length = 0;
  }
}

const headed = (name: string, unit: string): string => (unit === "" ? name : `${name} (${unit})`);

/**
 * Writes NAME.parquet, NAME.csv and NAME.csv-metadata.json (the W3C's "CSV on the Web" description), either all of them
 * or none, in memory that does not grow with the number of points.
 * @returns their paths, and the summary for the page
 */
export async function writeResults(
  request: OutputRequest,
): Promise<{ readonly paths: readonly string[]; readonly summary: StudySummary }> {
  const { study, columns, batches, folder, name } = request;
  mkdirSync(folder, { recursive: true });
  const part = (n: number): string => join(folder, `.sumpwright-${process.pid}-${n}.part`);
  const parts = [part(1), part(2), part(3)];
  const paths = [`${name}.parquet`, `${name}.csv`, `${name}.csv-metadata.json`].map((file) => join(folder, file));
  const fields: readonly Field[] = [...study.inputs, ...columns];
  const about = description(request);
  const summary = new Summary(study, columns);
  try {
    const parquet = new ParquetFile(parts[0], fields, about);
    const csv = openSync(parts[1], "w");
    try {
      const units = [...study.inputs, ...columns].map((field) => headed(field.name, field.unit));
      writeSync(csv, csvLine(["point", ...units, "failed"]));
      for await (const { from, rows } of inOrder(batches, study.points)) {
        let text = "";
        rows.forEach((row: MemberResult, i) => {
          const { inputs } = study.point(from + i);
          const failed = "failure" in row ? row.failure : null;
          const numbers = [...inputs, ...("failure" in row ? columns.map(() => Number.NaN) : row)];
          const values = numbers.map((value, f) => shown(value, fields[f]));
          parquet.add(from + i, values, failed);
          text += csvLine([from + i, ...values, failed]);
          summary.add(from + i, inputs, row);
        });
        writeSync(csv, text);
      }
    } finally {
      closeSync(csv);
    }
    parquet.finish();
    writeFileSync(parts[2], `${JSON.stringify(csvDescription(`${name}.csv`, about, fields), null, 2)}\n`);
    for (const [i, path] of paths.entries()) renameSync(parts[i], path);
  } finally {
    for (const path of parts) rmSync(path, { force: true });
  }
  return { paths, summary: summary.finish() };
}

/** Metadata of a CSV file as recommended by the W3C (Model for Tabular Data and Metadata on the Web, 2015). */
const csvDescription = (url: string, about: ReturnType<typeof description>, fields: readonly Field[]): object => ({
  "@context": "http://www.w3.org/ns/csvw",
  url,
  "dc:title": about.name,
  "dc:creator": about.program,
  "dc:description": JSON.stringify({ study: about.study, seed: about.seed, design: about.design, files: about.files }),
  tableSchema: {
    primaryKey: "point",
    columns: about.columns.map(({ name, unit, meaning }, i) => ({
      name: name.replace(/[^A-Za-z0-9]+/g, "_"),
      titles: headed(name, unit),
      "dc:description": meaning,
      datatype: i === 0 ? "integer" : i === about.columns.length - 1 || fields[i - 1].labels ? "string" : "double",
    })),
  },
});

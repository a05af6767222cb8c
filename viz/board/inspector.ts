// Right column: the selected part, key by key: value, default with its reason, range, meaning.
import { type ComponentChildren, h } from "preact";
import type { Path } from "../../scenarios/load/edits.ts";
import { pathText } from "../../scenarios/schema/walk.ts";
import { termMarker } from "../view/terms.ts";
import { asKind, type Field, type Inspected, inspect, placed, typed } from "./core/parts.ts";
import { freshEntry, readExample } from "./fresh.ts";
import { Line } from "./line.ts";
import type { Store } from "./model/store.ts";
import { picker } from "./pickers.ts";
import { partButtons } from "./tree.ts";
import { nodes } from "./view/nodes.ts";

const idOf = (path: Path): string => `field-${path.join("-").replaceAll(/[^\w-]/g, "_")}`;
/** Largest number of terms explained in one part, each once. */
const MOST_TERMS = 12;
type Marker = ReturnType<typeof termMarker>;

const LONG = new Set(["notes", "question"]);

function write(store: Store, field: Field, text: string): void {
  const value = typed(field, text);
  if (value === null) {
    if (field.written !== null) store.edit([{ do: "remove", path: field.path }]);
  } else if (text !== field.written) store.edit([{ do: "set", path: field.path, value }]);
}

/** Control of a field: a selection if the format allows only fixed words, otherwise a text field. */
function control(store: Store, field: Field, id: string): ComponentChildren {
  const described = `${id}-about`;
  const only = field.forms.length === 1 ? field.forms[0] : undefined;
  const common = {
    id,
    "aria-describedby": described,
    ...(field.errors.length > 0 ? { "aria-invalid": true } : {}),
  };
  const stands = field.standsIn === null ? (field.required ? "choose" : "left out") : `as usual: ${field.standsIn}`;
  if (only?.is === "words" || only?.is === "yes or no") {
    const words = only.is === "words" ? only.words : ["yes", "no"];
    return h(
      "select",
      {
        ...common,
        value: field.written ?? "",
        onChange: (e: Event) => write(store, field, (e.currentTarget as HTMLSelectElement).value),
      },
      (field.written === null || !field.required) && h("option", { value: "" }, stands),
      field.written !== null && !words.includes(field.written) && h("option", { value: field.written }, field.written),
      words.map((word) => h("option", { value: word }, word)),
    );
  }
  const words = field.forms.flatMap((form) => (form.is === "words" ? form.words : []));
  const line = {
    id,
    value: field.written ?? "",
    attributes: {
      ...common,
      placeholder: field.standsIn === null ? `for example ${field.example}` : field.standsIn,
      spellcheck: LONG.has(field.key),
      ...(words.length > 0 ? { list: `${id}-words` } : {}),
    },
    onWrite: (text: string) => write(store, field, text),
  };
  if (LONG.has(field.key)) return h(Line, { ...line, rows: 3 });
  return [
    h(Line, line),
    words.length > 0 &&
      h(
        "datalist",
        { id: `${id}-words` },
        words.map((word) => h("option", { value: word })),
      ),
  ];
}

function fieldRow(store: Store, field: Field, marked: Marker): ComponentChildren {
  const id = idOf(field.path);
  const fixed = field.key === "sumpwright";
  return h(
    "div",
    { class: `field${field.counts ? "" : " idle"}${field.errors.length > 0 ? " wrong" : ""}`, key: field.path.join(".") },
    h("label", { for: id }, field.title, field.required && !fixed && h("span", { class: "needed" }, " needed")),
    fixed ? h("output", { id, class: "fixed" }, field.written ?? "1") : control(store, field, id),
    picker(store, field),
    field.errors.map((error) =>
      h("p", { class: "field-error" }, error.problem, h("span", { class: "note" }, ` Line ${error.line} of the text.`)),
    ),
    h(
      "p",
      { id: `${id}-about`, class: "field-about" },
      nodes(marked(`${field.about.charAt(0).toUpperCase()}${field.about.slice(1)}.`)),
      field.range !== "" && ` Possible: ${field.range}.`,
      field.usual !== "" && ` Usual: ${field.usual}.`,
      field.standsIn !== null && ` When left out: ${field.standsIn}${field.why === "" ? "" : ` (${field.why})`}.`,
      !field.counts && field.onlyWith && ` Counts only when ${field.onlyWith[0]} is ${field.onlyWith[1]}.`,
    ),
  );
}

/** Alternative forms of a part instead of a section: none, a word, a single value. */
function shortForm(store: Store, part: Inspected): ComponentChildren {
  const about = part.about;
  if (!about || part.path.length === 0) return null;
  const short = about.forms.filter((form) => form.is === "words" || form.is === "quantity" || form.is === "number");
  if (short.length === 0) return null;
  const words = short.flatMap((form) => (form.is === "words" ? form.words : []));
  const id = `${idOf(part.path)}-short`;
  const { path } = part;
  const put = (text: string): void => {
    if (text === "section") store.edit([{ do: "set", path, value: freshEntry(path, store.state.data) }]);
    else if (text === "") store.edit([{ do: "remove", path }]);
    else store.edit([{ do: "set", path, value: typed({ key: about.key, forms: short }, text)! }]);
  };
  if (short.every((form) => form.is === "words"))
    return h(
      "div",
      { class: "field" },
      h("label", { for: id }, "Written as"),
      h(
        "select",
        {
          id,
          value: part.isSection ? "section" : (part.short ?? ""),
          onChange: (e: Event) => put((e.currentTarget as HTMLSelectElement).value),
        },
        !about.required && h("option", { value: "" }, about.standsIn === null ? "left out" : `as usual: ${about.standsIn}`),
        words.map((word) => h("option", { value: word }, word)),
        h("option", { value: "section" }, "in detail"),
      ),
    );
  return h(
    "div",
    { class: "field" },
    h("label", { for: id }, "In one value"),
    part.isSection
      ? h("p", { class: "field-about" }, "Written in detail below.")
      : [
          h(Line, {
            id,
            value: part.short ?? "",
            attributes: { placeholder: `for example ${about.example}` },
            onWrite: put,
          }),
          h("button", { type: "button", onClick: () => put("section") }, "Write it in detail"),
        ],
  );
}

export function inspector(store: Store): ComponentChildren {
  const { data, errors, chosen } = store.state;
  const part = inspect(data ?? {}, chosen, placed(errors));
  if (!part) return h("p", { class: "note" }, "This part is no longer there.");
  const open = part.isSection || part.short === null;
  const marked = termMarker(MOST_TERMS);
  return h(
    "section",
    { class: "inspector", "aria-labelledby": "inspector-title" },
    h("h2", { id: "inspector-title", tabIndex: -1 }, part.title),
    chosen.length > 0 && h("p", { class: "where" }, pathText(chosen)),
    part.about && h("p", { class: "lead" }, nodes(marked(part.about.about))),
    part.errors.map((error) => h("p", { class: "field-error" }, error.problem)),
    partButtons(store),
    picker(store, {
      path: chosen,
      key: String([...chosen].reverse().find((step) => typeof step === "string") ?? ""),
      whole: true,
    }),
    part.kinds &&
      part.isSection &&
      h(
        "div",
        { class: "field" },
        h("label", { for: "kind-of" }, part.kinds.key === "do" ? "What is done" : part.kinds.key),
        h(
          "select",
          {
            id: "kind-of",
            value: String(part.fields.find(({ key }) => key === part.kinds!.key)?.written ?? ""),
            onChange: (e: Event) =>
              store.edit([
                {
                  do: "set",
                  path: chosen,
                  value: asKind(chosen, data, part.kinds!.key, (e.currentTarget as HTMLSelectElement).value, readExample),
                },
              ]),
          },
          part.kinds.words.map((word) => h("option", { value: word }, word)),
        ),
      ),
    shortForm(store, part),
    open && part.fields.filter(({ key }) => key !== part.kinds?.key).map((field) => fieldRow(store, field, marked)),
  );
}

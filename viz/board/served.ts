// The file of a board served by the command `open`: read, watched, and saved on request. All data stays on this machine.

export interface Served {
  /** Name of the file; null when none was given. */
  readonly file: string | null;
  /** Saves to the file. @returns a message with the reason of a failure; "" on success */
  save(text: string): Promise<string>;
}

interface FileNow {
  readonly name: string | null;
  readonly text: string;
}

/** Connects to the server of this page; null if there is none. */
export async function served(onChanged: (text: string) => void): Promise<Served | null> {
  if (document.documentElement.dataset.served === undefined) return null;
  const now = (await (await fetch("file")).json()) as FileNow;
  if (now.name === null) return { file: null, save: () => Promise.resolve("no file was given") };
  onChanged(now.text);
  let known = now.text;
  new EventSource("changes").addEventListener("message", (e) => {
    const text = JSON.parse(String(e.data)) as string;
    if (text === known) return;
    known = text;
    onChanged(text);
  });
  return {
    file: now.name,
    async save(text) {
      const answer = await fetch("file", { method: "PUT", body: text });
      if (answer.ok) {
        known = text;
        return "";
      }
      return await answer.text();
    },
  };
}

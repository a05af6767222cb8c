// Exit codes, and words to the terminal, whatever becomes of it.

/** 2 is for what the user can mend: the file, the command, or the place to write to; 130 for work that the user stopped. */
export const EXIT = { fine: 0, findings: 1, badInput: 2, internal: 3, stopped: 130 } as const;
export type Exit = (typeof EXIT)[keyof typeof EXIT];

export const say = (text: string): boolean => process.stdout.write(`${text}\n`);
export const complain = (text: string): boolean => process.stderr.write(`${text}\n`);

/**
 * Keeps the exit code true when nobody reads. A reader that has gone, such as `head`, changes nothing. Words that cannot be
 * written to standard output for another reason, such as a full disk, are a failure of their own. Where standard error is gone
 * there is nobody left to tell.
 */
export function outliveReaders(): void {
  process.stderr.on("error", () => undefined);
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") return;
    process.exitCode = EXIT.badInput;
    complain(`standard output cannot be written: ${error.code === "ENOSPC" ? "the disk is full" : error.message}`);
  });
}

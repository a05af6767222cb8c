// Exit codes and terminal output, with the handling of readers that disappear.

/**
 * 2 is for errors that the user can correct: in the file, the command, or the output folder; 130 is for work that the
 * user stopped.
 */
export const EXIT = { fine: 0, findings: 1, badInput: 2, internal: 3, stopped: 130 } as const;
export type Exit = (typeof EXIT)[keyof typeof EXIT];

export const say = (text: string): boolean => process.stdout.write(`${text}\n`);
export const complain = (text: string): boolean => process.stderr.write(`${text}\n`);

/**
 * Keeps the exit code correct when output cannot be written. A reader that has closed the pipe, such as `head`, changes
 * nothing. Any other failure of standard output, such as a full disk, ends with exit code 2. A failure of standard
 * error cannot be reported.
 */
export function ignoreClosedPipes(): void {
  process.stderr.on("error", () => undefined);
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") return;
    process.exitCode = EXIT.badInput;
    complain(`standard output cannot be written: ${error.code === "ENOSPC" ? "the disk is full" : error.message}`);
  });
}

// The command `completion`: prints a shell script that completes commands, options and file names, derived from the
// commands themselves.
import type { Command } from "commander";

export const SHELLS = ["bash", "zsh", "fish"] as const;
export type Shell = (typeof SHELLS)[number];

interface Completed {
  readonly name: string;
  readonly about: string;
  /** Words that may follow where no file is meant. */
  readonly choices: readonly string[];
  readonly options: readonly { readonly long: string; readonly about: string }[];
}

const completed = (program: Command): readonly Completed[] =>
  program.commands.map((command) => ({
    name: command.name(),
    about: command.description(),
    choices: command.registeredArguments.flatMap(({ argChoices }) => argChoices ?? []),
    options: [
      ...command.options.map((option) => ({ long: option.long ?? option.flags, about: option.description })),
      { long: "--help", about: "list the options" },
    ],
  }));

const bash = (commands: readonly Completed[]): string => `_sumpwright() {
  local word=\${COMP_WORDS[COMP_CWORD]}
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "${commands.map(({ name }) => name).join(" ")} --help --version" -- "$word"))
    return
  fi
  local options="" choices=""
  case "\${COMP_WORDS[1]}" in
${commands.map(({ name, options, choices }) => `    ${name}) options="${options.map(({ long }) => long).join(" ")}"${choices.length > 0 ? ` choices="${choices.join(" ")}"` : ""} ;;`).join("\n")}
  esac
  case "$word" in
    -*) COMPREPLY=($(compgen -W "$options" -- "$word")) ;;
    *) COMPREPLY=($(compgen -W "$choices" -- "$word")) ;;
  esac
}
complete -o default -F _sumpwright sumpwright
`;

const quoted = (text: string): string => `'${text.replaceAll("'", `'"'"'`)}'`;

const fish = (commands: readonly Completed[]): string =>
  commands
    .flatMap(({ name, about, choices, options }) => [
      `complete -c sumpwright -n __fish_use_subcommand -f -a ${name} -d ${quoted(about)}`,
      ...(choices.length > 0
        ? [`complete -c sumpwright -n "__fish_seen_subcommand_from ${name}" -f -a ${quoted(choices.join(" "))}`]
        : []),
      ...options.map(
        ({ long, about: words }) =>
          `complete -c sumpwright -n "__fish_seen_subcommand_from ${name}" -l ${long.replace(/^--/, "")} -d ${quoted(words)}`,
      ),
    ])
    .join("\n")
    .concat("\n");

/** The script for a shell; zsh uses that of bash. */
export function completionScript(program: Command, shell: Shell): string {
  const commands = completed(program);
  if (shell === "fish") return fish(commands);
  return shell === "zsh" ? `autoload -U +X bashcompinit && bashcompinit\n${bash(commands)}` : bash(commands);
}

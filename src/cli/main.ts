// The command line's entry: finds the command, runs it, and turns unusable input into one line per fault and exit status 2.
import { problemLine } from '../project/index.ts';
import { commands } from './commands.ts';
import { type Console, exitStatus, UnusableInput } from './console.ts';

const terminal: Console = {
  print: (line) => process.stdout.write(`${line}\n`),
  complain: (line) => process.stderr.write(`${line}\n`),
};

const usage = (): string[] => [
  'Usage: npm run -s lamploom -- COMMAND ...',
  ...commands.map((command) => `  ${command.usage.padEnd(74)} ${command.help}`),
];

/** Runs one command. Returns the exit status; see src/cli/console.ts. */
export async function main(
  args: readonly string[],
  root: string,
  console: Console = terminal,
): Promise<number> {
  const [name, ...rest] = args;
  if (name === '--help' || name === 'help') {
    for (const line of usage()) console.print(line);
    return exitStatus.done;
  }
  const command = commands.find((one) => one.name === name);
  if (!command) {
    console.complain(
      name === undefined ? 'A command is missing.' : `There is no command ${JSON.stringify(name)}.`,
    );
    for (const line of usage()) console.complain(line);
    return exitStatus.unusableInput;
  }
  try {
    return await command.run(rest, { console, root });
  } catch (error) {
    if (!(error instanceof UnusableInput)) throw error;
    for (const problem of error.problems) console.complain(problemLine(problem));
    return exitStatus.unusableInput;
  }
}

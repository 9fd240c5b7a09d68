// The command line's outside: where it prints and how it ends. Commands get this as a value, so that tests can record instead of print.
import type { Problem } from '../project/index.ts';

export interface Console {
  readonly print: (line: string) => void;
  readonly complain: (line: string) => void;
}

/** The contract's exit statuses. */
export const exitStatus = { done: 0, projectHasErrors: 1, unusableInput: 2 } as const;
export type ExitStatus = (typeof exitStatus)[keyof typeof exitStatus];

/** Input that can't be used: thrown inside src/cli only, and turned into lines and status 2 by main.ts. */
export class UnusableInput extends Error {
  readonly problems: readonly Problem[];

  constructor(problems: readonly Problem[]) {
    super(problems[0]?.code ?? 'unusable input');
    this.problems = problems;
  }
}

export const unusable = (problem: Problem): never => {
  throw new UnusableInput([problem]);
};

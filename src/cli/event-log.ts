// The value of --events: game events by frame, "FRAME:EVENT[=VALUE],...", turned into the log that the director hears. One problem for each fault.
// Not here: what the events do (the director in the player).
import type { HeardEvent } from '../lampshow/index.ts';
import { excerpt, type Problem, type Project } from '../project/index.ts';
import { UnusableInput } from './console.ts';

export interface EventLog {
  /** By frame; those of one frame as they were written. */
  readonly events: readonly HeardEvent[];
  /** What was given and has no effect, a line each. */
  readonly remarks: readonly string[];
}

const entryPattern = /^(\d{1,15}):([a-z][a-z0-9-]{0,39})(?:=(\d{1,15}))?$/;
const mostValue = 255;

function entryProblem(entry: string, expected: string, mend: string, code = 'bad-option'): Problem {
  return { code, at: '--events', expected, found: excerpt(entry), mend };
}

/** Reads the log, or throws with all its faults. `lastFrame` is the last that can be counted. */
export function eventLog(text: string, project: Project, lastFrame: number): EventLog {
  const known = new Map((project.gameEvents ?? []).map((event) => [event.id, event]));
  const problems: Problem[] = [];
  const remarks: string[] = [];
  const events: HeardEvent[] = [];
  for (const entry of text.split(',').map((one) => one.trim())) {
    const [, frameText, id, valueText] = entryPattern.exec(entry) ?? [];
    if (frameText === undefined || id === undefined) {
      problems.push(
        entryProblem(
          entry,
          'FRAME:EVENT or FRAME:EVENT=VALUE, separated by commas',
          'Write such as "120:jackpot,300:score=42".',
        ),
      );
      continue;
    }
    const frame = Number(frameText);
    const value = valueText === undefined ? undefined : Number(valueText);
    const event = known.get(id);
    if (frame > lastFrame)
      problems.push(entryProblem(entry, `a frame from 0 to ${lastFrame}`, 'Choose an earlier frame.'));
    if (value !== undefined && value > mostValue)
      problems.push(entryProblem(entry, `a value from 0 to ${mostValue}`, 'Write such a number.'));
    if (!event)
      problems.push(
        entryProblem(
          id,
          'the id of a game event',
          known.size === 0
            ? 'The project has no game events.'
            : `The project has ${[...known.keys()].join(', ')}.`,
          'unknown-id',
        ),
      );
    if (event && value !== undefined && !event.hasValue)
      remarks.push(`--events: "${id}" takes no value, so ${value} at frame ${frame} has no effect.`);
    events.push({ frame, event: id, value });
  }
  if (problems.length > 0) throw new UnusableInput(problems);
  return { events: events.sort((a, b) => a.frame - b.frame), remarks };
}

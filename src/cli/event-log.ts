// The value of --events: game events by frame, "FRAME:EVENT[=VALUE],...", or the id of the project's recorded presses, turned into the log that the
// director hears. One problem for each fault. Not here: what the events do (the director in the player).
import { type HeardEvent, heardPresses } from '../lampshow/index.ts';
import { excerpt, type PressLog, type Problem, type Project } from '../project/index.ts';
import { UnusableInput, unusable } from './console.ts';

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

/** The recorded presses that --events names, or undefined where it names none: every entry by frame begins with a digit, and no id does. */
export function pressLogNamed(text: string | undefined, project: Project): PressLog | undefined {
  if (text === undefined || !/^[a-z][a-z0-9-]*$/.test(text)) return undefined;
  const logs = project.pressLogs ?? [];
  const log = logs.find(({ id }) => id === text);
  return (
    log ??
    unusable({
      code: 'unknown-id',
      at: '--events',
      expected: 'the id of recorded presses, or FRAME:EVENT',
      found: excerpt(text),
      mend:
        logs.length === 0
          ? 'The project has no recorded presses.'
          : `The project has ${logs.map(({ id }) => id).join(', ')}.`,
    })
  );
}

/** Recorded presses as the director hears them. */
export function pressLogEvents(log: PressLog, project: Project, frameMs: number): EventLog {
  const takesValue = new Set(
    (project.gameEvents ?? []).filter((event) => event.hasValue).map(({ id }) => id),
  );
  const remarks = log.presses
    .filter(({ event, value }) => value !== undefined && !takesValue.has(event))
    .map(
      ({ event, value, atMs }) =>
        `--events: "${event}" takes no value, so ${value} at ${atMs} ms has no effect.`,
    );
  return { events: heardPresses(log, frameMs), remarks };
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

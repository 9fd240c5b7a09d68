// What the flash analysis says of the document as it stands. Pure, but for waiting.
import { type CompiledProject, type FlashFound, flashFindings } from '../../board/index.ts';
import type { Finding } from '../../project/index.ts';
import type { Workbench } from '../workbench/workbench.ts';

/** The answer to one question; `showData`, `layout` and `distanceMm` name what was asked about. */
export interface FlashAnswer {
  readonly showData: CompiledProject['showData'];
  readonly layout: CompiledProject['layout'];
  readonly distanceMm: number;
  /** Undefined where the analysis failed. */
  readonly found: readonly FlashFound[] | undefined;
}

export interface Flashes {
  /** From where it is looked at, mm. */
  readonly distanceMm: number;
  readonly answer: FlashAnswer | undefined;
}

export type FlashState =
  | { readonly state: 'looking' }
  | { readonly state: 'failed' }
  | { readonly state: 'too-large' }
  | { readonly state: 'found'; readonly found: readonly FlashFound[]; readonly findings: readonly Finding[] };

const states = new WeakMap<FlashAnswer, FlashState>();

export function flashState(settled: CompiledProject, { distanceMm, answer }: Flashes): FlashState {
  if (!settled.showData) return { state: 'too-large' };
  const isOfNow =
    answer?.showData === settled.showData &&
    answer.layout === settled.layout &&
    answer.distanceMm === distanceMm;
  if (!answer || !isOfNow) return looking;
  const known = states.get(answer);
  if (known) return known;
  const state: FlashState = answer.found
    ? { state: 'found', found: answer.found, findings: flashFindings(settled, answer.found, distanceMm) }
    : { state: 'failed' };
  states.set(answer, state);
  return state;
}

const looking: FlashState = { state: 'looking' };

/** What was found, as soon as it is known of the document as it is then; undefined where it can't be. */
export function settledFlashes(workbench: Workbench): Promise<readonly Finding[] | undefined> {
  const now = (): FlashState => flashState(workbench.state.settled, workbench.state.flashes);
  return new Promise((resolve) => {
    const tell = (state: FlashState): boolean => {
      if (state.state === 'looking') return false;
      resolve(state.state === 'found' ? state.findings : undefined);
      return true;
    };
    if (tell(now())) return;
    const stop = workbench.store.subscribe(() => {
      if (tell(now())) stop();
    });
  });
}

// What the flash analysis found in the show that is chosen and in what events can make of it: where, and how to calm it. Beside it the caution.
import { flashCaution } from '../../../board/index.ts';
import type { Lampshow } from '../../../project/index.ts';
import { Derived, Group, NumberField } from '../../fields/index.ts';
import { seconds } from '../../format.ts';
import { useFlashes } from '../../survey/use-flashes.ts';
import { useScreen, useSettled, useWorkbench } from '../../workbench/context.ts';
import { kindLabels, scrubToFlash, spansOf } from './flash-spans.ts';
import css from './inspector.module.css';

const stateWords = { looking: 'being checked', failed: 'not known', 'too-large': 'not known' } as const;

export function FlashGroup({ show }: { readonly show: Lampshow }) {
  const workbench = useWorkbench();
  const { project } = useSettled();
  const { distanceMm, answer } = useScreen((state) => state.flashes);
  const flashes = useFlashes();
  const spans = spansOf(flashes, show);
  const ofEvents =
    flashes.state === 'found' ? flashes.findings.filter(({ at }) => at.startsWith('/gameEvents')) : [];
  const concerns = ofEvents.filter(({ at }) => {
    const event = project.gameEvents?.[Number(at.split('/')[2])];
    return event?.lampshow === show.id || project.attractMode === show.id;
  });
  const sum = spans.length + concerns.length;
  return (
    <Group title="Flashes">
      <Derived label="In this show and its events">
        {flashes.state === 'found' ? (sum === 0 ? 'none found' : `${sum} found`) : stateWords[flashes.state]}
      </Derived>
      {flashes.state === 'failed' && (
        <p className={css['note']}>The analysis stopped. Change anything, or load the page again.</p>
      )}
      {spans.length > 0 && (
        <ul className={css['flashes']}>
          {spans.map((span) => (
            <li key={`${span.kind} ${span.fromMs}`}>
              <button type="button" onClick={() => scrubToFlash(workbench, span)}>
                {kindLabels[span.kind]}, {seconds(span.fromMs)} to {seconds(span.toMs)} s
              </button>
            </li>
          ))}
        </ul>
      )}
      {spans.length > 0 && (
        <p className={css['note']}>
          More than three a second. Slow it down, fade instead of switching, dim it, turn saturated red
          towards orange, or let a smaller part flash.
        </p>
      )}
      {concerns.map(({ message, mend }) => (
        <p className={css['note']} key={message}>
          {message} {mend}
        </p>
      ))}
      <NumberField
        label="Nearest eyes"
        unit="m"
        digits={1}
        step={0.1}
        least={0.3}
        most={5}
        value={distanceMm / 1000}
        onChange={(metres) => workbench.set({ flashes: { distanceMm: Math.round(metres * 1000), answer } })}
      />
      <p className={css['note']}>{flashCaution}</p>
    </Group>
  );
}

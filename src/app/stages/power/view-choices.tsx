// What the chart and the colours show: which load case, whether one feed a line is drawn beside it, and what is taken to be broken.
import type { Fault } from '../../../power/index.ts';
import { Button, CheckField, Segments } from '../../fields/index.ts';
import { useFigures, useScreen, useWorkbench } from '../../workbench/context.ts';
import { isThere, type LoadCaseId, type PowerView } from '../../workbench/power-view.ts';
import css from './power.module.css';

const railWords = { plus: '+', ground: 'ground' } as const;
const faultWords = { cut: 'cut', 'bad-joint': 'joint of 0.5 ohm' } as const;

/** "F2: ground cut". */
function faultName({ at, what }: Fault): string {
  const rail = railWords[at.rail];
  const place = {
    feed: () => (at.kind === 'feed' ? `F${at.feed + 1}` : ''),
    jumper: () => (at.kind === 'jumper' ? `jumper ${at.place} of line ${at.line + 1}` : ''),
    segment: () => (at.kind === 'segment' ? `run ${at.run} behind LED ${at.led}` : ''),
  }[at.kind]();
  return `${place}: ${rail} ${faultWords[what]}`;
}

/** All in words; a feed of which both wires are gone is missing altogether. */
export function faultNames(faults: readonly Fault[]): string[] {
  const isGone = (feed: number) =>
    faults.filter(({ at, what }) => at.kind === 'feed' && at.feed === feed && what === 'cut').length === 2;
  const names = faults.map((fault) =>
    fault.at.kind === 'feed' && isGone(fault.at.feed) ? `F${fault.at.feed + 1} missing` : faultName(fault),
  );
  return [...new Set(names)];
}

export function ViewChoices() {
  const workbench = useWorkbench();
  const view = useScreen(({ powerView }) => powerView);
  const { compiled, assessment } = useFigures();
  const set = (part: Partial<PowerView>) =>
    workbench.set({ powerView: { ...workbench.state.powerView, ...part } });
  const faults = view.faults.filter((fault) => isThere(compiled.project, fault));
  const { limitAmps } = compiled.project.power;
  const cases: readonly { readonly id: LoadCaseId; readonly label: string }[] = [
    { id: 'white', label: 'All white' },
    { id: 'in-use', label: limitAmps === undefined ? 'In use' : `Held to ${limitAmps} A` },
    { id: 'hot', label: `All white, ${assessment.hot.celsius} °C` },
  ];
  return (
    <div className={css['choices']}>
      <Segments<LoadCaseId>
        label="Load case"
        value={view.loadCase}
        choices={cases}
        onChange={(loadCase) => set({ loadCase })}
      />
      <CheckField
        label="Beside one feed a line"
        value={view.comparesOneFeed}
        onChange={(comparesOneFeed) => set({ comparesOneFeed })}
      />
      {faults.length > 0 && (
        <span className={css['what-if']} role="status">
          <span>What if {faultNames(faults).join('; ')}</span>
          <Button onPress={() => set({ faults: [] })}>Mend all</Button>
        </span>
      )}
    </div>
  );
}

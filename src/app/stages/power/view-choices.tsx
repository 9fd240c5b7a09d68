// What the chart and the colours show: which load case, whether one feed a line is drawn beside it, and what is taken to be broken.
import { ampsFigure, type Fault, type PanelNetwork } from '../../../power/index.ts';
import type { Project } from '../../../project/index.ts';
import { Button, CheckField, Segments } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useFigures, useScreen, useShownPower, useWorkbench } from '../../workbench/context.ts';
import { isThere, type LoadCaseId, type PowerView } from '../../workbench/power-view.ts';
import css from './power.module.css';

const railWords = { plus: '+', ground: 'ground' } as const;
const faultWords = { cut: 'cut', 'bad-joint': 'joint of 0.5 ohm' } as const;

/** "F2: ground cut", "jumper from Sky, low to Wheel, spoke 1: + cut". */
function faultName({ runs, dataLines }: Project, { at, what }: Fault): string {
  const nameOf = (id: string | undefined) => runName(runs.find((run) => run.id === id) ?? { id: id ?? '' });
  const rail = railWords[at.rail];
  const jumperName = ({ line, place }: { readonly line: number; readonly place: number }) => {
    const chain = dataLines[line]?.chain ?? [];
    return `jumper from ${nameOf(chain[place - 1]?.run)} to ${nameOf(chain[place]?.run)}`;
  };
  const place = {
    feed: () => (at.kind === 'feed' ? `F${at.feed + 1}` : ''),
    jumper: () => (at.kind === 'jumper' ? jumperName(at) : ''),
    segment: () => (at.kind === 'segment' ? `${nameOf(at.run)} behind LED ${at.led}` : ''),
  }[at.kind]();
  return `${place}: ${rail} ${faultWords[what]}`;
}

/** All in words; a feed of which both wires are gone is missing altogether. */
export function faultNames(project: Project, faults: readonly Fault[]): string[] {
  const isGone = (feed: number) =>
    faults.filter(({ at, what }) => at.kind === 'feed' && at.feed === feed && what === 'cut').length === 2;
  const names = faults.map((fault) =>
    fault.at.kind === 'feed' && isGone(fault.at.feed)
      ? `F${fault.at.feed + 1} missing`
      : faultName(project, fault),
  );
  return [...new Set(names)];
}

/** What returns through the board with a ground broken, amperes: into it along the data leads' grounds. Undefined where none does. */
function throughBoard({ boardWay }: PanelNetwork, linkAmps: ArrayLike<number>): number | undefined {
  if (!boardWay) return undefined;
  return boardWay.leads.reduce((sum, link) => sum + Math.max(0, linkAmps[link]!), 0);
}

export function ViewChoices() {
  const workbench = useWorkbench();
  const view = useScreen(({ powerView }) => powerView);
  const { compiled, assessment } = useFigures();
  const set = (part: Partial<PowerView>) =>
    workbench.set({ powerView: { ...workbench.state.powerView, ...part } });
  const faults = view.faults.filter((fault) => isThere(compiled.project, fault));
  const { assessment: broken, shown } = useShownPower();
  const boardAmps = throughBoard(broken.panel, shown.linkAmps);
  const words = `What if ${faultNames(compiled.project, faults).join('; ')}${boardAmps === undefined ? '' : `. Through the board’s ground: ${ampsFigure(boardAmps)} A`}`;
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
        label="Compare with one feed a line"
        value={view.comparesOneFeed}
        onChange={(comparesOneFeed) => set({ comparesOneFeed })}
      />
      {faults.length > 0 && (
        <span className={css['what-if']} role="status">
          <span title={words}>{words}</span>
          <Button onPress={() => set({ faults: [] })}>Mend all</Button>
        </span>
      )}
    </div>
  );
}

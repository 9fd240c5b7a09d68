// All supplies: each in figures, what it carries, and how zones would be spread over several of one size.
// Not here: the usual sizes of one supply (supply-group.tsx), the board's own supply (board-supply-fields.tsx).
import { useMemo, useState } from 'react';
import { supplyAmps, supplyKind } from '../../../catalogue/index.ts';
import {
  ampsFigure,
  controllerAmps,
  type SupplyLoad,
  splitCaution,
  splitOverSupplies,
} from '../../../power/index.ts';
import { addSupply, limits, type Project, removeFurtherSupply } from '../../../project/index.ts';
import { Button, Buttons, Group, SelectField } from '../../fields/index.ts';
import { useEdit, useFigures, useProject } from '../../workbench/context.ts';
import { Halves, Note, Outcome, StageDialog } from '../runs/dialog.tsx';
import { BoardSupplyFields } from './board-supply-fields.tsx';
import { supplyName } from './feed-choices.ts';
import { useSupplyLoads } from './power-advice.ts';
import css from './power-dialogs.module.css';
import { splitEdit, splitInWords, whyNoSplit, zonesInWords } from './split-edit.ts';
import { SupplyFields } from './supply-fields.tsx';
import { boardOn, verdictWords, whiteOn } from './supply-words.ts';

/** "zones 1 and 2, the board": what all figures of its row are of. */
const carried = (project: Project, load: SupplyLoad): string =>
  `${zonesInWords(load.zones)}${boardOn(project, load) > 0 ? ', the board' : ''}`;

const Loads = ({
  project,
  loads,
  chosen,
}: {
  readonly project: Project;
  readonly loads: readonly SupplyLoad[];
  readonly chosen: number;
}) => (
  <section className={css['plan-table']} aria-label="What each supply carries">
    <table>
      <thead>
        <tr>
          <th scope="col">Supply</th>
          <th scope="col" data-words>
            Carries
          </th>
          <th scope="col">White, A</th>
          <th scope="col">In use, A</th>
          <th scope="col">Needs, A</th>
          <th scope="col">Verdict</th>
        </tr>
      </thead>
      <tbody>
        {loads.map((load, index) => {
          const { supply, drawAmps, needAmps, verdict } = load;
          return (
            <tr key={supply.at} data-chosen={index === chosen}>
              <th scope="row">
                {index + 1}, {supply.amps} A
              </th>
              <td data-words title={carried(project, load)}>
                {carried(project, load)}
              </td>
              <td>{ampsFigure(whiteOn(project, load))}</td>
              <td>{ampsFigure(drawAmps)}</td>
              <td>{ampsFigure(needAmps)}</td>
              <td data-tone={verdict === 'enough' ? undefined : 'warn'}>{verdictWords[verdict]}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  </section>
);

function Split({ project }: { readonly project: Project }) {
  const edit = useEdit();
  const { compiled, assessment } = useFigures();
  const { panel } = assessment;
  const sizes = supplyAmps[supplyKind(project.power.supply.volts)];
  const [wanted, setWanted] = useState<number>();
  const splits = useMemo(
    () => new Map(sizes.map((amps) => [amps, splitOverSupplies(compiled.project, panel, amps)])),
    [compiled, panel, sizes],
  );
  // The smallest that will do, until another is chosen.
  const size =
    sizes.find((amps) => amps === wanted) ??
    sizes.find((amps) => 'supplies' in splits.get(amps)!) ??
    sizes.at(-1)!;
  const split = splits.get(size)!;
  const fits = 'supplies' in split;
  // Figures lag an edit: a split of a panel with other feeds must not be put on this one.
  const isCurrent = compiled.project === project;
  const unfed = panel.zones.flatMap(({ chained, feeds }, zone) =>
    chained && feeds.length === 0 ? [zone] : [],
  );
  const isFed = unfed.length === 0;
  return (
    <Group title="Spread zones over supplies of one size">
      <SelectField
        label="Each rated"
        value={String(size)}
        choices={sizes.map((amps) => ({ id: String(amps), label: `${amps} A` }))}
        onChange={(to) => setWanted(Number(to))}
      />
      <Outcome tone={fits ? 'plain' : 'warn'}>
        {fits
          ? `${split.supplies.length === 1 ? 'One carries all' : `${split.supplies.length} of them`}, ${split.isProvedLeast ? 'proved least' : 'the best found'}. All white, a fifth of each kept free.`
          : whyNoSplit(split, size)}
      </Outcome>
      {fits &&
        splitInWords(split, controllerAmps(compiled.project) > 0).map((words) => (
          <Note key={words}>{words}</Note>
        ))}
      {fits && split.supplies.length > 1 && <Note>{splitCaution}</Note>}
      {fits && !isFed && (
        <Outcome tone="warn">
          Place feeds first: without one, {zonesInWords(unfed)} can have no supply.
        </Outcome>
      )}
      {fits && (
        <Buttons>
          <Button
            takesFigures
            // Disabled for the moment that figures lag, it would lose the focus.
            isDisabled={!isFed}
            onPress={() => {
              if (isCurrent) edit('Spread zones over supplies', splitEdit(project, split));
            }}
          >
            {split.supplies.length === 1
              ? `Take one of ${size} A`
              : `Take ${split.supplies.length} of ${size} A`}
          </Button>
        </Buttons>
      )}
    </Group>
  );
}

export function SuppliesDialog({ onClose }: { readonly onClose: () => void }) {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { compiled } = useFigures();
  const loads = useSupplyLoads();
  const further = project.power.moreSupplies ?? [];
  const [wanted, setWanted] = useState(0);
  const chosen = Math.min(wanted, further.length);
  const supply = chosen === 0 ? undefined : further[chosen - 1];
  const add = () => {
    const { volts, amps } = project.power.supply;
    edit('Add a supply', addSupply({ volts, amps }));
    setWanted(further.length + 1);
  };
  return (
    <StageDialog title="Supplies" act="Done" onAct={onClose} onClose={onClose} close={undefined}>
      <Halves
        fields={
          <>
            <Group title="One supply">
              <SelectField
                label="Which"
                value={String(chosen)}
                choices={[project.power.supply, ...further].map(({ amps }, index) => ({
                  id: String(index),
                  label: `${supplyName(index)}, ${amps} A`,
                }))}
                onChange={(index) => setWanted(Number(index))}
              />
              <SupplyFields key={supply?.id ?? ''} project={project} further={supply} />
              <Buttons>
                <Button isDisabled={further.length >= limits.moreSupplies} onPress={add}>
                  Add a supply
                </Button>
                {supply && (
                  <Button
                    onPress={() => {
                      edit('Remove a supply', removeFurtherSupply(supply.id));
                      setWanted(0);
                    }}
                  >
                    Remove this one
                  </Button>
                )}
              </Buttons>
            </Group>
            <Group title="The board’s own supply">
              <BoardSupplyFields />
            </Group>
          </>
        }
      >
        <Loads project={compiled.project} loads={loads} chosen={chosen} />
        {loads.length > 1 && project.power.limitAmps !== undefined && (
          <Note>
            The limit holds for all supplies together: each must stand it by itself, with its own LEDs lit
            alone.
          </Note>
        )}
        <Split project={project} />
      </Halves>
    </StageDialog>
  );
}

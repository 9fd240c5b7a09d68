// The order of a data line as text, to type. What is no order of all its runs is told, and not taken.
import { useState } from 'react';
import { chainNumbers, typeChain } from '../../../panel/index.ts';
import { SelectField, TextField } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useSettled, useWorkbench } from '../../workbench/context.ts';
import { lineName } from './chain-places.ts';
import css from './runs.module.css';
import { orderText, parseOrder } from './typed-order.ts';

export function TypedOrder() {
  const edit = useEdit();
  const workbench = useWorkbench();
  const { project, layout } = useSettled();
  const [wanted, setWanted] = useState(0);
  const [fault, setFault] = useState<{
    readonly of: unknown;
    readonly words: string;
    readonly mend?: string;
  }>();
  const line = Math.min(wanted, project.dataLines.length - 1);
  const chain = project.dataLines[line]?.chain;
  if (!chain) return null;
  const numbers = chainNumbers(layout);
  const text = orderText(
    chain.map(({ run }) => run),
    numbers,
  );
  const take = (typed: string) => {
    const parsed = parseOrder(typed, project.runs, numbers);
    const result = parsed.ok ? typeChain(project, line, parsed.value) : parsed;
    if (!result.ok) {
      const [problem] = result.problems;
      const found = problem!.found.replace(/"([^"]+)"/g, (quoted, id: string) => {
        const run = project.runs.find((one) => one.id === id);
        return run ? `${numbers.get(id) ?? ''} ${runName(run)}`.trim() : quoted;
      });
      setFault({
        of: chain,
        words: `Not taken: ${found}. Wanted: ${problem!.expected}.`,
        mend: problem!.mend,
      });
      return;
    }
    edit('Type the chain order', result.value.edit);
    const words =
      result.value.droppedCuts.length > 0
        ? 'A jumper whose +5 V was cut went: cut +5 V anew where zones meet.'
        : '';
    setFault({ of: workbench.project.dataLines[line]?.chain, words });
  };
  // What was said of a chain is not said of the next one.
  const told = fault?.of === chain ? fault : undefined;
  return (
    <div className={css['order']}>
      {project.dataLines.length > 1 && (
        <SelectField
          isBare
          label="Data line to order"
          value={String(line)}
          choices={project.dataLines.map((_, index) => ({
            id: String(index),
            label: lineName(project, index),
          }))}
          onChange={(id) => setWanted(Number(id))}
        />
      )}
      <span aria-hidden="true">Order</span>
      <TextField
        isBare
        mono
        label="Order of runs"
        hint="Numbers as on the panel, or names of runs, such as 5, 3, 1-4"
        value={text}
        onChange={take}
      />
      <p role="status" className={css['warn']} title={told?.mend}>
        {told?.words}
      </p>
    </div>
  );
}

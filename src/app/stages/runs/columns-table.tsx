// A table with one column a run: the head chooses the run, and can be dragged where dragging means something; rows say one thing each.
import { Fragment, type ReactNode, type RefObject, useEffect, useRef } from 'react';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useSelection, useWorkbench } from '../../workbench/context.ts';
import { chosenRunIds } from '../../workbench/selection.ts';
import type { ChainColumn, Drop } from './chain-columns.ts';
import css from './runs.module.css';
import { useColumnDrag } from './use-column-drag.ts';

export interface Row {
  readonly label: string;
  readonly cell: (column: ChainColumn) => ReactNode;
}

/** Columns that belong together: a data line's, or those outside. */
interface Band {
  readonly line: number | undefined;
  readonly columns: readonly ChainColumn[];
}

function bandsOf(columns: readonly ChainColumn[]): Band[] {
  const lines = [...new Set(columns.map(({ at }) => at?.line))];
  return lines.map((line) => ({ line, columns: columns.filter(({ at }) => at?.line === line) }));
}

/** The names of the rows stand over the first so many pixels. */
const namesPx = 110;

/** Brings the column of a run that was chosen elsewhere into view. */
function useInView(scroll: RefObject<HTMLElement | null>, run: string | undefined): void {
  useEffect(() => {
    const table = scroll.current;
    const head = run === undefined ? null : table?.querySelector(`th[data-column="${run}"]`);
    if (!table || !head) return;
    const [shown, column] = [table.getBoundingClientRect(), head.getBoundingClientRect()];
    if (column.left < shown.left + namesPx) table.scrollLeft += column.left - shown.left - namesPx;
    else if (column.right > shown.right) table.scrollLeft += column.right - shown.right;
  }, [scroll, run]);
}

export function ColumnsTable({
  label,
  columns,
  rows,
  nameOfLine,
  onDrop,
}: {
  readonly label: string;
  readonly columns: readonly ChainColumn[];
  readonly rows: readonly Row[];
  readonly nameOfLine: (line: number | undefined) => string;
  readonly onDrop?: (run: string, drop: Drop) => void;
}) {
  const workbench = useWorkbench();
  const chosen = chosenRunIds(useSelection());
  const scroll = useRef<HTMLElement>(null);
  const { drag, onPointerDown, wasDrag } = useColumnDrag(scroll, (run, drop) => onDrop?.(run, drop));
  useInView(scroll, chosen.length === 1 ? chosen[0] : undefined);
  const bands = bandsOf(columns);
  const mark = ({ placed }: ChainColumn) =>
    drag?.drop?.target === placed.run.id && drag.run !== placed.run.id ? drag.drop.side : undefined;
  const flags = (column: ChainColumn, first: boolean) => ({
    'data-chosen': chosen.includes(column.placed.run.id),
    'data-dragged': drag?.run === column.placed.run.id,
    'data-drop': mark(column),
    'data-first': first || undefined,
  });
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
    <section className={css['scroll']} tabIndex={0} aria-label={label} ref={scroll}>
      <table data-tight={bands.length > 1}>
        <thead>
          {bands.length > 1 && (
            <tr>
              <th scope="row">Data line</th>
              {bands.map(({ line, columns: own }) => (
                <th key={line ?? 'outside'} scope="colgroup" colSpan={own.length} data-band data-first>
                  {nameOfLine(line)}
                </th>
              ))}
            </tr>
          )}
          <tr>
            <th scope="row">Run</th>
            {bands.map(({ line, columns: own }, band) => (
              <Fragment key={line ?? 'outside'}>
                {own.map((column, index) => {
                  const { run } = column.placed;
                  return (
                    <th
                      key={run.id}
                      scope="col"
                      data-column={run.id}
                      {...flags(column, band > 0 && index === 0)}
                    >
                      <button
                        type="button"
                        title={onDrop ? `${runName(run)}: drag to another place` : runName(run)}
                        data-drags={onDrop !== undefined}
                        aria-pressed={chosen.includes(run.id)}
                        onPointerDown={(event) => onDrop && onPointerDown(run.id, event)}
                        onClick={() => {
                          if (!onDrop || !wasDrag()) workbench.select({ kind: 'run', id: run.id });
                        }}
                      >
                        {column.number ?? '–'}
                        <span className="visually-hidden"> {runName(run)}</span>
                      </button>
                    </th>
                  );
                })}
              </Fragment>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ label: rowLabel, cell }) => (
            <tr key={rowLabel}>
              <th scope="row">{rowLabel}</th>
              {bands.map(({ line, columns: own }, band) => (
                <Fragment key={line ?? 'outside'}>
                  {own.map((column, index) => (
                    <td key={column.placed.run.id} {...flags(column, band > 0 && index === 0)}>
                      {cell(column)}
                    </td>
                  ))}
                </Fragment>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

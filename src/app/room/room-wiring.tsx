// How the LEDs are wired, at the same place and size as the lit panel: runs in the order of the data, with the wires between them.
import { useCompiled, useProject } from '../workbench/context.ts';
import css from './room.module.css';

const ledMm = 5;

export function RoomWiring() {
  const { layout } = useCompiled();
  const { widthMm, heightMm } = useProject((project) => project.panel);
  return (
    <svg className={css['wiring']} viewBox={`0 0 ${widthMm} ${heightMm}`} role="img" aria-label="The wiring">
      {layout.lines.map(({ index, runs }) => (
        <g key={index}>
          {runs.slice(1).map((run, i) => (
            <path
              key={run.run.id}
              className={css['jumper']}
              d={`M${runs[i]!.doutEnd.xMm} ${runs[i]!.doutEnd.yMm}L${run.dinEnd.xMm} ${run.dinEnd.yMm}`}
            />
          ))}
          {runs.map(({ run, wireLeds, dinEnd, doutEnd }) => (
            <path
              key={run.id}
              className={css['run']}
              d={[dinEnd, ...wireLeds, doutEnd]
                .map(({ xMm, yMm }, i) => `${i === 0 ? 'M' : 'L'}${xMm} ${yMm}`)
                .join('')}
            />
          ))}
        </g>
      ))}
      {layout.wireLeds.map(({ xMm, yMm }, wire) => (
        <rect
          // Places on the wire.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={wire}
          className={css['led']}
          x={xMm - ledMm / 2}
          y={yMm - ledMm / 2}
          width={ledMm}
          height={ledMm}
        />
      ))}
    </svg>
  );
}

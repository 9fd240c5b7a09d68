// A memory as a bar of its parts, each with its bytes in words beside it.
import { figure } from '../../format.ts';
import css from './board.module.css';

export interface Part {
  readonly label: string;
  readonly bytes: number;
  readonly colour: string;
}

export function Budget({
  title,
  parts,
  used,
  total,
}: {
  readonly title: string;
  readonly parts: readonly Part[];
  /** Undefined where it can't be counted. */
  readonly used: number | undefined;
  readonly total: number;
}) {
  const free = total - parts.reduce((sum, { bytes }) => sum + bytes, 0);
  return (
    <div className={css['budget']}>
      <h3>
        {title}
        <span>
          {used === undefined ? 'too much' : figure(used)} <i>of</i> {figure(total)} B
        </span>
      </h3>
      <div className={css['bar']} aria-hidden="true">
        {parts.map(({ label, bytes, colour }) => (
          <i key={label} style={{ width: `${(100 * bytes) / total}%`, background: colour }} />
        ))}
      </div>
      <ul>
        {parts
          .filter(({ bytes }) => bytes > 0)
          .map(({ label, bytes, colour }) => (
            <li key={label}>
              <i style={{ background: colour }} />
              <span>{label}</span>
              <b>{figure(bytes)} B</b>
            </li>
          ))}
        <li>
          <i className={css['free']} />
          <span>Free</span>
          <b data-short={free < 0}>{free < 0 ? `-${figure(-free)}` : figure(free)} B</b>
        </li>
      </ul>
    </div>
  );
}

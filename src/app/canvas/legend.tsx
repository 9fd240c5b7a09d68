// What the marks of the wiring mean, in a line under the panel.
import css from './canvas.module.css';

const rows = [
  { label: 'Data in', mark: <circle className={css['din']} cx={17} cy={7} r={3.5} /> },
  {
    label: 'Jumper, +5 V carried',
    mark: (
      <>
        <path className={css['plus']} d="M0 4.5H34" />
        <path className={css['data']} d="M0 9.5H34" />
      </>
    ),
  },
  {
    label: 'Jumper, +5 V cut',
    mark: (
      <>
        <path className={css['data']} d="M0 7H34" />
        <g className={css['cut-ring']} transform="translate(17 7)">
          <circle r={5.5} />
          <path d="M-2 -3v6M2 -3v6" />
        </g>
      </>
    ),
  },
  {
    label: 'Injection point',
    mark: (
      <g transform="translate(17 7) scale(0.9)">
        <path className={css['feed-diamond']} d="M0 -7.5L7.5 0L0 7.5L-7.5 0z" />
        <path className={css['feed-plus']} d="M-3 0h6M0 -3v6" />
      </g>
    ),
  },
];

export const Legend = () => (
  <ul className={css['legend']}>
    {rows.map(({ label, mark }) => (
      <li key={label}>
        <svg width="34" height="14" aria-hidden="true">
          {mark}
        </svg>
        {label}
      </li>
    ))}
  </ul>
);

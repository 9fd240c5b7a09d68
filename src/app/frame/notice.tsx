// A page with nothing but a message: while a project opens, and when it can't be opened.
import { Mark } from './mark.tsx';
import css from './notice.module.css';

export const Notice = ({
  title,
  lines,
  busy = false,
}: {
  readonly title: string;
  readonly lines: readonly string[];
  readonly busy?: boolean;
}) => (
  <main className={css['notice']} aria-busy={busy}>
    <Mark />
    <div role={busy ? 'status' : 'alert'}>
      <h1>{title}</h1>
      {lines.length > 0 && (
        <ul>
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </div>
  </main>
);

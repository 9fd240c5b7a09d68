// Beside a supply's volts: that its strips don't stand them, or are made for others.
import { useFigures } from '../../workbench/context.ts';
import css from './power.module.css';

/** @param supply id of a further supply; undefined: the first one */
export function VoltsWrong({ supply }: { readonly supply: string | undefined }) {
  const { findings, assessment } = useFigures();
  const at = assessment.panel.supplies.find(({ id }) => id === supply)?.at;
  const wrong = findings.filter((one) => one.code === 'supply-voltage' && one.at === `${at}/volts`);
  return wrong.map(({ message, mend }) => (
    <p key={message} className={css['warn']} role="status">
      {message} {mend}
    </p>
  ));
}

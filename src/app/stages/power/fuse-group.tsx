// The fuse rule in words: what no fuse protects in some short, each a button that leads to where it can be mended.
import { useState } from 'react';
import { type ConductorCheck, conductorName, fuseRuleFindings, shortPlace } from '../../../power/index.ts';
import { Button, Buttons, Derived, Group } from '../../fields/index.ts';
import { causeOf } from '../../workbench/cause.ts';
import { useFigures, useWorkbench } from '../../workbench/context.ts';
import css from './power.module.css';

const shownAtFirst = 2;

export function FuseGroup() {
  const workbench = useWorkbench();
  const { compiled, assessment } = useFigures();
  const [showsAll, setShowsAll] = useState(false);
  const { project } = compiled;
  const { panel, feedSizes, fuseRule: rule } = assessment;
  if (panel.feeds.length === 0) return null;
  const findings = fuseRuleFindings(project, panel, feedSizes, rule);
  const count = rule.violations.length;
  return (
    <Group title="Fuses in a short">
      <Derived label="Shorts looked at">{rule.shortsChecked}</Derived>
      <Derived label="Conductors without protection" tone={count > 0 ? 'warn' : 'good'}>
        {count === 0 ? 'none' : count}
      </Derived>
      <ul className={css['told']}>
        {findings.slice(0, showsAll ? findings.length : shownAtFirst).map(({ at, message, mend }) => (
          <li key={message}>
            <button
              type="button"
              onClick={() => {
                const { selection } = causeOf(project, at);
                // A conductor of this stage is chosen where it stands; all others lead to their own.
                if (selection.kind !== 'none') workbench.select(selection);
              }}
            >
              {message}
            </button>
            <p>{mend}</p>
          </li>
        ))}
      </ul>
      {findings.length > shownAtFirst && (
        <Buttons>
          <Button isPressed={showsAll} onPress={() => setShowsAll(!showsAll)}>
            All {findings.length} kinds
          </Button>
        </Buttons>
      )}
    </Group>
  );
}

function fusesInWords({ fuses, fusesAmps }: ConductorCheck): string {
  if (!Number.isFinite(fusesAmps)) return 'No fuse that is known';
  const amps = Number(fusesAmps.toFixed(2));
  return fuses.length === 1 ? `Only a fuse of ${amps} A` : `${fuses.length} fuses of ${amps} A together`;
}

/** What this feed's fuse doesn't protect by itself or with others, and what of this feed no fuse protects. */
export function FuseOfFeed({ index }: { readonly index: number }) {
  const { compiled, assessment } = useFigures();
  const { project } = compiled;
  const { panel, fuseRule } = assessment;
  const own = fuseRule.violations.filter(
    ({ conductor, fuses }) =>
      fuses.includes(index) ||
      ((conductor.kind === 'feed' || conductor.kind === 'plug') && conductor.index === index),
  );
  if (own.length === 0) return null;
  // The worst of each kind.
  const shown = own.filter(
    ({ conductor: { kind, polarity } }, at) =>
      own.findIndex(({ conductor }) => conductor.kind === kind && conductor.polarity === polarity) === at,
  );
  return (
    <Group title="In a short">
      <ul className={css['told']}>
        {shown.map((check) => {
          const name = conductorName(project, panel, check.conductor);
          return (
            <li key={name}>
              {fusesInWords(check)} for {name}, which should carry {Number(check.ratingAmps.toFixed(2))} A: a
              short at {shortPlace(project, panel, check.short!)}.
            </li>
          );
        })}
      </ul>
      {own.length > shown.length && (
        <Derived label="More conductors like these">{own.length - shown.length}</Derived>
      )}
    </Group>
  );
}

// Why the air gap matters: a section through a run to scale, evenness against the gap, how even each area is now and what would help, and where it is
// darkest.
import { useState } from 'react';
import { rowById, sheets } from '../../../catalogue/index.ts';
import { usualEvenness } from '../../../light/index.ts';
import { sheetOf } from '../../../panel/index.ts';
import { Segments } from '../../fields/index.ts';
import { useCompiled, useProject } from '../../workbench/context.ts';
import { EvennessCurves } from './evenness-curves.tsx';
import { DarkPlaces, EvennessNow } from './evenness-now.tsx';
import css from './panel.module.css';
import { Section } from './section.tsx';
import { useEvenness } from './use-evenness.ts';

function SectionNow() {
  const project = useProject((one) => one);
  const { layout } = useCompiled();
  const { panel } = project;
  const { thicknessMm } = sheetOf(project);
  const name = rowById(project.sheets ?? [], panel.sheet)?.label ?? rowById(sheets, panel.sheet)?.label;
  return (
    <Section
      panel={panel}
      sheetMm={thicknessMm}
      sheetName={(name ?? 'own sheet').toLowerCase()}
      pitchMm={layout.runs[0]?.pitchMm}
    />
  );
}

const tabs = [
  { id: 'areas', label: 'Evenness now' },
  { id: 'places', label: 'Darkest places' },
] as const;

export function PanelDock() {
  const [tab, setTab] = useState<(typeof tabs)[number]['id']>('areas');
  const evenness = useEvenness();
  const hasAreas = evenness !== undefined && evenness.areas.length > 0;
  return (
    <div className={css['dock']}>
      <section>
        <h2>
          Section through a run <span>to scale, mm</span>
        </h2>
        <SectionNow />
      </section>
      <section>
        <h2>
          Evenness against air gap <span>mm</span>
        </h2>
        {hasAreas ? (
          <EvennessCurves evenness={evenness} aim={usualEvenness} />
        ) : (
          <p className={css['soft']}>
            {evenness ? 'Areas with two LEDs or more are drawn here.' : 'Working it out.'}
          </p>
        )}
      </section>
      <section>
        <header>
          <Segments label="What is told of evenness" value={tab} choices={tabs} onChange={setTab} />
        </header>
        {tab === 'places' && <DarkPlaces />}
        {tab === 'areas' && hasAreas && <EvennessNow evenness={evenness} aim={usualEvenness} />}
      </section>
    </div>
  );
}

// An opened project on the screen: bars above and below, the glass and its timeline between. The room light is one control for both
// the light in the simulated room and the interface's mood.
import { useEffect, useLayoutEffect, useState } from 'react';
import { TopBar } from './frame/top-bar.tsx';
import { Glass } from './glass/glass.tsx';
import type { OpenedProject } from './opening/open-project.ts';
import { runKey } from './playback/keys.ts';
import { Timeline } from './playback/timeline.tsx';
import { Transport } from './playback/transport.tsx';
import { usePlayback, usePlaybackPart } from './playback/use-playback.ts';
import { useShowSurvey } from './survey/use-show-survey.ts';
import { VitalSigns } from './vital-signs/vital-signs.tsx';
import css from './workspace.module.css';

/** From here on the interface is drawn for a lit room. */
const litFrom = 0.5;

export function Workspace({ opened }: { readonly opened: OpenedProject }) {
  const { project } = opened;
  const playback = usePlayback(opened);
  const show = usePlaybackPart(playback, 'show');
  const survey = useShowSurvey(opened, show);
  const [roomLight, setRoomLight] = useState(0);
  const mood = roomLight >= litFrom ? 'lit' : 'dark';

  useLayoutEffect(() => {
    document.documentElement.dataset['room'] = mood;
  }, [mood]);
  useEffect(() => {
    document.title = `${project.name} - Lamploom`;
  }, [project.name]);
  useEffect(() => {
    const shows = project.lampshows.map(({ id }) => id);
    const onKey = (event: KeyboardEvent) => {
      if (runKey(event, { playback, shows })) event.preventDefault();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [playback, project.lampshows]);

  return (
    <div className={css['workspace']}>
      <TopBar project={project} roomLight={roomLight} onRoomLight={setRoomLight} />
      <main className={css['main']}>
        <Glass opened={opened} playback={playback} roomLight={roomLight} />
        <section className={css['dock']} aria-label="Lampshow">
          <Transport opened={opened} playback={playback} />
          <Timeline opened={opened} playback={playback} survey={survey} />
        </section>
      </main>
      <VitalSigns opened={opened} show={show} survey={survey} />
    </div>
  );
}

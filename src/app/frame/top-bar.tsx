// The bar along the top: the project and where it is kept, the room light, undo and redo, and how many findings there are.
import { Redo2, Undo2 } from 'lucide-react';
import { useEffect, useState } from 'react';
import { Button } from '../fields/index.ts';
import { useCommander, useProject, useScreen, useWorkbench } from '../workbench/context.ts';
import type { Kept } from '../workbench/workbench.ts';
import { FindingsButton } from './findings-button.tsx';
import { KeyList } from './key-list.tsx';
import { Mark } from './mark.tsx';
import { ProjectMenu } from './project-menu.tsx';
import css from './top-bar.module.css';

const minuteMs = 60_000;

function savedWords({ file, browser, browserFault }: Kept, project: unknown, nowMs: number): string {
  if (file && file.project === project) {
    const seconds = Math.max(0, Math.round((nowMs - file.atMs) / 1000));
    return seconds < 60 ? `Saved ${seconds} s ago` : `Saved ${Math.floor(seconds / 60)} min ago`;
  }
  if (browserFault !== undefined) return 'Not kept: the browser refuses';
  return browser === project ? 'Kept in this browser' : 'Keeping...';
}

function SavedState() {
  const { ports } = useWorkbench();
  const kept = useScreen((state) => state.kept);
  const project = useProject((one) => one);
  const isSample = useScreen((state) => state.history.past.length === 0 && !state.kept.file);
  const [nowMs, setNowMs] = useState(() => ports.nowMs());
  const isSaved = kept.file?.project === project;
  useEffect(() => {
    setNowMs(ports.nowMs());
    if (!isSaved) return;
    const timer = setInterval(() => setNowMs(ports.nowMs()), minuteMs / 12);
    return () => clearInterval(timer);
  }, [isSaved, ports]);
  const untouched = isSample && kept.browser !== project;
  return (
    <>
      <span data-saved={isSaved}>
        {untouched ? `Saved on ${project.savedOn.slice(0, 10)}` : savedWords(kept, project, nowMs)}
      </span>
      {/* Spoken when it changes, without the seconds that tick. */}
      <span className="visually-hidden" role="status">
        {isSaved ? 'Saved' : kept.browserFault === undefined ? '' : 'Not kept: the browser refuses'}
      </span>
    </>
  );
}

function RoomLight() {
  const workbench = useWorkbench();
  const roomLight = useScreen((state) => state.roomLight);
  return (
    <label className={css['room']}>
      <span>Room light</span>
      <input
        type="range"
        min={0}
        max={1}
        step={0.01}
        value={roomLight}
        aria-valuetext={`${Math.round(100 * roomLight)} percent`}
        onChange={(event) => workbench.set({ roomLight: event.currentTarget.valueAsNumber })}
      />
    </label>
  );
}

function History() {
  const commander = useCommander();
  const undo = useScreen(({ history }) => history.past.at(-1)?.label);
  const redo = useScreen(({ history }) => history.future[0]?.label);
  return (
    <>
      <Button
        onPress={() => commander.run('undo')}
        isDisabled={undo === undefined}
        label={undo === undefined ? 'Undo' : `Undo: ${undo}`}
      >
        <Undo2 size={15} aria-hidden="true" /> Undo
      </Button>
      <Button
        onPress={() => commander.run('redo')}
        isDisabled={redo === undefined}
        label={redo === undefined ? 'Redo' : `Redo: ${redo}`}
      >
        <Redo2 size={15} aria-hidden="true" /> Redo
      </Button>
    </>
  );
}

export function TopBar() {
  const name = useProject((project) => project.name);
  return (
    <header className={css['bar']} data-bar="top">
      <div className={css['wordmark']}>
        <Mark />
        <span>Lamploom</span>
      </div>
      <div className={css['project']}>
        <h1 className="visually-hidden">{name}</h1>
        <ProjectMenu />
        <SavedState />
      </div>
      <div className={css['tools']}>
        <RoomLight />
        <History />
        <FindingsButton />
        <KeyList />
      </div>
    </header>
  );
}

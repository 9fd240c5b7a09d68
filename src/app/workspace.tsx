// An opened project on the screen: the frame around one canvas that carries through the six stages. The room light is one control for both the
// light in the simulated room and the interface's mood.
import { useEffect, useLayoutEffect } from 'react';
import { I18nProvider } from 'react-aria-components';
import { Canvas } from './canvas/canvas.tsx';
import { Message } from './frame/message.tsx';
import { Stages } from './frame/stages.tsx';
import { ToolBar } from './frame/tool-bar.tsx';
import { TopBar } from './frame/top-bar.tsx';
import { VitalSigns } from './frame/vital-signs.tsx';
import { Room } from './room/room.tsx';
import { useStageParts } from './stages/use-stage-parts.ts';
import { Surveyor } from './survey/surveyor.tsx';
import { type Tools, ToolsContext, useProject, useScreen } from './workbench/context.ts';
import css from './workspace.module.css';

/** From here on the interface is drawn for a lit room. */
const litFrom = 0.5;

function Frame() {
  const stage = useScreen((state) => state.stage);
  const mood = useScreen(({ roomLight }) => (roomLight >= litFrom ? 'lit' : 'dark'));
  const name = useProject((project) => project.name);
  useLayoutEffect(() => {
    document.documentElement.dataset['room'] = mood;
  }, [mood]);
  useEffect(() => {
    document.title = `${name} - Lamploom`;
  }, [name]);
  const { parts, isArrived } = useStageParts(stage);
  const { Main, Tools: StageTools, Beside, Dock, Inspector } = parts;
  const isStanding = useScreen((state) => state.viewer.isStanding);
  return (
    <>
      {isStanding && <Room />}
      <div className={css['workspace']} data-stage={isArrived ? stage : undefined} inert={isStanding}>
        <TopBar />
        <Stages />
        <main className={css['main']}>
          {Main ? (
            <Main />
          ) : (
            <>
              <ToolBar>{StageTools && <StageTools />}</ToolBar>
              <div className={css['canvas']}>
                <Canvas />
                {Beside && <Beside />}
              </div>
            </>
          )}
          {Dock && (
            <section className={css['dock']} aria-label="Dock">
              <Dock />
            </section>
          )}
        </main>
        {Inspector && (
          <aside className={css['inspector']} aria-label="Inspector">
            <Inspector />
          </aside>
        )}
        <VitalSigns />
        <Message />
      </div>
    </>
  );
}

const pointerEvents = ['pointerdown', 'pointermove', 'pointerup', 'pointercancel'] as const;

/** What stands in a field counts before the document is saved or left. */
function commitField(): void {
  const { activeElement } = document;
  if (!(activeElement instanceof HTMLInputElement)) return;
  activeElement.blur();
  activeElement.focus();
}

/** Keys that work anywhere on the page, and the clock that playing runs by. */
function useKeysAndClock({ workbench, commander }: Tools): void {
  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent) => {
      const isWithin = (selector: string) =>
        event.target instanceof Element && event.target.closest(selector) !== null;
      const { key, ctrlKey, metaKey, altKey, shiftKey, repeat } = event;
      if ((ctrlKey || metaKey) && /^[so]$/i.test(key)) commitField();
      const press = { key, ctrlKey, metaKey, altKey, shiftKey, repeat, isWithin };
      if (!event.defaultPrevented && commander.onKey(press)) event.preventDefault();
    };
    // A held key is one step back; letting go ends it.
    const onKeyUp = () => {
      if (!workbench.isPointerHeld) workbench.endGesture();
    };
    const onPointer = ({ type, buttons }: PointerEvent) => {
      workbench.isPointerHeld = type === 'pointerdown' || (type === 'pointermove' && buttons !== 0);
    };
    // Whatever goes away now must find its last edit kept.
    const onHide = () => {
      if (document.visibilityState === 'hidden') void commander.files.keep();
    };
    for (const type of pointerEvents) addEventListener(type, onPointer, { capture: true });
    document.addEventListener('visibilitychange', onHide);
    addEventListener('keydown', onKeyDown);
    addEventListener('keyup', onKeyUp);
    const step = () => {
      workbench.playback.tick();
      request = requestAnimationFrame(step);
    };
    let request = requestAnimationFrame(step);
    return () => {
      for (const type of pointerEvents) removeEventListener(type, onPointer, { capture: true });
      document.removeEventListener('visibilitychange', onHide);
      removeEventListener('keydown', onKeyDown);
      removeEventListener('keyup', onKeyUp);
      cancelAnimationFrame(request);
    };
  }, [workbench, commander]);
}

export function Workspace({ tools }: { readonly tools: Tools }) {
  useKeysAndClock(tools);
  return (
    <I18nProvider locale="en-GB">
      <ToolsContext.Provider value={tools}>
        <Surveyor>
          <Frame />
        </Surveyor>
      </ToolsContext.Provider>
    </I18nProvider>
  );
}

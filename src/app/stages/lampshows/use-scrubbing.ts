// What a slider of time does beside setting the frame: arrows step by frames, and while the pointer holds it, time stands still.
import { type KeyboardEvent, useRef } from 'react';
import { stepFrame } from '../../playback/step-frame.ts';
import { useWorkbench } from '../../workbench/context.ts';

const arrows: Readonly<Record<string, number>> = {
  ArrowLeft: -1,
  ArrowDown: -1,
  ArrowRight: 1,
  ArrowUp: 1,
};

/** Handlers for the range element. */
export function useScrubbing() {
  const { playback } = useWorkbench();
  /** Whether time went on before the pointer held it. */
  const held = useRef(false);
  const letGo = () => {
    if (held.current) playback.setPlaying(true);
    held.current = false;
  };
  return {
    onKeyDown: (event: KeyboardEvent) => {
      const step = arrows[event.key];
      if (step === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      event.stopPropagation();
      stepFrame(playback, step);
    },
    onPointerDown: () => {
      held.current = playback.current().playing;
      playback.setPlaying(false);
    },
    onPointerUp: letGo,
    onPointerCancel: letGo,
  };
}

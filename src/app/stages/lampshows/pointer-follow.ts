// Follows a pointer that was pressed until it is let go, wherever it goes: the window is listened to, because what was pressed may be another element by
// then. Escape calls off, and is heard before anything else hears it.

export interface Following {
  readonly move: (event: PointerEvent) => void;
  /** The pointer was let go; listening is over. */
  readonly letGo: () => void;
  /** Escape was pressed; listening is over. */
  readonly callOff: () => void;
}

/** Returns how to stop listening without a word; it may be called twice. */
export function followPointer({ move, letGo, callOff }: Following): () => void {
  const onUp = () => {
    stop();
    letGo();
  };
  const onKey = (key: KeyboardEvent) => {
    if (key.key !== 'Escape') return;
    key.preventDefault();
    key.stopPropagation();
    stop();
    callOff();
  };
  const stop = () => {
    removeEventListener('pointermove', move);
    removeEventListener('pointerup', onUp);
    removeEventListener('pointercancel', onUp);
    removeEventListener('keydown', onKey, true);
  };
  addEventListener('pointermove', move);
  addEventListener('pointerup', onUp);
  addEventListener('pointercancel', onUp);
  addEventListener('keydown', onKey, true);
  return stop;
}

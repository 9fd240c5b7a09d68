// A figure that a field has refused must not be passed over: a button that acts on the fields beside it does nothing while one of them shows what it
// didn't take, and brings the builder to it.
// Not here: when a field refuses (number-field.tsx).
import { useLayoutEffect, useState } from 'react';

const refused = 'input[aria-invalid="true"]';

/** What a button acts on: the dialog, the form or the group of fields that it stands in. */
const formOf = (element: Element): Element | null => element.closest('[role="dialog"], form, section');

/** Whether a field of the form round an element shows what it refused; the first of them then has the focus. */
export function stopsAtRefused(element: Element | null): boolean {
  const field = element && formOf(element)?.querySelector<HTMLInputElement>(refused);
  field?.focus();
  return Boolean(field);
}

const releases = ['pointerup', 'pointercancel', 'keyup'] as const;

/**
 * Whether the reason of a refusal may be shown. It takes room, and a field is often left by pressing a button below it: that button must not move away
 * under the press.
 */
export function useIsTold(isRefused: boolean): boolean {
  const [isTold, setTold] = useState(false);
  useLayoutEffect(() => {
    setTold(isRefused && !document.querySelector(':active'));
    if (!isRefused) return;
    // The press counts first.
    const tell = () => setTimeout(() => setTold(true));
    for (const release of releases) addEventListener(release, tell, { once: true, capture: true });
    return () => {
      for (const release of releases) removeEventListener(release, tell, { capture: true });
    };
  }, [isRefused]);
  return isRefused && isTold;
}

// What is chosen in the inspector takes the place of the list that it was chosen in: the focus goes on to the new title, not to the page's body.
import { flushSync } from 'react-dom';

/** Makes a choice by which the inspector shows something else, and moves the focus to what it then shows. */
export function intoInspector(choose: () => void): void {
  flushSync(choose);
  document.querySelector<HTMLElement>('aside[aria-label="Inspector"] h2')?.focus();
}

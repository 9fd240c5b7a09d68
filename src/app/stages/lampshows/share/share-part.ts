// The dialog "Share" has four parts; each says what stands in it and what its main button does.
import type { ReactNode } from 'react';

export interface SharePart {
  readonly body: ReactNode;
  readonly act: string;
  /** Nothing to do where undefined. */
  readonly onAct: (() => void) | undefined;
  /** What closing is called while something is being made. */
  readonly close?: string | undefined;
  /** Calls off what is being made, instead of closing the dialog; undefined while nothing is. */
  readonly onStop?: (() => void) | undefined;
}

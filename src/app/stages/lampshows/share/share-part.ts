// The dialog "Share" has four parts; each says what stands in it and what its main button does.
import type { ReactNode } from 'react';

export interface SharePart {
  readonly body: ReactNode;
  readonly act: string;
  /** Nothing to do where undefined. */
  readonly onAct: (() => void) | undefined;
  /** Calls off what is being made; Escape does so then, instead of closing the dialog. Undefined while nothing is. */
  readonly onStop?: (() => void) | undefined;
}

// What a stage brings to the frame. A stage without a canvas of its own uses the one canvas that all share.
import type { ComponentType } from 'react';

export interface StageParts {
  /** In place of the tool bar and the shared canvas. */
  readonly Main?: ComponentType;
  /** At the right end of the tool bar. */
  readonly Tools?: ComponentType;
  /** Beside the canvas, on its right. */
  readonly Beside?: ComponentType;
  /** Under the canvas. */
  readonly Dock?: ComponentType;
  /** On the right edge; none for a stage that fills the page. */
  readonly Inspector?: ComponentType;
}

// What part of the panel the canvas shows: a scale and the panel's place in it. Fitted until the builder zooms or drags, and again on "Fit".
// No document, no React. Lengths on the screen are CSS pixels from the canvas's top left corner.
import type { BoundsMm } from '../../panel/index.ts';

export interface View {
  readonly pxPerMm: number;
  /** Where the panel's top left corner lies. */
  readonly xPx: number;
  readonly yPx: number;
}

/** A value that others can watch. */
export class Watched<T> {
  private readonly listeners = new Set<() => void>();
  private value: T;

  constructor(value: T) {
    this.value = value;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly current = (): T => this.value;

  set(value: T): void {
    this.value = value;
    for (const listener of this.listeners) listener();
  }
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Room around a fitted panel, for what sticks out of it: run numbers, jumpers that bulge. */
const drawingMarginPx = 28;
const leastPxPerMm = 0.05;
/** An LED of 5 mm then fills 200 pixels. */
const mostPxPerMm = 40;

export class Viewport {
  private readonly view = new Watched<View>({ pxPerMm: 1, xPx: 0, yPx: 0 });
  /** Where the pointer is on the panel; undefined where it is elsewhere. */
  readonly pointer = new Watched<{ readonly xMm: number; readonly yMm: number } | undefined>(undefined);
  private canvasPx: Size = { width: 0, height: 0 };
  private panelMm: Size = { width: 1, height: 1 };
  private fitted = true;
  private marginPx = drawingMarginPx;

  readonly subscribe = this.view.subscribe;
  readonly current = this.view.current;

  /** Says how large canvas and panel are; a fitted view stays fitted. */
  setSizes(canvasPx: Size, panelMm: Size, marginPx = drawingMarginPx): void {
    const panelChanged = panelMm.width !== this.panelMm.width || panelMm.height !== this.panelMm.height;
    this.canvasPx = canvasPx;
    this.panelMm = panelMm;
    this.marginPx = marginPx;
    if (this.fitted || panelChanged) this.fit();
  }

  fit(): void {
    this.fitted = true;
    const { canvasPx, panelMm } = this;
    if (canvasPx.width === 0 || canvasPx.height === 0) return;
    const room = (px: number) => Math.max(40, px - 2 * this.marginPx);
    const pxPerMm = Math.min(room(canvasPx.width) / panelMm.width, room(canvasPx.height) / panelMm.height);
    this.view.set({
      pxPerMm,
      xPx: (canvasPx.width - panelMm.width * pxPerMm) / 2,
      yPx: (canvasPx.height - panelMm.height * pxPerMm) / 2,
    });
  }

  /** Zooms by a factor; the place under `at` stays where it is, the canvas's middle where none is given. */
  zoomBy(factor: number, at = { x: this.canvasPx.width / 2, y: this.canvasPx.height / 2 }): void {
    const { pxPerMm, xPx, yPx } = this.current();
    const wanted = Math.min(mostPxPerMm, Math.max(leastPxPerMm, pxPerMm * factor));
    const applied = wanted / pxPerMm;
    this.fitted = false;
    this.view.set({
      pxPerMm: wanted,
      xPx: at.x - (at.x - xPx) * applied,
      yPx: at.y - (at.y - yPx) * applied,
    });
  }

  /** Shows this box of the panel as large as it fits; `mirrored` where the panel is seen from the rear. */
  showBox({ leftMm, topMm, rightMm, bottomMm }: BoundsMm, isMirrored: boolean): void {
    const { canvasPx, panelMm } = this;
    if (canvasPx.width === 0 || canvasPx.height === 0) return;
    const room = (px: number) => Math.max(40, px - 2 * this.marginPx);
    const fitting = Math.min(
      room(canvasPx.width) / Math.max(1, rightMm - leftMm),
      room(canvasPx.height) / Math.max(1, bottomMm - topMm),
    );
    const pxPerMm = Math.min(mostPxPerMm, fitting);
    const middleMm = (leftMm + rightMm) / 2;
    this.fitted = false;
    this.view.set({
      pxPerMm,
      xPx: canvasPx.width / 2 - (isMirrored ? panelMm.width - middleMm : middleMm) * pxPerMm,
      yPx: canvasPx.height / 2 - ((topMm + bottomMm) / 2) * pxPerMm,
    });
  }

  panBy(xPx: number, yPx: number): void {
    this.fitted = false;
    const view = this.current();
    this.view.set({ ...view, xPx: view.xPx + xPx, yPx: view.yPx + yPx });
  }
}

// How much of a show's time is in view on the timeline, and from where: scale and scroll, in screen pixels. Fitted, all of it is in view. No part
// of the document. Not here: elements and their scroll bars (stages/lampshows).

export interface TimelineScale {
  /** Undefined while the whole show is fitted. */
  readonly pxPerMs: number | undefined;
  readonly scrollPx: number;
  /** Of the tracks, as far as they are in view. */
  readonly widthPx: number;
  /** What the tracks span. */
  readonly extentMs: number;
}

/** A millisecond is the finest that the player knows. */
const mostPxPerMs = 4;

const between = (least: number, value: number, most: number): number =>
  Math.min(most, Math.max(least, value));

export class TimelineView {
  private readonly listeners = new Set<() => void>();
  private scale: TimelineScale = { pxPerMs: undefined, scrollPx: 0, widthPx: 0, extentMs: 1 };

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly current = (): TimelineScale => this.scale;

  get pxPerMs(): number {
    return this.scale.pxPerMs ?? this.fittedPxPerMs;
  }

  /** How long the tracks are altogether. */
  get trackPx(): number {
    return this.pxPerMs * this.scale.extentMs;
  }

  setWidth(widthPx: number): void {
    this.change({ widthPx });
  }

  setExtent(extentMs: number): void {
    this.change({ extentMs });
  }

  scrollTo(scrollPx: number): void {
    this.change({ scrollPx });
  }

  /** Keeps the moment at a place in view where it is; the middle where none is given. */
  zoomBy(factor: number, atPx = this.scale.widthPx / 2): void {
    const before = this.pxPerMs;
    const next = between(this.fittedPxPerMs, before * factor, mostPxPerMs);
    if (next <= this.fittedPxPerMs) this.fit();
    else this.change({ pxPerMs: next, scrollPx: ((this.scale.scrollPx + atPx) / before) * next - atPx });
  }

  /** Keeps a moment where it is on the screen, if it is in view; else the middle of what is. */
  zoomAbout(factor: number, ms: number): void {
    const { scrollPx, widthPx } = this.scale;
    const atPx = ms * this.pxPerMs - scrollPx;
    this.zoomBy(factor, atPx >= 0 && atPx <= widthPx ? atPx : widthPx / 2);
  }

  fit(): void {
    this.change({ pxPerMs: undefined, scrollPx: 0 });
  }

  /** Scrolls only as far as it takes to bring a moment into view, and then a tenth beyond, so that what follows is seen too. */
  show(ms: number): void {
    const { scrollPx, widthPx } = this.scale;
    const atPx = ms * this.pxPerMs;
    if (atPx < scrollPx || atPx > scrollPx + widthPx) this.scrollTo(atPx - widthPx / 10);
  }

  private get fittedPxPerMs(): number {
    return this.scale.widthPx / this.scale.extentMs;
  }

  private change(part: Partial<TimelineScale>): void {
    const next = { ...this.scale, ...part };
    // Fitted again by a wider window or a shorter show.
    const fitted = next.widthPx / next.extentMs;
    const pxPerMs = next.pxPerMs !== undefined && next.pxPerMs > fitted ? next.pxPerMs : undefined;
    const mostPx = pxPerMs === undefined ? 0 : Math.max(0, pxPerMs * next.extentMs - next.widthPx);
    const scrollPx = between(0, next.scrollPx, mostPx);
    const { scale } = this;
    if (
      pxPerMs === scale.pxPerMs &&
      scrollPx === scale.scrollPx &&
      next.widthPx === scale.widthPx &&
      next.extentMs === scale.extentMs
    )
      return;
    this.scale = { ...next, pxPerMs, scrollPx };
    for (const listener of this.listeners) listener();
  }
}

/** The one timeline of the page. */
export const timelineView = new TimelineView();

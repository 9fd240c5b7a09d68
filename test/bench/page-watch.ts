// What is put into the page before its own scripts: it notes when the glass is drawn, and when the opened page is of use. It changes nothing.
// Both functions are sent to the browser as text, so they use nothing from outside themselves.

export interface Watch {
  /** ms from the start of the navigation, of the first frame with light in it. */
  litMs?: number;
  /** ms from the start of the navigation; see `watchOpening`. */
  usableMs?: number;
  /** Of the last key that was pressed, ms. */
  key?: { readonly pressedMs: number; drawnMs?: number; shownMs?: number };
  /** Frames that the glass has advanced to. */
  frames: number;
  /** Changes of the document that moved the watched run. */
  moves: number;
}

declare global {
  var watch: Watch;
}

/**
 * A key's way to the screen. `drawnMs`: the first drawing on the glass's canvas after the key, or the first change of the bytes that it says it
 * shows, whichever is later done in that turn. `shownMs`: the picture with it has been laid out and painted by the page (a message that
 * was posted in the next animation frame arrives after that frame's own work).
 */
export function watchPage(): void {
  const watch: Watch = { frames: 0, moves: 0 };
  globalThis.watch = watch;
  const isGlass = (canvas: unknown): canvas is HTMLCanvasElement =>
    canvas instanceof HTMLCanvasElement && canvas.dataset['renderer'] !== undefined;

  const small = new OffscreenCanvas(32, 16).getContext('2d', { willReadFrequently: true })!;
  const hasLight = (canvas: HTMLCanvasElement): boolean => {
    small.drawImage(canvas, 0, 0, 32, 16);
    return small.getImageData(0, 0, 32, 16).data.some((value, i) => i % 4 < 3 && value > 48);
  };
  let isChecking = false;
  const drawn = (canvas: unknown): void => {
    if (!isGlass(canvas)) return;
    const { key } = watch;
    if (key && key.drawnMs === undefined) {
      key.drawnMs = performance.now();
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => {
          key.shownMs = performance.now();
        };
        port2.postMessage(0);
      });
    }
    if (watch.litMs !== undefined || isChecking) return;
    isChecking = true;
    // After the drawing, but before a graphics card's canvas is handed over and cleared.
    queueMicrotask(() => {
      isChecking = false;
      if (hasLight(canvas)) watch.litMs = performance.now();
    });
  };
  const noting = (prototype: object, name: string): void => {
    const own = Reflect.get(prototype, name) as (this: { canvas: unknown }, ...args: unknown[]) => unknown;
    Reflect.set(prototype, name, function (this: { canvas: unknown }, ...args: unknown[]) {
      const result = own.apply(this, args);
      drawn(this.canvas);
      return result;
    });
  };
  noting(CanvasRenderingContext2D.prototype, 'putImageData');
  noting(WebGL2RenderingContext.prototype, 'drawArrays');
  noting(WebGL2RenderingContext.prototype, 'drawArraysInstanced');
  addEventListener(
    'keydown',
    () => {
      watch.key = { pressedMs: performance.now() };
    },
    { capture: true },
  );
  new MutationObserver((changes) => {
    const names = new Set(changes.map(({ attributeName }) => attributeName));
    if (names.has('data-frame')) watch.frames++;
    if (
      changes.some(
        ({ attributeName, target }) =>
          attributeName === 'transform' && (target as Element).getAttribute('data-chosen') === 'true',
      )
    )
      watch.moves++;
  }).observe(document, {
    attributes: true,
    subtree: true,
    attributeFilter: ['data-frame', 'transform'],
  });
}

/**
 * Time to interactive: from the start of the navigation until a frame with light in it is on the glass's canvas and a press of a stage's
 * button, made at once after that, has changed the stage on the screen.
 */
export function watchOpening(): void {
  let pressed: Element | null = null;
  const look = (): void => {
    if (pressed?.getAttribute('aria-current') === 'step') {
      globalThis.watch.usableMs = performance.now();
      return;
    }
    if (!pressed && globalThis.watch.litMs !== undefined) {
      pressed = document.querySelector('[data-bar="stages"] button:not([aria-current])');
      (pressed as HTMLElement | null)?.click();
    }
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}

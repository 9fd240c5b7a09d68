// Types of what is used of gifenc, which brings none.
declare module 'gifenc' {
  type Pixels = Uint8Array | Uint8ClampedArray;
  type Palette = readonly (readonly number[])[];

  /** Colours that stand best for all of the RGBA pixels. */
  export function quantize(rgba: Pixels, mostColours: number): Palette;
  /** The number of its colour for each pixel. */
  export function applyPalette(rgba: Pixels, palette: Palette): Uint8Array;
  export function GIFEncoder(): {
    readonly writeFrame: (
      indexed: Uint8Array,
      widthPx: number,
      heightPx: number,
      options: { readonly palette: Palette; readonly delay: number },
    ) => void;
    readonly finish: () => void;
    readonly bytes: () => Uint8Array;
    readonly reset: () => void;
  };
}

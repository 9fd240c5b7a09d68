// The size of an element in CSS pixels, kept up to date.
import { useLayoutEffect, useState } from 'react';

export interface SizePx {
  readonly width: number;
  readonly height: number;
}

/** 0 by 0 until it is measured. */
export function useSize(ref: { readonly current: HTMLElement | null }): SizePx {
  const [size, setSize] = useState<SizePx>({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const observer = new ResizeObserver(([entry]) => {
      const { width, height } = entry!.contentRect;
      setSize({ width, height });
    });
    observer.observe(ref.current!);
    return () => observer.disconnect();
  }, [ref]);
  return size;
}

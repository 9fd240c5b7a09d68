// Runs in the browser that is measured: the page's glass component by itself, and what a frame of a moving show costs it.

import { flushSync } from 'react-dom';
import { createRoot } from 'react-dom/client';
import { Glass, type GlassProps } from '../../../src/app/glass/glass.tsx';
import { frameByteCount, lightScene } from '../../../src/light/index.ts';
import { layOut } from '../../../src/panel/index.ts';
import { type Project, readProject } from '../../../src/project/index.ts';

const box = document.createElement('div');
document.body.style.margin = '0';
document.body.append(box);
const root = createRoot(box);
let props: GlassProps;

function show(change: Partial<GlassProps>): void {
  props = { ...props, ...change };
  flushSync(() => root.render(<Glass {...props} />));
}

/** Shows the project's panel on so many pixels; returns how many LEDs it has. */
async function open(
  projectText: string,
  inBox: Partial<Project['panel']>,
  renderer: 'gpu' | 'cpu',
  widthPx: number,
  heightPx: number,
): Promise<number> {
  const read = readProject(projectText);
  if (!read.ok) throw new Error('the sample is no project');
  const project = { ...read.value, panel: { ...read.value.panel, ...inBox } };
  const scene = lightScene(project, layOut(project));
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [1200, Math.round((1200 * heightPx) / widthPx)];
  const context = canvas.getContext('2d')!;
  context.fillStyle = 'rgb(200 120 60 / 0.6)';
  context.fillRect(100, 100, 800, 300);
  const artwork = new Image();
  artwork.src = canvas.toDataURL();
  await artwork.decode();
  box.style.width = `${widthPx}px`;
  box.style.height = `${heightPx}px`;
  props = {
    scene,
    artwork,
    wireBytes: new Uint8Array(frameByteCount(scene.sources)),
    frameKey: 'dark',
    roomLight: 0.3,
    exposureStops: 0,
    eye: 'moves',
    label: 'The panel',
    renderer,
  };
  show({});
  // The size is measured after the first picture.
  await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
  return scene.sources.length;
}

export interface FrameCost {
  /** This thread's work for one frame: React, sums, and handing over to the card. */
  readonly scriptMs: number[];
  /** From handing over until the pixels can be read, on a card; 0 on the processor, where it is contained in the script. */
  readonly drawingMs: number[];
}

/** Every LED another colour in every frame, all of them lit. */
function measure(frames: number): FrameCost {
  const cost: FrameCost = { scriptMs: [], drawingMs: [] };
  const gl = box.querySelector('canvas')!.getContext('webgl2');
  const pixel = new Uint8Array(4);
  for (let frame = 0; frame < frames; frame++) {
    const { wireBytes } = props;
    for (let at = 0; at < wireBytes.length; at++) wireBytes[at] = 1 + ((at * 31 + frame * 7) % 200);
    const began = performance.now();
    show({ frameKey: `frame ${frame}` });
    const handed = performance.now();
    gl?.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    cost.scriptMs.push(handed - began);
    cost.drawingMs.push(performance.now() - handed);
  }
  return cost;
}

const previewPage = { open, measure };
export type PreviewPage = typeof previewPage;
Object.assign(globalThis, { previewPage });

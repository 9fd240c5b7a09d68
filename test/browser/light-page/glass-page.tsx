// Runs in the browser under test: the page's glass component by itself, in a box of the panel's proportions, with props from outside.

import { flushSync } from 'react-dom';
import { createRoot } from 'react-dom/client';
import { Glass, type GlassProps } from '../../../src/app/glass/glass.tsx';
import { lightScene } from '../../../src/light/index.ts';
import { layOut } from '../../../src/panel/index.ts';
import { readProject } from '../../../src/project/index.ts';

const box = document.createElement('div');
document.body.append(box);
const root = createRoot(box);
let props: GlassProps;

function show(change: Partial<GlassProps>): void {
  props = { ...props, ...change };
  flushSync(() => root.render(<Glass {...props} />));
}

async function open(projectText: string, renderer: 'auto' | 'gpu' | 'cpu', widthPx: number): Promise<void> {
  const read = readProject(projectText);
  if (!read.ok) throw new Error('the sample is no project');
  const project = read.value;
  const scene = lightScene(project, layOut(project));
  const artwork = new Image();
  artwork.src = `data:${project.panel.artwork!.mediaType};base64,${project.panel.artwork!.base64}`;
  await artwork.decode();
  box.style.width = `${widthPx}px`;
  box.style.height = `${(widthPx * scene.heightMm) / scene.widthMm}px`;
  props = {
    scene,
    artwork,
    wireBytes: new Uint8Array(scene.sources.length * 3),
    frameKey: 'dark',
    roomLight: 0,
    exposureStops: 0,
    label: 'First light as it looks lit',
    renderer,
  };
  show({});
}

/** All LEDs at one level, in the same bytes as before: only the frame's key says that they changed. */
function level(byte: number): void {
  props.wireBytes.fill(byte);
  show({ frameKey: `level ${byte}` });
}

const moveLeds = (byMm: number): void =>
  show({
    scene: {
      ...props.scene,
      sources: props.scene.sources.map((source) => ({ ...source, xMm: source.xMm + byMm })),
    },
  });

const glassPage = { open, show, level, moveLeds };
export type GlassPage = typeof glassPage;
Object.assign(globalThis, { glassPage });

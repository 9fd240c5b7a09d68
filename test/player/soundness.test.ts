// [S-1, S-2, S-3] Sound show data with one thing made wrong at a time, its check made good again: each is refused, natively under sanitizers. Whole data are played.
// Not here: changes at random (malformed.test.ts).
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { compileShowData, crc16 } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { NativePlayer } from './native.ts';
import { placeOf, SpecReader, sizeOf } from './spec-tables.ts';
import { gridOf, projectOfScene } from './stage.ts';

let native: NativePlayer;
beforeAll(async () => {
  native = await NativePlayer.start('sanitized');
});
afterAll(async () => {
  await native.stop();
});

const band = { kind: 'band', passSeconds: 1, width: 0.3, bands: 1, travel: 'forward', softness: 0 } as const;
/** Clips in this order; two lines of one port, so that they are a pair; an event, and a text for a hello. */
const clips = ['bands', 'lightning', 'painted', 'letters'] as const;
const scene = projectOfScene({
  runs: gridOf(6, 12),
  clips: [
    { effect: band, envelope: [{ atMs: 100, percent: 50 }] },
    {
      effect: {
        kind: 'lightning',
        strikesPerMinute: 9,
        glowSeconds: 1,
        gradientPlace: 0,
        gradientSpan: 1,
        seed: 1,
      },
    },
    {
      effect: {
        kind: 'painted',
        columns: 2,
        rows: 1,
        palette: ['#000000', '#ff0000'],
        frames: [{ holdMs: 100, fadeMs: 0, cells: '01' }],
      },
    },
    { effect: { kind: 'letters', text: 'FAIR' } },
  ],
});
const chain = scene.dataLines[0]!.chain;
const project: Project = {
  ...scene,
  dataLines: [
    { pin: 6, chain: chain.slice(0, 4) },
    { pin: 7, chain: chain.slice(4) },
  ],
  gameEvents: [{ id: 'start', lampshow: 'attract' }],
  inputs: { serial: true },
};
const whole = compileShowData(project, layOut(project), { frameMs: 20 })!.bytes;
const data = new SpecReader(whole);
const table = (name: string): number => data.field(0, name);
const show = data.u16(table('headerShows'));
const clip = (kind: (typeof clips)[number]): number =>
  show + placeOf('showClips') + clips.indexOf(kind) * sizeOf('clipSize');
const parameters = (kind: (typeof clips)[number]): number => clip(kind) + placeOf('clipParameters');
const line = (index: number): number => table('headerLines') + index * sizeOf('lineSize');
const segment = data.field(line(0), 'lineSegments');
const area = data.u16(table('headerAreas'));
const gradient = data.u16(table('headerGradients') + 2 * data.field(clip('bands'), 'clipGradient'));
const palette = data.u16(table('headerGradients') + 2 * data.field(clip('painted'), 'clipGradient'));
const frames = data.u16(parameters('painted'));
const beyond = 0xff;

/** Bytes played for two frames; 0 where the data were refused. */
async function played(bytes: Uint8Array): Promise<number> {
  return (
    await native.frames({ bytes }, [
      [0, 0],
      [0, 70],
    ])
  ).bytes.length;
}
function mended(bytes: Uint8Array): Uint8Array {
  new DataView(bytes.buffer).setUint16(placeOf('headerCheck'), crc16(bytes.subarray(8)), true);
  return bytes;
}
const changed = (at: number, ...to: number[]): Uint8Array => {
  const copy = whole.slice();
  copy.set(to, at);
  return mended(copy);
};

test('sound data are played, also with a byte changed that means nothing for soundness', async () => {
  const each = layOut(project).wireLeds.length * 3;
  expect(await played(whole)).toBe(2 * each);
  expect(await played(changed(clip('bands') + placeOf('clipLevel'), 7))).toBe(2 * each);
});

test('[S-1] the check is the CRC of the catalogue’s check value, over all bytes behind it', () => {
  // CRC-16/IBM-3740, "check" of the CRC catalogue.
  expect(crc16(new TextEncoder().encode('123456789'))).toBe(0x29b1);
  expect(data.field(0, 'headerCheck')).toBe(crc16(whole.subarray(8)));
});

describe('[S-2] refused', () => {
  test.each<[string, number, number[]]>([
    ['another magic', placeOf('headerMagic'), [0]],
    ['another format', placeOf('headerFormat'), [1]],
    ['a size that is not theirs', placeOf('headerSize16'), [41, 0]],
    ['no frame time', placeOf('headerFrameMs'), [0]],
    ['no colour order', placeOf('headerOrderCount'), [0]],
    ['more LEDs than their lines have', placeOf('headerLedCount'), [73, 0]],
    ['more LEDs than there is room for', placeOf('headerLedCount'), [beyond, beyond]],
    ['a start show that is not there', placeOf('headerStartShow'), [1]],
    ['shows beyond the end', placeOf('headerShows'), [beyond, beyond]],
    ['areas beyond the end', placeOf('headerAreas'), [beyond, beyond]],
    ['gradients beyond the end', placeOf('headerGradients'), [beyond, beyond]],
    ['events beyond the end', placeOf('headerEvents'), [beyond, beyond]],
    ['a text beyond the end', placeOf('headerText'), [beyond, beyond]],
    ['lines beyond the end', placeOf('headerLines'), [beyond, beyond]],
    ['an event of no show', table('headerEvents') + placeOf('eventShow'), [1]],
    ['a line that begins elsewhere', line(1) + placeOf('lineFirstLed'), [47, 0]],
    ['a line without segments', line(0) + placeOf('lineSegmentCount'), [0]],
    ['segments beyond the end', line(0) + placeOf('lineSegments'), [beyond, beyond]],
    ['a partner that is no line', line(0) + placeOf('linePartner'), [2]],
    ['a partner of its own', line(0) + placeOf('linePartner'), [0]],
    ['segments that do not add up', segment + placeOf('segmentLedCount'), [47, 0]],
    ['white as the fifth byte', segment + placeOf('segmentWhite'), [5]],
    ['a gamma table beyond the end', segment + placeOf('segmentGammaPages') + 2, [beyond]],
    ['a show of no time', show + placeOf('showLengthMs'), [0, 0, 0, 0]],
    ['clips beyond the end', show + placeOf('showClipCount'), [beyond, beyond]],
    ['an area that is not there', clip('bands') + placeOf('clipArea'), [1]],
    ['a gradient that is not there', clip('bands') + placeOf('clipGradient'), [beyond]],
    ['an effect that is not there', clip('bands') + placeOf('clipEffect'), [10]],
    ['a blend that is not there', clip('bands') + placeOf('clipBlend'), [4]],
    ['an envelope beyond the end', clip('bands') + placeOf('clipEnvelope'), [beyond, beyond]],
    ['an envelope without points', data.field(clip('bands'), 'clipEnvelope'), [0]],
    ['a map beyond the end', clip('bands') + placeOf('clipMap'), [beyond, beyond]],
    [
      'a palette where a gradient belongs',
      clip('bands') + placeOf('clipGradient'),
      [whole[clip('painted') + placeOf('clipGradient')]!],
    ],
    [
      'a gradient where a palette belongs',
      clip('painted') + placeOf('clipGradient'),
      [whole[clip('bands') + placeOf('clipGradient')]!],
    ],
    ['an area of no LEDs', area, [0, 0]],
    ['spans beyond the end', area, [beyond, beyond]],
    ['an LED that is not there', area + placeOf('areaSpans') + placeOf('spanFirstLed'), [1, 0]],
    ['a span of no LEDs', area + placeOf('areaSpans') + placeOf('spanLedCount'), [0]],
    ['an order that is not there', area + placeOf('areaSpans') + placeOf('spanOrder'), [1]],
    ['a gradient of no pieces', gradient, [0]],
    ['a piece of no colours', gradient + 1 + placeOf('pieceEntries'), [0]],
    ['a palette of no colours', palette + placeOf('paletteCount'), [0]],
    ['a palette of seventeen colours', palette + placeOf('paletteCount'), [17]],
    ['bands of eight steps an entry', parameters('bands') + 12, [0x30]],
    ['bands of no width', parameters('bands') + 4, [0, 0]],
    ['bands of more than 64 entries', parameters('bands') + 4, [beyond, beyond]],
    ['lightning with no time', parameters('lightning'), [0, 0]],
    ['painted frames beyond the end', parameters('painted'), [beyond, beyond]],
    ['no painted frames', frames + placeOf('framesCount'), [0, 0]],
    ['painted frames of no time', frames + placeOf('framesLengthMs'), [0, 0, 0, 0]],
    ['three bits an LED', frames + placeOf('framesBits'), [3]],
    ['cells beyond the end', frames + placeOf('framesList') + placeOf('frameCells'), [beyond, beyond]],
    ['letters beyond the end', parameters('letters') + 9, [beyond, beyond]],
    ['a first column too far to the right', parameters('letters') + 6, [beyond, 0]],
    ['more columns than there are', data.u16(parameters('letters') + 9), [beyond, beyond]],
  ])('%s', async (_name, at, to) => {
    expect(whole.subarray(at, at + to.length)).not.toEqual(Uint8Array.from(to));
    expect(await played(changed(at, ...to))).toBe(0);
  });
});

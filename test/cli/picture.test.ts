// The picture command: the light it writes against the formula, the picture's pixels, artwork of every kind, and its refusals.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Project, writeProject } from '../../src/project/index.ts';
import { lamploom, type Outcome, temporaryFile, temporaryFolder } from '../support/command-line.ts';
import { sample } from '../support/lamploom.ts';
import { projectOf } from '../support/projects.ts';

const firstLight = 'samples/first-light.lamploom.json';
const run = { arrowDeg: 0, strip: 'ws2812b-60' } as const;
/** Two LEDs on a small panel without artwork; pitch 1000 / 60 mm. */
const small = projectOf({
  runs: [{ ...run, id: 'pair', firstLed: { xMm: 20.3, yMm: 12.6 }, ledCount: 2 }],
  panel: { widthMm: 60, heightMm: 30, airGapMm: 12, sheet: 'opal-pmma' },
  power: {
    supply: { volts: 5, amps: 10 },
    feeds: [{ run: 'pair', led: 0, lengthMm: 300, wire: 'AWG 20', fuseAmps: 1 }],
  },
});
const changed = (change: (project: Project) => void, base: Project = small): string => {
  const copy = structuredClone(base);
  change(copy);
  return temporaryFile(writeProject(copy));
};
const withArtwork = (mediaType: 'image/svg+xml' | 'image/png' | 'image/jpeg', bytes: Uint8Array): string =>
  changed((project) => {
    project.panel.artwork = { mediaType, base64: Buffer.from(bytes).toString('base64') };
  });

interface Light {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly mmPerPx: number;
  readonly rgb: readonly number[];
}
const readLight = (path: string): Light => JSON.parse(readFileSync(path, 'utf8')) as Light;

function expectUnusable({ status, stdout, stderr }: Outcome, line: RegExp): void {
  expect([status, stdout]).toEqual([2, '']);
  expect(stderr.trimEnd().split('\n')).toHaveLength(1);
  expect(stderr).toMatch(line);
  expect(stderr).not.toMatch(/\bat .+:\d+:\d+|node:internal/);
}

/** The light of LEDs at a place by the formula, written out anew: sum of flux z^2 / (pi (r^2 + z^2)^2). */
const lightAt = (leds: readonly { x: number; y: number; flux: number }[], x: number, y: number, z: number) =>
  leds.reduce(
    (sum, led) => sum + (led.flux * z ** 2) / (Math.PI * ((led.x - x) ** 2 + (led.y - y) ** 2 + z ** 2) ** 2),
    0,
  );

beforeAll(() => {
  // The first call builds the command line; it must not spend a test's time.
  expect(lamploom('schema').status).toBe(0);
});

describe('[PIC1] the light on the face', () => {
  test('of white LEDs is the formula at fifty places, in pixels of the asked size', () => {
    const light = join(temporaryFolder(), 'light.json');
    const outcome = lamploom(
      'picture',
      temporaryFile(writeProject(small)),
      '--white',
      '--mm-per-px',
      '0.7',
      '--light',
      light,
    );
    expect(outcome).toMatchObject({ status: 0, stderr: '' });
    const { widthPx, heightPx, mmPerPx, rgb } = readLight(light);
    // round(60 / 0.7) and round(30 / 0.7)
    expect([widthPx, heightPx, mmPerPx, rgb.length]).toEqual([86, 43, 0.7, 86 * 43 * 3]);
    const leds = [0, 1].map((led) => ({ x: 20.3 + (led * 1000) / 60, y: 12.6, flux: 1 }));
    for (let place = 0; place < 50; place++) {
      const pixel = place * 73;
      const expected = lightAt(leds, ((pixel % 86) + 0.5) * 0.7, (Math.floor(pixel / 86) + 0.5) * 0.7, 12);
      for (let channel = 0; channel < 3; channel++)
        expect(Math.abs(rgb[pixel * 3 + channel]! / expected - 1)).toBeLessThan(0.01);
    }
  });

  test('of a frame is the formula with the bytes that `frames` writes', () => {
    const folder = temporaryFolder();
    const light = join(folder, 'light.json');
    const frame = join(folder, 'frame.bin');
    lamploom('frames', firstLight, '--show', 'attract', '--from', '90', '--count', '1', '--out', frame);
    expect(
      lamploom(
        'picture',
        firstLight,
        '--show',
        'attract',
        '--frame',
        '90',
        '--mm-per-px',
        '10',
        '--light',
        light,
      ).status,
    ).toBe(0);
    const bytes = readFileSync(frame);
    const project = sample('first-light');
    // The sample's runs, all of one strip that takes green, red, blue (WS2812B data sheet), in the order of the chain.
    const chain = project.dataLines.flatMap((line) =>
      line.chain.map((link) => project.runs.find((one) => one.id === link.run)!),
    );
    expect(new Set(chain.map((one) => one.strip)).size).toBe(1);
    const pitch = chain[0]!.strip === 'ws2812b-30' ? 1000 / 30 : 1000 / 60;
    const places = chain.flatMap(({ firstLed, arrowDeg, ledCount }) =>
      Array.from({ length: ledCount }, (_, led) => ({
        x: firstLed.xMm + led * pitch * Math.cos((arrowDeg * Math.PI) / 180),
        y: firstLed.yMm - led * pitch * Math.sin((arrowDeg * Math.PI) / 180),
      })),
    );
    const { rgb, widthPx } = readLight(light);
    expect(bytes.some((byte) => byte > 0)).toBe(true);
    for (const [channel, byte] of [1, 0, 2].entries()) {
      const leds = places.map((place, led) => ({ ...place, flux: bytes[led * 3 + byte]! / 255 }));
      for (const [column, row] of [
        [3, 4],
        [15, 10],
        [29, 19],
      ] as const) {
        const expected = lightAt(leds, column * 10 + 5, row * 10 + 5, project.panel.airGapMm);
        expect(Math.abs(rgb[(row * widthPx + column) * 3 + channel]! - expected)).toBeLessThanOrEqual(
          1e-5 * expected,
        );
      }
    }
  });

  test('is written whatever the artwork is, and without --out needs none that can be read', () => {
    const light = join(temporaryFolder(), 'light.json');
    expect(
      lamploom('picture', withArtwork('image/png', Uint8Array.of(1, 2, 3)), '--white', '--light', light)
        .status,
    ).toBe(0);
    expect(readLight(light).widthPx).toBe(60);
  });
});

describe('[PIC2] the picture', () => {
  const picture = (file: string, ...more: string[]) => {
    const out = join(temporaryFolder(), 'lit.png');
    const outcome = lamploom('picture', file, '--white', '--out', out, ...more);
    expect(outcome).toMatchObject({ status: 0, stderr: '' });
    return PNG.sync.read(readFileSync(out));
  };
  const pixel = ({ data, width }: PNG, x: number, y: number) => [
    ...data.subarray((y * width + x) * 4, (y * width + x) * 4 + 4),
  ];

  test('of each sample has the panel’s millimetres as pixels, something lit, and a black frame', () => {
    for (const name of ['midnight-carnival', 'first-light', 'deep-sea'] as const) {
      const { panel } = sample(name);
      const png = picture(`samples/${name}.lamploom.json`);
      expect([png.width, png.height]).toEqual([panel.widthMm, panel.heightMm]);
      expect(pixel(png, 2, 2)).toEqual([0, 0, 0, 255]);
      expect(png.data.filter((code, i) => i % 4 < 3 && code > 128).length).toBeGreaterThan(
        png.width * png.height * 0.3,
      );
    }
  });

  const halves = (left: number[], right: number[]) => {
    const image = new PNG({ width: 4, height: 2 });
    image.data = Buffer.from(Array.from({ length: 8 }, (_, i) => (i % 4 < 2 ? left : right)).flat());
    return image;
  };

  test('has opaque black print black and clear print lit, from PNG, JPEG and SVG alike', () => {
    const image = halves([0, 0, 0, 255], [255, 255, 255, 255]);
    const wide = {
      width: 64,
      height: 32,
      data: Buffer.from(
        Array.from({ length: 64 * 32 }, (_, i) =>
          i % 64 < 32 ? [0, 0, 0, 255] : [255, 255, 255, 255],
        ).flat(),
      ),
    };
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 30"><rect width="30" height="30"/></svg>';
    const kinds = [
      withArtwork('image/png', PNG.sync.write(image)),
      withArtwork('image/jpeg', jpeg.encode(wide, 95).data),
      withArtwork('image/svg+xml', new TextEncoder().encode(svg)),
    ];
    const bare = picture(temporaryFile(writeProject(small)));
    for (const file of kinds) {
      const png = picture(file);
      expect(pixel(png, 15, 13)).toEqual([0, 0, 0, 255]);
      expect(pixel(png, 45, 13)).toEqual(pixel(bare, 45, 13));
      expect(pixel(png, 45, 13)[0]).toBeGreaterThan(60);
    }
  });

  test('sees print that is half clear as light x (colour x alpha + 1 - alpha)', () => {
    const half = picture(withArtwork('image/png', PNG.sync.write(halves([0, 0, 0, 0], [255, 0, 0, 128]))));
    const bare = picture(temporaryFile(writeProject(small)));
    expect(pixel(half, 10, 13)).toEqual(pixel(bare, 10, 13));
    const [red, green] = pixel(half, 58, 28);
    const [whole] = pixel(bare, 58, 28);
    // Below the shoulder, where codes are light and nothing else: 0.65 encodes to 0.8270 (211).
    expect(whole).toBeLessThan(211);
    expect(red).toBe(whole);
    // Linear light of a code: IEC 61966-2-1. Alpha 128 / 255 lets 127 / 255 of green pass; codes are rounded, so within 3 %.
    const linear = (code: number) => ((code / 255 + 0.055) / 1.055) ** 2.4;
    expect(Math.abs(linear(green!) / linear(whole!) / (127 / 255) - 1)).toBeLessThan(0.03);
  });

  test('is drawn from an SVG whose clipped rays reach far over the edge, and that has no size of its own', () => {
    const rays =
      '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 30"><clipPath id="c"><rect width="60" height="30"/></clipPath><g clip-path="url(#c)"><path d="M40 8L-60 14L-60 -80Z M40 8L100 -80L100 14Z"/><path d="M2 26h20" stroke="#fff" opacity=".8"/></g></svg>';
    const png = picture(withArtwork('image/svg+xml', new TextEncoder().encode(rays)));
    expect(pixel(png, 20, 5)).toEqual([0, 0, 0, 255]);
  });

  test('is black where the opacity layer is, and without artwork too; white leaves every pixel as it is', () => {
    const withOpacity = (layer: PNG): string =>
      changed((project) => {
        const base64 = PNG.sync.write(layer).toString('base64');
        project.panel.opacity = { mediaType: 'image/png', base64 };
      });
    const bare = picture(temporaryFile(writeProject(small)));
    const layered = picture(withOpacity(halves([0, 0, 0, 255], [255, 255, 255, 255])));
    expect(pixel(layered, 15, 13)).toEqual([0, 0, 0, 255]);
    expect(pixel(bare, 15, 13)[0]).toBeGreaterThan(60);
    expect(pixel(layered, 45, 13)).toEqual(pixel(bare, 45, 13));
    const white = picture(withOpacity(halves([255, 255, 255, 255], [255, 255, 255, 255])));
    expect(white.data.equals(bare.data)).toBe(true);
  });

  test('says that the opacity layer has text, and where it is no picture', () => {
    const withOpacity = (svg: string): string =>
      changed((project) => {
        project.panel.opacity = { mediaType: 'image/svg+xml', base64: Buffer.from(svg).toString('base64') };
      });
    const out = join(temporaryFolder(), 'lit.png');
    const text = withOpacity(
      '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 6 3"><text>A</text></svg>',
    );
    expect(lamploom('picture', text, '--white', '--out', out).stderr).toMatch(/opacity layer has text/);
    expectUnusable(
      lamploom('picture', withOpacity('<svg'), '--white', '--out', out),
      /^\/panel\/opacity: expected an image of type .*found data that is none/,
    );
  });

  test('says that an SVG has text, which it leaves out', () => {
    const svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 30"><text y="20">Hello</text></svg>';
    const out = join(temporaryFolder(), 'lit.png');
    const { status, stderr } = lamploom(
      'picture',
      withArtwork('image/svg+xml', new TextEncoder().encode(svg)),
      '--white',
      '--out',
      out,
    );
    expect(status).toBe(0);
    expect(stderr).toMatch(/text/);
  });

  test('and the light are the same bytes for the same input', () => {
    const bytes = () => {
      const folder = temporaryFolder();
      const [out, light] = [join(folder, 'lit.png'), join(folder, 'light.json')];
      lamploom('picture', firstLight, '--show', 'jackpot', '--frame', '12', '--out', out, '--light', light);
      return [readFileSync(out), readFileSync(light)] as const;
    };
    const [first, second] = [bytes(), bytes()];
    expect(first[0].equals(second[0])).toBe(true);
    expect(first[1].equals(second[1])).toBe(true);
  });

  test('of a project with errors is drawn all the same, with status 1', () => {
    const out = join(temporaryFolder(), 'lit.png');
    const file = changed((project) => {
      delete project.dataLines[0]!.pin;
    });
    expect(lamploom('picture', file, '--show', 'attract', '--frame', '0', '--out', out).status).toBe(1);
    expect(PNG.sync.read(readFileSync(out)).width).toBe(60);
  });

  test('needs no file: without --out and --light the summary is printed', () => {
    const { status, stdout } = lamploom('picture', firstLight, '--white');
    expect(status).toBe(0);
    expect(stdout).toMatch(/^300 x 200 pixels of 1 mm\. Light on the diffuser's face: 0\.\d+ .*at most\.\n$/);
  });
});

describe('[PIC3] refusals: status 2, one line, nothing written', () => {
  test.each<[string, string[], RegExp]>([
    ['nothing to light', [], /^arguments: expected --show ID --frame N, or --white, found neither/],
    ['a show without a frame', ['--show', 'attract'], /^--frame: expected a value/],
    ['a frame without a show', ['--frame', '3'], /^--show: expected the id of a lampshow, found none/],
    ['an unknown show', ['--show', 'waltz', '--frame', '0'], /^--show: .*found "waltz"/],
    [
      'a frame that is no number',
      ['--show', 'attract', '--frame', '1e3'],
      /^--frame: expected a whole number .*found "1e3"/,
    ],
    ['white and a show', ['--white', '--show', 'attract'], /^--show: expected no show beside --white/],
    ['white and a frame', ['--white', '--frame', '1'], /^--frame: expected no show beside --white/],
    [
      'pixels of no size',
      ['--white', '--mm-per-px', '0'],
      /^--mm-per-px: expected a number of millimetres above 0, found "0"/,
    ],
    ['pixels of a negative size', ['--white', '--mm-per-px=-1'], /^--mm-per-px: .*found "-1"/],
    ['pixels of a size in words', ['--white', '--mm-per-px', 'one'], /^--mm-per-px: .*found "one"/],
    [
      'too many pixels',
      ['--white', '--mm-per-px', '0.01'],
      /^--mm-per-px: expected at most 16 million pixels, found 600000000/,
    ],
    ['an option of another command', ['--white', '--json'], /Unknown option '--json'/],
  ])('%s', (_name, args, line) => {
    const folder = temporaryFolder();
    expectUnusable(
      lamploom(
        'picture',
        firstLight,
        ...args,
        '--out',
        join(folder, 'a.png'),
        '--light',
        join(folder, 'b.json'),
      ),
      line,
    );
    expect(readdirSync(folder)).toEqual([]);
  });

  test('an empty name for a file', () => {
    expectUnusable(lamploom('picture', firstLight, '--white', '--out', ''), /^--out: expected a value/);
    expectUnusable(lamploom('picture', firstLight, '--white', '--light', ' '), /^--light: expected a value/);
  });

  test.each([
    ['image/svg+xml', '<svg xmlns="http://www.w3.org/2000/svg"><rect'],
    ['image/png', 'no picture'],
    ['image/jpeg', 'no picture'],
  ] as const)('artwork that is no %s', (mediaType, text) => {
    const folder = temporaryFolder();
    const file = withArtwork(mediaType, new TextEncoder().encode(text));
    expectUnusable(
      lamploom('picture', file, '--white', '--out', join(folder, 'a.png'), '--light', join(folder, 'b.json')),
      /^\/panel\/artwork: expected an image of type .*found data that is none/,
    );
    expect(readdirSync(folder)).toEqual([]);
  });

  test('a PNG that says it has a million million pixels', () => {
    const bytes = PNG.sync.write(new PNG({ width: 1, height: 1 }));
    bytes.writeUInt32BE(1e6, 16);
    bytes.writeUInt32BE(1e6, 20);
    const out = join(temporaryFolder(), 'a.png');
    expectUnusable(
      lamploom('picture', withArtwork('image/png', bytes), '--white', '--out', out),
      /more than 100 million pixels/,
    );
    expect(existsSync(out)).toBe(false);
  });

  test('one of two files can’t be written: the other is not either', () => {
    const folder = temporaryFolder();
    const file = temporaryFile('keep me', 'notes.txt');
    expectUnusable(
      lamploom(
        'picture',
        firstLight,
        '--white',
        '--out',
        join(folder, 'a.png'),
        '--light',
        join(file, 'b.json'),
      ),
      /expected a place that can be written to/,
    );
    expect(readdirSync(folder)).toEqual([]);
  });
});

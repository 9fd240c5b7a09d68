// The player as native code, with sanitizers, and with AVR's integer rules against the player in WebAssembly, on random projects.
// Zero bytes may differ, nothing may overflow as it would on AVR, and the projects must reach everything that the player can do.
// Not here: the real AVR program (avr-equals-wasm.test.ts); that the checked integers are right (planted-faults.test.ts).
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { compileShowData, type Player, type ShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { Coverage, countFrame, coverageNames } from './coverage.ts';
import { type NativeBuild, NativePlayer, nativeBuilds } from './native.ts';
import { frameNumbers, loadPlayer, seed, variedProject } from './varied-project.ts';

const projectCount = 420;
/** LEDs in all frames together, each compared byte by byte. */
const leastLedFrames = 1_000_000;
/** Of 10,080 frames: seldom enough to hold for any seed, often enough to prove something. */
const leastReached = 25;

let wasm: Player;
const running = new Map<NativeBuild, NativePlayer>();

async function nativeOf(build: NativeBuild): Promise<NativePlayer> {
  const player = running.get(build) ?? (await NativePlayer.start(build));
  running.set(build, player);
  return player;
}

beforeAll(async () => {
  wasm = await loadPlayer();
});
afterAll(async () => {
  await Promise.all([...running.values()].map((player) => player.stop()));
});

function wasmFrames(data: ShowData, show: string, numbers: readonly number[]): Uint8Array {
  wasm.setShowData(data);
  return new Uint8Array(Buffer.concat(numbers.map((number) => wasm.frame(show, number).slice())));
}

const compile = (project: Project, frameMs: number): ShowData => {
  const data = compileShowData(project, layOut(project), { frameMs });
  if (!data) throw new Error('the show data is too large');
  return data;
};

/** First difference in words, or undefined. */
function difference(expected: Uint8Array, found: Uint8Array, numbers: readonly number[]): string | undefined {
  if (expected.length !== found.length) return `${found.length} bytes instead of ${expected.length}`;
  const at = expected.findIndex((byte, i) => byte !== found[i]);
  const perFrame = expected.length / numbers.length;
  return at === -1
    ? undefined
    : `frame ${numbers[Math.floor(at / perFrame)]}, byte ${at % perFrame}: ${found[at]} instead of ${expected[at]}`;
}

/** The last frame before a show begins again, and the first after it. */
function framesAtJoin(project: Project, frameMs: number, pass: number): number[] {
  const { lengthMs } = project.lampshows.find(({ id }) => id === project.attractMode)!;
  const first = Math.ceil((pass * lengthMs) / frameMs);
  return [first - 1, first];
}

const scene = fc.tuple(variedProject, fc.integer({ min: 1, max: 60 })).chain(([project, frameMs]) =>
  fc.record({
    project: fc.constant(project),
    frameMs: fc.constant(frameMs),
    numbers: fc
      .tuple(frameNumbers(frameMs), fc.integer({ min: 1, max: 1000 }))
      .map(([numbers, pass]) => [...numbers, ...framesAtJoin(project, frameMs, pass)]),
  }),
);

test(`native, sanitized and checked players equal WebAssembly on ${projectCount} random projects (seed ${seed})`, async () => {
  const coverage = new Coverage();
  let ledFrames = 0;
  let bytes = 0;
  let lit = 0;
  await fc.assert(
    fc.asyncProperty(scene, async ({ project, frameMs, numbers }) => {
      const show = project.attractMode;
      const data = compile(project, frameMs);
      const expected = wasmFrames(data, show, numbers);
      const wanted = numbers.map((number) => [data.showNumbers.get(show)!, number] as const);
      for (const build of nativeBuilds) {
        const native = await nativeOf(build).catch((error) => {
          running.delete(build);
          throw error;
        });
        const answer = await native.frames(data, wanted).catch((error) => {
          // A sanitizer's finding ends the process; shrinking needs a new one.
          running.delete(build);
          throw error;
        });
        expect(difference(expected, answer.bytes, numbers), build).toBeUndefined();
        expect(answer.overflows, `${build}: ${native.messages}`).toBe(0);
      }
      const layout = layOut(project);
      const { limitAmps: _, ...unlimited } = project.power;
      const bright = wasmFrames(compile({ ...project, power: unlimited }, frameMs), show, numbers);
      const perFrame = expected.length / numbers.length;
      for (const [i, number] of numbers.entries()) {
        countFrame(coverage, project, layout, number, { frameMs });
        const [from, to] = [i * perFrame, (i + 1) * perFrame];
        coverage.add(
          'limiter active',
          expected.subarray(from, to).some((byte, j) => byte !== bright[from + j]),
        );
      }
      ledFrames += layout.wireLeds.length * numbers.length;
      bytes += expected.length;
      lit += expected.filter((byte) => byte !== 0).length;
    }),
    { seed, numRuns: projectCount },
  );
  expect(ledFrames).toBeGreaterThan(leastLedFrames);
  expect(lit / bytes, 'share of compared bytes that are lit').toBeGreaterThan(0.5);
  expect(coverage.rare(coverageNames, leastReached)).toEqual([]);
});

test('a checked player without overflows ends with status 0', async () => {
  const player = await NativePlayer.start('checked');
  expect(await player.stop()).toBe(0);
});

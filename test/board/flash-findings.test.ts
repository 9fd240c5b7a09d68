// The flash analysis over what a whole project can play: shows by themselves, into and out of events, events pressed again and again, two in turn; the
// area by geometry and distance. Expected: the rule of three flashes in any second (WCAG 2.2, 2.3.1) on shows drawn as frames of black and white.
import { beforeAll, describe, expect, test } from 'vitest';
import { compileProject, flashesOf, flashFindings, pressedPlays } from '../../src/board/index.ts';
import type { Player } from '../../src/lampshow/index.ts';
import { FlashAnalysis, flashScene, fluxPerMm2, type LightScene } from '../../src/light/index.ts';
import type { Clip, GameEvent, Lampshow, Project } from '../../src/project/index.ts';
import { loadPlayer, templates } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

/** A show that paints the whole panel: colour and milliseconds in turn. */
function painted(
  id: string,
  parts: readonly (readonly [colour: '#000000' | '#ffffff' | '#ff0000', ms: number])[],
): Lampshow {
  const palette = ['#000000', '#ffffff', '#ff0000'];
  const lengthMs = parts.reduce((sum, [, ms]) => sum + ms, 0);
  const clip: Clip = {
    startMs: 0,
    lengthMs,
    area: 'everything',
    gradient: 'ember',
    blend: 'over',
    effect: {
      kind: 'painted',
      columns: 1,
      rows: 1,
      palette,
      frames: parts.map(([colour, holdMs]) => ({ holdMs, cells: String(palette.indexOf(colour)) })),
    },
  };
  return { id, lengthMs, rows: [{ id: 'row', clips: [clip] }] };
}

const beats = (hertz: number, seconds: number, colour: '#ffffff' | '#ff0000' = '#ffffff') =>
  Array.from(
    { length: hertz * seconds },
    () =>
      [
        [colour, Math.round(500 / hertz)],
        ['#000000', Math.round(500 / hertz)],
      ] as const,
  ).flat();

const dark = (ms: number) => ['#000000', ms] as const;

const panel = (attract: Lampshow, shows: readonly Lampshow[] = [], gameEvents: GameEvent[] = []): Project =>
  projectOf({ runs: rowsOfStrip(90), lampshows: [attract, ...shows], gameEvents });

function told(project: Project, distanceMm = 1000) {
  const compiled = compileProject(project, templates);
  player.setShowData(compiled.showData!);
  const work = flashesOf(compiled, player, distanceMm);
  for (;;) {
    const step = work.next();
    if (step.done) return { found: step.value, findings: flashFindings(compiled, step.value, distanceMm) };
  }
}

describe('a show by itself', () => {
  test.each([
    ['white', '#ffffff'],
    ['red', '#ff0000'],
  ] as const)('%s three times a second passes, four times does not', (_, colour) => {
    expect(told(panel(painted('attract', beats(3, 4, colour)))).findings).toEqual([]);
    const { found, findings } = told(panel(painted('attract', beats(4, 4, colour))));
    expect(findings.map(({ code, at, severity }) => ({ code, at, severity }))).toEqual([
      { code: 'flashes', at: '/lampshows/0', severity: 'warning' },
    ]);
    expect(found[0]!.spans.map(({ kind }) => kind).sort()).toEqual(
      colour === '#ffffff' ? ['broadcast', 'general'] : ['broadcast', 'general', 'red'],
    );
    expect(findings[0]!.mend).toContain('three flashes a second at most');
  });

  test('only the seconds that flash are named', () => {
    const show = painted('attract', [dark(3000), ...beats(5, 2), dark(3000)]);
    const { found } = told(panel(show));
    const [span] = found[0]!.spans.filter(({ kind }) => kind === 'general');
    // The first second that is too many ends with the eighth change, 3.7 s; the last one begins 0.9 s before the end of the flashing at 5 s.
    expect(span!.fromMs).toBeGreaterThanOrEqual(2600);
    expect(span!.fromMs).toBeLessThanOrEqual(3000);
    expect(span!.toMs).toBeGreaterThanOrEqual(5000 - 100);
    expect(span!.toMs).toBeLessThanOrEqual(6000);
  });

  test('the join of a show with its own beginning is looked at', () => {
    // Three flashes within 0.6 s at each end: none of both alone is too much, six within 1.2 s are.
    const three = beats(5, 1).slice(0, 6);
    expect(told(panel(painted('attract', [...three, dark(3000)]))).findings).toEqual([]);
    const { findings } = told(panel(painted('attract', [...three, dark(3000), ...three])));
    expect(findings.map(({ at }) => at)).toEqual(['/lampshows/0']);
  });
});

describe('game events', () => {
  const calm = painted('attract', [dark(6000)]);
  const hit = painted('hit', [['#ffffff', 100], dark(2000)]);
  const event = (change: Partial<GameEvent> = {}): GameEvent => ({ id: 'hit', lampshow: 'hit', ...change });

  test('an event that may be pressed at any rate flashes, one that is heard only now and then does not', () => {
    const { findings } = told(panel(calm, [hit], [event()]));
    expect(findings.map(({ at }) => at)).toEqual(['/gameEvents/0/retriggerMs']);
    // More than three and a half a second give eight changes within one; 300 ms are 3.3 a second.
    const limit = Number(/only after (\d+) ms/i.exec(findings[0]!.mend)?.[1]);
    expect(limit).toBeGreaterThan(200);
    expect(limit).toBeLessThanOrEqual(320);
    expect(told(panel(calm, [hit], [event({ retriggerMs: limit })])).findings).toEqual([]);
    expect(told(panel(calm, [hit], [event({ when: 'queue' })])).findings).toEqual([]);
  });

  test('the way into a show and back is looked at', () => {
    const three = beats(5, 1).slice(0, 6);
    const attract = painted('attract', [...three, dark(6000)]);
    const ending = painted('hit', [dark(3000), ...three]);
    const { findings } = told(panel(attract, [ending], [event({ retriggerMs: 60_000 })]));
    // Three flashes end the show, and three begin the attract mode anew.
    expect(findings.map(({ at }) => at)).toEqual(['/gameEvents/0/crossfadeMs']);
    expect(findings[0]!.message).toMatch(/^Back from hit/);
  });

  test('two events of one priority pressed in turn; of two priorities one cannot cut the other short', () => {
    const other = painted('other', [['#ffffff', 100], dark(2000)]);
    const events = (priority: number): GameEvent[] => [
      event({ retriggerMs: 400 }),
      { id: 'other', lampshow: 'other', retriggerMs: 400, priority },
    ];
    const at = (priority: number) =>
      told(panel(calm, [hit, other], events(priority))).findings.map((one) => one.at);
    // Each is heard every 0.4 s at most, both together every 0.2 s.
    expect(at(100)).toEqual(['/gameEvents/0/retriggerMs']);
    expect(at(101)).toEqual([]);
  });

  test('short shows that wait their turn are pressed again and again too', () => {
    const blink = painted('hit', [['#ffffff', 120]]);
    expect(told(panel(calm, [blink], [event({ when: 'queue' })])).findings.map(({ at }) => at)).toEqual([
      '/gameEvents/0/retriggerMs',
    ]);
  });

  test('what lies under a short show counts at its brightest, not only at its beginning', () => {
    const attract = painted('attract', [dark(3000), ['#ffffff', 3000]]);
    const gap = painted('hit', [['#000000', 120]]);
    expect(told(panel(attract, [gap], [event()])).findings.map(({ at }) => at)).toEqual([
      '/gameEvents/0/retriggerMs',
    ]);
  });

  test('a short show over the show of another event', () => {
    const gap = painted('hit', [['#000000', 120]]);
    const mode = painted('mode', [['#ffffff', 4000]]);
    const events: GameEvent[] = [
      event({ priority: 150, resume: true }),
      { id: 'mode', lampshow: 'mode', priority: 50, plays: 'until-next', retriggerMs: 60_000 },
    ];
    const { findings } = told(panel(calm, [gap, mode], events));
    expect(findings.map(({ at }) => at)).toContain('/gameEvents/0/retriggerMs');
    expect(told(panel(calm, [gap], [event()])).findings).toEqual([]);
  });

  test('events of different priority in turn, where the higher one is short; many events in turn', () => {
    const other = painted('other', [['#ffffff', 120], dark(10)]);
    const short = painted('hit', [['#ffffff', 120], dark(10)]);
    const two = [
      event({ retriggerMs: 500, priority: 50 }),
      { id: 'other', lampshow: 'other', retriggerMs: 500, priority: 100 },
    ];
    expect(told(panel(calm, [short, other], two)).findings.map(({ at }) => at)).toContain(
      '/gameEvents/0/retriggerMs',
    );
    const ids = ['a', 'b', 'c', 'd'];
    const shows = ids.map((id) => painted(id, [['#ffffff', 120], dark(2000)]));
    const four = ids.map((id): GameEvent => ({ id, lampshow: id, retriggerMs: 900 }));
    // Two in turn bring one press in 450 ms, four in turn one in 225 ms.
    const { findings } = told(panel(calm, shows, four));
    expect(findings.map(({ message }) => message.split(' in turn')[0])).toEqual(['a and b and c and d']);
  });

  test('from one event’s show straight into another’s', () => {
    const twice = (first: boolean) => [
      ...(first ? [] : [dark(3000)]),
      ...beats(5, 1).slice(0, 4),
      ...(first ? [dark(3000)] : []),
    ];
    const ends = painted('ends', twice(false));
    const begins = painted('begins', twice(true));
    const events: GameEvent[] = [
      { id: 'ends', lampshow: 'ends', retriggerMs: 60_000, priority: 50 },
      { id: 'begins', lampshow: 'begins', retriggerMs: 60_000, when: 'queue', priority: 50 },
    ];
    expect(
      told(panel(calm, [ends, begins], events)).findings.map(({ message }) => message.slice(0, 21)),
    ).toContain('From ends into begins');
  });

  test('out of the attract mode at its most restless', () => {
    // Three flashes at five a second, then two more: eight changes within 0.7 s where the second follows the first at once.
    const attract = painted('attract', [dark(5000), ...beats(5, 1).slice(0, 5), dark(5000)]);
    const show = painted('hit', [...beats(5, 1).slice(0, 4), dark(2000)]);
    expect(told(panel(attract)).findings).toEqual([]);
    expect(
      told(panel(attract, [show], [event({ retriggerMs: 60_000 })])).findings.map(({ at }) => at),
    ).toEqual(['/gameEvents/0/crossfadeMs']);
  });

  test('a value counts whether its press is heard or not', () => {
    const filled: Lampshow = {
      id: 'hit',
      lengthMs: 6000,
      rows: [
        {
          id: 'row',
          clips: [
            {
              startMs: 0,
              lengthMs: 6000,
              area: 'everything',
              gradient: 'sea',
              blend: 'over',
              effect: { kind: 'column', fillSeconds: 1, travel: 'fills', softness: 0, byValue: true },
            },
          ],
        },
      ],
    };
    const { findings } = told(panel(calm, [filled], [event({ hasValue: true, retriggerMs: 2000 })]));
    expect(findings.map(({ at }) => at)).toContain('/gameEvents/0/retriggerMs');
    expect(findings[0]!.mend).toContain('what its value fills');
  });

  test('recorded presses are looked at as they are', () => {
    const blink = painted('hit', [['#ffffff', 120]]);
    const presses = Array.from({ length: 12 }, (_, i) => ({ atMs: 1000 + 240 * i, event: 'hit' }));
    const project: Project = {
      ...panel(calm, [blink], [event()]),
      pressLogs: [{ id: 'quick', lengthMs: 5000, presses }],
    };
    expect(told(project).findings.map(({ at }) => at)).toContain('/pressLogs/0');
  });

  test('a panel that its current limit keeps dim flashes all the same: eyes get used to what it can show', () => {
    // 90 LEDs of 60 mA draw 5.4 A in full white; held to 0.4 A, white is under a tenth of that.
    const project = panel(painted('attract', beats(4, 4)));
    const limited: Project = { ...project, power: { ...project.power, limitAmps: 0.4 } };
    expect(told(limited).findings.map(({ at }) => at)).toEqual(['/lampshows/0']);
  });

  test('every rate that the director lets through is looked at, in steps of 20 ms', () => {
    const project = panel(calm, [hit], [event({ retriggerMs: 250 })]);
    const { frameMs } = compileProject(project, templates);
    const times = pressedPlays(project, frameMs, new Map()).flatMap(({ kind, everyMs }) =>
      kind === 'again' ? [everyMs!] : [],
    );
    expect(times[0]).toBeGreaterThanOrEqual(250);
    expect(times[0]).toBeLessThan(250 + frameMs);
    expect(times.at(-1)).toBeGreaterThan(1000 - 20 - frameMs);
    for (const [i, ms] of times.slice(1).entries()) expect(ms - times[i]!).toBeLessThanOrEqual(20 + frameMs);
  });
});

describe('the area, by geometry', () => {
  const gapMm = 3;
  /** LEDs 10 mm apart over 200 x 200 mm, so near the sheet that each lights its own square centimetre alone; right above it, it is the panel's white. */
  const scene: LightScene = {
    widthMm: 200,
    heightMm: 200,
    opening: { xMm: 0, yMm: 0, widthMm: 200, heightMm: 200 },
    airGapMm: gapMm,
    spreadMm: 0,
    transmission: 1,
    sources: Array.from({ length: 400 }, (_, i) => ({
      xMm: 5 + 10 * (i % 20),
      yMm: 5 + 10 * Math.floor(i / 20),
      colourOrder: 'RGB' as const,
      firstByte: 3 * i,
      isReached: true,
    })),
    ways: undefined,
    whiteLight: fluxPerMm2(0, gapMm),
  };

  /** The largest area told for a block of so many LEDs that flash at 5 Hz; 0 where nothing is. */
  function areaTold(columns: number, rows: number, distanceMm: number): number {
    const frameMs = 20;
    const analysis = new FlashAnalysis(flashScene(scene, { distanceMm, frameMs, whiteShare: 1 }));
    for (let frame = 0; frame < 100; frame++) {
      const isLit = Math.floor(frame / 5) % 2 === 0;
      analysis.add(
        Uint8Array.from({ length: 1200 }, (_, i) => {
          const led = Math.floor(i / 3);
          return isLit && led % 20 < columns && Math.floor(led / 20) < rows ? 255 : 0;
        }),
      );
    }
    return Math.max(
      0,
      ...analysis.spans.filter(({ kind }) => kind === 'general').map(({ area }) => area.areaMm2),
    );
  }

  // 0.006 sr is 60 cm2 from 1.0 m and 21.6 cm2 from 0.6 m.
  test.each([
    [4, 5, 600, 0],
    [4, 6, 600, 2400],
    [4, 6, 1000, 0],
    [6, 10, 1000, 0],
    [6, 11, 1000, 6600],
    [7, 9, 1000, 6300],
  ])('%d x %d cm from %d mm: %d mm2 told', (columns, rows, distanceMm, areaMm2) => {
    expect(areaTold(columns, rows, distanceMm)).toBe(areaMm2);
  });
});

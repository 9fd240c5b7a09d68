// Game events and inputs in the show data: what the document says against the bytes, read at the places that show_data.h names.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { compileShowData, roomSteps } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { type Project, readProject, writeProject } from '../../src/project/index.ts';
import { root } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const header = readFileSync(`${root}/firmware-templates/player/show_data.h`, 'utf8');
const at = (name: string): number => {
  const [, value] = new RegExp(`\\b${name} = (0x[0-9A-Fa-f]+|\\d+)`).exec(header) ?? [];
  if (value === undefined) throw new Error(`show_data.h has no ${name}`);
  return Number(value);
};

const project = (parts: Partial<Project>): Project =>
  projectOf({
    runs: rowsOfStrip(30),
    lampshows: ['attract', 'win', 'score'].map((id) => ({ id, lengthMs: 1000, rows: [] })),
    ...parts,
  });

function compiled(parts: Partial<Project>) {
  const all = project(parts);
  const { bytes, eventNumbers } = compileShowData(all, layOut(all), { frameMs: 25 })!;
  const view = new DataView(bytes.buffer);
  return {
    bytes,
    eventNumbers,
    u8: (n: number) => view.getUint8(n),
    u16: (n: number) => view.getUint16(n, true),
  };
}

describe('the event table', () => {
  const events: NonNullable<Project['gameEvents']> = [
    { id: 'plain', lampshow: 'win' },
    {
      id: 'rich',
      lampshow: 'score',
      // A0 is bit 0 of port C, whose PINC register is at 0x26 (ATmega328P data sheet, register summary).
      pin: 14,
      priority: 7,
      when: 'queue',
      plays: 3,
      crossfadeMs: 9999,
      resume: true,
      retriggerMs: 60_000,
      delayMs: 251,
      hasValue: true,
    },
    { id: 'until', lampshow: 'attract', plays: 'until-next', when: 'interrupt' },
  ];
  const data = compiled({ gameEvents: events });
  const row = (index: number) => {
    const from = data.u16(at('headerEvents')) + index * at('eventSize');
    return {
      show: data.u8(from + at('eventShow')),
      priority: data.u8(from + at('eventPriority')),
      flags: data.u8(from + at('eventFlags')),
      plays: data.u8(from + at('eventPlays')),
      crossfadeMs: data.u16(from + at('eventCrossfadeMs')),
      retriggerMs: data.u16(from + at('eventRetriggerMs')),
      delayFrames: data.u16(from + at('eventDelayFrames')),
      port: data.u16(from + at('eventPortAddress')),
      mask: data.u8(from + at('eventPinMask')),
    };
  };

  test('has a row for each event, numbered by their order', () => {
    expect(data.u8(at('headerEventCount'))).toBe(3);
    expect([...data.eventNumbers]).toEqual([
      ['plain', 0],
      ['rich', 1],
      ['until', 2],
    ]);
  });

  test('what is left out: priority 100, interrupts, plays once, no crossfade, no limit, no delay, no pin', () => {
    const nothing = { flags: 0, crossfadeMs: 0, retriggerMs: 0, delayFrames: 0, port: 0, mask: 0 };
    expect(row(0)).toEqual({ ...nothing, show: 1, priority: 100, plays: 1 });
  });

  test('all that can be said', () => {
    const flags = at('eventQueues') | at('eventResumes') | at('eventHasValue');
    // 251 ms are a little more than ten frames of 25 ms.
    const times = { crossfadeMs: 9999, retriggerMs: 60_000, delayFrames: 11 };
    expect(row(1)).toEqual({ show: 2, priority: 7, flags, plays: 3, ...times, port: 0x26, mask: 1 });
  });

  test.each([
    [500, 1, 500],
    [500, 20, 25],
    [500, 120, 5],
    [1, 120, 1],
    [0, 20, 0],
  ])('a delay of %d ms at %d ms a frame is %d frames', (delayMs, frameMs, frames) => {
    const all = project({ gameEvents: [{ id: 'late', lampshow: 'win', delayMs }] });
    const { bytes } = compileShowData(all, layOut(all), { frameMs })!;
    const view = new DataView(bytes.buffer);
    const from = view.getUint16(at('headerEvents'), true);
    expect(view.getUint16(from + at('eventDelayFrames'), true)).toBe(frames);
  });

  test('until the next event is 0 plays', () => {
    expect(row(2)).toMatchObject({ show: 0, plays: 0, flags: 0 });
  });

  test('the file keeps all of it', () => {
    const read = readProject(writeProject(project({ gameEvents: events })));
    expect(read.ok && read.value.gameEvents).toEqual(events);
  });
});

describe('inputs', () => {
  test('serial, I2C and watchdog', () => {
    const inputs = (parts: Partial<Project>) => compiled(parts).u8(at('headerInputs'));
    expect(inputs({})).toBe(at('inputWatchdog'));
    expect(inputs({ board: { id: 'atmega328p-old' } })).toBe(0);
    expect(inputs({ inputs: { serial: true } })).toBe(at('inputWatchdog') | at('inputSerial'));
    const i2c = compiled({ inputs: { i2cAddress: 119 }, board: { id: 'atmega328p-old' } });
    expect([i2c.u8(at('headerInputs')), i2c.u8(at('headerI2cAddress'))]).toEqual([at('inputI2c'), 119]);
  });

  test('the text that answers a hello: project, date, hash; ASCII, and only where somebody can ask', () => {
    expect(compiled({}).u16(at('headerText'))).toBe(0);
    const text = (parts: Partial<Project>) => {
      const data = compiled({ inputs: { serial: true }, ...parts });
      const from = data.u16(at('headerText'));
      return String.fromCharCode(...data.bytes.subarray(from + 1, from + 1 + data.u8(from)));
    };
    expect(text({ name: 'Zirkus “Löwe”' })).toMatch(/^Zirkus Lowe, 2026-11-25, [0-9A-F]{4}\n$/);
    const hash = (parts: Partial<Project>) => text(parts).slice(-5, -1);
    expect(hash({})).toBe(hash({}));
    expect(hash({ output: { gamma: { red: 2, green: 2, blue: 2 }, brightnessPercent: 100 } })).not.toBe(
      hash({}),
    );
    expect(text({ name: 'x'.repeat(200) }).length).toBeLessThan(256);
  });

  test('the room button: its pin, and three steps of the brightness', () => {
    const room = (parts: Partial<Project>) => {
      const { u8, u16 } = compiled(parts);
      return [
        u16(at('headerRoomPort')),
        u8(at('headerRoomMask')),
        ...[0, 1, 2].map((i) => u8(at('headerRoomScales') + i)),
      ];
    };
    expect(room({})).toEqual([0, 0, 255, 255, 255]);
    // Pin 9 is bit 1 of port B, whose PINB register is at 0x23. 100, 60, 30 % of 255.
    expect(room({ inputs: { roomPin: 9 } })).toEqual([0x23, 2, 255, 153, 77]);
    expect(room({ inputs: { roomPin: 9, roomPercents: [80, 40, 20] } })).toEqual([0x23, 2, 204, 102, 51]);
    expect(roomSteps({ inputs: { roomPercents: [80, 40, 20] } }).percents).toEqual([80, 80, 80]);
  });
});

describe('what the document may say', () => {
  const problems = (event: object, inputs: object = {}) => {
    const read = readProject(
      JSON.stringify({ ...project({}), gameEvents: [{ id: 'one', lampshow: 'win', ...event }], inputs }),
    );
    return read.ok ? [] : read.problems.map(({ code, at: where }) => `${code} ${where}`);
  };
  test.each([
    [{ priority: 0 }, { priority: 256 }, 'schema-maximum /gameEvents/0/priority'],
    [{ plays: 255 }, { plays: 256 }, 'schema-anyOf /gameEvents/0/plays'],
    [{ plays: 'until-next' }, { plays: 'forever' }, 'schema-anyOf /gameEvents/0/plays'],
    [{ plays: 1 }, { plays: 0 }, 'schema-anyOf /gameEvents/0/plays'],
    [{ when: 'queue' }, { when: 'later' }, 'schema-enum /gameEvents/0/when'],
    [{ crossfadeMs: 10_000 }, { crossfadeMs: 10_001 }, 'schema-maximum /gameEvents/0/crossfadeMs'],
    [{ delayMs: 500 }, { delayMs: 501 }, 'schema-maximum /gameEvents/0/delayMs'],
    [{ retriggerMs: 60_000 }, { retriggerMs: 60_001 }, 'schema-maximum /gameEvents/0/retriggerMs'],
    [{ resume: true }, { resume: 1 }, 'schema-type /gameEvents/0/resume'],
  ])('%j but not %j, told in one line', (good, bad, line) => {
    expect(problems(good)).toEqual([]);
    expect(problems(bad)).toEqual([line]);
  });
  test.each([
    [{ i2cAddress: 8 }, { i2cAddress: 7 }, 'schema-minimum /inputs/i2cAddress'],
    [{ i2cAddress: 119 }, { i2cAddress: 120 }, 'schema-maximum /inputs/i2cAddress'],
    [{ roomPercents: [100, 50, 1] }, { roomPercents: [100, 50] }, 'schema-minItems /inputs/roomPercents'],
  ])('inputs %j but not %j', (good, bad, line) => {
    expect(problems({}, good)).toEqual([]);
    expect(problems({}, bad)).toEqual([line]);
  });
});

// Findings about game events and inputs, on both sides of each threshold. Limits: 16 event pins and number 63 for the hello (SPEC.md, I-5), 19 ms
// of sending (I-4), 30 us an LED of three bytes (24 bits of 1.25 us).
import { describe, expect, test } from 'vitest';
import { eventFindings, planFirmware } from '../../src/board/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { GameEvent, Project } from '../../src/project/index.ts';
import { templates } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const startEvent: GameEvent = { id: 'start', lampshow: 'attract' };
const event = (id: string, pin?: number): GameEvent => ({
  ...startEvent,
  id,
  ...(pin === undefined ? {} : { pin }),
});
const withEvents = (gameEvents: GameEvent[], parts: Partial<Project> = {}): Project =>
  projectOf({ runs: rowsOfStrip(60), gameEvents, ...parts });
const findings = (project: Project) => eventFindings(project, layOut(project));
const told = (project: Project) =>
  findings(project).map(({ severity, code, at }) => `${severity} ${code} ${at}`);

describe('pins', () => {
  test('a free pin of the board is no finding; pin 6 drives the LEDs', () => {
    expect(told(withEvents([event('start', 7), event('lost', 19)]))).toEqual([]);
    expect(told(withEvents([event('start', 6)]))).toEqual(['error input-pin-is-data /gameEvents/0/pin']);
  });

  test('the board has pins 0 to 19', () => {
    expect(told(withEvents([event('start', 20)]))).toEqual(['error input-pin-unknown /gameEvents/0/pin']);
  });

  test('pins 0 and 1 are free for events only while serial events are off', () => {
    expect(told(withEvents([event('start', 1)]))).toEqual([]);
    expect(told(withEvents([event('start', 1)], { inputs: { serial: true } }))).toEqual([
      'error input-pin-is-serial /gameEvents/0/pin',
    ]);
  });

  // I2C pins: PIN_WIRE_SDA and PIN_WIRE_SCL of pins_arduino.h, variants standard, leonardo and mega.
  test.each([
    ['atmega328p', [18, 19]],
    ['atmega32u4', [2, 3]],
    ['atmega2560', [20, 21]],
  ])('on %s pins %j are free for events and data only while I2C is off', (id, pins) => {
    for (const pin of pins) {
      const on = (inputs: Project['inputs']) =>
        told(withEvents([event('start', pin)], { board: { id }, ...(inputs ? { inputs } : {}) }));
      expect(on(undefined)).toEqual([]);
      expect(on({ i2cAddress: 40 })).toContain('error input-pin-is-i2c /gameEvents/0/pin');
      const line = (inputs: Project['inputs']) => {
        const project = withEvents([], { board: { id }, ...(inputs ? { inputs } : {}) });
        return told({ ...project, dataLines: [{ ...project.dataLines[0]!, pin }] });
      };
      expect(line(undefined)).toEqual([]);
      expect(line({ i2cAddress: 40 })).toContain('error pin-is-i2c /dataLines/0/pin');
      expect(line({ serial: true }).filter((one) => one.startsWith('error'))).toEqual([]);
    }
  });

  test.each(['atmega328p', 'atmega32u4', 'atmega2560'])(
    'on %s a data line on pin 0 or 1 is an error once serial events are on, and no firmware is exported',
    (id) => {
      for (const pin of [0, 1]) {
        const base = withEvents([event('start')], { board: { id }, inputs: { serial: true } });
        const project = { ...base, dataLines: [{ ...base.dataLines[0]!, pin }] };
        expect(told(project)).toContain('error pin-is-serial /dataLines/0/pin');
        expect([...planFirmware(project, templates).files.keys()]).toEqual([]);
        expect([...planFirmware({ ...project, inputs: {} }, templates).files.keys()]).toContain(
          `firmware/${id}.hex`,
        );
      }
    },
  );

  test('each has a pin of its own, the room button too', () => {
    expect(told(withEvents([event('start', 7), event('lost', 7)]))).toEqual([
      'error input-pin-shared /gameEvents/1/pin',
    ]);
    expect(told(withEvents([event('start', 7)], { inputs: { roomPin: 7 } }))).toEqual([
      'error input-pin-shared /inputs/roomPin',
    ]);
    expect(told(withEvents([], { inputs: { roomPin: 6 } }))).toEqual([
      'error input-pin-is-data /inputs/roomPin',
    ]);
  });

  test('sixteen events can have pins', () => {
    const pins = [0, 1, 2, 3, 4, 5, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17];
    const events = pins.map((pin) => event(`event-${pin}`, pin));
    expect(told(withEvents(events.slice(0, 16)))).toEqual([]);
    expect(told(withEvents(events))).toEqual(['error event-pins-too-many /gameEvents']);
  });

  test('a frame that takes more than 19 ms to go out needs longer presses', () => {
    const long = (ledCount: number) => withEvents([event('start', 7)], { runs: rowsOfStrip(ledCount, 30) });
    // 633 LEDs take 18.99 ms, 640 take 19.2 ms: 60 ms + 3 x 0.2 ms are 61 ms.
    const lines = (project: Project): Project => ({
      ...project,
      dataLines: [{ pin: 6, chain: project.runs.map(({ id }) => ({ run: id })) }],
    });
    expect(told(lines(long(633)))).toEqual([]);
    const [finding] = findings(lines(long(640)));
    expect(finding).toMatchObject({ severity: 'warning', code: 'event-press-long' });
    expect(finding!.message).toContain('shorter than 61 ms');
    // Two lines of port D go out at the same time, so 320 LEDs each take half as long.
    const project = long(640);
    const half = Math.ceil(project.runs.length / 2);
    const chain = (from: number, to?: number) => project.runs.slice(from, to).map(({ id }) => ({ run: id }));
    expect(
      told({
        ...project,
        dataLines: [
          { pin: 5, chain: chain(0, half) },
          { pin: 6, chain: chain(half) },
        ],
      }),
    ).toEqual([]);
  });
});

describe('messages', () => {
  test('on a chip with USB of its own, a note says that serial events come over two pins', () => {
    const on = (id: string) =>
      told(withEvents([event('start')], { board: { id }, inputs: { serial: true } }));
    expect(on('atmega32u4')).toEqual(['note serial-not-usb /inputs/serial']);
    expect(on('atmega2560')).toEqual([]);
  });

  test('an event that nothing can start is a note', () => {
    expect(told(withEvents([event('start')]))).toEqual(['note event-without-input /gameEvents/0']);
    expect(told(withEvents([event('start')], { inputs: { serial: true } }))).toEqual([]);
  });

  test('I2C comes with its warning', () => {
    expect(told(withEvents([event('start')], { inputs: { i2cAddress: 40 } }))).toEqual([
      'warning i2c-holds-bus /inputs/i2cAddress',
    ]);
  });

  test('one sender only', () => {
    expect(told(withEvents([], { inputs: { serial: true, i2cAddress: 40 } }))).toContain(
      'error serial-and-i2c /inputs',
    );
  });

  test('messages name 63 events', () => {
    const events = Array.from({ length: 64 }, (_, i) => event(`event-${i}`));
    expect(told(withEvents(events.slice(0, 63), { inputs: { serial: true } }))).toEqual([]);
    expect(told(withEvents(events, { inputs: { serial: true } }))).toEqual([
      'error events-too-many /gameEvents',
    ]);
  });
});
